"""Names every shipped file that others wrote, with version, licence and SHA-256, and ships the licences."""

import hashlib
import json
from dataclasses import replace

from builder.node import packages
from builder.places import BUILDER
from builder.runtime import FOLDER, UNMODIFIED
from builder.vendor import SHIPPED, Package, package
from builder.wheels import WHEELS, Wheel

LIST = "THIRD_PARTY.json"
# Texts that the packages themselves do not carry.
TEXTS = BUILDER / "licences"

PARTS_CHANGED = {
    "python_stdlib.zip": "cut to the modules in use and compiled, nothing else changed",
    **{wheel.name: "compiled, nothing else changed" for wheel in WHEELS},
}


def third_party(shipped: dict[str, bytes]) -> dict[str, bytes]:
    """The list and the licence texts; ``shipped`` are all files of the app so far."""
    entries = [_entry(path, content) for path, content in sorted(shipped.items()) if _owner(path)]
    parts = [_part(owner) for owner in _owners()]
    document = json.dumps({"parts": parts, "files": entries}, indent=1, ensure_ascii=False).encode() + b"\n"
    texts = {_place(owner, name): text for owner in _owners() for name, text in owner.texts.items()}
    return {LIST: document, **texts}


def _part(owner: Package) -> dict[str, object]:
    """One part as a person asks for it: its licence and where the texts lie in the app."""
    texts = [_place(owner, name) for name in owner.texts]
    return {"name": owner.name, "version": owner.version, "licence": owner.licence, "texts": texts}


def _place(owner: Package, name: str) -> str:
    return f"licences/{owner.name.replace('/', '-')}/{name}"


def _entry(path: str, content: bytes) -> dict[str, str]:
    owner = _owner(path)
    assert owner
    entry = {"path": path, "name": owner.name, "version": owner.version, "licence": owner.licence}
    changed = next((words for part, words in PARTS_CHANGED.items() if part in path), "unmodified")
    return {**entry, "changes": changed, "sha256": hashlib.sha256(content).hexdigest()}


def _owners() -> list[Package]:
    return [_npm("pyodide"), _python(), *map(_packed, WHEELS), *(_npm(name) for name, _ in SHIPPED.values())]


def _owner(path: str) -> Package | None:
    folder, _, rest = path.partition("/")
    if folder == "vendor":
        return _npm(SHIPPED[rest.split("/")[0]][0])
    if folder == FOLDER and rest in UNMODIFIED:
        return _npm("pyodide")
    if folder == FOLDER and rest == "python_stdlib.zip":
        return _python()
    wheels = WHEELS if folder == FOLDER else ()
    return next((_packed(wheel) for wheel in wheels if rest.startswith(f"{wheel.name}-")), None)


def _python() -> Package:
    """The Python inside Pyodide, whose library is shipped."""
    info = json.loads((packages() / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    return Package(name="python", version=info["python"], licence="PSF-2.0", texts=_kept_texts("python"))


def _packed(wheel: Wheel) -> Package:
    texts = {"LICENSE": wheel.licence_text()}
    return Package(name=wheel.name, version=wheel.version, licence=wheel.licence, texts=texts)


def _npm(name: str) -> Package:
    found = package(name)
    return replace(found, texts=found.texts | _kept_texts(name))


def _kept_texts(name: str) -> dict[str, bytes]:
    folder = TEXTS / name
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())} if folder.is_dir() else {}
