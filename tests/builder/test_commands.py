"""The commands as someone with nothing but Python would type them."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from builder import console, environment
from builder.places import DEMO_JOB, ROOT
from builder.sheets import write_sheets


@pytest.mark.parametrize("command", ["", "serve", "build", "test", "sheets", "bench", "types"])
def test_help_needs_nothing_but_the_standard_library(command: str) -> None:
    base = getattr(sys, "_base_executable", sys.executable)
    words = [base, "-S", "-m", "builder", *command.split(), "--help"]
    bare = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(words, cwd=ROOT, env=bare, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert f"usage: python3 -m builder {command}".strip() in done.stdout


def test_the_desk_writes_the_same_files_as_the_phone_exports(tmp_path: Path) -> None:
    assert write_sheets(DEMO_JOB, tmp_path / "new" / "folder") == 0
    names = {path.name for path in (tmp_path / "new" / "folder").iterdir()}
    assert {"plan.json", "cuts.csv", "plan.svg"} <= names
    plan = json.loads((tmp_path / "new" / "folder" / "plan.json").read_text(encoding="utf-8"))
    assert plan["format"] == "out-of-true plan"
    for name in ("cuts.pdf", "plan.pdf"):
        assert (tmp_path / "new" / "folder" / name).read_bytes().endswith(b"%%EOF\n")


def test_a_refused_job_is_told_in_sentences_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = json.loads(DEMO_JOB.read_text(encoding="utf-8"))
    job["floor"]["board"]["width"] = -90
    (tmp_path / "job.json").write_text(json.dumps(job), encoding="utf-8")
    assert write_sheets(tmp_path / "job.json", tmp_path / "out") == 1
    said = capsys.readouterr().out
    assert "error: " in said
    assert "floor.board.width" in said
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (None, "cannot be read"),
        (b'{"format": ', "is not JSON"),
        (b"\xff\xfe\x00", "is not JSON"),
        (b"[1, 2]", "must hold one JSON object"),
        (b"[" * 200_000, "is not JSON"),
        (b'{"format": NaN}', "NaN stands where a number must"),
        (b" " * 5_000_001, "larger than 5 MB"),
    ],
    ids=["no file", "half a file", "no text", "a list", "too deep", "no number", "too large"],
)
def test_a_file_that_is_no_job_gets_a_sentence_that_names_it(
    tmp_path: Path, content: bytes | None, sentence: str
) -> None:
    job = tmp_path / "some job.json"
    if content is not None:
        job.write_bytes(content)
    with pytest.raises(console.Trouble, match=sentence) as told:
        write_sheets(job, tmp_path / "out")
    assert "some job.json" in str(told.value)


def test_a_file_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    """Some editors write one; RFC 8259, section 8.1, lets a reader ignore it."""
    job = tmp_path / "job.json"
    job.write_bytes(b"\xef\xbb\xbf" + DEMO_JOB.read_bytes())
    assert write_sheets(job, tmp_path / "out") == 0


def test_the_environment_is_current_only_for_the_requirements_it_was_made_from(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    python = tmp_path / "bin" / "python"
    python.parent.mkdir()
    python.touch()
    requirements, stamp = tmp_path / "requirements.txt", tmp_path / "stamp"
    requirements.write_text("one==1\n")
    monkeypatch.setattr(environment, "python", lambda: python)
    monkeypatch.setattr(environment, "REQUIREMENTS", requirements)
    monkeypatch.setattr(environment, "STAMP", stamp)
    assert not environment.is_current()
    stamp.write_text(environment.stamp())
    assert environment.is_current()
    requirements.write_text("one==2\n")
    assert not environment.is_current()


def test_every_requirement_is_pinned_and_hashed() -> None:
    lines = environment.REQUIREMENTS.read_text(encoding="utf-8").splitlines()
    pins = [line for line in lines if line and not line.startswith(("#", " "))]
    assert pins
    assert [pin for pin in pins if "==" not in pin.split(";")[0]] == []
    following = [lines[lines.index(pin) + 1] for pin in pins]
    assert [line for line in following if not line.strip().startswith("--hash=sha256:")] == []


def test_a_command_that_fails_is_told_with_what_it_said_and_how_to_mend_it() -> None:
    script = "import sys; print('said this'); print('x' * 5000); sys.exit(3)"
    with pytest.raises(console.Trouble) as told:
        console.run([sys.executable, "-c", script], "Do that.")
    assert "said this" in str(told.value)
    assert str(told.value).endswith("Do that.")
    assert "x" * 5000 not in str(told.value)
