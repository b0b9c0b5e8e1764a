"""A card says what to set the saw to: its texts against the piece they are read from."""

import re
from collections.abc import Iterator
from typing import Any

import pytest

from engine.geometry.plane import nearest_on_polyline
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.pieces import Piece
from engine.standards.formulas import FORMULAS
from engine.wire.figures import figure
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job


@pytest.fixture(scope="module")
def plan() -> FloorPlan:
    return plan_floor(open_job(small_job()).job)


@pytest.fixture(scope="module")
def reply() -> dict[str, Any]:
    return ask("plan", job=small_job())


def cards_of(reply: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {card["id"]: card for card in reply["cards"]}


def figures_of(card: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {shown["key"]: shown for shown in card["figures"]}


def number(text: str) -> float:
    return float(text.replace("−", "-").removesuffix(" mm").removesuffix("°"))


def texts_of(value: Any) -> Iterator[str]:
    """Every text of a reply that a person reads, or a drawing is made of."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from texts_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts_of(inner)


def all_figures(value: Any) -> Iterator[dict[str, Any]]:
    """Every figure anywhere in a part of a reply."""
    if isinstance(value, dict) and "formula" in value:
        yield value
    elif isinstance(value, dict | list):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from all_figures(inner)


def test_there_is_a_card_for_each_piece_to_cut_and_none_for_a_whole_board(
    plan: FloorPlan, reply: dict[str, Any]
) -> None:
    assert set(cards_of(reply)) == {piece.id for piece in plan.pieces if piece.sawn.kind != "whole"}
    assert len(cards_of(reply)) == len(reply["cards"])


def test_cards_follow_the_walls_and_the_places_along_them(plan: FloorPlan, reply: dict[str, Any]) -> None:
    """In the order of the walls, then of the fixed things; along one, as one walks it."""
    order = [barrier.name for barrier in plan.room.barriers]
    lines = {barrier.name: barrier.points for barrier in plan.room.barriers}
    pieces = {piece.id: piece for piece in plan.pieces}
    keys = [
        (
            order.index(card["wall"]),
            nearest_on_polyline(pieces[card["id"]].middle, lines[card["wall"]]).station,
        )
        for card in reply["cards"]
    ]
    assert keys == sorted(keys)
    assert {first for first, _ in keys} >= {0, 1, 2, 3}


def test_the_lengths_on_a_card_are_those_of_the_piece(plan: FloorPlan, reply: dict[str, Any]) -> None:
    """Left and right, to the tenth of a millimetre that is shown."""
    cards = cards_of(reply)
    for piece in plan.pieces:
        if piece.sawn.kind != "whole":
            shown = figures_of(cards[piece.id])
            assert number(shown["left"]["text"]) == pytest.approx(piece.sawn.left, abs=0.0501)
            assert number(shown["right"]["text"]) == pytest.approx(piece.sawn.right, abs=0.0501)
            assert shown["left"]["unit"] == "mm"


def test_every_figure_s_formula_is_in_the_reply_and_no_other(reply: dict[str, Any]) -> None:
    """Each formula has words, an expression and a source."""
    shown = list(
        all_figures([reply[part] for part in ("cards", "summary", "room", "setting_out", "glue_ups")])
    )
    assert len(shown) > 200
    assert {figure["formula"] for figure in shown} == set(reply["formulas"])
    for formula in reply["formulas"].values():
        assert all(formula[part] for part in ("words", "expression", "source"))
    asked = ask("room", job=small_job())
    assert {figure["formula"] for figure in all_figures(asked["room"])} == set(asked["formulas"])


def test_a_figure_without_a_written_formula_cannot_be_made() -> None:
    with pytest.raises(KeyError, match="guess"):
        figure("x", "X", "1", "mm", "guess")
    assert figure("x", "X", "1", "mm", next(iter(FORMULAS))).text == "1"


UNROUNDED = re.compile(r"\d[.,]\d{3,}|\de[-+]?\d|nan|inf\b|None|-\d")


def test_no_text_shows_a_number_that_was_not_rounded(reply: dict[str, Any]) -> None:
    """At most two decimals, no exponent, and a minus sign that can be seen; names of pieces have hyphens."""
    read = [
        *(
            text
            for card in reply["cards"]
            for text in texts_of([card["figures"], card["steps"], card["flags"]])
        ),
        *texts_of([reply["summary"], [card["marks"] for card in reply["cards"]], reply["room"]["figures"]]),
        *texts_of(list(all_figures(reply["room"]))),
        *(finding["sentence"] for finding in reply["findings"]),
    ]
    assert len(read) > 500
    for text in read:
        assert not UNROUNDED.search(re.sub(r"\d+-\d+[LR]", "", text)), text


def test_a_comma_is_honoured_in_every_text_when_asked(reply: dict[str, Any]) -> None:
    """Figures, steps, marks, labels and findings; the plan file and drawings keep the point."""
    job = small_job()
    job["room"]["walls"].pop()
    comma = ask("plan", job=job, decimal=",")
    point = ask("plan", job=job)
    for wall in (*comma["room"]["walls"], *point["room"]["walls"]):
        assert "." in wall.pop("heading")  # goes into the job, not before a reader
    for part in ("cards", "summary", "room", "findings"):
        for with_comma, with_point in zip(texts_of(comma[part]), texts_of(point[part]), strict=True):
            if not with_comma.startswith("M"):
                assert not re.search(r"\d\.\d", with_comma), with_comma
                assert with_comma == re.sub(r"(?<=\d)\.(?=\d)", ",", with_point)
    assert comma["plan"] == point["plan"]
    assert comma["floor"]["pieces"] == point["floor"]["pieces"]


def test_a_comma_is_honoured_in_a_refusal_and_a_check() -> None:
    """Also where nothing is computed."""
    job = small_job(floor__board={"length": 5.5, "width": 90})
    for what in ("check", "plan", "sheets"):
        sentences = " ".join(f["sentence"] for f in ask(what, job=job, decimal=",")["findings"])
        assert "is 5,5 mm" in sentences
        assert "is 5.5 mm" in " ".join(f["sentence"] for f in ask(what, job=job)["findings"])


def measured(piece: Piece, mark: dict[str, str], end: str) -> tuple[float, float]:
    along = number(mark["along"])
    return (piece.board.length - along if end == "far end" else along, number(mark["across"]))


def end_of(card: dict[str, Any]) -> str:
    return str(dict(figures_of(card)["left"]["inputs"])["measured from"])


BULGED: dict[str, Any] = {
    "room__walls__0__offsets": [[450, 20], [900, 34], [1350, 22]],
    "cutting__gap_tolerance": 0.4,
}


@pytest.mark.parametrize("changes", [{**BULGED, "floor__axis": axis} for axis in (40, 45, -63)])
def test_marks_of_a_scribed_curve_lie_on_it(changes: dict[str, Any]) -> None:
    """Each mark, read from the end and edge it names, is on the cut to 0.1 mm; none is doubled."""
    job = small_job(**changes)
    plan, cards = plan_floor(open_job(job).job), cards_of(ask("plan", job=job))
    scribed = [p for p in plan.pieces if any(cut.kind == "scribe" for cut in p.sawn.cuts)]
    assert scribed
    for piece in scribed:
        card = cards[piece.id]
        lines = [cut.points for cut in piece.sawn.cuts if cut.kind in ("scribe", "notch", "hole")]
        points = [measured(piece, mark, end_of(card)) for mark in card["marks"]]
        assert len(points) >= 3
        for point in points:
            assert min(nearest_on_polyline(point, line).distance for line in lines) < 0.08
        assert all(a != b for a, b in zip(points, points[1:], strict=False))


def test_marks_stand_at_whole_steps_from_the_end_that_is_measured_from() -> None:
    """Every 50 mm along a curve that runs along the board, whichever end that is; L is no multiple of 50."""
    job = small_job(**BULGED, floor__axis=45, floor__board={"length": 473, "width": 80})
    cards = ask("plan", job=job)["cards"]
    along = [
        [number(mark["along"]) for mark in card["marks"]]
        for card in cards
        if card["kind"] == "scribe" and len(card["marks"]) > 4
    ]
    assert along
    for places in along:
        inner = places[1:-1]
        assert sum(place % 50 == 0 for place in inner) >= len(inner) - 2


@pytest.mark.parametrize("centre", [(282, 168), (500, 300), (1502, 401), (1003, 1201)])
def test_a_pipe_is_drilled_where_it_stands(centre: tuple[float, float]) -> None:
    """The card's centre and diameter, brought back into the room, are the pipe's place and Ø 22 + 2 · 8."""
    job = small_job(room__fixed=[{"name": "pipe", "centre": list(centre), "diameter": 22, "gap": 8}])
    plan, cards = plan_floor(open_job(job).job), cards_of(ask("plan", job=job))
    drilled = re.compile(
        r"Drill Ø (\S+) mm for pipe: centre (\S+) mm from the (\w+ end), (\S+) mm from the right"
    )
    found = 0
    for piece in plan.pieces:
        for step in cards[piece.id]["steps"] if piece.id in cards else ():
            if match := drilled.match(step):
                mark = {"along": match[2], "across": match[4]}
                at = piece.board.frame.to_room(measured(piece, mark, match[3]))
                assert at == pytest.approx(centre, abs=0.08)
                assert number(match[1]) == 38
                found += 1
    assert found >= 1


def test_two_things_of_one_name_are_each_drilled_in_their_own_place() -> None:
    """Regression: the second of two pipes called alike lent its place to the first."""
    pipes = [
        {"name": "pipe", "centre": [282, 168], "diameter": 22, "gap": 8},
        {"name": "pipe", "centre": [1502, 1001], "diameter": 40, "gap": 5},
    ]
    reply = ask("plan", job=small_job(room__fixed=pipes))
    sizes = {step.split(" mm")[0] for card in reply["cards"] for step in card["steps"] if "Drill" in step}
    assert sizes == {"Drill Ø 38.0", "Drill Ø 50.0"}


def test_a_piece_that_keeps_no_end_tells_where_its_edges_begin() -> None:
    """Regression: its lengths were said to be measured from an end that is sawn off.

    From where the board or offcut begins that it is cut from.
    A corridor narrower than a board is long, right boards across it (their heading is axis − 45°).
    """
    corners = {"A": [0, 0], "B": [480, 0], "C": [470, 1500], "D": [12, 1500]}
    floor = {"board": {"length": 600, "width": 90}, "axis": 45, "anchor": [-60, 300]}
    job = small_job(room={"corners": corners, "walls": [{"from": "A", "to": "B"}]}, floor=floor)
    plan, reply = plan_floor(open_job(job).job), ask("plan", job=job)
    cards = cards_of(reply)
    inner = [p for p in plan.pieces if p.sawn.kept_end == "neither" and min(p.sawn.left, p.sawn.right) > 0]
    assert inner
    for piece in inner:
        shown = figures_of(cards[piece.id])
        for side, across in (("left", piece.board.width), ("right", 0.0)):
            source = plan.supply.sources[piece.id]
            own = min(x for x, y in piece.sawn.outline[0] if abs(y - across) < 0.01)
            begin = own + source.way - min(x for x, _ in source.blank)
            assert number(shown[f"{side} begin"]["text"]) == pytest.approx(begin, abs=0.051)
        assert "neither end stays" in cards[piece.id]["steps"][0]
    kept = next(p for p in plan.pieces if p.sawn.kept_end in ("start", "far"))
    assert "left begin" not in figures_of(cards[kept.id])


def test_a_board_that_keeps_both_ends_is_measured_from_the_one_that_is_whole(
    plan: FloorPlan, reply: dict[str, Any]
) -> None:
    """Regression: a corner taken off at the start was measured from there."""
    cards = cards_of(reply)
    corners = [p for p in plan.pieces if p.sawn.kept_end == "both" and p.sawn.kind == "corner"]
    ends = set()
    for piece in corners:
        width = dict.fromkeys((0.0, piece.board.length), 0.0)
        for x in width:
            across = [y for other, y in piece.sawn.outline[0] if abs(other - x) < 0.01]
            width[x] = max(across) - min(across)
        end = "far end" if width[piece.board.length] > width[0.0] else "start end"
        assert end_of(cards[piece.id]) == end
        ends.add(end)
    assert ends == {"start end", "far end"}


def test_saw_angles_are_told_without_a_sign_and_with_the_longer_edge(
    plan: FloorPlan, reply: dict[str, Any]
) -> None:
    """A single mitre's figure: the size of the angle, and which edge stays longer."""
    cards = cards_of(reply)
    seen = set()
    for piece in plan.pieces:
        if piece.sawn.kind == "mitre" and len(piece.sawn.cuts) == 1:
            angle = figures_of(cards[piece.id])["angle 1"]
            longer = "right" if piece.sawn.right > piece.sawn.left else "left"
            assert angle["label"] == f"Saw angle, {longer} longer"
            assert number(angle["text"]) == pytest.approx(abs(piece.sawn.saw_angle), abs=0.0501)
            assert any(f"the {longer} long edge staying longer" in step for step in cards[piece.id]["steps"])
            seen.add(longer)
    assert seen == {"left", "right"}


def test_marked_as_cut_and_fitted_comes_from_the_job(reply: dict[str, Any]) -> None:
    """By the piece's id; what is not marked is neither."""
    first, second = (card["id"] for card in reply["cards"][:2])
    job = small_job(progress={first: {"cut": True}, second: {"cut": True, "fitted": True}})
    cards = cards_of(ask("plan", job=job))
    assert (cards[first]["cut"], cards[first]["fitted"]) == (True, False)
    assert (cards[second]["cut"], cards[second]["fitted"]) == (True, True)
    assert sum(card["cut"] for card in cards.values()) == 2


def test_small_pieces_are_flagged_to_be_clamped() -> None:
    """Caution at the saw (TRADE.md: small offcuts are clamped, not held; common practice, no source).

    A sliver, and whatever is shorter than the hand clearance.
    """
    job = small_job(cutting__sliver=60)
    pieces = ask("plan", job=job)["plan"]["pieces"]
    slivers = {p["id"] for p in pieces if p["sliver"]}
    short = {p["id"] for p in pieces if p["hand_near"]}
    cards = cards_of(ask("plan", job=job))
    flagged = {name for name, card in cards.items() if any("clamp" in flag for flag in card["flags"])}
    left_out = {name for name, card in cards.items() if any("left out" in flag for flag in card["flags"])}
    assert slivers
    assert short
    assert flagged == (slivers - left_out) | short
