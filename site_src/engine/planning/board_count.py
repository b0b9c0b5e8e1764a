"""Boards without number would keep a phone busy for ever: counted before they are laid."""

from collections.abc import Iterator, Sequence

from engine.errors import Finding
from engine.geometry.shapes import Point
from engine.model.job import Floor
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_count

# A floor of more boards than this is a slip in the board's measures.
MOST_BOARDS = 20_000


def too_many_boards(floor: Floor, points: Sequence[Point]) -> Iterator[Finding]:
    """A finding when the pattern takes an absurd number of boards to reach over some points in the room."""
    if boards_count(find_pattern(floor.pattern), floor, points) > MOST_BOARDS:
        yield Finding(
            path="floor.board",
            code="too many boards",
            sentence=f"This room would take more than {MOST_BOARDS} boards. "
            "Check the board's measures and the corners, all in millimetres.",
        )
