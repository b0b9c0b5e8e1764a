"""Makes or finds the Python environment, so that a fresh clone needs nothing but Python.

The environment is made again whenever the pinned requirements or the Python
that made it change; otherwise a start costs one comparison of stamps.
"""

import hashlib
import os
import shutil
import sys
import venv
from pathlib import Path

from builder.console import Trouble, run, step
from builder.places import BUILDER, ENVIRONMENT, ROOT, SITE

REQUIREMENTS = BUILDER / "requirements.txt"
STAMP = ENVIRONMENT / "out-of-true.stamp"
LEAST_PYTHON = (3, 11)


def enter() -> None:
    """Go on inside the environment: returns there, or replaces this process by one that is there."""
    if sys.version_info < LEAST_PYTHON:
        raise Trouble(
            "Python 3.11 or newer is needed. Start the builder with one, for example python3.12 -m builder."
        )
    if is_inside():
        sys.path.insert(0, str(SITE))  # the engine is run from its sources
        return
    if not is_current():
        make()
    arguments = [str(python()), "-m", "builder", *sys.argv[1:]]
    if os.name == "nt":  # there a replaced process returns to the shell too early
        sys.exit(os.spawnv(os.P_WAIT, arguments[0], arguments))
    os.execv(arguments[0], arguments)


def is_inside() -> bool:
    """Whether this very process runs in the current environment."""
    return Path(sys.prefix).resolve() == ENVIRONMENT.resolve() and is_current()


def is_current() -> bool:
    """Whether the environment is there and holds what is pinned now."""
    return python().exists() and STAMP.exists() and STAMP.read_text(encoding="utf-8") == stamp()


def stamp() -> str:
    """What the environment is made from: the requirements and the Python version."""
    digest = hashlib.sha256(REQUIREMENTS.read_bytes()).hexdigest()
    return f"{digest} {sys.version_info.major}.{sys.version_info.minor}\n"


def make() -> None:
    """Make the environment anew."""
    step("making .venv")
    shutil.rmtree(ENVIRONMENT, ignore_errors=True)
    try:
        venv.create(ENVIRONMENT, with_pip=True)
    except Exception as error:
        raise Trouble(
            f"Python could not make a virtual environment: {error}\n"
            "Install the part of Python that does (on Debian: apt-get install python3-venv) and start again."
        ) from error
    step("installing the pinned requirements (a few minutes the first time)")
    install: list[str | Path] = [
        python(),
        "-m",
        "pip",
        "install",
        "--quiet",
        "--require-hashes",
        "--only-binary",
        ":all:",
    ]
    run(
        [*install, "-r", REQUIREMENTS],
        "Check that this machine reaches the Python package index and start again.",
    )
    STAMP.write_text(stamp(), encoding="utf-8")


def python() -> Path:
    """The environment's Python."""
    return ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def child_variables(**more: str) -> dict[str, str]:
    """Variables for a child process: ours, the engine importable, and fixed where a result could vary."""
    path = os.pathsep.join([str(SITE), str(ROOT)])
    return {**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": "0", **more}
