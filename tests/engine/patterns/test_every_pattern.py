"""What every pattern must pass, found by itself: a new file in ``patterns`` is covered at once.

Reference for overlap, filling and contact: shapely (GEOS).
"""

import re
from math import cos, radians, sin
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from engine import patterns
from engine.geometry.shapes import Point
from engine.model.job import Floor
from engine.patterns import SHARED, find_pattern, pattern_names
from engine.patterns.lattice import boards_count, boards_over, cell_boards, laying_order
from engine.patterns.pattern import Edge, Joint, LaidBoard, Pattern
from engine.patterns.row_lines import row_lines
from tests.engine.patterns.floors import PATTERNS, floor_of, floors, is_sound, shape, turned_box
from tests.engine.small_jobs import ask, small_job

every_pattern = pytest.mark.parametrize("pattern", PATTERNS, ids=lambda pattern: pattern.name)
# Awkward boards: nothing divides anything, whole ratios, not twice as long as wide, very slim.
every_size = pytest.mark.parametrize("size", [(613.7, 87.3), (450.0, 75.0), (500.0, 271.0), (1200.0, 61.3)])


@every_pattern
@settings(max_examples=40, deadline=None)
@given(
    data=st.data(),
    turn=st.sampled_from([0.0, 17.0]),
    way=st.tuples(st.floats(-4000, 4000), st.floats(-4000, 4000)),
)
def test_boards_fill_the_plane_and_none_lies_on_another(
    pattern: Pattern, data: st.DataObject, turn: float, way: Point
) -> None:
    """Anywhere near the anchor: the union covers a square, and is as large as the boards' sum."""
    floor = data.draw(floors(pattern))
    length, width = floor.board.length, floor.board.width
    corners = turned_box(
        floor.axis + turn, (floor.anchor[0] + way[0], floor.anchor[1] + way[1]), 0.7 * length
    )
    boards = list(boards_over(pattern, floor, corners))
    united = shapely.union_all([shape(board) for board in boards], grid_size=1e-6)
    assert united.area == pytest.approx(len(boards) * length * width, rel=1e-6)
    # Hairlines of the grid between neighbours; a board left out would be thousands.
    assert shapely.Polygon(corners).difference(united).area < 1.0


@every_pattern
@every_size
def test_awkward_boards_fill_a_patch_and_do_not_overlap(pattern: Pattern, size: tuple[float, float]) -> None:
    """Pair by pair, and as a whole."""
    floor = floor_of(pattern, *size, axis=33.0, anchor=(120.0, -40.0))
    boards = [shape(board) for board in boards_over(pattern, floor, turned_box(20, (0, 0), size[0]))]
    for first, second in zip(*shapely.STRtree(boards).query(boards, predicate="intersects"), strict=True):
        assert first == second or boards[first].intersection(boards[second], grid_size=1e-6).area < 1e-3
    united = shapely.union_all(boards, grid_size=1e-6)
    assert united.area == pytest.approx(sum(board.area for board in boards), rel=1e-7)
    assert shapely.Polygon(turned_box(20, (0, 0), size[0])).difference(united).area < 1.0


@every_pattern
def test_the_count_is_that_of_the_boards(pattern: Pattern) -> None:
    """Boards are counted without making them."""
    floor = floor_of(pattern, 600.0, 90.0, 33.0, (120.0, -40.0))
    points = [(0.0, 0.0), (2400.0, 1700.0)]
    assert boards_count(pattern, floor, points) == len(list(boards_over(pattern, floor, points)))


@every_pattern
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_a_board_is_laid_once_and_named_once(pattern: Pattern, data: st.DataObject) -> None:
    """Row, place and hand name one board; a larger window gives the same names to the same boards."""
    floor = data.draw(floors(pattern))
    small, large = (turned_box(10, floor.anchor, size * floor.board.length) for size in (0.8, 1.5))
    named = {(board.row, board.place, board.hand): board for board in boards_over(pattern, floor, small)}
    boards = list(boards_over(pattern, floor, large))
    again = {(board.row, board.place, board.hand): board for board in boards}
    assert len(again) == len(boards)
    assert named.items() <= again.items()


@every_pattern
def test_a_board_begins_at_its_right_hand_corner(pattern: Pattern) -> None:
    """Its ring runs counter-clockwise from where it is placed, along its heading for its length."""
    floor = floor_of(pattern, 500.0, 83.3, 20.0, (7.0, 9.0))
    for board in boards_over(pattern, floor, turned_box(0, (0, 0), 700)):
        assert shape(board).exterior.is_ccw
        assert board.ring[0] == pytest.approx((board.frame.x, board.frame.y))
        assert board.ring[1] == pytest.approx(board.frame.to_room((500.0, 0.0)))
        assert shape(board).area == pytest.approx(board.length * board.width)


@every_pattern
def test_what_is_said_to_lie_on_the_axis_of_a_row_lies_there(pattern: Pattern) -> None:
    """No board lies across a joint between rows; the middle of a row is where its boards reach as far."""
    floor = floor_of(pattern, 450.0, 75.0)
    cell, rows = pattern.cell(floor), row_lines(pattern, floor)
    corners = [
        board.frame.to_room(at) for board in cell_boards(pattern, floor, 0, 0) for at in board.size.ring
    ]
    turn = radians(rows.direction)
    beside = [(y - floor.anchor[1]) * cos(turn) - (x - floor.anchor[0]) * sin(turn) for x, y in corners]
    said = pattern.on_axis(floor)
    if "joint between" in said:
        assert min(beside) == pytest.approx(0, abs=1e-9) or max(beside) == pytest.approx(0, abs=1e-9)
    else:
        told = re.search(r"([\d.]+) mm to the left", said)
        assert (max(beside) + min(beside)) / 2 == pytest.approx(float(told[1]) if told else 0.0, abs=0.05)
        assert len({board.hand for board in cell.boards}) == 2


def patch(pattern: Pattern, size: tuple[float, float]) -> tuple[Floor, tuple[LaidBoard, ...]]:
    """Boards about the anchor in the order of laying."""
    floor = floor_of(pattern, *size, axis=12.0, anchor=(31.0, 17.0))
    boards = boards_over(pattern, floor, turned_box(12, (31, 17), 1.1 * size[0]))
    return floor, laying_order(pattern, floor, boards)


def sides(board: LaidBoard) -> dict[Edge, shapely.LineString]:
    a, b, c, d = board.ring
    lines = {"right": (a, b), "far": (b, c), "left": (c, d), "start": (d, a)}
    return {(board.hand, side): shapely.LineString(line) for side, line in lines.items()}  # type: ignore[misc]


def contacts(boards: tuple[LaidBoard, ...]) -> list[tuple[int, int, Joint]]:
    """Wherever two boards share more than a millimetre of an edge: the earlier, the later, and how."""
    shapes = [shape(board) for board in boards]
    found = []
    for first, second in zip(*shapely.STRtree(shapes).query(shapes, "dwithin", 0.01), strict=True):
        for laid, line in sides(boards[first]).items() if first < second else ():
            strip = line.buffer(0.001, cap_style="flat")
            for joins, other in sides(boards[second]).items():
                if strip.intersection(other).length > 1.0:
                    found.append((int(first), int(second), Joint(laid=laid, joins=joins)))
    return found


@every_pattern
@every_size
def test_the_joints_named_are_those_that_occur(pattern: Pattern, size: tuple[float, float]) -> None:
    """Which edges meet, and which of the two is laid first, as shapely finds them in a patch."""
    _, boards = patch(pattern, size)
    assert {joint for *_, joint in contacts(boards)} == set(pattern.joints)


@every_pattern
@every_size
def test_each_board_can_be_locked_into_those_laid_before(pattern: Pattern, size: tuple[float, float]) -> None:
    """By one long edge and one end at most: none has to go in between two boards."""
    floor, boards = patch(pattern, size)
    assert len({pattern.order(board, floor) for board in boards}) == len(boards)
    locked: dict[int, set[str]] = {}
    for _, later, joint in contacts(boards):
        locked.setdefault(later, set()).add(joint.joins[1])
    for used in locked.values():
        assert not used >= {"left", "right"}
        assert not used >= {"start", "far"}
    assert max(map(len, locked.values())) == 2


@every_pattern
def test_a_pattern_bears_the_name_it_is_found_by(pattern: Pattern) -> None:
    assert find_pattern(pattern.name) is pattern
    assert is_sound(pattern, floor_of(pattern, 600.0, 90.0))


def test_an_unknown_pattern_is_named_with_those_there_are() -> None:
    for name in ("plaid", *SHARED, "double_herringbone"):
        with pytest.raises(KeyError, match="herringbone"):
            find_pattern(name)
    assert len(pattern_names()) == len(set(pattern_names()))


NEW_PATTERN = """
from engine.patterns.pattern import Cell, CellBoard, Joint, Pattern

PATTERN = Pattern(
    name="stack of boards",
    turn=0.0,
    cell=lambda floor: Cell(
        boards=(CellBoard(hand="R", x=0.0, y=0.0, heading=0.0),),
        next_place=(floor.board.length, 0.0),
        next_row=(0.0, -floor.board.width),
    ),
    joints=(Joint(laid=("R", "far"), joins=("R", "start")), Joint(laid=("R", "right"), joins=("R", "left"))),
    order=lambda board, floor: (board.row, board.place),
)
"""


def test_a_new_file_is_a_pattern_without_an_edit_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is found, named to the user, and planned."""
    (tmp_path / "stack_of_boards.py").write_text(NEW_PATTERN, encoding="utf-8")
    monkeypatch.setattr(patterns, "__path__", [*patterns.__path__, str(tmp_path)])
    assert "stack of boards" in pattern_names()
    assert find_pattern("stack of boards").name == "stack of boards"
    plan = ask("plan", job=small_job(floor__pattern="stack of boards"))["plan"]
    assert {piece["board"]["angle"] for piece in plan["pieces"]} == {90.0}
    assert "stack of boards" in ask("check", job=small_job(floor__pattern="plaid"))["findings"][0]["sentence"]
