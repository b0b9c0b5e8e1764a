"""The proof that pieces are the floor: each way in which they might not be is refused."""

import pytest
from msgspec.structs import replace

from engine.errors import Refused
from engine.geometry import kernel as port
from engine.geometry.kernel import kernel
from engine.geometry.native import Native
from engine.geometry.shapes import Point, Region, region_area
from engine.model.job import Board, Floor
from engine.patterns import find_pattern, pattern_names
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import Cell, CellBoard, LaidBoard, Pattern
from engine.planning.proof import prove, prove_lattice
from tests.engine.patterns.floors import floor_of
from tests.engine.small_jobs import ask, small_job

FLOOR = Floor(board=Board(length=600, width=90), axis=90, anchor=(310, 205))
ROOM: Region = ((((0.0, 0.0), (1500.0, 4.0), (1490.0, 1100.0), (-5.0, 1096.0)),),)
HERRINGBONE = find_pattern("herringbone")


def parts() -> list[tuple[LaidBoard, Region]]:
    boards = list(boards_over(HERRINGBONE, FLOOR, ROOM[0][0]))
    clipped = kernel().clip(ROOM, [board.ring for board in boards])
    return [(board, region) for board, region in zip(boards, clipped, strict=True) if region]


def refusal(pieces: list[tuple[LaidBoard, Region]]) -> str:
    with pytest.raises(Refused) as caught:
        prove(pieces, ROOM)
    (finding,) = caught.value.findings
    assert finding.code == "pieces-do-not-add-up"
    assert finding.sentence.endswith(".")
    return finding.sentence


def middle(pieces: list[tuple[LaidBoard, Region]]) -> int:
    """The place of a whole board."""
    return next(i for i, (_, region) in enumerate(pieces) if abs(region_area(region) - 54000) < 1)


def test_the_true_pieces_pass() -> None:
    prove(parts(), ROOM)


def test_a_missing_piece_is_seen() -> None:
    pieces = parts()
    assert "cover" in refusal(pieces[:-1])
    del pieces[middle(pieces)]
    assert "cover" in refusal(pieces)


def test_a_missing_crumb_of_two_square_millimetres_is_seen() -> None:
    """Allowed is 1 mm² per m²; the room has 1.6 m²."""
    pieces = parts()
    board, _ = pieces[middle(pieces)]
    (x, y), (far_x, far_y), *rest = board.ring
    short = (2 / 90) / 600
    cut = (far_x + (x - far_x) * short, far_y + (y - far_y) * short)
    third = (rest[0][0] + (x - far_x) * short, rest[0][1] + (y - far_y) * short)
    pieces[middle(pieces)] = (board, ((((x, y), cut, third, rest[1]),),))
    assert "cover" in refusal(pieces)


def test_a_piece_given_twice_is_seen_even_when_another_of_its_size_is_missing() -> None:
    """The areas alone would add up."""
    pieces = parts()
    doubled = pieces[middle(pieces)]
    assert "cover" in refusal([*pieces, doubled])
    pieces[middle(pieces)] = (doubled[0], doubled[1] * 2)
    place = middle(pieces)
    del pieces[place]
    assert "more than the board" in refusal(pieces)


def test_a_piece_outside_its_board_is_seen() -> None:
    """Two whole boards exchanged: the areas add up, the places do not."""
    pieces = parts()
    first = middle(pieces)
    second = next(i for i in range(first + 1, len(pieces)) if abs(region_area(pieces[i][1]) - 54000) < 1)
    pieces[first], pieces[second] = (
        (pieces[first][0], pieces[second][1]),
        (pieces[second][0], pieces[first][1]),
    )
    assert "outside" in refusal(pieces)


class TouchingComesWhole(Native):
    """A stand-in with the known fault of overlays (libgeos/geos#1344): a touching board comes back whole."""

    def clip(self, region: Region, boards: object) -> list[Region]:
        """Give the true parts, but one empty one as the whole board."""
        rings = list(boards)  # type: ignore[call-overload]
        found = super().clip(region, rings)
        found[found.index(())] = ((rings[found.index(())],),)
        return found


def test_a_library_that_gives_a_whole_board_for_a_touching_one_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """No cut list leaves the engine then, but a finding."""
    monkeypatch.setattr(port, "_in_use", TouchingComesWhole())
    reply = ask("plan", job=small_job(floor__anchor=[905.5, 633.25]))
    assert reply["reply"] == "refused"
    assert [finding["code"] for finding in reply["findings"]] == ["pieces-do-not-add-up"]
    monkeypatch.undo()
    assert ask("plan", job=small_job(floor__anchor=[905.5, 633.25]))["reply"] == "plan"


@pytest.mark.parametrize("name", pattern_names())
@pytest.mark.parametrize("width", [37.7, 90.0, 300.0, 600.0])
def test_the_lattice_of_every_pattern_passes(name: str, width: float) -> None:
    pattern = find_pattern(name)
    prove_lattice(pattern, floor_of(pattern, 600.0, width, 12.5, (-40, 71)), range(-5, 6))


def straight(next_place: Point, next_row: Point, *boards: CellBoard) -> Pattern:
    cell = Cell(boards=boards, next_place=next_place, next_row=next_row)
    return trial(cell)


def trial(cell: Cell) -> Pattern:
    return Pattern(name="try", turn=0.0, cell=lambda floor: cell, joints=(), order=lambda board, floor: ())


RIGHT = CellBoard(hand="R", x=0.0, y=0.0, heading=0.0)


@pytest.mark.parametrize(
    ("pattern", "words"),
    [
        (straight((600.0, 0.0), (200.0, 91.0), RIGHT), "leave holes"),
        (straight((600.0, 0.0), (200.0, 89.0), RIGHT), "overlap"),
        (straight((599.0, 0.0), (200.0, 90.0), RIGHT), "overlap"),
        (straight((1200.0, 0.0), (200.0, 90.0), RIGHT, replace(RIGHT, x=500.0)), "overlap"),
        (straight((600.0, 0.0), (0.0, 180.0), RIGHT, replace(RIGHT, hand="L", heading=90.0)), "overlap"),
        # Boards that lie on those of a row far along a slanted lattice, not on their neighbours.
        (straight((600.0, 0.0), (3000.0, 45.0), RIGHT), "overlap"),
    ],
)
def test_a_lattice_that_overlaps_or_leaves_holes_is_refused(pattern: Pattern, words: str) -> None:
    with pytest.raises(Refused, match=words):
        prove_lattice(pattern, FLOOR, [0])


def test_a_sound_straight_lattice_passes() -> None:
    """So that the refusals above are not those of anything straight."""
    prove_lattice(straight((600.0, 0.0), (200.0, 90.0), RIGHT), FLOOR, [0])


def test_rows_that_are_moved_one_by_one_are_looked_at_one_by_one() -> None:
    """Blocks of two boards in rows; only the third row is moved so that it leaves its own strip's bounds."""

    def uneven(row: int) -> float:
        return 0.25 if row == 3 else 0.0

    # The next place is not along the row's own edge: moving one row along it drives it into the next.
    cell = Cell(boards=(RIGHT,), next_place=(600.0, 45.0), next_row=(0.0, 90.0), shift=uneven)
    prove_lattice(trial(cell), FLOOR, [0, 1])
    for row in (2, 3, 4):
        with pytest.raises(Refused, match="overlap"):
            prove_lattice(trial(cell), FLOOR, [row])
