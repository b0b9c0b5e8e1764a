"""Runs inside the stock runtime: finds the modules in use and writes them as bytecode.

Which modules are in use is not guessed: the engine is made to do everything it
is asked on a phone, and Python is asked what it has loaded. Bytecode carries
no time, so that two builds give the same bytes.
"""

import importlib
import json
import sys
import traceback
import zipfile
from collections.abc import Callable, Iterable, Iterator
from importlib._bootstrap_external import _code_to_hash_pyc  # type: ignore[attr-defined]
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

LIBRARY = next(path for path in sys.path if path.endswith(".zip"))
PACKAGES = Path("/packages")
# The desk's geometry library is not on a phone.
DESK_ONLY = {"engine.geometry.native"}
# asyncio does without where there is none, and nobody else asks.
NOT_NEEDED = {"ssl", "_ssl"}
# In the table of lines: bytes of a code unit, units of one entry, and the mark of one without a line.
UNIT, MOST_UNITS, NO_LINE = 2, 8, 0xF8
# Stands for the hash of a source that nobody has to check it against: the real ones weigh 4 kB.
NO_HASH = bytes(8)


def work(job_text: str, batch: Callable[..., Any]) -> None:
    """Write ``stdlib/`` and ``packages/`` under /out."""
    before = set(sys.modules)
    use_engine(json.loads(job_text), batch)
    with zipfile.ZipFile(LIBRARY) as library:
        for path in in_library(before | set(sys.modules)):
            write("stdlib", path, library.read(path), f"{LIBRARY}/{path}")
    for source in sorted(PACKAGES.rglob("*.py")):
        path = source.relative_to(PACKAGES).as_posix()
        write("packages", path, source.read_bytes(), path)


def use_engine(job: dict[str, Any], batch: Callable[..., Any]) -> None:
    """Import every module and put every question, the failing ones too."""
    for source in sorted(PACKAGES.glob("engine/**/*.py")):
        path = source.relative_to(PACKAGES).as_posix()
        name = path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        if name not in DESK_ONLY:
            importlib.import_module(name)
    from engine import entry

    entry.start(batch)
    for question in questions(job):
        reply = json.loads(entry.handle(json.dumps(question), lambda text: None))
        if reply["reply"] == "fault":
            raise RuntimeError(f"{question['ask']}: {reply['trace']}")
    entry.handle("not a request")
    tell_a_fault()


def tell_a_fault() -> None:
    """Load what a trace needs; a sound engine has none to tell."""
    try:
        raise RuntimeError
    except RuntimeError:
        traceback.format_exc()


def questions(job: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """One of each kind, and a job that is refused."""
    for ask in ("check", "room", "plan", "sheets"):
        yield {"ask": ask, "job": job}
    yield {"ask": "measured", "job": job, "piece": "1-1L", "left": 300}
    yield {"ask": "plan", "job": {**job, "room": {"walls": []}}}
    yield {"ask": "pace", "pieces": []}


def in_library(names: Iterable[str]) -> list[str]:
    """Where those of the modules that come out of the library's archive lie in it."""
    loaded = (sys.modules[name] for name in names if name in sys.modules and name not in NOT_NEEDED)
    files = (getattr(module, "__file__", None) or "" for module in loaded if not is_frozen(module))
    return sorted({file.removeprefix(f"{LIBRARY}/") for file in files if file.startswith(f"{LIBRARY}/")})


def is_frozen(module: ModuleType) -> bool:
    """Does the interpreter carry the module in itself, whatever the library has?"""
    return module.__spec__ is not None and module.__spec__.origin == "frozen"


def write(kind: str, path: str, source: bytes, filename: str) -> None:
    """Write one module's bytecode."""
    # As with `python -OO`: docstrings weigh a sixth and nobody on a phone reads them.
    code = compile(source, filename, "exec", dont_inherit=True, optimize=2)
    if not path.startswith("engine/"):
        code = without_lines(code)
    target = Path("/out", kind, f"{path}c")
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(_code_to_hash_pyc(code, NO_HASH, False))


def without_lines(code: CodeType) -> CodeType:
    """Which line of others' code a fault passed through helps nobody, and the lines weigh a sixth."""
    inner = (without_lines(each) if isinstance(each, CodeType) else each for each in code.co_consts)
    return code.replace(co_consts=tuple(inner), co_linetable=no_lines(len(code.co_code) // UNIT))


def no_lines(units: int) -> bytes:
    """A table that gives so many code units no line (CPython, InternalDocs/code_objects.md, from memory)."""
    lengths = [*[MOST_UNITS] * (units // MOST_UNITS), *filter(None, [units % MOST_UNITS])]
    return bytes(NO_LINE | length - 1 for length in lengths)
