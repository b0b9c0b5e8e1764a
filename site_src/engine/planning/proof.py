"""The proof, made on every run, that the pieces are the floor: they fill it, and no two overlap.

No two boards of the pattern overlap (shown on one cell and its neighbours, since
all others are the same moved; where rows are moved one by one, on a cell of each
row); each piece lies inside its own board, whose pieces
are no more than the board; and the areas add up to the lay area. Together these
leave no room for a wrong overlay. A floor that was taken as it lies has open
joints: there the areas of the boards' cells add up, and what each joint takes
is held against how far its boards lie apart.
"""

from collections.abc import Iterable, Sequence
from itertools import combinations, product

from engine.errors import Finding, Refused
from engine.geometry.shapes import Polygon, Region, Ring, region_area
from engine.model.job import Floor
from engine.patterns.lattice import boards_over, cell_boards
from engine.patterns.pattern import LaidBoard, Pattern

# Allowed difference between pieces and lay area, mm² per m².
AREA_PER_M2 = 1.0
# How far a piece's corner may stand outside its board through rounding, mm.
OUTSIDE = 0.001
# How much the pieces of one board may exceed it through rounding, mm².
OVER = 0.1


def prove(parts: Sequence[tuple[LaidBoard, Region]], lay_area: Region) -> None:
    """Raise Refused unless each board's part of the lay area lies inside the board and all add up to it."""
    prove_inside(parts)
    _prove_sum([region for _, region in parts], lay_area)


def prove_inside(parts: Sequence[tuple[LaidBoard, Region]]) -> None:
    """Raise Refused unless each board's part of the lay area lies inside the board and is no more than it."""
    stray = [board for board, region in parts if not all(_is_inside(board, polygon) for polygon in region)]
    if stray:
        raise Refused(_fault(f"pieces of {len(stray)} boards lie outside them"))
    if any(region_area(region) > board.length * board.width + OVER for board, region in parts):
        raise Refused(_fault("the pieces of one board are more than the board"))


def prove_laid(
    cells: Sequence[tuple[float, Region]], parts: Sequence[tuple[LaidBoard, Region]], lay_area: Region
) -> float:
    """The same for boards that lie with open joints, cell by cell; gives what the joints take, in mm².

    The cells are the boards of the plan drawn out as the whole pattern is, so that they fill the floor as the
    boards of the plan do. Each comes with how far its outline and its board's lie apart at most, in mm: that
    bounds how much the two can differ.
    """
    prove_inside(parts)
    _prove_sum([region for _, region in cells], lay_area)
    joints = 0.0
    for (apart, of_cell), (board, of_board) in zip(cells, parts, strict=True):
        open_here = region_area(of_cell) - region_area(of_board)
        if abs(open_here) > 2 * (board.length + board.size.end + apart) * apart + OVER:
            raise Refused(_fault("a joint takes more than lies between its boards"))
        joints += open_here
    return joints


def _prove_sum(regions: Iterable[Region], lay_area: Region) -> None:
    """Raise Refused unless the regions add up to the lay area."""
    wanted = region_area(lay_area)
    found = sum(region_area(region) for region in regions)
    if abs(found - wanted) > AREA_PER_M2 * wanted / 1e6:
        raise Refused(_fault(f"the pieces cover {found:.1f} mm² and the floor {wanted:.1f} mm²"))


def prove_lattice(pattern: Pattern, floor: Floor, rows: Iterable[int]) -> None:
    """Raise Refused if neighbouring boards of the pattern overlap or its cell is not filled by its boards.

    ``rows`` are those that the floor has: looked at one by one where the pattern moves them so.
    """
    stated = pattern.cell(floor)
    for row in rows if stated.shift else (0,):
        _prove_row(pattern, floor, row)
    (ax, ay), (bx, by) = stated.next_place, stated.next_row
    boards = len(stated.boards) * floor.board.length * floor.board.width
    if abs(boards - abs(ax * by - ay * bx)) > AREA_PER_M2 * boards / 1e6:
        raise Refused(_fault("the boards of the pattern leave holes"))


def _prove_row(pattern: Pattern, floor: Floor, row: int) -> None:
    """Hold the boards of one cell of a row against each other and against all that come near."""
    cell = cell_boards(pattern, floor, row)
    rings = [board.ring for board in cell]
    near = boards_over(pattern, floor, [corner for ring in rings for corner in ring])
    others = [board.ring for board in near if board not in cell]
    if any(_overlap(*pair) for pair in (*product(rings, others), *combinations(rings, 2))):
        raise Refused(_fault("two boards of the pattern overlap"))


def _is_inside(board: LaidBoard, polygon: Polygon) -> bool:
    return all(board.size.holds(board.frame.to_board(point), OUTSIDE) for point in polygon[0])


def _overlap(first: Ring, second: Ring) -> bool:
    """Do two convex boards share an inside? They do not if an edge of either parts them."""
    return not (_parts(first, second) or _parts(second, first))


def _parts(ring: Ring, other: Ring) -> bool:
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        if all(((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length <= OUTSIDE for x, y in other):
            return True
    return False


def _fault(words: str) -> Finding:
    return Finding(
        path="floor",
        code="pieces-do-not-add-up",
        sentence=f"No cut list is given, because its own check failed: {words}. "
        "Export the job file and report it; move the anchor by a millimetre to go on meanwhile.",
    )
