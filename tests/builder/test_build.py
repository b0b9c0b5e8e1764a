"""What the build makes."""

import base64
import hashlib
import io
import json
import re
import tomllib
import zipfile
from pathlib import Path, PurePosixPath
from typing import Any

import pytest

from builder import wheels
from builder.bench import LIMIT_MB, packed_sizes
from builder.output import Files
from builder.pipeline import app_files
from builder.places import DEMO_JOB, ROOT, SITE
from tests.builder.packed_engine import ask_packed_engine
from tests.engine.one_of_each import one_of_each

# The 3.14 releases' bytecode number; source: CPython, Include/internal/pycore_magic_number.h.
MAGIC_3_14 = 3627


def constant(built: Files, name: str) -> Any:
    """A constant the build wrote into the service worker."""
    found = re.search(rf"^const {name} = (.*);$", built["service_worker.js"].decode(), re.MULTILINE)
    assert found
    return json.loads(found[1])


def test_two_builds_of_the_same_sources_give_the_same_bytes(built: Files) -> None:
    again = app_files()
    assert again.keys() == built.keys()
    assert [path for path in built if built[path] != again[path]] == []


def test_the_service_worker_keeps_every_other_file_with_its_hash(built: Files) -> None:
    """A phone that has these has the whole app; a changed byte anywhere is another version."""
    kept = {file["path"]: file["integrity"] for file in constant(built, "FILES")}
    assert kept.keys() == built.keys() - {"service_worker.js"}
    for path, integrity in kept.items():
        assert base64.b64decode(integrity.removeprefix("sha256-")) == hashlib.sha256(built[path]).digest(), (
            path
        )


def test_the_runtimes_lock_names_and_hashes_what_it_loads(built: Files) -> None:
    lock = json.loads(built["runtime/pyodide-lock.json"])
    assert set(lock["packages"]) == {"msgspec", "pydyf", "out-of-true"}
    for entry in lock["packages"].values():
        content = built[f"runtime/{entry['file_name']}"]
        assert entry["sha256"] == hashlib.sha256(content).hexdigest()


@pytest.mark.parametrize("pack", ["python_stdlib.zip", "msgspec-", "pydyf-", "out_of_true-"])
def test_a_pack_is_stored_bytecode_of_the_phones_own_python(built: Files, pack: str) -> None:
    """Sources would be compiled at each start, by a phone."""
    path = next(path for path in built if path.startswith(f"runtime/{pack}"))
    with zipfile.ZipFile(io.BytesIO(built[path])) as archive:
        modules = [info for info in archive.infolist() if info.filename.endswith(".pyc")]
        assert modules
        assert not [name for name in archive.namelist() if name.endswith(".py")]
        assert {info.compress_type for info in archive.infolist()} == {zipfile.ZIP_STORED}
        magic = {int.from_bytes(archive.read(info)[:2], "little") for info in modules}
    assert magic == {MAGIC_3_14}


@pytest.mark.parametrize("pack", ["msgspec-", "pydyf-", "out_of_true-"])
def test_a_wheels_record_fits_what_is_in_it(built: Files, pack: str) -> None:
    path = next(path for path in built if path.startswith(f"runtime/{pack}"))
    with zipfile.ZipFile(io.BytesIO(built[path])) as archive:
        record = next(name for name in archive.namelist() if name.endswith("/RECORD"))
        rows = [line.split(",") for line in archive.read(record).decode().splitlines()]
        assert {row[0] for row in rows} == set(archive.namelist())
        for name, digest, _ in rows:
            if name != record:
                expected = (
                    base64.urlsafe_b64encode(hashlib.sha256(archive.read(name)).digest()).decode().rstrip("=")
                )
                assert digest == f"sha256={expected}"


def test_the_desks_geometry_library_is_shipped_but_never_loaded_on_the_phone(built: Files) -> None:
    with zipfile.ZipFile(io.BytesIO(built["runtime/python_stdlib.zip"])) as archive:
        names = archive.namelist()
    assert {"json/__init__.pyc", "traceback.pyc", "linecache.pyc"} <= set(names)
    assert not [
        name for name in names if name.startswith(("shapely", "numpy", "unittest", "test/", "engine"))
    ]


def test_the_pack_holds_every_module_of_the_engine(built: Files) -> None:
    path = next(path for path in built if path.startswith("runtime/out_of_true-"))
    with zipfile.ZipFile(io.BytesIO(built[path])) as archive:
        packed = {name for name in archive.namelist() if name.startswith("engine/")}
    sources = (source.relative_to(SITE) for source in (SITE / "engine").rglob("*.py"))
    assert packed == {source.with_suffix(".pyc").as_posix() for source in sources}


def test_what_was_packed_starts_and_computes_as_the_desk_does(built: Files, tmp_path: Path) -> None:
    """The slim runtime holds every module the engine needs, whatever it is asked."""
    from engine import entry

    job = json.loads(DEMO_JOB.read_text(encoding="utf-8"))
    others = one_of_each()
    demo = [{"ask": ask, "job": job} for ask in ("check", "room", "plan", "sheets")]
    texts = [*map(json.dumps, [*demo, *others.values()]), "not a request"]
    answers = ask_packed_engine(built, tmp_path, texts)
    kinds = [answer["reply"] for answer in answers]
    assert kinds == ["check", "room", "plan", "sheets", *others, "refused"]
    desk = json.loads(entry.handle(texts[2]))
    assert [card["id"] for card in answers[2]["cards"]] == [card["id"] for card in desk["cards"]]
    assert answers[3]["files"].keys() == json.loads(entry.handle(texts[3]))["files"].keys()


def test_the_whole_app_weighs_at_most_six_megabytes_after_brotli(built: Files) -> None:
    assert sum(packed_sizes(built, quality=9).values()) <= LIMIT_MB * 1e6


def test_every_shipped_file_of_others_is_listed_with_licence_and_hash(built: Files) -> None:
    document = json.loads(built["THIRD_PARTY.json"])
    entries = document["files"]
    listed = {entry["path"]: entry for entry in entries}
    others = {p for p in built if p.startswith(("vendor/", "runtime/"))}
    ours = {p for p in others if "out_of_true" in p or p.endswith("pyodide-lock.json")}
    assert listed.keys() == others - ours
    for path, entry in listed.items():
        assert entry["sha256"] == hashlib.sha256(built[path]).hexdigest()
        assert entry["licence"]
        assert entry["version"]
    assert {part["name"] for part in document["parts"]} == {entry["name"] for entry in entries}
    texts = [text for part in document["parts"] for text in part["texts"]]
    assert sorted(texts) == sorted(p for p in built if p.startswith("licences/"))
    assert all(part["texts"] for part in document["parts"])


# In markup an address is relative to the page, in an import or a style to the file itself.
IN_MARKUP = re.compile(r"""(?:src|href)="([^"#:${]+)\"""")
IN_SOURCE = re.compile(r"""url\("([^"]+)"\)|(?:from|import)\s*\(?['"](\.{1,2}/[^'"]+)['"]""")


def test_every_file_that_a_page_style_or_script_names_is_there(built: Files) -> None:
    """An address that leads nowhere would show only where there is no signal."""
    missing = []
    for path, content in built.items():
        if path.startswith(("runtime/", "vendor/")) or not path.endswith((".html", ".css", ".js")):
            continue
        text = re.sub(r"/\*.*?\*/", "", content.decode(), flags=re.DOTALL)
        named = [resolved("index.html", found[1]) for found in IN_MARKUP.finditer(text)]
        named += [resolved(path, found[1] or found[2]) for found in IN_SOURCE.finditer(text)]
        missing += [(path, name) for name in named if name not in built]
    assert missing == []


def test_every_picture_the_manifest_names_is_there(built: Files) -> None:
    manifest = json.loads(built["manifest.webmanifest"])
    pictures = [*manifest["icons"], *manifest.get("screenshots", ())]
    assert [picture["src"] for picture in pictures if picture["src"] not in built] == []


def resolved(path: str, name: str) -> str:
    parts: list[str] = []
    for part in [*PurePosixPath(path).parent.parts, *PurePosixPath(name).parts]:
        if part == "..":
            parts.pop()
        elif part != ".":
            parts.append(part)
    return "/".join(parts)


def test_desk_and_phone_compute_with_the_same_releases() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    assert {f"{wheel.name}=={wheel.version}" for wheel in wheels.WHEELS} <= set(declared)
