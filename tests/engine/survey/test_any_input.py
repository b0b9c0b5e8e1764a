"""Whatever is typed in, the survey answers with an outline or in sentences, never with its own fault."""

from math import isfinite, nan

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.errors import Finding, Refused
from engine.geometry.shapes import signed_area
from engine.model.job import CurveKind, FixedThing, Room, Tie, Wall
from engine.survey.checks import check_room
from engine.survey.outline import Outline, room_outline
from engine.survey.plan_section import survey_section
from engine.survey.report import survey_report

names = st.sampled_from("ABCDEX")
numbers = st.one_of(
    st.sampled_from([0.0, -1.0, 1e9, nan, float("inf"), 0.3]),
    st.floats(-6000, 6000),
    st.integers(0, 8).map(lambda k: k * 500.0),
)
pairs = st.tuples(numbers, numbers)
readings = st.lists(pairs, max_size=5).map(tuple)
maybe = st.one_of(st.none(), numbers)

walls = st.builds(
    Wall,
    from_=names,
    to=names,
    gap=st.one_of(st.just(10.0), numbers),
    tolerance=maybe,
    curve=st.sampled_from(["smooth", "straight", "arc"]),
    offsets=readings,
    checks=readings,
    breaks=st.lists(numbers, max_size=2).map(tuple),
    offset_sd=maybe,
    length=maybe,
    sd=maybe,
)
ties = st.builds(Tie, from_=names, to=names, length=numbers, sd=maybe)
things = st.builds(
    FixedThing,
    name=st.text(max_size=3),
    outline=st.one_of(st.none(), st.lists(pairs, max_size=5).map(tuple)),
    centre=st.one_of(st.none(), pairs),
    diameter=maybe,
)
rooms = st.builds(
    Room,
    corners=st.one_of(st.none(), st.dictionaries(names, pairs, max_size=5)),
    walls=st.lists(walls, max_size=5).map(tuple),
    ties=st.lists(ties, max_size=4).map(tuple),
    fixed=st.lists(things, max_size=2).map(tuple),
)

ring = st.sampled_from(["ABC", "ABCD", "ABCDE"])


@st.composite
def lengths_only(draw: st.DrawFn) -> Room:
    """Walls that close, with lengths that may or may not belong together."""
    order = draw(ring)
    lengths = st.floats(100, 6000)
    walls = tuple(
        Wall(from_=a, to=b, length=draw(lengths)) for a, b in zip(order, order[1:] + order[0], strict=True)
    )
    ends = st.tuples(st.sampled_from(order), st.sampled_from(order)).filter(lambda pair: pair[0] != pair[1])
    ties = draw(
        st.lists(st.builds(lambda p, v: Tie(from_=p[0], to=p[1], length=v), ends, lengths), max_size=6)
    )
    return Room(walls=walls, ties=tuple(ties))


@st.composite
def nearly_sound(draw: st.DrawFn) -> Room:
    """A square room whose walls carry anything at all within reason."""
    corners = {"A": (0.0, 0.0), "B": (4000.0, 0.0), "C": (4000.0, 3000.0), "D": (0.0, 3000.0)}
    near = st.tuples(st.floats(1, 2999), st.floats(-400, 400))
    kinds: st.SearchStrategy[CurveKind] = st.sampled_from(("smooth", "straight", "arc"))
    walls = tuple(
        Wall(from_=a, to=b, curve=draw(kinds), offsets=tuple(draw(st.lists(near, max_size=6))))
        for a, b in (("A", "B"), ("B", "C"), ("C", "D"), ("D", "A"))
    )
    return Room(corners=corners, walls=walls)


def _answer(room: Room) -> Outline | tuple[Finding, ...]:
    try:
        return room_outline(room)
    except Refused as refused:
        return refused.findings


@settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.too_slow])
@given(st.one_of(rooms, lengths_only(), nearly_sound()))
def test_any_room_is_drawn_or_refused_in_words(room: Room) -> None:
    """An outline is finite, counter-clockwise and rated; a refusal has sentences; nothing else happens."""
    check_room(room)
    answer = _answer(room)
    if not isinstance(answer, Outline):
        assert answer
        assert all(finding.sentence.endswith((".", "?")) for finding in answer)
        return
    outline = answer
    assert all(isfinite(x) and isfinite(y) for x, y in outline.ring)
    assert signed_area(outline.ring) > 0
    report = survey_report(room, outline)
    assert survey_section(outline, report)["corners"] == {c.name: [*c.at] for c in outline.corners}
    for wall in report.walls:
        assert all(isfinite(half) and half >= 0 for _, _, half in wall.band.drawn())
