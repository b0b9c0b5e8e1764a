"""Faults of sense in a room are all found, each with a sentence that says what to mend."""

from typing import Any

import pytest

from engine.errors import Finding, Refused
from engine.model.job import FixedThing, Room, Tie, Wall
from engine.survey.checks import check_room
from engine.survey.outline import room_outline

SQUARE = {"A": (0.0, 0.0), "B": (4000.0, 0.0), "C": (4000.0, 3000.0), "D": (0.0, 3000.0)}


def _wall(from_: str, to: str, **more: Any) -> Wall:
    return Wall(from_=from_, to=to, **more)


def _room(*walls: Wall, **more: Any) -> Room:
    return Room(**{"corners": SQUARE, "walls": walls, **more})


def _refusal(room: Room) -> tuple[Finding, ...]:
    with pytest.raises(Refused) as refused:
        room_outline(room)
    return refused.value.findings


FAULTY: dict[str, tuple[Room, str, str]] = {
    "corner name": (_room(_wall("A", "Q")), "room.walls[0].to", "unknown corner"),
    "tie's corner name": (
        _room(ties=(Tie(from_="X", to="B", length=9),)),
        "room.ties[0].from",
        "unknown corner",
    ),
    "same end": (_room(_wall("A", "A")), "room.walls[0]", "ends at its start"),
    "twice": (_room(_wall("A", "B"), _wall("A", "B")), "room.walls[1]", "wall repeated"),
    "reversed": (_room(_wall("B", "A")), "room.walls[0]", "wall reversed"),
    "across": (_room(_wall("A", "C")), "room.walls[0]", "not a wall"),
    "negative length": (_room(_wall("A", "B", length=-1.0)), "room.walls[0].length", "impossible length"),
    "no spread": (_room(_wall("A", "B", length=4000.0, sd=0.0)), "room.walls[0].sd", "impossible sd"),
    "beyond": (
        _room(_wall("A", "B", offsets=((4000.0, 1.0),))),
        "room.walls[0].offsets[0]",
        "station outside",
    ),
    "before": (_room(_wall("A", "B", offsets=((0.0, 1.0),))), "room.walls[0].offsets[0]", "station outside"),
    "two at once": (
        _room(_wall("A", "B", offsets=((900.0, 1.0), (500.0, 2.0), (900.4, 3.0)))),
        "room.walls[0].offsets[2]",
        "station repeated",
    ),
    "metres away": (
        _room(_wall("A", "B", offsets=((900.0, -2500.0),))),
        "room.walls[0].offsets[0]",
        "offset absurd",
    ),
    "not finite": (
        _room(_wall("A", "B", offsets=((900.0, float("nan")),))),
        "room.walls[0].offsets[0]",
        "not a number",
    ),
    "negative gap": (_room(_wall("A", "B", gap=-1.0)), "room.walls[0].gap", "impossible gap"),
    "negative band": (
        _room(_wall("A", "B", tolerance=-1.0)),
        "room.walls[0].tolerance",
        "impossible tolerance",
    ),
    "band wider than gap": (
        _room(_wall("A", "B", gap=3.0, tolerance=4.0)),
        "room.walls[0].tolerance",
        "tolerance above gap",
    ),
    "fixed thing's band wider than its gap": (
        _room(fixed=(FixedThing(name="pipe", centre=(900, 900), diameter=22, gap=3, tolerance=4),)),
        "room.fixed[0].tolerance",
        "tolerance above gap",
    ),
    "clockwise": (_room(corners=dict(reversed(SQUARE.items()))), "room.corners", "corners clockwise"),
    "bow tie": (
        _room(corners={name: SQUARE[name] for name in "ABDC"}),
        "room.corners",
        "corners cross",
    ),
    "flat": (_room(corners={"A": (0, 0), "B": (50, 0), "C": (900, 0)}), "room.corners", "corners in line"),
    "two corners": (_room(corners={"A": (0, 0), "B": (50, 0)}), "room.corners", "too few corners"),
    "one place": (_room(corners={**SQUARE, "E": (0.0, 2.0)}), "room.corners.A", "wall without length"),
    "infinite corner": (
        _room(corners={**SQUARE, "D": (0.0, float("inf"))}),
        "room.corners.D",
        "not a number",
    ),
    "metres as kilometres": (_room(corners={**SQUARE, "D": (0.0, 3e6)}), "room.corners.D", "absurd length"),
    "break unread": (
        _room(_wall("A", "B", offsets=((900.0, 1.0),), breaks=(950.0,))),
        "room.walls[0].breaks[0]",
        "break without reading",
    ),
    "broken arc": (
        _room(_wall("A", "B", curve="arc", offsets=((900.0, 1.0),), breaks=(900.0,))),
        "room.walls[0].breaks",
        "arc with breaks",
    ),
    "no place": (_room(fixed=(FixedThing(name="post"),)), "room.fixed[0]", "outline or centre"),
    "two places": (
        _room(fixed=(FixedThing(name="post", outline=((1, 1), (2, 1), (2, 2)), centre=(9, 9)),)),
        "room.fixed[0]",
        "outline or centre",
    ),
    "no diameter": (
        _room(fixed=(FixedThing(name="pipe", centre=(9, 9)),)),
        "room.fixed[0].diameter",
        "impossible diameter",
    ),
    "two points": (
        _room(fixed=(FixedThing(name="post", outline=((1, 1), (2, 1))),)),
        "room.fixed[0].outline",
        "outline too short",
    ),
    "crossed outline": (
        _room(fixed=(FixedThing(name="post", outline=((1, 1), (900, 900), (900, 1), (1, 900))),)),
        "room.fixed[0].outline",
        "outline crosses itself",
    ),
}


@pytest.mark.parametrize("fault", FAULTY)
def test_fault_is_named_where_it_is(fault: str) -> None:
    """Each kind of fault refuses the room and names its path, its code and what to do."""
    room, path, code = FAULTY[fault]
    found = {finding.path: finding for finding in _refusal(room)}
    assert found[path].code == code
    assert found[path].sentence.endswith(".")


def test_all_faults_come_at_once() -> None:
    """Nobody has to mend one fault to learn of the next."""
    room = _room(
        _wall("A", "Q", gap=-4.0), _wall("B", "C", offsets=((9000.0, 1.0),)), fixed=(FixedThing(name=""),)
    )
    codes = {finding.code for finding in check_room(room)}
    assert codes == {"unknown corner", "impossible gap", "station outside", "outline or centre"}


def test_sound_room_has_no_findings() -> None:
    """A complete room without faults passes in silence."""
    names = "ABCDA"
    walls = tuple(_wall(names[i], names[i + 1], offsets=((1000.0, 5.0),)) for i in range(4))
    fixed = (FixedThing(name="pipe", centre=(200.0, 200.0), diameter=22.0),)
    assert room_outline(_room(*walls, fixed=fixed)).findings == ()


def test_walls_that_bow_through_each_other_are_refused() -> None:
    """Readings may be single-handedly fine and still belong to no room."""
    walls = (
        _wall("A", "B", offsets=((2000.0, 1900.0),)),
        _wall("C", "D", offsets=((2000.0, 1900.0),)),
    )
    (finding,) = _refusal(_room(*walls))
    assert finding.code == "walls cross"
    assert "A–B" in finding.sentence
    assert "C–D" in finding.sentence


def test_fixed_thing_outside_is_a_warning_only() -> None:
    """A pipe placed from the wrong corner is asked about, not refused."""
    fixed = (FixedThing(name="pipe", centre=(-300.0, 200.0), diameter=22.0),)
    found = [
        finding for finding in room_outline(_room(fixed=fixed)).findings if finding.code != "wall not listed"
    ]
    assert [(finding.code, finding.level) for finding in found] == [("outside the room", "warning")]
