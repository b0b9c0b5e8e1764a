"""The plan as a drawing to scale: one unit is one millimetre, and the sheet says its own size."""

from collections.abc import Iterator

from engine.drawing.paths import line_path, polygon_path, region_path, ring_path, short_number, spot, view_box
from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece

MARGIN = 250.0

# Left and right boards are told apart by the lean of their hatch, cut pieces by a heavier line,
# slivers by a dotted one: all of it survives a copier.
_STYLE = """
text { font: 26px sans-serif; text-anchor: middle; dominant-baseline: central; fill: #000 }
.room { fill: none; stroke: #000; stroke-width: 8 }
.lay { fill: none; stroke: #000; stroke-width: 1; stroke-dasharray: 12 8 }
.fixed { fill: #ddd; stroke: #000; stroke-width: 4 }
.L { fill: url(#leanL) } .R { fill: url(#leanR) }
.whole { stroke: #555; stroke-width: 1 }
.cut { stroke: #000; stroke-width: 3 }
.sliver { stroke-dasharray: 5 5 }
.wall { font-size: 60px }
"""
_HATCH = (
    '<pattern id="lean{hand}" width="14" height="14" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate({turn})"><path d="M0 0V14" stroke="#999" stroke-width="1"/></pattern>'
)


def plan_svg(plan: FloorPlan) -> str:
    """The whole plan, each cut piece with its name."""
    left, top, width, height = map(short_number, view_box(plan.room.outline.ring, MARGIN))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="{left} {top} {width} {height}">'
    )
    hatches = _HATCH.format(hand="L", turn=-20) + _HATCH.format(hand="R", turn=20)
    title = f"<title>{escape(plan.job.name or 'Floor plan')}</title>"
    parts = [head, title, f"<style>{_STYLE}</style><defs>{hatches}</defs>", *_shapes(plan), *_texts(plan)]
    return "\n".join([*parts, "</svg>\n"])


def _shapes(plan: FloorPlan) -> Iterator[str]:
    for piece in plan.pieces:
        yield f'<path class="{_classes(piece)}" fill-rule="evenodd" d="{polygon_path(piece.outline)}"/>'
    for barrier in plan.room.barriers:
        if barrier.solid:
            yield f'<path class="fixed" d="{ring_path(barrier.points[:-1])}"/>'
    yield f'<path class="lay" d="{region_path(plan.room.lay_area)}"/>'
    for wall in plan.room.outline.walls:
        yield f'<path class="room" d="{line_path(wall.points)}"/>'


def _classes(piece: Piece) -> str:
    classes = [piece.board.hand, "whole" if piece.sawn.kind == "whole" else "cut"]
    return " ".join([*classes, "sliver"] if piece.is_sliver else classes)


def _texts(plan: FloorPlan) -> Iterator[str]:
    for piece in plan.pieces:
        if piece.sawn.kind != "whole":
            yield _text(piece.id, piece.middle, "")
    for wall in plan.room.outline.walls:
        yield _text(wall.name, wall.at(wall.chord / 2, wall.curve.offset(wall.chord / 2) - 90), "wall")


def _text(text: str, at: tuple[float, float], name: str) -> str:
    x, y = map(short_number, spot(at))
    return f'<text class="{name}" x="{x}" y="{y}">{escape(text)}</text>'


def escape(text: str) -> str:
    """Text as it may stand in XML, in quotes or out of them."""
    for mark, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;")):
        text = text.replace(mark, entity)
    return text
