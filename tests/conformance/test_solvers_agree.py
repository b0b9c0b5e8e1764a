"""The phone's solver, HiGHS in WebAssembly, against HiGHS on the desk (scipy): optimum and proof."""

import json
from pathlib import Path

import pytest

from builder.node import packages, run_node
from builder.places import SITE
from engine.cutting.board_programme import Programme, programmes, whole_boards
from engine.cutting.board_sets import board_sets
from engine.cutting.offcut_shapes import Nesting
from engine.slices import to_the_end
from tests.engine.planning.solved_programmes import solved
from tests.reference.test_boards_against_integer_programme import SIZE, hand_of
from tests.reference.test_boards_against_linear_programme import KERF

SCRIPT = Path(__file__).with_name("solve_in_node.mjs")


def test_phone_and_desk_prove_the_same_number_of_boards(tmp_path: Path) -> None:
    """The programmes of ten invented hands, and one that cannot be solved: no values then."""
    found: list[Programme] = []
    for seed in range(10):
        sets = to_the_end(board_sets(hand_of(seed), (), Nesting(SIZE, KERF)))
        assert sets
        found += programmes(sets, [])
    texts = [each.text for each in found]
    impossible = "Minimize\n boards: x0\nSubject To\n p0: x0 >= 2\nBinary\n x0\nEnd\n"
    file = tmp_path / "texts.json"
    file.write_text(json.dumps([*texts, impossible]), encoding="utf-8")
    *phone, none = json.loads(run_node([SCRIPT, SITE, packages() / "highs", file], "HiGHS does not run."))
    assert none["values"] == []
    assert len(phone) == len(texts) > 10
    for programme, answer in zip(found, phone, strict=True):
        desk = solved(programme.text)
        taken = [number for number, value in enumerate(answer["values"]) if value > 0.5]
        assert programme.covers(taken)
        assert len(taken) == pytest.approx(sum(desk["values"]))
        assert whole_boards(answer["bound"]) == whole_boards(desk["bound"]) == len(taken)
