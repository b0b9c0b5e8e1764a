"""The plan on paper: all of it on one sheet, then part by part at a scale at which names can be read."""

from collections.abc import Iterator

from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THIN, pdf_file
from engine.sheets.piece_names import name_size, name_turn
from engine.sheets.scaled_view import View, draw_scale_bar, draw_things, draw_walls, fitted, parts, room_box
from engine.sheets.sheet_head import Head, number_pages, page_words

# A board 90 mm wide is 4.5 mm then, room for a name of 8 points.
PART_SCALE = 20
# Left and right boards are told apart by a tint that a copier keeps, pieces to cut by a heavier line.
LEFT_TINT = 0.9
CUT_LINE = 0.35

WORDS = (
    "{what}, scale 1:{scale} when printed at actual size: the bar below is one metre. Grey: left boards. "
    "Heavy line: pieces to cut. Dark grey: fixed things."
)


def plan_pdf(plan: FloorPlan, paper: Paper) -> bytes:
    """The whole plan, and where names would be too small on it its parts, each cut piece with its name."""
    room = room_box(plan)
    whole = fitted(room, (paper, paper.landscape))
    names = tuple(parts(room, whole.page.paper, PART_SCALE)) if whole.scale > PART_SCALE else ()
    _draw(whole, "All of it", plan, with_names=not names)
    for view, what in names:
        _draw(view, what, plan, with_names=True)
    pages = [whole.page, *(view.page for view, _ in names)]
    number_pages(Head(title="Plan", job=plan.job.name), pages)
    return pdf_file(f"Plan {plan.job.name}".strip(), pages)


def _draw(view: View, what: str, plan: FloorPlan, *, with_names: bool) -> None:
    page = view.page
    page.begin_clip(view.box)
    for piece in _whole_first(plan):
        _piece(view, piece)
    draw_things(view, plan)
    draw_walls(view, plan)
    for piece in plan.pieces if with_names else ():
        if piece.sawn.kind != "whole":
            _name(view, piece)
    page.end_clip()
    draw_scale_bar(view)
    page_words(page, WORDS.format(what=what, scale=view.scale))


def _whole_first(plan: FloorPlan) -> Iterator[Piece]:
    """Heavier lines lie above lighter ones."""
    yield from sorted(plan.pieces, key=lambda piece: piece.sawn.kind != "whole")


def _piece(view: View, piece: Piece) -> None:
    outline = piece.outline
    if view.shows(outline[0]):
        width = THIN if piece.sawn.kind == "whole" else CUT_LINE
        fill = LEFT_TINT if piece.board.hand == "L" else 1.0
        view.page.shape(tuple(map(view.ring, outline)), width, fill=fill)


def _name(view: View, piece: Piece) -> None:
    """The piece's name along its board."""
    if view.shows((piece.middle,)):
        size = name_size(piece.id, piece, view.scale)
        view.page.middle_text(view.spot(piece.middle), piece.id, size, turn=name_turn(piece))
