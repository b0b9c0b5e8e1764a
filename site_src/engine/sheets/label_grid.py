"""How the labels lie on a sheet of labels, in millimetres; no maker's name, no sheet's number."""

from msgspec import Struct

from engine.errors import Finding
from engine.sheets.paper import PAPERS, Paper, PaperName

# Sums of measures in inches as millimetres may be so much over.
ROUNDING = 0.1


class LabelGrid(Struct, frozen=True, kw_only=True):
    """``left`` and ``top`` lie before the first label, ``across`` and ``down`` are the steps between labels.

    Not checked here: as the user typed it, see ``grid_fault``.
    """

    columns: float
    rows: float
    left: float
    top: float
    width: float
    height: float
    across: float
    down: float


def _grid(columns: int, rows: int, left: float, top: float, *sizes: float) -> LabelGrid:
    width, height, across, down = sizes
    return LabelGrid(
        columns=columns, rows=rows, left=left, top=top, width=width, height=height, across=across, down=down
    )


# Measures that are usual on label sheets, from memory: common practice, no source. Sheets of one
# look differ by half a millimetre, so the user can enter those of the sheet to hand.
GRIDS: dict[PaperName, dict[str, LabelGrid]] = {
    "A4": {
        "3 × 8 labels, 70 × 37 mm": _grid(3, 8, 0.0, 0.5, 70.0, 37.0, 70.0, 37.0),
        "3 × 7 labels, 63.5 × 38.1 mm": _grid(3, 7, 7.2, 15.1, 63.5, 38.1, 66.0, 38.1),
        "2 × 7 labels, 99.1 × 38.1 mm": _grid(2, 7, 4.7, 15.1, 99.1, 38.1, 101.6, 38.1),
        "4 × 10 labels, 52.5 × 29.7 mm": _grid(4, 10, 0.0, 0.0, 52.5, 29.7, 52.5, 29.7),
    },
    "Letter": {
        "3 × 10 labels, 66.7 × 25.4 mm": _grid(3, 10, 4.8, 12.7, 66.7, 25.4, 69.85, 25.4),
        "2 × 10 labels, 101.6 × 25.4 mm": _grid(2, 10, 4.0, 12.7, 101.6, 25.4, 106.4, 25.4),
        "2 × 5 labels, 101.6 × 50.8 mm": _grid(2, 5, 4.0, 12.7, 101.6, 50.8, 106.4, 50.8),
    },
}
# A label smaller than this does not hold a name and its lengths.
LEAST_WIDTH, LEAST_HEIGHT = 45.0, 24.0
MOST = 100


def named_grid(name: str, paper: PaperName) -> LabelGrid:
    """The grid of that name for this paper, or the first one for it."""
    grids = GRIDS[paper]
    return grids.get(name) or next(iter(grids.values()))


def grid_fault(grid: LabelGrid, paper: PaperName, first: float = 1) -> Finding | None:
    """What is wrong with a grid of the user's own, or with the number of the ``first`` free label on it."""
    words = _fault(grid, PAPERS[paper]) or _fault_of_first(grid, first)
    if words is None:
        return None
    return Finding(path="labels", code="label sheet", level="warning", sentence=f"Labels: {words}")


def _fault_of_first(grid: LabelGrid, first: float) -> str | None:
    count = int(grid.columns * grid.rows)
    if first in range(1, count + 1):
        return None
    return (
        f"the first free one is a whole number from 1 to {count} on this sheet. "
        "Count row by row from the top left; 1 is a fresh sheet."
    )


def _fault(grid: LabelGrid, paper: Paper) -> str | None:
    if not all(count in range(1, MOST + 1) for count in (grid.columns, grid.rows)):
        return f"the labels across and down the sheet are whole numbers from 1 to {MOST}."
    if grid.width < LEAST_WIDTH or grid.height < LEAST_HEIGHT:
        return f"a label must be at least {LEAST_WIDTH:.0f} × {LEAST_HEIGHT:.0f} mm to hold its words."
    if (grid.columns > 1 and grid.across < grid.width) or (grid.rows > 1 and grid.down < grid.height):
        return "they overlap. The step from label to label is at least the label's own size."
    right = grid.left + (grid.columns - 1) * grid.across + grid.width
    low = grid.top + (grid.rows - 1) * grid.down + grid.height
    if min(grid.left, grid.top) < 0 or right > paper.width + ROUNDING or low > paper.height + ROUNDING:
        return "they do not fit on the paper. Measure the sheet again, or choose the other paper in Settings."
    return None
