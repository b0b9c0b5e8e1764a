"""Runs every check: lint, types, layers, engine, published references, native against WebAssembly, browser.

All of them are tests, so one run shows all, and its closing line is the last one.
"""

import os
import subprocess
import sys
from collections.abc import Sequence

from builder.browser import VARIABLE, browser_path
from builder.console import step
from builder.environment import child_variables
from builder.node import node, packages
from builder.pipeline import build
from builder.places import ROOT, TESTS

# Each may have a browser open, which takes some 500 MB.
MOST_AT_ONCE = 4


def check(arguments: Sequence[str], *, is_long: bool) -> int:
    """Set up, build and run pytest; its exit code. ``arguments`` go to pytest."""
    packages()
    browser = browser_path()
    build()
    step("checking")
    chosen = list(arguments) if _names_tests(arguments) else [str(TESTS), *_side_by_side(), *arguments]
    marked = [] if is_long else ["-m", "not long"]
    path = os.pathsep.join([str(node().parent), os.environ.get("PATH", "")])
    variables = child_variables(**{VARIABLE: str(browser), "PATH": path})
    command = [sys.executable, "-m", "pytest", *marked, *chosen]
    return subprocess.run(command, cwd=ROOT, env=variables, check=False).returncode


def _side_by_side() -> list[str]:
    """A core takes a file at a time: what the tests of a file share is made once."""
    return ["-n", str(min(os.cpu_count() or 1, MOST_AT_ONCE)), "--dist", "loadfile"]


def _names_tests(arguments: Sequence[str]) -> bool:
    return any(
        (ROOT / argument.split("::")[0]).exists() for argument in arguments if not argument.startswith("-")
    )
