"""The proof, made on every run, that the pieces are the floor: they fill it, and no two overlap.

No two boards of the lattice overlap (shown on one cell and its neighbours, since
all others are the same moved); each piece lies inside its own board; and the areas
add up to the lay area. Together these leave no room for a wrong overlay.
"""

from collections.abc import Iterable

from engine.errors import Finding, Refused
from engine.geometry.shapes import Polygon, Region, Ring, polygon_area, region_area
from engine.model.job import Floor
from engine.patterns.lattice import LaidBoard, Pattern, boards_over, pattern_frame

# Allowed difference between pieces and lay area, mm² per m².
AREA_PER_M2 = 1.0
# How far a piece's corner may stand outside its board through rounding, mm.
OUTSIDE = 0.001


def prove(pieces: Iterable[tuple[LaidBoard, Polygon]], lay_area: Region) -> None:
    """Raise Refused unless every piece lies inside its board and all add up to the lay area."""
    pieces = tuple(pieces)
    stray = [board for board, polygon in pieces if not _is_inside(board, polygon)]
    if stray:
        raise Refused(_fault(f"{len(stray)} pieces lie outside their boards"))
    wanted = region_area(lay_area)
    found = sum(polygon_area(polygon) for _, polygon in pieces)
    if abs(found - wanted) > AREA_PER_M2 * wanted / 1e6:
        raise Refused(_fault(f"the pieces cover {found:.1f} mm² and the floor {wanted:.1f} mm²"))


def prove_lattice(pattern: Pattern, floor: Floor) -> None:
    """Raise Refused if neighbouring boards of the pattern overlap or its cell is not filled by its boards."""
    length, width = floor.board.length, floor.board.width
    cell = pattern.cell(length, width)
    frame = pattern_frame(pattern, floor.axis, floor.anchor)
    around = [frame.to_room(corner) for corner in ((-length, -length), (length, length))]
    boards = list(boards_over(pattern, length, width, floor.axis, floor.anchor, around))
    middle = [board for board in boards if board.row == 0 and board.place == 0]
    if any(_overlap(a.ring, b.ring) for a in middle for b in boards if a is not b):
        raise Refused(_fault("two boards of the pattern overlap"))
    (ax, ay), (bx, by) = cell.next_place, cell.next_row
    if abs(len(cell.boards) * length * width - abs(ax * by - ay * bx)) > 1e-6 * length * width:
        raise Refused(_fault("the boards of the pattern leave holes"))


def _is_inside(board: LaidBoard, polygon: Polygon) -> bool:
    for point in polygon[0]:
        x, y = board.frame.to_board(point)
        if not (-OUTSIDE <= x <= board.length + OUTSIDE and -OUTSIDE <= y <= board.width + OUTSIDE):
            return False
    return True


def _overlap(first: Ring, second: Ring) -> bool:
    """Do two rectangles share an inside? They do not if an edge of either parts them."""
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
