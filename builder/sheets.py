"""Computes a job on the desk with the same engine and writes the files that the phone exports."""

import base64
import json
from pathlib import Path
from typing import Any

from builder.console import Trouble, step

# As for an import on the phone.
MOST_BYTES = 5_000_000


def write_sheets(job: Path, folder: Path, is_best: bool = False) -> int:
    """Write the sheets of ``job`` into ``folder``; the exit code, 1 when the job is refused.

    With ``is_best`` the pattern is first put where it sits best.
    """
    from engine import entry

    text = json.dumps({"ask": "sheets", "job": read_job(job), "best": is_best})
    reply = json.loads(entry.handle(text, _tell))
    for finding in reply.get("findings", ()):
        print(
            f"{finding['level']}: {finding['sentence']}"
            + (f" ({finding['path']})" if finding["path"] else "")
        )
    if reply["reply"] == "fault":
        raise Trouble(
            f"{reply['trace']}\nThis is a fault of the program's own. Please report it with the job file."
        )
    if reply["reply"] == "refused":
        return 1
    texts = {name: text.encode() for name, text in reply["files"].items()}
    _write(texts | {name: base64.b64decode(text) for name, text in reply["binary_files"].items()}, folder)
    return 0


def read_job(path: Path) -> dict[str, Any]:
    """The job file decoded. Raises Trouble with a sentence when it cannot be."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Trouble(f"{path} is larger than 5 MB, so it is no job file. Choose another file.")
        document = json.loads(path.read_text(encoding="utf-8-sig"), parse_constant=_no_number)
    except OSError as error:
        raise Trouble(
            f"{path} cannot be read: {error.strerror}. Name the job file that the app exported."
        ) from None
    except (UnicodeDecodeError, RecursionError, ValueError) as error:
        raise Trouble(f"{path} is not JSON: {error}. Export the job again, or mend the file there.") from None
    if not isinstance(document, dict):
        raise Trouble(
            f"{path} is not a job file: it must hold one JSON object. Name the file that the app exported."
        )
    return document


def _no_number(text: str) -> float:
    """NaN and Infinity, which some programs write, stand for no measure. Raises ValueError."""
    raise ValueError(f"{text} stands where a number must; read it again in millimetres")


def _write(files: dict[str, bytes], folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in sorted(files.items()):
            (folder / name).write_bytes(content)
            step(f"wrote {folder / name}")
    except OSError as error:
        raise Trouble(f"{folder} cannot be written to: {error.strerror}. Name another folder.") from None


def _tell(progress: str) -> None:
    news = json.loads(progress)
    step(f"{news['step']} {news['done']:.0%}")
