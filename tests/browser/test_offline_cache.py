"""The app is kept whole, of one version, and says truly whether it is ready without a signal."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Watch
from tests.browser.screens import ENGINE_MS
from tests.browser.served_site import Site, make_next_version
from tests.browser.store_story import OpenTab, until

# A second engine and the watch over the cache, beside those of the app itself.
OPEN_OFFLINE = """async () => {
  const { openEngine } = await import('/app/engine_client.js');
  const { openOffline, cacheInUse } = await import('/app/offline.js');
  globalThis.engine = openEngine({ cacheInUse });
  globalThis.offline = openOffline(engine);
  globalThis.heard = [];
  offline.onEvent((event) => heard.push(event));
  await offline.keep();
}"""
# A short question: ten marks six minutes apart time nine pieces.
MARKS = [
    {"kind": "mitre", "is_cut": True, "is_fitted": False, "cut_at": f"2026-03-02T08:{minute:02}:00Z"}
    for minute in range(0, 60, 6)
]
PACE = {"ask": "pace", "pieces": MARKS}


def keep(tab: Page) -> None:
    """Have the app kept, and wait until it says that it is ready without a signal."""
    tab.evaluate(OPEN_OFFLINE)
    tab.evaluate("() => engine.startWhenIdle()")
    until(tab, "offline.readiness().then((readiness) => readiness.ready)")


def readiness(tab: Page) -> dict[str, Any]:
    return dict(tab.evaluate("offline.readiness()"))


def caches_of(tab: Page) -> list[str]:
    return sorted(tab.evaluate("caches.keys()"))


def version_shown(tab: Page) -> str:
    """Which version answers: the last line of the file that the next version changed."""
    return str(
        tab.evaluate("async () => (await (await fetch('/app/numbers.js')).text()).trim().split('\\n').at(-1)")
    )


@pytest.fixture
def tab(blank: OpenTab) -> Page:
    """A tab of the app's origin that runs nothing yet."""
    return blank()


@pytest.fixture
def site(dist_copy: Path, serve: Callable[..., Site]) -> Site:
    """A copy of the app, so that a test may alter it or stop it."""
    return serve(dist_copy)


def test_ready_is_said_only_when_all_is_kept_and_the_engine_came_from_it(tab: Page, site: Site) -> None:
    """The first visit proves the cache by starting the engine from it; a missing file takes the word back."""
    keep(tab)
    cache = tab.evaluate("engine.state().fromCache")
    assert caches_of(tab) == [cache]
    gone = site.address + "runtime/pyodide.asm.wasm"
    assert tab.evaluate("async ([c, f]) => (await caches.open(c)).delete(f)", [cache, gone])
    after = readiness(tab)
    assert not after["ready"]
    assert (after["state"], after["missing"]) == ("incomplete", [gone])
    tab.reload()
    tab.evaluate(OPEN_OFFLINE)
    until(tab, "offline.readiness().then(({ missing }) => missing.length === 0)")
    assert readiness(tab)["state"] == "unproven"


def test_with_the_server_stopped_the_app_opens_and_the_engine_answers(
    tab: Page, site: Site, watch: Watch
) -> None:
    """No signal at all: the page loads again, Python starts, and an answer is computed."""
    keep(tab)
    site.stop()
    tab.context.set_offline(True)
    watch.expect("ERR_INTERNET_DISCONNECTED|ERR_CONNECTION")
    tab.goto("/?from=home-screen#/jobs")
    tab.evaluate(OPEN_OFFLINE)
    reply = tab.evaluate("(ask) => engine.ask(ask)", PACE)
    site.start()
    assert reply["reply"] == "pace", reply
    assert reply["cutting"]["rate"]["inputs"] == [["pieces timed", "9"]]


def test_a_next_version_with_one_corrupt_file_is_refused_whole(tab: Page, site: Site, watch: Watch) -> None:
    """One wrong file: nothing of the next version is kept, and the old one goes on, without signal too."""
    keep(tab)
    before = caches_of(tab), version_shown(tab)
    make_next_version(site.folder, "next")
    (site.folder / "styles/type.css").write_bytes(
        b"/* corrupt */" + (site.folder / "styles/type.css").read_bytes()
    )
    watch.expect("integrity")
    states = tab.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.getRegistration();
          const states = [];
          const ended = new Promise((done) => registration.addEventListener('updatefound', () => {
            const arriving = registration.installing;
            arriving.addEventListener('statechange', () => {
              states.push(arriving.state);
              done();
            });
          }));
          await registration.update();
          await ended;
          return states;
        }"""
    )
    assert states == ["redundant"]
    assert (caches_of(tab), version_shown(tab)) == before
    assert tab.evaluate("offline.isNewVersionWaiting()") is False
    site.stop()
    tab.reload()
    assert version_shown(tab) == before[1]
    site.start()


def test_a_first_visit_with_a_missing_file_keeps_nothing_and_does_not_say_ready(
    tab: Page, site: Site, watch: Watch
) -> None:
    """A host that lost one file gives an app that runs with a signal and says that it needs one."""
    (site.folder / "app/demo_job.json").unlink()
    watch.expect("404")
    tab.evaluate(OPEN_OFFLINE)
    until(tab, "offline.readiness().then(({ state }) => state === 'failed')")
    assert not readiness(tab)["ready"]
    assert caches_of(tab) == []


def test_a_new_version_waits_until_asked_saves_first_and_loads_once(tab: Page, site: Site) -> None:
    """Nothing changes under the user's hands. On their word: save, load once, drop the old cache."""
    keep(tab)
    tab.evaluate("caches.open('of someone else on this host')")
    old = caches_of(tab)
    make_next_version(site.folder, "next")
    tab.evaluate("offline.look()")
    until(tab, "heard.includes('new version')")
    assert version_shown(tab) != "// next"
    tab.reload()
    assert version_shown(tab) != "// next"
    tab.evaluate(OPEN_OFFLINE)
    assert tab.evaluate("offline.isNewVersionWaiting()")
    # The app itself came with the reload; it lets its engine finish loading first, and so does the test.
    expect(tab.locator("#readiness")).to_have_attribute("data-ready", "yes", timeout=ENGINE_MS)
    loads: list[str] = []
    tab.on("load", lambda _tab: loads.append("loaded"))
    tab.evaluate("() => { sessionStorage.saved = ''; }")
    # The old version first finishes what it has in hand.
    with tab.expect_navigation(timeout=90_000):
        tab.evaluate("() => void offline.useNewVersion(async () => { sessionStorage.saved = 'yes'; })")
    tab.wait_for_timeout(500)
    assert loads == ["loaded"]
    assert tab.evaluate("sessionStorage.saved") == "yes"
    assert version_shown(tab) == "// next"
    now = caches_of(tab)
    assert len(now) == 2
    assert len(set(now) & set(old)) == 1
    assert "of someone else on this host" in now


def test_another_tab_is_told_that_its_version_was_replaced(blank: OpenTab, site: Site) -> None:
    """A tab that did not ask is not loaded again under its user's hands; it is told."""
    tab, other = blank(), blank()
    keep(tab)
    other.evaluate(OPEN_OFFLINE)
    make_next_version(site.folder, "next")
    tab.evaluate("offline.look()")
    until(tab, "offline.isNewVersionWaiting()")
    other.evaluate("() => { globalThis.stillHere = true; }")
    # The old version first finishes what it has in hand.
    with tab.expect_navigation(timeout=90_000):
        tab.evaluate("() => void offline.useNewVersion()")
    until(other, "heard.includes('replaced')")
    assert other.evaluate("globalThis.stillHere") is True


def test_a_host_that_sends_no_headers_gets_them_from_the_service_worker(
    browser: Browser, dist: Path, serve: Callable[..., Site]
) -> None:
    """On any static host the page and the worker's script carry the content policy once the app is kept."""
    site = serve(dist, is_bare=True)
    context = browser.new_context(base_url=site.address)
    tab = context.new_page()
    tab.goto("/")
    keep(tab)
    tab.reload()
    fetched = """async (address) => Object.fromEntries((await fetch(address)).headers)"""
    for address in ("/", "/worker/engine_worker.js"):
        headers = tab.evaluate(fetched, address)
        assert "default-src 'none'" in headers["content-security-policy"]
        assert "require-trusted-types-for 'script'" in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
    context.close()


def test_no_script_can_be_started_but_the_two_that_are_admitted(tab: Page, watch: Watch) -> None:
    """Trusted Types: a worker from a text address, another file, a blob or another origin is refused."""
    watch.expect("Trusted|violates the following")
    refused = tab.evaluate(
        """async () => {
          await import('/app/trusted.js');
          const attempts = [
            () => new Worker('/app/numbers.js'),
            () => new Worker(URL.createObjectURL(new Blob(['postMessage(1)']))),
            () => navigator.serviceWorker.register('/app/numbers.js'),
            () => trustedTypes.createPolicy('another', { createScriptURL: (address) => address }),
            () => trustedTypes.createPolicy('out-of-true', { createScriptURL: (address) => address }),
            () => { document.body.innerHTML = '<img src=x onerror="globalThis.got = 1">'; },
          ];
          const names = [];
          for (const attempt of attempts) {
            try { await attempt(); names.push('let through'); } catch (fault) { names.push(fault.name); }
          }
          return names;
        }"""
    )
    assert refused == ["TypeError"] * 6


def test_a_question_is_cancelled_and_those_behind_it_are_answered(tab: Page) -> None:
    """Cancelling ends the engine and starts it again; what waited is asked again and nothing is lost."""
    tab.evaluate(OPEN_OFFLINE)
    job = json.loads((Path(__file__).parents[2] / "site_src/app/demo_job.json").read_text())
    replies = tab.evaluate(
        """async ([job, pace]) => {
          await engine.ask(pace);
          const stop = new AbortController();
          const long = engine.ask({ ask: 'plan', job }, { signal: stop.signal }).catch((fault) => fault.name);
          const behind = engine.ask(pace);
          const waiting = engine.ask(pace, { signal: AbortSignal.abort() }).catch((fault) => fault.name);
          stop.abort();
          return [await long, await waiting, (await behind).reply, engine.state().state];
        }""",
        [job, PACE],
    )
    assert replies == ["AbortError", "AbortError", "pace", "ready"]


# An engine that starts, and answers nothing.
MUTE = """async () => {
  globalThis.Worker = class {
    postMessage({ kind }) {
      if (kind === 'start') this.onmessage({ data: { kind: 'ready', fromCache: null } });
    }
    terminate() { globalThis.ended = (globalThis.ended ?? 0) + 1; }
  };
  const { openEngine } = await import('/app/engine_client.js');
  globalThis.engine = openEngine();
  globalThis.reply = engine.ask({ ask: 'pace' });
}"""


def test_an_engine_that_says_nothing_is_given_up_and_can_be_started_again(tab: Page) -> None:
    """A phone short of memory ends a thread without a word: the user is told, and goes on."""
    tab.clock.install()
    tab.evaluate(MUTE)
    tab.clock.fast_forward(110_000)
    assert tab.evaluate("engine.state().state") == "ready"
    tab.clock.fast_forward(11_000)
    assert tab.evaluate("reply.then(({ reply, name }) => [reply, name])") == ["fault", "EngineStopped"]
    state = tab.evaluate("engine.state()")
    assert state["state"] == "failed"
    assert "said nothing for two minutes" in state["sentence"]
    assert tab.evaluate("ended") == 1
    tab.evaluate("() => void (globalThis.next = engine.ask({ ask: 'pace' }))")
    tab.wait_for_function("engine.state().state === 'ready'")


def test_a_fault_in_the_engine_comes_back_as_data_and_the_next_question_is_answered(tab: Page) -> None:
    """Nonsense gets a reply that says what is wrong; the engine lives on."""
    tab.evaluate(OPEN_OFFLINE)
    both = (
        "async (pace) => [await engine.ask({ ask: 'nonsense' }), await engine.ask(pace)].map((r) => r.reply)"
    )
    replies = tab.evaluate(both, PACE)
    assert replies[0] in ("fault", "refused")
    assert replies[1] == "pace"
