"""Python for the phone: Pyodide with its library cut to what is used, compiled and stored.

Stock Pyodide brings its library as sources: each start would compile them
again. Here the same runtime compiles, under Node, exactly the modules that the
engine makes it load (``in_runtime.py``); the runtime itself ships unmodified.
"""

import hashlib
import json
import tempfile
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from builder.console import step
from builder.engine_pack import engine_wheel, stored_zip, with_bytecode
from builder.node import packages, run_node
from builder.places import BUILDER, DEMO_JOB, SITE
from builder.wheels import WHEELS

FOLDER = "runtime"
UNMODIFIED = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
GEOS = "geos-wasm/build/package/geos.esm.js"
BYTECODE_TAG = "cp314-none-any"


def runtime_files() -> dict[str, bytes]:
    """Everything under ``runtime/``: path in the app → content."""
    pyodide = packages() / "pyodide"
    files = {name: (pyodide / name).read_bytes() for name in UNMODIFIED}
    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder)
        step("compiling the engine and the part of the standard library it uses")
        engine = engine_wheel(made / "sources")
        compile_in_runtime(pyodide, [*(wheel.fetched() for wheel in WHEELS), engine], made)
        files["python_stdlib.zip"] = stored_zip(_contents(made / "bytecode" / "stdlib"))
        compiled = made / "bytecode" / "packages"
        packs = [
            *(with_bytecode(wheel.fetched(), compiled, made / "packs") for wheel in WHEELS),
            with_bytecode(engine, compiled, made / "packs", tag=BYTECODE_TAG),
        ]
        files |= {pack.name: pack.read_bytes() for pack in packs}
        files["pyodide-lock.json"] = lock_file(pyodide, packs, made / "pyodide-lock.json")
    return {f"{FOLDER}/{name}": content for name, content in files.items()}


def compile_in_runtime(pyodide: Path, wheels: Sequence[Path], made: Path) -> None:
    """Bytecode of the library's modules in use and of the wheels, in two folders in ``bytecode``."""
    for wheel in wheels:
        with zipfile.ZipFile(wheel) as archive:
            archive.extractall(made / "packages")
    mend = "The engine does not run in the browser's Python; the trace above says where."
    geos = packages() / GEOS
    run_node(
        [BUILDER / "in_runtime.mjs", pyodide, geos, SITE, DEMO_JOB, made / "packages", made / "bytecode"],
        mend,
    )


def _contents(folder: Path) -> dict[str, bytes]:
    paths = sorted(path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def lock_file(pyodide: Path, packs: list[Path], target: Path) -> bytes:
    """The lock file from which the runtime learns what to load, with the hash it must have."""
    from pyodide_lock import PyodideLockSpec

    info = json.loads((pyodide / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    # The engine comes last and needs all the others.
    needs = [*([] for _ in WHEELS), [wheel.name for wheel in WHEELS]]
    entries = [_entry(pack, depends) for pack, depends in zip(packs, needs, strict=True)]
    # pyodide-lock for Python 3.11 wants a version and knows no ABI, the runtime the other way round.
    described = {key: info[key] for key in ("arch", "platform", "python")} | {"version": info["abi_version"]}
    spec = _spec(PyodideLockSpec, described, {str(entry["name"]): entry for entry in entries})
    spec.check_wheel_filenames()
    spec.to_json(target)
    document = json.loads(target.read_text(encoding="utf-8")) | {"info": info}
    return json.dumps(document, indent=1, sort_keys=True).encode() + b"\n"


def _spec(kind: Any, info: dict[str, str], entries: dict[str, Any]) -> Any:
    """The record, made as either of pyodide-lock's two lines of releases wants it."""
    document = {"info": info, "packages": entries}
    return kind.from_dict(document) if hasattr(kind, "from_dict") else kind(**document)


def _entry(pack: Path, depends: list[str]) -> dict[str, object]:
    name, version = pack.name.split("-")[:2]
    return {
        "name": name.replace("_", "-"),
        "version": version,
        "file_name": pack.name,
        "install_dir": "site",
        "sha256": hashlib.sha256(pack.read_bytes()).hexdigest(),
        "imports": ["engine" if name == "out_of_true" else name],
        "depends": depends,
    }
