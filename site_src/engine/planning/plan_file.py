"""The computed plan as the records of the plan file, rounded once."""

from collections import Counter

from msgspec.structs import replace

from engine.geometry.shapes import Point, Polygon, region_area
from engine.model.laid import CreepChanged
from engine.model.plan import (
    BoardPlace,
    LayArea,
    Pair,
    Plan,
    PlanAsItLies,
    PlanBoard,
    PlanCut,
    PlanGlueBlank,
    PlanGlueCut,
    PlanGlueMark,
    PlanGlueUp,
    PlanLine,
    PlanLongCut,
    PlanOffcut,
    PlanPiece,
    PlanSawSetting,
    PlanSettingOut,
    PlanSmallest,
    PlanStep,
    Rings,
)
from engine.planning.boards import UsedBoard
from engine.planning.floor_plan import FloorPlan
from engine.planning.glue_ups import CommonCut, GlueUp
from engine.planning.long_cut import LongCutPlan
from engine.planning.measured_at_wall import MeasuredPiece, Side
from engine.planning.pieces import Piece
from engine.planning.saw_order import blade_side, saw_settings
from engine.planning.setting_out import plan_setting_out
from engine.planning.smallest_pieces import smallest_along_walls
from engine.planning.tool_steps import Slot, ToolStep, is_hand_near, tool_steps
from engine.planning.tools import mitre_saw
from engine.setting_out.strike_lines import StrikeLine
from engine.setting_out.ties import Tie
from engine.survey.plan_section import survey_section

# A tenth of a micrometre: far below any saw, far above the noise of computing.
DECIMALS = 4


def plan_record(plan: FloorPlan, bound: float | None = None) -> Plan:
    """The plan file's content; ``bound`` as from ``best_place``, where that was asked."""
    return Plan(
        name=plan.job.name,
        lay_area=LayArea(
            area_m2=round(region_area(plan.room.lay_area) / 1e6, 6),
            rings=tuple(_ring(ring) for polygon in plan.room.lay_area for ring in polygon),
        ),
        pieces=tuple(_piece(piece, plan) for piece in plan.pieces),
        counts=dict(sorted(Counter(piece.sawn.kind for piece in plan.pieces).items())),
        boards=tuple(_board(board) for board in plan.supply.boards),
        bound=sum(plan.supply.bound.values()),
        waste=round(plan.supply.waste, 6),
        survey=survey_section(plan.room.outline, plan.survey),
        setting_out=_setting_out(plan, bound),
        warnings=tuple(f.sentence for f in plan.findings if f.level == "warning"),
        saw_settings=_saw_settings(plan),
        long_cuts=tuple(_long_cut(cut) for cut in plan.long_cuts if cut is not None and cut.fit is not None),
        as_it_lies=_as_it_lies(plan),
        glue_ups=tuple(_glue_up(group) for group in plan.glue_ups),
    )


def _saw_settings(plan: FloorPlan) -> tuple[PlanSawSetting, ...]:
    """None without a mitre saw: then no step of a piece turns one."""
    if "mitre saw" not in plan.job.cutting.tools:
        return ()
    return tuple(
        PlanSawSetting(
            angle=each.angle, turned=each.turned, stop=each.stop, side=each.side, pieces=each.pieces
        )
        for each in saw_settings(plan.pieces, mitre_saw(plan.job.cutting))
    )


def _setting_out(plan: FloorPlan, bound: float | None) -> PlanSettingOut:
    floor = plan.job.floor
    return PlanSettingOut(
        anchor=floor.anchor,
        axis=floor.axis,
        smallest={
            name: PlanSmallest(
                long_point=_round(sizes.long_point),
                short_side=_round(sizes.short_side),
                area=_round(sizes.area),
            )
            for name, sizes in smallest_along_walls(plan.room, plan.pieces).items()
        },
        bound=None if bound is None else _round(bound),
        slivers=sum(piece.is_sliver for piece in plan.pieces),
        lines=tuple(_line(line) for line in plan_setting_out(plan).lines),
    )


def _line(line: StrikeLine) -> PlanLine:
    start, end = line.start, line.end
    # A check stands for one end by its place, so there are two or none.
    checks = (start.check, end.check) if start.check and end.check else ()
    return PlanLine(
        name=line.name,
        from_=(_round(start.at[0]), _round(start.at[1])),
        to=(_round(end.at[0]), _round(end.at[1])),
        ties=tuple(_tie(tie) for tie in (*start.ties, *end.ties, *checks)),
    )


def _tie(tie: Tie) -> tuple[str, float]:
    return tie.corner, _round(tie.distance)


def _as_it_lies(plan: FloorPlan) -> PlanAsItLies | None:
    """Where the floor was taken to lie. Turn and creep need more digits than a length does."""
    lies = plan.as_it_lies
    if lies is None:
        return None
    drift, change = lies.drift, lies.drift.change
    return PlanAsItLies(
        about=(_round(drift.about[0]), _round(drift.about[1])),
        ahead=_round(drift.ahead),
        left=_round(drift.left),
        turn=round(drift.turn, 8) + 0.0,
        creep_along=round(drift.creep_along, 10) + 0.0,
        creep_across=round(drift.creep_across, 10) + 0.0,
        change=None
        if change is None
        else CreepChanged(way=change.way, at=_round(change.at), by=round(change.by, 10) + 0.0),
        open_joints=_round(lies.joints),
        keeps=tuple(sorted(lies.keeps)),
    )


def boards_needed(plan: FloorPlan) -> dict[str, int]:
    """Boards of either hand to be taken."""
    return {"left": plan.supply.count("L"), "right": plan.supply.count("R")}


def cut_record(record: Plan, plan: FloorPlan) -> Plan:
    """The plan file's content with each piece that was measured at the wall as it is to be cut."""
    now = {name: _piece(measured.piece, plan) for name, measured in plan.measured.items()}
    return replace(record, pieces=tuple(now.get(piece.id, piece) for piece in record.pieces))


def _board(board: UsedBoard) -> PlanBoard:
    return PlanBoard(
        id=board.id,
        hand=board.hand,
        pieces=board.pieces,
        spoiled=board.spoiled,
        offcuts=tuple(
            PlanOffcut(
                length=_round(offcut.length),
                width=_round(offcut.width),
                left=_round(offcut.sides["left"]),
                right=_round(offcut.sides["right"]),
                start=_round(offcut.sides["start"]),
                far=_round(offcut.sides["far"]),
            )
            for offcut in board.offcuts
        ),
    )


def _piece(piece: Piece, plan: FloorPlan) -> PlanPiece:
    sawn, frame, source = piece.sawn, piece.board.frame, plan.supply.sources[piece.id]
    return PlanPiece(
        id=piece.id,
        row=piece.row,
        place=piece.place,
        hand=piece.board.hand,
        kind=sawn.kind,
        sliver=piece.is_sliver,
        outline=_rings(piece.outline),
        ideal=_rings(piece.ideal),
        board=BoardPlace(
            x=_round(frame.x),
            y=_round(frame.y),
            angle=_round(frame.angle),
            lean=_round(piece.board.size.lean),
        ),
        left=_round(sawn.left),
        right=_round(sawn.right),
        saw_angle=_round(sawn.saw_angle),
        kept_end=sawn.kept_end,
        cuts=tuple(
            PlanCut(kind=cut.kind, points=_ring(cut.points), angle=_round(cut.angle), along=cut.barrier.name)
            for cut in sawn.cuts
        ),
        gap_least=None if sawn.gap_least is None else _round(sawn.gap_least),
        gap_most=None if sawn.gap_most is None else _round(sawn.gap_most),
        from_board=source.board,
        after=source.after or "",
        keeps=plan.joints[piece.id].keeps,
        measure_at_wall=piece.id in plan.unsure,
        measured=_measured(plan.measured.get(piece.id)),
        steps=tuple(_step(step) for step in tool_steps(piece, plan.job.cutting)),
        hand_near=is_hand_near(piece, plan.job.cutting),
    )


def _long_cut(cut: LongCutPlan) -> PlanLongCut:
    assert cut.fit is not None
    line, marks = cut.line, cut.fit.marks
    return PlanLongCut(
        from_=cut.record.from_,
        to=cut.record.to,
        cut=_ring(cut.cut),
        guide=None if cut.guide is None else _ring(cut.guide),
        edge=_ring(cut.edge),
        gap_start=_round(line.gaps[0]),
        gap_end=_round(line.gaps[-1]),
        gap_least=_round(line.narrowest[1]),
        gap_most=_round(line.widest[1]),
        filler=None if cut.filler is None else _round(cut.filler),
        pieces={board.id: _round(board.rough) for board in cut.boards},
        residuals=tuple(_round(mark.residual) for mark in marks) if len(marks) > 2 else (),
    )


def _glue_up(group: GlueUp) -> PlanGlueUp:
    return PlanGlueUp(
        pieces=group.pieces,
        blanks={
            name: PlanGlueBlank(length=_round(blank.length), from_=blank.measured_from)
            for name, blank in group.blanks.items()
        },
        cuts=tuple(_glue_cut(cut) for cut in group.cuts),
    )


def _glue_cut(cut: CommonCut) -> PlanGlueCut:
    return PlanGlueCut(
        along=cut.along,
        pieces=cut.pieces,
        cut=None if cut.ends is None else _ring(cut.ends),
        gap_least=None if cut.gap_least is None else _round(cut.gap_least),
        gap_most=None if cut.gap_most is None else _round(cut.gap_most),
        marks=tuple(
            PlanGlueMark(
                piece=mark.piece,
                side=mark.side,
                distance=_round(mark.distance),
                from_=mark.measured_from,
            )
            for mark in cut.marks
        ),
    )


def _step(step: ToolStep) -> PlanStep:
    along = step.drilled.name if step.drilled else step.cut.barrier.name
    return PlanStep(
        tool=step.tool,
        work=step.work,
        along=along,
        angle=None if step.turn is None else abs(_round(step.turn)),
        turned=step.turned,
        stop=None if step.stop is None else _round(step.stop),
        side=None if step.lies is None else blade_side(step.lies),
        against="sawn end" if step.stop is not None and step.lies and step.lies.tip else None,
        centre=None if step.centre is None else (_round(step.centre[0]), _round(step.centre[1])),
        diameter=None if step.diameter is None else _round(step.diameter),
        edge=_slot_edge(step.slot) if step.slot else None,
    )


def _slot_edge(slot: Slot) -> str:
    names = {"right": "right long edge", "left": "left long edge", "start": "start end", "far": "far end"}
    return names[slot.side] if slot.side else "sawn edge"


def _measured(measured: MeasuredPiece | None) -> dict[Side, float]:
    """The lengths that are used."""
    if measured is None or measured.fault is not None:
        return {}
    return dict(measured.lengths)


def _rings(polygon: Polygon) -> Rings:
    return tuple(_ring(ring) for ring in polygon)


def _ring(ring: tuple[Point, ...]) -> tuple[Pair, ...]:
    return tuple((_round(x), _round(y)) for x, y in ring)


def _round(value: float) -> float:
    return round(value, DECIMALS) + 0.0
