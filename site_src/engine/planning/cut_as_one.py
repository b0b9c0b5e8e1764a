"""Glued pieces planned with the one cut that goes through all of them, in place of each piece's own.

Where no one line holds along a wall, each piece keeps its own cut there; that is sawn along its marks on the
joined boards, so it takes no setting of the saw either.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.at_fence import FenceEdge, KeptSide, at_fence
from engine.cutting.corridor import CutLine
from engine.cutting.gap_field import GapField
from engine.cutting.half_plane import crossing
from engine.cutting.joined_cut import JoinedCut, line_in
from engine.cutting.saw_angles import Saw
from engine.cutting.sawn_piece import PlannedPiece, is_held
from engine.cutting.treatment import LeaveWhole, StraightCuts, Treatment
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point, Ring
from engine.geometry.tolerances import ON_EDGE
from engine.model.job import Cutting
from engine.patterns.pattern import Pattern
from engine.planning.glue_groups import barriers_of, common_line, key_of, small_groups
from engine.planning.glue_ups import blank_of
from engine.planning.joints import piece_joints
from engine.planning.pieces import AsOne, BarrierKey, Glued, Gluing, Piece
from engine.planning.tools import mitre_saw

# The lines of a group's cuts in the room.
Lines = Mapping[BarrierKey, CutLine]


def gluing(pattern: Pattern, field: GapField, cutting: Cutting) -> Gluing | None:
    """How small pieces are glued and planned, where that is chosen."""
    if not cutting.glue_first:
        return None

    def plan(pieces: Sequence[Piece], planned: Sequence[PlannedPiece]) -> AsOne:
        joints = {piece.id: piece_joints(piece, pattern) for piece in pieces}
        index = {piece.id: i for i, piece in enumerate(pieces)}
        groups = [
            _group(together, [planned[index[piece.id]] for piece in together], field, cutting)
            for together in small_groups(pieces, joints)
        ]
        new = list(planned)
        for group in groups:
            for piece, plan in zip(group.pieces, group.planned, strict=True):
                new[index[piece.id]] = plan
        return AsOne(
            planned=new,
            joined=tuple(
                cut for group in groups for cut in group.joined([index[p.id] for p in group.pieces])
            ),
            glued={piece.id: group.glued() for group in groups for piece in group.pieces},
        )

    return plan


class _Group(Struct, frozen=True, kw_only=True):
    """Pieces joined to one blank, the largest first, as planned then, with the cuts that go through all."""

    pieces: tuple[Piece, ...]
    planned: tuple[PlannedPiece, ...]
    lines: Lines
    fence: FenceEdge | None
    ends: frozenset[KeptSide]

    def glued(self) -> Glued:
        """What each of them is to know of it."""
        first = next(each for each in self.pieces if each.sawn.kind != "whole")
        return Glued(
            pieces=tuple(each.id for each in self.pieces),
            along=frozenset(self.lines),
            leads=first.id,
            fence=self.fence,
            ends=self.ends,
        )

    def joined(self, index: Sequence[int]) -> Iterator[JoinedCut]:
        """The cuts made with the first of them at the fence; ``index`` says which piece each is."""
        for line in self.lines.values() if self.fence else ():
            places = [
                (index[i], r, n)
                for i, piece in enumerate(self.pieces)
                for r, treatment in enumerate(self.planned[i].treatments)
                for n, each in enumerate(treatment.lines if isinstance(treatment, StraightCuts) else ())
                if _is_same(each, line_in(line, piece.board.frame))
            ]
            if places and places[0][0] == index[0] and self.fence:
                yield JoinedCut(places=tuple(places), fence=self.fence, ends=self.ends)


def _is_same(line: CutLine, other: CutLine) -> bool:
    return line.at == other.at and line.direction == other.direction


def _group(
    together: tuple[Piece, ...], planned: Sequence[PlannedPiece], field: GapField, cutting: Cutting
) -> _Group:
    found = {
        key_of(barrier): common_line(together, barrier, field, cutting.saw_error)
        for barrier in barriers_of(together)
    }
    lines, plans = _settled({key: line for key, line in found.items() if line}, planned)
    frame = together[0].board.frame
    rings = [
        frame.ring_to_board(piece.board.frame.ring_to_room(_blank_ring(piece, lines)))
        for piece in together[1:]
    ]
    fence = _fence(together[0], lines, rings, mitre_saw(cutting))
    return _Group(
        pieces=together,
        planned=tuple(plan if i == 0 and fence else _bound(plan) for i, plan in enumerate(plans)),
        lines=lines,
        fence=fence,
        ends=frozenset(_free_ends(together[0].board.size, rings)),
    )


def _settled(lines: Lines, planned: Sequence[PlannedPiece]) -> tuple[Lines, list[PlannedPiece]]:
    """As many of the lines as all pieces can be cut along, and how they are planned then."""
    while True:
        plans = [_with(plan, lines) for plan in planned]
        at_fault = {
            key
            for plan, before in zip(plans, planned, strict=True)
            for r, treatment in enumerate(plan.treatments)
            for key in _keys(before, r)
            if treatment is before.treatments[r] or not is_held(plan, plan.treatments)
        }
        kept = {key: line for key, line in lines.items() if key not in at_fault}
        if len(kept) == len(lines):
            return lines, [_unfree(plan, before) for plan, before in zip(plans, planned, strict=True)]
        lines = kept


def _with(plan: PlannedPiece, lines: Lines) -> PlannedPiece:
    """A piece cut along the lines wherever it has them all round a run of its rim."""
    frame, treatments = plan.field.frame, list(plan.treatments)
    for r in range(len(treatments)):
        keys = _keys(plan, r)
        if keys and all(key in lines for key in keys):
            treatments[r] = StraightCuts(tuple(line_in(lines[key], frame) for key in keys))
    return replace(plan, treatments=tuple(treatments))


def _keys(plan: PlannedPiece, r: int) -> tuple[BarrierKey, ...]:
    """What a run that is sawn goes along, in order."""
    run, treatment = plan.runs[r], plan.treatments[r]
    if treatment is None or isinstance(treatment, LeaveWhole) or run.is_closed:
        return ()
    middles = (((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in pairwise(run.points))
    return tuple(dict.fromkeys(key_of(plan.field.at(middle).barrier) for middle in middles))


def _unfree(plan: PlannedPiece, before: PlannedPiece) -> PlannedPiece:
    """Cuts of its own are sawn along their marks: they take no part in the saw's settings."""
    treatments = tuple(
        _bound_cuts(now) if now is then else now
        for now, then in zip(plan.treatments, before.treatments, strict=True)
    )
    return replace(plan, treatments=treatments)


def _bound(plan: PlannedPiece) -> PlannedPiece:
    """A piece whose cuts follow those of another."""
    return replace(plan, treatments=tuple(_bound_cuts(each) for each in plan.treatments))


def _bound_cuts(treatment: Treatment | None) -> Treatment | None:
    if not isinstance(treatment, StraightCuts):
        return treatment
    return StraightCuts(tuple(replace(line, corridor=None) for line in treatment.lines))


def _fence(first: Piece, lines: Lines, joined: Sequence[Ring], saw: Saw) -> FenceEdge | None:
    """The long edge of the first board that can lie at the fence: no other, ``joined``, reaches past it.

    Rings in its frame. None as well where the saw does not swing or reach so far for all its cuts.
    """
    frame, size = first.board.frame, first.board.size
    cuts = [
        line_in(lines[key_of(barrier)], frame) for barrier in barriers_of([first]) if key_of(barrier) in lines
    ]
    if not cuts:
        return None
    across = [y for ring in joined for _, y in ring]
    lies = at_fence(size, cuts[0].angle, keeps_start=cuts[0].keeps_start, is_face_up=saw.is_face_up)
    free: dict[FenceEdge, bool] = {
        "right": min(across) > -ON_EDGE,
        "left": max(across) < size.width + ON_EDGE,
    }
    order: tuple[FenceEdge, ...] = ("right", "left") if lies.is_right else ("left", "right")
    rings = (size.ring, *joined)
    return next(
        (edge for edge in order if free[edge] and all(_makes(saw, cut, edge, size, rings) for cut in cuts)),
        None,
    )


def _makes(saw: Saw, cut: CutLine, edge: FenceEdge, size: BoardSize, rings: Sequence[Ring]) -> bool:
    """Does the saw make a cut through all these boards, however far it is turned within the cut's band?"""
    lies = at_fence(size, cut.angle, keeps_start=cut.keeps_start, is_face_up=saw.is_face_up, edge=edge)
    across = lies.across(point for ring in rings for point in _met(ring, cut))
    held = saw.holding(cut)
    return held is not None and all(saw.makes(turn, across) for turn in held)


def _met(ring: Ring, cut: CutLine) -> Iterator[Point]:
    """Where a cut meets a ring."""
    for start, end in pairwise((*ring, ring[0])):
        sides = cut.side(start), cut.side(end)
        if (sides[0] > 0) != (sides[1] > 0):
            yield crossing(start, end, *sides)


def _free_ends(size: BoardSize, joined: Sequence[Ring]) -> Iterator[KeptSide]:
    """The ends of the first board that no joined board reaches past."""
    along = [size.along(point) for ring in joined for point in ring]
    if min(along) > -ON_EDGE:
        yield "start"
    if max(along) < size.length + ON_EDGE:
        yield "far"


def _blank_ring(piece: Piece, lines: Lines) -> Ring:
    """What is taken of a joined board, in its own frame."""
    size = piece.board.size
    if piece.sawn.kind == "whole":
        return size.ring
    return blank_of(piece, [lines.get(key_of(cut.barrier)) for cut in piece.sawn.cuts]).ring(size)
