"""Every piece to cut as a drawing at full size, inside its whole board."""

from collections.abc import Sequence

from engine.drawing.paths import polygon_path, ring_path, short_number, spot, view_box
from engine.geometry.shapes import Point
from engine.planning.pieces import Piece
from engine.sheets.pieces_layout import laid_out, moved, moved_polygon, name_spot
from engine.sheets.plan_svg import escape

MARGIN = 40.0

_STYLE = """
text { font: 26px sans-serif; text-anchor: middle; dominant-baseline: central; fill: #000 }
.board { fill: #ddd; stroke: #555; stroke-width: 1 }
.piece { fill: #fff; stroke: #000; stroke-width: 2 }
"""


def pieces_svg(name: str, pieces: Sequence[Piece]) -> str:
    """The pieces in their boards' own frames; one unit is one millimetre, what falls is grey."""
    places = list(laid_out(pieces))
    corners: list[Point] = [corner for piece, by in places for corner in moved(piece.board.size.ring, by)]
    left, top, width, height = map(short_number, view_box(corners or [(0.0, 0.0)], MARGIN))
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="{left} {top} {width} {height}">',
        f"<title>{escape(name or 'Pieces')}</title><style>{_STYLE}</style>",
        *(_piece(piece, by) for piece, by in places),
        "</svg>\n",
    ]
    return "\n".join(lines)


def _piece(piece: Piece, by: Point) -> str:
    x, y = map(short_number, spot(name_spot(piece, by)))
    return (
        f'<path class="board" d="{ring_path(moved(piece.board.size.ring, by))}"/>'
        f'<path class="piece" fill-rule="evenodd" d="{polygon_path(moved_polygon(piece.sawn.outline, by))}"/>'
        f'<text x="{x}" y="{y}">{escape(piece.id)}</text>'
    )
