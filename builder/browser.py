"""Finds a Chromium for the checks, or gets one."""

import os
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

from builder.console import Trouble, run, step

VARIABLE = "OUT_OF_TRUE_CHROMIUM"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")


@cache
def browser_path() -> Path:
    """The browser named in OUT_OF_TRUE_CHROMIUM, Playwright's own, the system's, else one is installed."""
    for find in (_named, _playwrights, _systems, _fetched, _from_apt):
        found = find()
        if found:
            return found
    raise Trouble(
        "The browser checks need Chromium. Install it (on Debian, as root: apt-get install chromium), "
        f"or name one you have in the variable {VARIABLE}, and start again."
    )


def _named() -> Path | None:
    name = os.environ.get(VARIABLE)
    if name and not Path(name).exists():
        raise Trouble(f"{VARIABLE} names {name}, which is not there. Correct it or unset it.")
    return Path(name) if name else None


def _playwrights() -> Path | None:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        path = Path(playwright.chromium.executable_path)
    return path if path.exists() else None


def _systems() -> Path | None:
    found = next(filter(None, map(shutil.which, NAMES)), None)
    return Path(found) if found else None


def _fetched() -> Path | None:
    """Playwright's own, where its host can be reached."""
    step("fetching Chromium")
    try:
        command = [sys.executable, "-m", "playwright", "install", "chromium"]
        subprocess.run(command, capture_output=True, timeout=300, check=False)
    except subprocess.TimeoutExpired:
        return None
    return _playwrights()


def _from_apt() -> Path | None:
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return None
    step("installing Debian's Chromium")
    mend = "Install Chromium by hand and start again."
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    run(["apt-get", "update", "-q"], mend, environment=quiet)
    run(["apt-get", "install", "-qy", "--no-install-recommends", "chromium"], mend, environment=quiet)
    return _systems()
