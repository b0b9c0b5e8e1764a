"""The pieces of a floor that was taken as it lies: what is not kept is cut anew where its board lies.

Boards keep their measures and move as stiff wholes; between them joints open
or close. Each board has a cell of its own, its outline drawn out as the whole
pattern is: the cells fill the floor, and by how much boards differ from their
cells is what the joints take (``proof.prove_laid``).
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from math import dist

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.gap_field import BoardGapField, GapField, edge_samples
from engine.cutting.sawn_piece import SawnPiece
from engine.errors import Finding
from engine.geometry.drift import Drift
from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point, Polygon, Region
from engine.model.job import Floor
from engine.model.laid import FloorTaken
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import LaidBoard
from engine.planning.numbering import board_id
from engine.planning.pieces import Cutter, Piece, refuse_faulty_floor, without_crumbs
from engine.planning.proof import prove_inside, prove_laid, prove_lattice
from engine.planning.taken_floor import drift_of
from engine.units import band_text, number_text

Report = Callable[[str, float], None]
Parts = tuple[tuple[LaidBoard, Region], ...]


class FloorAsItLies(Struct, frozen=True, kw_only=True):
    """The pieces where they lie; those in ``keeps`` as they were cut before.

    ``joints`` is what open joints take, in mm² (below 0: boards are too wide).
    """

    drift: Drift
    pieces: tuple[Piece, ...]
    keeps: frozenset[str]
    joints: float


def moved_board(board: LaidBoard, drift: Drift) -> LaidBoard:
    """A planned board where it lies."""
    return replace(board, frame=drift.moved_frame(middle_of(board), board.frame))


def middle_of(board: LaidBoard) -> Point:
    """The middle of a whole board in the room."""
    size = board.size
    return board.frame.to_room(((size.length + size.lean) / 2, size.width / 2))


def planned_boards(lay_area: Region, floor: Floor, drift: Drift | None = None) -> tuple[LaidBoard, ...]:
    """The boards of the plan that can reach the lay area from where they lie."""
    points = [point for polygon in lay_area for point in polygon[0]]
    if drift is not None:
        points += [drift.planned(point) for point in points]
    refuse_faulty_floor(floor, points)
    return tuple(boards_over(find_pattern(floor.pattern), floor, points))


def laid_parts(
    lay_area: Region, floor: Floor, drift: Drift
) -> tuple[tuple[tuple[LaidBoard, Region], ...], float]:
    """Each board where it lies with its parts of the lay area, and what open joints take; proved.

    Raises Refused as ``nominal_pieces``.
    """
    planned = planned_boards(lay_area, floor, drift)
    laid = [moved_board(board, drift) for board in planned]
    rings = [drift.split(board.ring) for board in planned]
    cells = [tuple(drift.moved(point) for point in ring) for ring in rings]
    clipped = kernel().clip(lay_area, [*cells, *(board.ring for board in laid)])
    of_cells, of_boards = clipped[: len(cells)], clipped[len(cells) :]
    prove_lattice(find_pattern(floor.pattern), floor, sorted({board.row for board in planned}))
    pairs = tuple(zip(laid, of_boards, strict=True))
    apart = (
        max(dist(drift.moved(point), drift.moved_with(middle_of(board), point)) for point in ring)
        for board, ring in zip(planned, rings, strict=True)
    )
    joints = prove_laid(list(zip(apart, of_cells, strict=True)), pairs, lay_area)
    return tuple((board, kept) for board, region in pairs if (kept := without_crumbs(region))), joints


def floor_as_it_lies(
    lay_area: Region,
    cutter: Cutter,
    floor: Floor,
    taken: Sequence[FloorTaken],
    report: Report,
) -> FloorAsItLies:
    """The pieces after the floor was taken as it lies, once or more often."""
    drift = drift_of(taken[-1])
    report("Laying the pattern as it lies", 0.1)
    parts, joints = laid_parts(lay_area, floor, drift)
    older, keeps = _older(taken), taken[-1].keeps
    pieces = {piece.id: piece for piece in cutter.cut(_to_cut(parts, keeps, cutter), report)}
    # Of what is kept as it was cut only the place is looked at.
    ideals = {board_id(board, cutter.count_from): region[0] for board, region in parts if len(region) == 1}
    ideals |= {piece.id: piece.ideal for piece in pieces.values()}
    boards = {board_id(board, cutter.count_from): board for board in planned_boards(lay_area, floor, drift)}
    for number in sorted(set(older.values())):
        for piece in _list(lay_area, floor, taken[:number], cutter):
            if older.get(piece.id) == number and board_of(piece.id) in boards:
                board = moved_board(boards[board_of(piece.id)], drift)
                pieces[piece.id] = _kept(piece, board, ideals.get(piece.id), cutter.field)
    ordered = sorted(pieces.values(), key=lambda piece: (piece.row, piece.place, piece.board.hand, piece.id))
    return FloorAsItLies(drift=drift, pieces=tuple(ordered), keeps=frozenset(older), joints=joints)


def _older(taken: Sequence[FloorTaken]) -> dict[str, int]:
    """For each piece that is kept: the list it was cut from, 0 the plan's, 1 that of the first taking, …"""
    lists: dict[str, int] = {}
    for number, one in enumerate(taken):
        # What is kept stays with its list; what was kept before and is not now is cut anew.
        lists = {name: lists.get(name, number) for name in one.keeps}
    return lists


def board_of(piece: str) -> str:
    """The board that a piece is named after: ``7-12L.2`` is the second part of ``7-12L``."""
    return piece.partition(".")[0]


def _to_cut(parts: Parts, keeps: Collection[str], cutter: Cutter) -> Parts:
    """The boards that are not kept as they were cut."""
    return tuple(
        (board, region)
        for board, region in parts
        if len(region) > 1 or board_id(board, cutter.count_from) not in keeps
    )


def _list(lay_area: Region, floor: Floor, taken: Sequence[FloorTaken], cutter: Cutter) -> tuple[Piece, ...]:
    """The pieces of the list cut after these takings: all of them, for they share the saw's settings."""
    drift = drift_of(taken[-1]) if taken else None
    boards = planned_boards(lay_area, floor, drift)
    laid = [board if drift is None else moved_board(board, drift) for board in boards]
    regions = kernel().clip(lay_area, [board.ring for board in laid])
    prove_inside(list(zip(laid, regions, strict=True)))
    kept = ((board, without_crumbs(region)) for board, region in zip(laid, regions, strict=True))
    parts = tuple((board, region) for board, region in kept if region)
    return cutter.cut(_to_cut(parts, taken[-1].keeps if taken else (), cutter), lambda step, done: None)


def _kept(piece: Piece, board: LaidBoard, now: Polygon | None, field: GapField) -> Piece:
    """A piece as it was cut, where its board lies now, with what the board's part is ``now``."""
    ideal = now or tuple(_carried(ring, piece.board, board) for ring in piece.ideal)
    return replace(
        piece, board=board, ideal=ideal, sawn=gauged_anew(piece.sawn, BoardGapField(field, board.frame))
    )


def _carried(ring: Iterable[Point], before: LaidBoard, now: LaidBoard) -> tuple[Point, ...]:
    return now.frame.ring_to_room(before.frame.ring_to_board(ring))


def gauged_anew(sawn: SawnPiece, field: BoardGapField) -> SawnPiece:
    """The same piece elsewhere: the gaps at its cuts as they are there."""
    gaps = tuple(field.at(point) for cut in sawn.cuts for point in edge_samples(cut.points))
    return replace(sawn, gaps=gaps)


def kept_warnings(pieces: Iterable[Piece], fitted: Mapping[str, bool]) -> Iterator[Finding]:
    """A warning for each kept piece whose gap, where it lies, leaves its band."""
    for piece in pieces:
        outside = [gap for gap in piece.sawn.gaps if not gap.is_inside_band]
        if not outside:
            continue
        worst = max(outside, key=lambda gap: gap.to_band)
        what = "is fitted, and where it lies" if fitted.get(piece.id) else "is cut, and where its board lies"
        yield Finding(
            path=f"progress.{piece.id}",
            code="gap of kept piece",
            level="warning",
            sentence=f"Piece {piece.id} {what} the gap to {worst.barrier.name} comes to "
            f"{number_text(worst.distance, 1)} mm instead of "
            f"{band_text(worst.barrier.gap, worst.barrier.tolerance)} mm. Look whether it can stay.",
        )
