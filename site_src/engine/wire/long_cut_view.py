"""One long straight cut as its screen shows it."""

from collections.abc import Iterator, Sequence

from engine.drawing.paths import line_path, ring_path, spot, view_box
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan
from engine.planning.long_boards import CrossedBoard, LaidCorner
from engine.planning.long_cut import LongCutPlan
from engine.wire.drawings import Figure, Label
from engine.wire.figures import Writer, as_typed, figure
from engine.wire.long_cut_record import CornerToMeasure, LongBoard, LongCutDrawing, MarkShown
from engine.wire.long_cut_words import AS_IT_LIES, CAUTIONS, board_flags, steps, take

# Beyond what is drawn, mm; from an end of the edge to its corner's letter, as a share of the cut's length.
MARGIN, NAME_OFF = 40.0, 0.04
# A filler is bought by the cartridge: whole millilitres are finer than it can be pressed out.
ML_DECIMALS = 0


def long_cut_drawings(floor: FloorPlan, writer: Writer) -> tuple[LongCutDrawing | None, ...]:
    """Each long cut of the job, in its order; None where there is no such wall."""
    note = AS_IT_LIES if floor.as_it_lies else ""
    return tuple(None if plan is None else _drawing(plan, note, writer) for plan in floor.long_cuts)


def _drawing(plan: LongCutPlan, note: str, writer: Writer) -> LongCutDrawing:
    start = plan.wall.start
    # Turned half round from the wall's own frame: the wall above, the floor below.
    frame = Frame(start[0], start[1], plan.wall.heading + 180)
    boards = [frame.ring_to_board(board.board.ring) for board in plan.boards]
    marks = frame.ring_to_board(mark.at for mark in plan.record.marks)
    edge = frame.ring_to_board(plan.edge)
    is_measured = plan.fit is not None
    aside = NAME_OFF * plan.line.length
    named = ((edge[0][0] + aside, edge[0][1]), (edge[-1][0] - aside, edge[-1][1]))
    drawn = (*named, *marks, *(point for ring in boards for point in ring))
    return LongCutDrawing(
        wall=plan.wall.name,
        is_measured=is_measured,
        note=note,
        view_box=view_box(drawn, MARGIN),
        edge=line_path(edge),
        cut=line_path(frame.ring_to_board(plan.cut)) if is_measured else "",
        guide=line_path(frame.ring_to_board(plan.guide)) if is_measured and plan.guide else "",
        boards=tuple(_board(board, ring, writer) for board, ring in zip(plan.boards, boards, strict=True)),
        labels=tuple(
            Label(text=text, at=spot(at))
            for text, at in zip((plan.wall.from_, plan.wall.to), named, strict=True)
        ),
        mark_labels=tuple(Label(text=str(number), at=spot(mark)) for number, mark in enumerate(marks, 1)),
        figures=tuple(_figures(plan, writer)) if is_measured else (),
        marks=tuple(_marks(plan, writer)),
        steps=tuple(steps(plan, writer)) if is_measured else (),
        cautions=CAUTIONS,
        corners=tuple(_corner(corner, plan, writer) for corner in plan.corners),
    )


def long_cut_figures(drawings: Sequence[LongCutDrawing | None]) -> Iterator[Figure]:
    """Every figure that the drawings show."""
    for drawing in drawings:
        if drawing is not None:
            yield from drawing.figures
            yield from (board.rough for board in drawing.boards)
            for mark in drawing.marks:
                yield from (each for each in (mark.to_cut, mark.to_guide, mark.residual) if each)


def _figures(plan: LongCutPlan, writer: Writer) -> Iterator[Figure]:
    """The gaps first; then what to buy, and how far the line can be trusted."""
    line = plan.line
    wanted = ("wanted", writer.band(plan.gap, plan.tolerance))
    ends = ((plan.wall.from_, line.gaps[0]), (plan.wall.to, line.gaps[-1]))
    for corner, gap in ends:
        yield figure(f"gap at {corner}", f"Gap at {corner}", writer.length(gap), "mm", "long cut gap", wanted)
    for key, label, (station, gap) in (
        ("narrowest", "Narrowest gap", line.narrowest),
        ("widest", "Widest gap", line.widest),
    ):
        at = ("at station", writer.mm(station))
        yield figure(key, label, writer.length(gap), "mm", "long cut gap", wanted, at)
    if plan.filler is not None and plan.depth is not None:
        yield figure(
            "filler",
            "Filler",
            writer.count(plan.filler, ML_DECIMALS),
            "ml",
            "seam filler",
            ("seam from above", f"{writer.count(line.seam_area / 100, 1)} cm²"),
            ("depth", writer.mm(plan.depth)),
        )
    yield figure("cut length", "Length of the cut", writer.length(line.length), "mm", "long cut length")
    if plan.known_to is not None:
        count = ("marks", str(len(plan.stations)))
        yield figure(
            "known to", "Line known to ±", writer.length(plan.known_to), "mm", "long cut known", count
        )


def _board(board: CrossedBoard, ring: Sequence[Point], writer: Writer) -> LongBoard:
    allowance = ("whole board", writer.mm(board.board.length))
    return LongBoard(
        id=board.id,
        path=ring_path(tuple(ring)),
        take=take(board, writer),
        rough=figure(
            f"rough {board.id}", board.id, writer.length(board.rough), "mm", "rough length", allowance
        ),
        flags=tuple(board_flags(board)),
    )


def _marks(plan: LongCutPlan, writer: Writer) -> Iterator[MarkShown]:
    for number, (mark, station) in enumerate(zip(plan.record.marks, plan.stations, strict=True)):
        if plan.fit is None:
            return
        to_cut, to_guide = plan.at_marks[number]
        fit = plan.fit.marks[number]
        read = ("to the edge, as measured", writer.mm(mark.distance))
        yield MarkShown(
            place=f"{writer.mm(station)} along {plan.wall.name}",
            to_cut=figure(
                f"to cut {number + 1}", "To the cut", writer.length(to_cut), "mm", "mark to cut", read
            ),
            to_guide=None if to_guide is None else _to_guide(number, to_guide, plan, writer),
            residual=_residual(number, fit.residual, plan, writer),
            is_doubted=fit.is_doubted,
        )


def _to_guide(number: int, distance: float, plan: LongCutPlan, writer: Writer) -> Figure:
    """Beyond the guide there is no minus: the words say on which side of the mark it lies."""
    words = "To the guide, towards the edge" if distance >= 0 else "To the guide, away from the edge"
    offset = ("saw plate to blade", writer.mm(plan.record.guide or 0.0))
    return figure(f"to guide {number + 1}", words, writer.length(abs(distance)), "mm", "guide offset", offset)


def _residual(number: int, residual: float, plan: LongCutPlan, writer: Writer) -> Figure | None:
    if len(plan.stations) < 3 or plan.fit is None:
        return None
    off = plan.fit.marks[number].off
    inputs = () if off is None else (("off from the line of the others", writer.mm(off)),)
    return figure(
        f"residual {number + 1}", "Residual", writer.length(residual), "mm", "mark residual", *inputs
    )


def _corner(corner: LaidCorner, plan: LongCutPlan, writer: Writer) -> CornerToMeasure:
    x, y = corner.at
    return CornerToMeasure(
        words=f"{corner.board}, {writer.count(corner.station, 0)} along {plan.wall.name}, "
        f"{writer.count(corner.distance + plan.gap, 0)} mm off",
        typed=(as_typed(round(x, 2)), as_typed(round(y, 2))),
    )
