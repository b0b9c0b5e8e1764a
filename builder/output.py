"""The only one that writes ``dist/``.

The steps before it return what is to be written; so a build that fails leaves
the folder as it was, and nothing of an older build stays in it.
"""

import shutil
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from builder.places import DIST

Files = Mapping[str, bytes]

KEPT = ".gitignore"


def write(files: Files, folder: Path = DIST) -> None:
    """Make ``folder`` hold exactly ``files`` (path in the app → content), beside its ``.gitignore``."""
    for path in files:
        _refuse_outside(path)
    _clear(folder)
    for path, content in sorted(files.items()):
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)


def _refuse_outside(path: str) -> None:
    parts = PurePosixPath(path).parts
    if path.startswith("/") or ".." in parts or not parts:
        raise ValueError(f"{path!r} does not lie in the app's folder")


def _clear(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.iterdir():
        if old.name == KEPT:
            continue
        if old.is_dir():
            shutil.rmtree(old)
        else:
            old.unlink()
