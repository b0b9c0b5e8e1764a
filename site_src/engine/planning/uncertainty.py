"""Which pieces the survey cannot vouch for: where the wall may lie so that the cut leaves its gap band."""

from collections.abc import Iterable, Iterator, Mapping

from engine.cutting.gap_field import BoardGapField
from engine.cutting.stop import DoubtAt
from engine.errors import Finding
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point
from engine.planning.pieces import Piece
from engine.survey.report import SurveyReport, WallReport
from engine.units import number_text


def doubt_at(survey: SurveyReport) -> DoubtAt:
    """How well the wall that binds at a point is known (± mm, two standard deviations); 0 for a thing."""
    walls = {wall.line.name: wall for wall in survey.walls}

    def at(field: BoardGapField, point: Point) -> float:
        wall = walls.get(field.at(point).barrier.name)
        return 0.0 if wall is None else _half_width(wall, field.frame, point)

    return at


def unsure_pieces(pieces: Iterable[Piece], survey: SurveyReport) -> dict[str, tuple[str, float]]:
    """Piece id → the wall and how well it is known there (± mm, two standard deviations).

    Only pieces whose gap may leave its band within that.
    """
    walls = {wall.line.name: wall for wall in survey.walls}
    found = ((piece.id, _doubt(piece, walls)) for piece in pieces if piece.sawn.cuts)
    return {name: doubt for name, doubt in found if doubt is not None}


def _doubt(piece: Piece, walls: Mapping[str, WallReport]) -> tuple[str, float] | None:
    """The wall that is known worst among those where the doubt is larger than what the band has left."""
    doubts: list[tuple[float, str]] = []
    for cut in piece.sawn.cuts:
        wall = walls.get(cut.barrier.name)
        if wall is None:
            continue
        doubt = max(_half_width(wall, piece.board.frame, point) for point in cut.points)
        if doubt > left_of_band(piece, cut.barrier.name):
            doubts.append((doubt, cut.barrier.name))
    return (max(doubts)[1], max(doubts)[0]) if doubts else None


def _half_width(wall: WallReport, frame: Frame, point: Point) -> float:
    (ax, ay), (bx, by), (x, y) = wall.line.start, wall.line.end, frame.to_room(point)
    station = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / wall.line.chord
    return wall.band.half_width(min(max(station, 0.0), wall.line.chord))


def left_of_band(piece: Piece, barrier: str) -> float:
    """What the piece's gap may still change before it leaves its band, in mm."""
    gaps = [gap for gap in piece.sawn.gaps if gap.barrier.name == barrier]
    return -max((gap.to_band for gap in gaps), default=0.0)


def unsure_warnings(unsure: Mapping[str, tuple[str, float]], survey: SurveyReport) -> Iterator[Finding]:
    """One warning a wall: how many pieces hang on it, and where one more reading helps most.

    Walls that nobody has read yet are named together.
    """
    doubtful = {name for name, _ in unsure.values()}
    walls = [wall for wall in survey.walls if wall.line.name in doubtful]
    unread = [wall.line.name for wall in walls if not wall.line.wall.offsets]
    if unread:
        yield _not_read(unread)
    for wall in walls:
        if wall.line.wall.offsets:
            yield _unsure(wall, [doubt for name, doubt in unsure.values() if name == wall.line.name])


def _not_read(names: list[str]) -> Finding:
    """Nothing that is cut along these walls can be trusted."""
    listed = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    those = "it is taken as straight. Read it" if len(names) == 1 else "they are taken as straight. Read them"
    return Finding(
        path="room.walls",
        code="walls not read",
        level="warning",
        sentence=f"No readings yet on {listed}: {those} before anything is cut along there.",
    )


def _unsure(wall: WallReport, doubts: list[float]) -> Finding:
    pieces = "1 piece" if len(doubts) == 1 else f"{len(doubts)} pieces"
    return Finding(
        path=wall.line.path,
        code="wall not known well enough",
        level="warning",
        sentence=f"{pieces} along {wall.line.name}: the wall is known only to "
        f"±{number_text(max(doubts), 1)} mm there, and the gap may leave its tolerance. Read the "
        f"wall at station {number_text(wall.next.station, 0)} mm, or measure these at the wall.",
    )
