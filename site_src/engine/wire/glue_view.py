"""A glue-up as a page shows it: the joined boards where they lie, the cut through them, and the steps."""

from collections.abc import Iterable, Iterator

from engine.drawing.paths import line_path, polygon_path, ring_path, spot, view_box
from engine.geometry.inner_point import inner_point
from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan
from engine.planning.glue_ups import CommonCut, GlueUp
from engine.planning.pieces import Piece
from engine.wire.drawings import Figure, GlueUpDrawing, Label
from engine.wire.figures import Writer, figure
from engine.wire.glue_words import CAUTIONS, glue_steps, mark_text

# What is seen around the cut of a glue-up, mm beyond it.
AROUND = 70.0
# Numbers of the marks stand this far beyond the cut's ends, mm.
BESIDE = 14.0


def glue_up_drawings(plan: FloorPlan, writer: Writer) -> tuple[GlueUpDrawing, ...]:
    """Every glue-up of the plan."""
    pieces = {piece.id: piece for piece in plan.pieces}
    return tuple(_drawing(group, plan, pieces, writer) for group in plan.glue_ups)


def glue_up_figures(drawings: Iterable[GlueUpDrawing]) -> Iterator[Figure]:
    """Every figure that the drawings show."""
    for drawing in drawings:
        yield from drawing.figures


def _drawing(group: GlueUp, plan: FloorPlan, pieces: dict[str, Piece], writer: Writer) -> GlueUpDrawing:
    joined = [pieces[name] for name in group.pieces]
    seen = tuple(_seen(group, joined))
    return GlueUpDrawing(
        pieces=group.pieces,
        view_box=view_box(seen, AROUND),
        blanks=tuple(_blank_path(piece, group) for piece in joined),
        keep=tuple(polygon_path(piece.outline) for piece in joined),
        walls=tuple(line_path(b.points) for b in plan.room.barriers if b.name in group.along),
        cuts=tuple(line_path(cut.ends) for cut in group.cuts if cut.ends),
        labels=tuple(_labels(joined, seen)),
        mark_labels=tuple(label for cut in group.cuts for label in _mark_labels(cut)),
        figures=tuple(_figures(group, writer)),
        steps=tuple(glue_steps(group, pieces, plan.supply, plan.job.cutting, writer)),
        cautions=CAUTIONS,
    )


def _seen(group: GlueUp, joined: list[Piece]) -> Iterator[Point]:
    """The ends of the cuts and all of the smallest piece."""
    for cut in group.cuts:
        yield from cut.ends or ()
    small = min(joined, key=lambda piece: (round(piece.sawn.least_width, 3), piece.id))
    yield from small.outline[0]


def _blank_path(piece: Piece, group: GlueUp) -> str:
    return ring_path(piece.board.frame.ring_to_room(group.taken_of(piece.id, piece.board.size)))


def _labels(joined: list[Piece], seen: tuple[Point, ...]) -> Iterator[Label]:
    """Each piece's name on what is seen of it."""
    xs, ys = zip(*seen, strict=True)
    low, high = (min(xs) - AROUND, min(ys) - AROUND), (max(xs) + AROUND, max(ys) + AROUND)
    window = (low, (high[0], low[1]), high, (low[0], high[1]))
    for piece in joined:
        (parts,) = kernel().clip((piece.outline,), [window])
        if parts:
            yield Label(text=piece.id, at=spot(inner_point(parts[0])))


def _mark_labels(cut: CommonCut) -> Iterator[Label]:
    """1 and 2 at the two ends of the cut, beyond them."""
    if cut.ends is None:
        return
    (ax, ay), (bx, by) = cut.ends
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    dx, dy = (bx - ax) / length * BESIDE, (by - ay) / length * BESIDE
    yield Label(text="1", at=spot((ax - dx, ay - dy)))
    yield Label(text="2", at=spot((bx + dx, by + dy)))


def _figures(group: GlueUp, writer: Writer) -> Iterator[Figure]:
    """The marks to make, then the gap that comes of it, then the blanks."""
    for cut in group.cuts:
        for number, mark in enumerate(cut.marks[:: len(cut.marks) - 1] if cut.marks else (), 1):
            label = f"Mark {number}, {mark_text(mark, writer).partition(',')[0]}"
            yield figure(
                f"mark {cut.along} {number}",
                label,
                writer.length(mark.distance),
                "mm",
                "glue mark",
                ("where", mark_text(mark, writer)),
                ("along", cut.along),
            )
        if cut.gap_least is not None and cut.gap_most is not None:
            least, most = writer.length(cut.gap_least), writer.length(cut.gap_most)
            text = least if least == most else f"{least} – {most}"
            yield figure(f"gap {cut.along}", f"Gap at {cut.along}", text, "mm", "gap at the wall")
    for name, blank in group.blanks.items():
        yield figure(f"blank {name}", f"Take for {name}", writer.length(blank.length), "mm", "rough length")
