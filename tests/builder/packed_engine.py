"""Puts questions to the engine as it is packed for a phone, under Node."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from builder import output
from builder.node import run_node
from builder.output import Files

SCRIPT = Path(__file__).with_name("ask_packed_engine.mjs")


def ask_packed_engine(built: Files, folder: Path, questions: Sequence[str]) -> list[dict[str, Any]]:
    """Its replies to the questions, all in one start. ``folder`` is an empty one for the built app."""
    output.write(built, folder)
    (folder / "questions.json").write_text(json.dumps(questions), encoding="utf-8")
    printed = run_node([SCRIPT, folder], "The packed engine does not run.")
    return [json.loads(reply) for reply in json.loads(printed)]
