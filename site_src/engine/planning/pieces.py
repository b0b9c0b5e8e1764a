"""From lay area and pattern to the pieces: which part of each board stays, and how it is sawn."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.at_fence import FenceEdge, KeptSide
from engine.cutting.gap_field import BoardGapField, GapField, edge_samples
from engine.cutting.joined_cut import JoinedCut
from engine.cutting.sawn_piece import PlannedPiece, SawnPiece, plan_cuts
from engine.cutting.sawn_together import saw_together
from engine.cutting.stop import DoubtAt
from engine.errors import Finding, Refused
from engine.geometry.inner_point import inner_point
from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point, Polygon, Region, centroid, polygon_area
from engine.model.job import CountFrom, Cutting, Floor
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import LaidBoard
from engine.planning.board_count import too_many_boards
from engine.planning.numbering import board_id, board_number
from engine.planning.pattern_checks import pattern_faults, unknown_pattern
from engine.planning.proof import prove, prove_lattice
from engine.planning.tools import mitre_saw
from engine.units import band_text, number_text

Report = Callable[[str, float], None]

# A leftover smaller than this is a touch of two corners, not a piece, mm².
CRUMB = 0.1


# What tells one barrier from another: its place in the job file and its name.
BarrierKey = tuple[str, str]


class Glued(Struct, frozen=True, kw_only=True):
    """That a piece is glued to others before it is cut: to which, itself among them, the largest first.

    Along the barriers of ``along`` one cut goes through all that are cut there. The piece that ``leads``
    stands for all of them at the saw; ``fence`` is its edge that lies at the mitre saw's fence, None where
    none can; of its ends a stop may stand against those in ``ends``, which nothing is glued to.
    """

    pieces: tuple[str, ...]
    along: frozenset[BarrierKey]
    leads: str
    fence: FenceEdge | None
    ends: frozenset[KeptSide]


class Piece(Struct, frozen=True, kw_only=True):
    """One piece of the floor. ``ideal`` is in room coordinates, ``sawn`` in its board's frame.

    ``from_board`` names the whole board it is cut from; ``can_be_left_out``: the
    gap is inside its band without it. ``glued`` where it is cut as one with others.
    """

    id: str
    row: int
    place: int
    board: LaidBoard
    ideal: Polygon
    sawn: SawnPiece
    from_board: str
    is_sliver: bool
    can_be_left_out: bool
    glued: Glued | None = None

    @property
    def middle(self) -> Point:
        """A point inside the piece in room coordinates, for its label."""
        return inner_point(self.outline)

    @property
    def outline(self) -> Polygon:
        """What the saw leaves, in room coordinates."""
        return tuple(self.board.frame.ring_to_room(ring) for ring in self.sawn.outline)


def nominal_pieces(lay_area: Region, floor: Floor) -> tuple[tuple[LaidBoard, Region], ...]:
    """Each board that has a part in the lay area, with its parts, row by row; proved to fill it.

    Raises Refused when the pattern is not known or finds fault, the boards are without number or
    the proof fails.
    """
    points = [point for polygon in lay_area for point in polygon[0]]
    refuse_faulty_floor(floor, points)
    pattern = find_pattern(floor.pattern)
    boards = tuple(boards_over(pattern, floor, points))
    parts = kernel().clip(lay_area, [board.ring for board in boards])
    pairs = tuple((board, region) for board, region in zip(boards, parts, strict=True) if region)
    prove_lattice(pattern, floor, sorted({board.row for board, _ in pairs}))
    prove(pairs, lay_area)
    return tuple((board, kept) for board, region in pairs if (kept := without_crumbs(region)))


def refuse_faulty_floor(floor: Floor, points: Sequence[Point]) -> None:
    """Raise Refused when the pattern is not known or finds fault, or takes boards without number."""
    _refuse(unknown_pattern(floor))
    _refuse(pattern_faults(floor))
    _refuse(too_many_boards(floor, points))


def _refuse(findings: Iterable[Finding]) -> None:
    if faults := tuple(finding for finding in findings if finding.level == "error"):
        raise Refused(*faults)


def without_crumbs(region: Region) -> Region:
    """The parts of a board that are more than the touch of two corners."""
    return tuple(polygon for polygon in region if polygon_area(polygon) > CRUMB)


class Part(Struct, frozen=True, kw_only=True):
    """One part of a board that stays: ``ideal`` in room coordinates, ``number`` counts those of its board."""

    board: LaidBoard
    ideal: Polygon
    number: int
    planned: PlannedPiece


class AsOne(Struct, frozen=True, kw_only=True):
    """How pieces are planned when some are glued together first; ``glued`` by piece id."""

    planned: list[PlannedPiece]
    joined: tuple[JoinedCut, ...]
    glued: Mapping[str, Glued]


# Which pieces are glued together before they are cut, and how all are planned then.
Gluing = Callable[[Sequence[Piece], Sequence[PlannedPiece]], AsOne]


class Cutter(Struct, frozen=True, kw_only=True):
    """Cuts all pieces of a floor with the fewest settings of the saw. ``doubt_at`` as in ``saw_together``.

    With ``gluing`` small pieces are cut as one with their neighbours.
    """

    field: GapField
    cutting: Cutting
    doubt_at: DoubtAt
    count_from: CountFrom
    gluing: Gluing | None = None

    def cut(self, boards: Sequence[tuple[LaidBoard, Region]], report: Report) -> tuple[Piece, ...]:
        """The pieces of these boards, each given with the parts of it that stay. All are cut together."""
        parts: list[Part] = []
        for done, (board, region) in enumerate(boards):
            if done % 50 == 0:
                report("Cutting the pieces", 0.3 + 0.4 * done / len(boards))
            parts += self._parts(board, region)
        report("Setting the saw", 0.7)
        planned, saw = [part.planned for part in parts], mitre_saw(self.cutting)
        pieces = self._pieces(parts, saw_together(planned, saw, self.doubt_at))
        if self.gluing is None:
            return pieces
        as_one = self.gluing(pieces, planned)
        if not as_one.glued:
            return pieces
        sawn = saw_together(as_one.planned, saw, self.doubt_at, as_one.joined)
        cut = self._pieces(parts, sawn)
        return tuple(replace(piece, glued=as_one.glued.get(piece.id)) for piece in cut)

    def _pieces(self, parts: Sequence[Part], sawn: Sequence[SawnPiece]) -> tuple[Piece, ...]:
        return tuple(self._piece(part, each) for part, each in zip(parts, sawn, strict=True))

    def _parts(self, board: LaidBoard, region: Region) -> Iterator[Part]:
        """The parts of one place of the pattern: one, or several where a fixed thing parts the board."""
        field = BoardGapField(self.field, board.frame)
        nominal = [tuple(board.frame.ring_to_board(ring) for ring in part) for part in region]
        order = sorted(range(len(region)), key=lambda index: min(nominal[index][0]))
        for number, index in enumerate(order):
            planned = plan_cuts(
                nominal[index], board.size, field, self.cutting.saw_step, self.cutting.saw_error
            )
            yield Part(board=board, ideal=region[index], number=number, planned=planned)

    def _piece(self, part: Part, sawn: SawnPiece) -> Piece:
        name = board_id(part.board, self.count_from)
        row, place = board_number(part.board, self.count_from)
        return Piece(
            id=name if part.number == 0 else f"{name}.{part.number + 1}",
            row=row,
            place=place,
            board=part.board,
            ideal=part.ideal,
            sawn=sawn,
            from_board=name,
            is_sliver=is_sliver(sawn, self.cutting.sliver),
            can_be_left_out=_can_be_left_out(part.planned.nominal, part.planned.field),
        )


def is_sliver(sawn: SawnPiece, limit: float) -> bool:
    """Too narrow or too short to hold without glue: least width or long point below the limit."""
    return sawn.kind != "whole" and min(sawn.least_width, max(sawn.left, sawn.right)) < limit


def _can_be_left_out(nominal: Polygon, field: BoardGapField) -> bool:
    """Does the whole piece lie within the tolerance of the nominal gap?"""
    # The centre first: of a piece of any size it alone decides.
    for point in (centroid(nominal[0]), *edge_samples((*nominal[0], nominal[0][0]))):
        gap = field.binding(point)
        if gap is None or gap.over > gap.barrier.leeway.more:
            return False
    return True


def band_warnings(pieces: Iterable[Piece]) -> Iterator[Finding]:
    """A warning for each piece whose gap leaves its band."""
    for piece in pieces:
        outside = [gap for gap in piece.sawn.gaps if not gap.is_inside_band]
        if outside:
            worst = max(outside, key=lambda gap: gap.to_band)
            yield Finding(
                path="floor",
                code="gap outside band",
                level="warning",
                sentence=f"Piece {piece.id}: the gap to {worst.barrier.name} comes to "
                f"{number_text(worst.distance, 1)} mm instead of "
                f"{band_text(worst.barrier.gap, worst.barrier.tolerance)} mm. "
                "Measure this piece at the wall.",
            )
