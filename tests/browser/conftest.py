"""Real Chromium, the size of a phone, the built app behind a real server.

Every page is watched: a console error, an uncaught error or a request to another
origin fails the test, unless the test said beforehand that it expects it.
"""

import os
import re
import shutil
from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, Request

from tests.browser.last_words import LastWords
from tests.browser.served_site import BareHandler, Site
from tests.browser.store_story import OPEN_STORE

REPOSITORY = Path(__file__).parents[2]
PHONE = {
    "viewport": {"width": 360, "height": 740},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}
BLANK = '<!doctype html><html lang="en"><title>Blank</title><link rel="icon" href="data:,"></html>'

WATCHED = pytest.StashKey["Watch"]()


@dataclass
class Watch:
    """What the pages of one test said and asked for."""

    origin: str
    faults: list[str] = field(default_factory=list)
    addresses: list[str] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)
    last_words: LastWords = field(default_factory=LastWords)

    def expect(self, pattern: str) -> None:
        """Say that a fault which matches is part of the story."""
        self.expected.append(pattern)

    def over(self, context: BrowserContext) -> None:
        context.on("request", self._asked)
        context.on("console", lambda said: self._said(said.type, said.text))
        self.last_words.of(context)
        context.on("weberror", lambda fault: self.faults.append(f"uncaught: {fault.error}"))

    def _said(self, kind: str, text: str) -> None:
        if kind == "error":
            self.faults.append(f"console: {text}")

    def _asked(self, request: Request) -> None:
        self.addresses.append(request.url)

    def strangers(self) -> list[str]:
        """Requests that left the origin."""
        return [a for a in self.addresses if a.startswith(("http", "ws")) and not a.startswith(self.origin)]

    def unexpected(self) -> list[str]:
        return [f for f in self.faults if not any(re.search(pattern, f) for pattern in self.expected)]


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """A test that fails tells what its pages showed and what their engines were asked."""
    report = yield
    if report.failed and call.when != "teardown" and WATCHED in item.stash:
        report.sections.append(("What the pages can still tell", item.stash[WATCHED].last_words.told()))
    return report


@pytest.fixture(scope="session")
def browser_type_launch_args(
    browser_type_launch_args: dict[str, object], playwright: Playwright
) -> dict[str, object]:
    """The browser named by the environment, else Playwright's own, else the system's."""
    arguments = {**browser_type_launch_args, "args": ["--no-sandbox", "--disable-dev-shm-usage"]}
    named = os.environ.get("OUT_OF_TRUE_CHROMIUM")
    if named or not Path(playwright.chromium.executable_path).exists():
        arguments["executable_path"] = named or shutil.which("chromium") or "/usr/bin/chromium"
    return arguments


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built app."""
    folder = Path(os.environ.get("OUT_OF_TRUE_DIST", REPOSITORY / "dist"))
    assert (folder / "index.html").exists(), "The app is not built. Run `python3 -m builder build` first."
    return folder


@pytest.fixture
def dist_copy(dist: Path, tmp_path: Path) -> Path:
    """The built app, to be altered."""
    return Path(shutil.copytree(dist, tmp_path / "dist"))


@pytest.fixture
def serve() -> Iterator[Callable[..., Site]]:
    """Serve a folder as the builder does, or as a plain static host."""
    sites: list[Site] = []

    def start(folder: Path, *, is_bare: bool = False) -> Site:
        sites.append(Site(folder, BareHandler).start() if is_bare else Site(folder).start())
        return sites[-1]

    yield start
    for each in sites:
        each.stop()


@pytest.fixture
def site(dist: Path, serve: Callable[..., Site]) -> Site:
    """The built app, served."""
    return serve(dist)


@pytest.fixture
def watch(site: Site, request: pytest.FixtureRequest) -> Iterator[Watch]:
    """Everything the pages of this test do; fails the test for what none should do."""
    watched = request.node.stash[WATCHED] = Watch(site.address)
    yield watched
    assert watched.strangers() == []
    assert watched.unexpected() == []


@pytest.fixture
def phone(browser: Browser, site: Site, watch: Watch) -> Iterator[BrowserContext]:
    """A phone of its own: empty storage, nothing installed."""
    context = browser.new_context(base_url=site.address, **PHONE)  # type: ignore[arg-type]
    watch.over(context)
    yield context
    context.close()


@pytest.fixture
def page(phone: BrowserContext) -> Page:
    """One tab on the phone."""
    return phone.new_page()


@pytest.fixture
def blank(phone: BrowserContext) -> Callable[[], Page]:
    """Opens tabs of the app's origin with its real headers and without the app, to use its modules alone."""

    def answer(route: object) -> None:
        response = route.fetch(url=route.request.url.removesuffix("blank"))  # type: ignore[attr-defined]
        route.fulfill(response=response, body=BLANK)  # type: ignore[attr-defined]

    phone.route(lambda url: urlsplit(url).path == "/blank", answer)

    def open_tab() -> Page:
        tab = phone.new_page()
        tab.goto("/blank")
        return tab

    return open_tab


@pytest.fixture
def store_tab(blank: Callable[[], Page]) -> Callable[[], Page]:
    """Opens tabs in which OPEN_STORE has run."""

    def open_tab() -> Page:
        tab = blank()
        tab.evaluate(OPEN_STORE)
        return tab

    return open_tab
