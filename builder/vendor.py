"""The npm libraries the app ships: exactly the files it imports, unmodified, each package under ``vendor/``.

There is no bundler. What the app's modules, workers and styles name under
``vendor/`` is looked up here, and what those files import beside them follows.
"""

import json
import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from builder.console import Trouble
from builder.node import packages
from builder.places import SITE

# Folder under vendor/ → package and the folder in it.
SHIPPED = {
    "geos-wasm": ("geos-wasm", "build/package"),
    "highs": ("highs", "build"),
    "idb": ("idb", "build"),
    "lit-html": ("lit-html", ""),
    "signika": ("@fontsource-variable/signika", "files"),
}

_NAMED = re.compile(r"""["'](?:\.\./)+vendor/([^"']+)["']""")
_IMPORTED = re.compile(r"""(?:from|import)\s*\(?\s*["'](\.{1,2}/[^"']+)["']""")


@dataclass(frozen=True, kw_only=True, slots=True)
class Package:
    """One shipped package: its own name, version and licence (SPDX), and the texts of its licence."""

    name: str
    version: str
    licence: str
    texts: dict[str, bytes]


def vendor_files() -> dict[str, bytes]:
    """``vendor/…`` → content."""
    files: dict[str, bytes] = {}
    waiting = sorted(_named_by_us())
    while waiting:
        path = waiting.pop()
        if path not in files:
            files[path] = _read(path)
            waiting.extend(_imported_by(path, files[path]))
    return {f"vendor/{path}": content for path, content in files.items()}


def _named_by_us() -> set[str]:
    sources = [
        path
        for kind in ("*.js", "*.css")
        for part in ("app", "worker", "styles")
        for path in (SITE / part).rglob(kind)
    ]
    return {name for source in sources for name in _NAMED.findall(source.read_text(encoding="utf-8"))}


def _imported_by(path: str, content: bytes) -> Iterator[str]:
    if path.endswith(".js"):
        for name in _IMPORTED.findall(content.decode()):
            yield posixpath.normpath(posixpath.join(posixpath.dirname(path), name))


def _read(path: str) -> bytes:
    folder, _, rest = path.partition("/")
    if folder not in SHIPPED:
        raise Trouble(
            f"The app names vendor/{path}, but builder/vendor.py does not say which package that is."
        )
    package, inner = SHIPPED[folder]
    source = packages() / package / inner / rest
    if not source.is_file():
        raise Trouble(f"The app names vendor/{path}, but the package {package} has no such file.")
    return source.read_bytes()


def package(name: str) -> Package:
    """What an installed npm package says of itself."""
    folder = packages() / name
    described = json.loads((folder / "package.json").read_text(encoding="utf-8"))
    texts = {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if _is_licence(path)}
    return Package(name=name, version=described["version"], licence=described["license"], texts=texts)


def _is_licence(path: Path) -> bool:
    return path.is_file() and path.name.upper().startswith(("LICENSE", "LICENCE", "COPYING", "NOTICE"))
