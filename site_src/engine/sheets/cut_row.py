"""One piece to cut, as printed sheets show it: its words, and its picture inside its board."""

from msgspec import Struct

from engine.geometry.shapes import Point, Polygon, Ring
from engine.sheets.pdf_page import THIN, Page

# The grey of what falls: seen on a copy, and names can be read on it.
WASTE = 0.82


class SawTurn(Struct, frozen=True, kw_only=True):
    """One setting of the saw for a piece: its place in that order, what the saw and the stop are set to."""

    number: int
    setting: str
    stop: str


class CutRow(Struct, frozen=True, kw_only=True):
    """Texts with the reader's decimal mark, shapes in the board's frame, mm.

    ``group`` heads the rows that stand together; ``longer`` says which long edge
    a single angle leaves longer; ``measured_from`` names an end of the board;
    ``notes`` are sentences to be read before it is cut; ``stop`` is how far off
    the stop stands, ``turns`` are what the saw is set to for it. ``is_on_back``:
    left and right are as seen from the board's back.
    """

    group: str
    id: str
    board: str
    from_board: str
    kind: str
    left: str
    right: str
    angle: str
    longer: str
    measured_from: str
    whole: Ring
    keep: Polygon
    notes: tuple[str, ...]
    stop: str
    turns: tuple[SawTurn, ...]
    is_on_back: bool
    is_cut: bool
    is_fitted: bool


def draw_picture(page: Page, row: CutRow, at: Point, width: float, height: float) -> None:
    """The board as it lies on the saw, start end at the left, what falls grey.

    ``at`` is the lower left corner of the space in which it has to fit.
    """
    xs, ys = zip(*row.whole, strict=True)
    scale = min(width / (max(xs) - min(xs)), height / (max(ys) - min(ys)))

    def placed(ring: Ring) -> Ring:
        return tuple((at[0] + (x - min(xs)) * scale, at[1] + (y - min(ys)) * scale) for x, y in ring)

    page.shape((placed(row.whole),), THIN, fill=WASTE)
    page.shape(tuple(map(placed, row.keep)), 0.25, fill=1.0)
