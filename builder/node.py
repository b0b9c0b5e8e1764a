"""Finds Node and lays out the npm packages: the compiler of the runtime, and the libraries the app ships."""

import hashlib
import re
import shutil
import subprocess
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from builder.console import Trouble, run, step
from builder.environment import python
from builder.places import NODE_MODULES, SITE

LEAST_NODE = 20
STAMP = NODE_MODULES / ".out-of-true.stamp"


@cache
def node() -> Path:
    """The machine's Node if it is new enough, else the one among the requirements."""
    found = shutil.which("node")
    if found and shutil.which("npm") and _major(found) >= LEAST_NODE:
        return Path(found)
    return _in_environment("node")


def _npm() -> Path:
    beside = shutil.which("npm")
    return Path(beside) if beside and node() == Path(shutil.which("node") or "") else _in_environment("npm")


def _in_environment(name: str) -> Path:
    found = shutil.which(name, path=str(python().parent))
    if not found:
        raise Trouble(f"There is no {name}. Delete .venv and start again.")
    return Path(found)


def _major(program: str) -> int:
    said = subprocess.run([program, "--version"], capture_output=True, text=True, check=False).stdout
    number = re.match(r"v(\d+)", said)
    return int(number.group(1)) if number else 0


def run_node(arguments: Sequence[str | Path], mend: str) -> str:
    """Run a script in Node and give what it printed."""
    return run([node(), *arguments], mend)


def packages() -> Path:
    """``node_modules`` exactly as locked; nothing of a package is run while it is installed."""
    locked = hashlib.sha256((SITE / "package-lock.json").read_bytes()).hexdigest()
    if not STAMP.exists() or STAMP.read_text(encoding="utf-8") != locked:
        step("installing the npm packages")
        mend = (
            "Check that this machine reaches the npm registry and that package-lock.json fits package.json."
        )
        run([_npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund"], mend, folder=SITE)
        STAMP.write_text(locked, encoding="utf-8")
    return NODE_MODULES
