"""Every request is answered, whichever comes first: what it needs is loaded with it."""

import json
import subprocess
import sys
from typing import Any

from engine import entry
from engine.wire.answers import answer_names, not_loaded
from tests.engine.one_of_each import KINDS, one_of_each

# One process for all: before each request the engine is forgotten, as if Python had just started.
COLD = """
import json, sys
from importlib import import_module

for text in json.load(sys.stdin):
    for name in [name for name in sys.modules if name.split(".")[0] == "engine"]:
        del sys.modules[name]
    reply = json.loads(import_module("engine.entry").handle(text))
    print(json.dumps([reply["reply"], reply.get("trace", "")]))
"""


def test_every_request_has_its_answer_and_no_answer_is_left_over() -> None:
    assert sorted(KINDS) == sorted(answer_names())


def test_a_cold_engine_answers_each_request() -> None:
    questions = one_of_each()
    texts = json.dumps([json.dumps(question) for question in questions.values()])
    cold = [sys.executable, "-c", f"import sys; sys.path[:] = {sys.path}\n{COLD}"]
    printed = subprocess.run(cold, input=texts, capture_output=True, text=True, check=True).stdout
    replies: list[Any] = [json.loads(line) for line in printed.splitlines()]
    assert replies == [[kind, ""] for kind in questions]


def test_all_can_be_loaded_piece_by_piece_while_nobody_asks() -> None:
    while entry.load_more():
        pass
    assert not_loaded() == ()
    assert not entry.load_more()
