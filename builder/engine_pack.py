"""The engine as a wheel of bytecode, ready to be unpacked on the phone.

The wheel is made by setuptools from pyproject.toml, like any Python package's.
pyodide-build then opens it (and those of the packages it needs), the sources are replaced by
bytecode, and it is packed again with a fresh record.
"""

import io
import os
import shutil
import sys
import tempfile
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from builder.console import Trouble, run
from builder.places import ROOT, SITE

QUIET_AND_OFFLINE = ("--quiet", "--no-deps", "--no-index", "--no-build-isolation")
LEFT_OUT = (".py", ".pyi", "py.typed")


def engine_wheel(folder: Path) -> Path:
    """The engine's wheel, sources inside, made in ``folder``."""
    with tempfile.TemporaryDirectory() as copy:
        # setuptools litters beside the sources, hence a copy.
        shutil.copy(ROOT / "pyproject.toml", copy)
        ignore = shutil.ignore_patterns("__pycache__", ".*")
        shutil.copytree(SITE / "engine", Path(copy, SITE.name, "engine"), ignore=ignore)
        pip = [sys.executable, "-m", "pip", "wheel", *QUIET_AND_OFFLINE]
        run([*pip, "--wheel-dir", folder, copy], "The engine's package could not be made; see above.")
    return next(folder.glob("out_of_true-*.whl"))


def with_bytecode(wheel: Path, bytecode: Path, folder: Path, *, tag: str | None = None) -> Path:
    """A copy of the wheel in ``folder`` that holds bytecode for sources; ``tag`` replaces its own."""
    from pyodide_build.common import modify_wheel

    folder.mkdir(parents=True, exist_ok=True)
    copy = Path(shutil.copy(wheel, folder))
    with _output_hidden(), modify_wheel(copy) as opened:
        _replace_sources(opened, bytecode)
        if tag:
            _retag(opened, tag)
    packed = next(folder.glob(f"{wheel.name.split('-')[0]}-*.whl"))
    with zipfile.ZipFile(packed) as archive:
        packed_again = stored_zip({name: archive.read(name) for name in archive.namelist()})
    packed.write_bytes(packed_again)
    return packed


def stored_zip(files: Mapping[str, bytes]) -> bytes:
    """A zip archive without times, stored: nothing to unpack at each start, and brotli does better on it."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_STORED) as packed:
        for path, content in files.items():
            packed.writestr(zipfile.ZipInfo(path), content)
    return archive.getvalue()


def _replace_sources(opened: Path, bytecode: Path) -> None:
    for source in [path for path in opened.rglob("*") if path.name.endswith(LEFT_OUT)]:
        compiled = bytecode / source.relative_to(opened).with_suffix(".pyc")
        if source.suffix == ".py":
            shutil.copy(compiled, source.with_suffix(".pyc"))
        source.unlink()


def _retag(opened: Path, tag: str) -> None:
    described = next(opened.glob("*.dist-info")) / "WHEEL"
    lines = described.read_text(encoding="utf-8").splitlines()
    kept = [f"Tag: {tag}" if line.startswith("Tag: ") else line for line in lines]
    described.write_text("\n".join(kept) + "\n", encoding="utf-8")


@contextmanager
def _output_hidden() -> Iterator[None]:
    """pyodide-build's child processes write to our standard output; keep that for the builder's own lines."""
    sys.stdout.flush()
    kept = os.dup(1)
    with tempfile.TemporaryFile() as hidden:
        os.dup2(hidden.fileno(), 1)
        try:
            yield
        except SystemExit:
            os.dup2(kept, 1)
            hidden.seek(0)
            raise Trouble(f"A wheel could not be packed:\n{hidden.read().decode()}") from None
        finally:
            os.dup2(kept, 1)
            os.close(kept)
