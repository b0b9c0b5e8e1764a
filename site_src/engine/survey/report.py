"""What the survey of a room is worth: bands, the readings in doubt, and where to read next."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from engine.errors import Finding
from engine.model.job import Room
from engine.survey.band import Band, check_finding, wall_band
from engine.survey.corners import between_placed, room_lengths
from engine.survey.instruments import OFFSET_SD
from engine.survey.network import Adjustment, adjust
from engine.survey.network_words import network_findings, suspicion
from engine.survey.outline import Outline, WallLine
from engine.survey.read_next import ReadNext, read_next
from engine.survey.reliability import suspects
from engine.survey.roughness import Stretch, room_roughness, wall_stretches
from engine.survey.shape import Proposal, propose_shape
from engine.survey.suspects import OffsetCheck, check_offsets, most_likely_wrong
from engine.units import number_text


class WallReport(Struct, frozen=True, kw_only=True):
    """One wall: its band, the station to read next, the shape its readings speak for.

    ``checks`` hold each reading against all others of the room.
    """

    line: WallLine
    band: Band
    next: ReadNext
    proposal: Proposal
    checks: tuple[OffsetCheck, ...]


class SurveyReport(Struct, frozen=True, kw_only=True):
    """The whole survey. ``roughness`` is that of the walls in mm²/mm³.

    ``adjustment`` holds the corners against the measured lengths: adjusted when
    they were solved, as they are when they were measured by x and y. None
    without any length.
    """

    walls: tuple[WallReport, ...]
    roughness: float
    adjustment: Adjustment | None
    findings: tuple[Finding, ...]


def survey_report(room: Room, outline: Outline) -> SurveyReport:
    """Rate the survey behind an outline that was computed from the same room."""
    stretches = [_stretches(line) for line in outline.walls]
    flat = [stretch for group in stretches for stretch in group]
    q, checks = room_roughness(flat), check_offsets(flat)
    walls = tuple(
        _wall_report(line, group, q, _checks_of(stretches, index, checks))
        for index, (line, group) in enumerate(zip(outline.walls, stretches, strict=True))
    )
    adjustment = outline.adjustment or _against_corners(room)
    findings = (*_corner_findings(outline, adjustment), *_wall_findings(walls))
    return SurveyReport(walls=walls, roughness=q, adjustment=adjustment, findings=findings)


def offset_sd_of(line: WallLine) -> float:
    """Standard deviation of one offset on the wall in mm: its own, else half a millimetre."""
    return OFFSET_SD if line.wall.offset_sd is None else line.wall.offset_sd


def _stretches(line: WallLine) -> tuple[Stretch, ...]:
    return wall_stretches(line.chord, line.wall.offsets, line.wall.breaks, offset_sd_of(line))


def _checks_of(
    stretches: Sequence[Sequence[Stretch]], index: int, checks: Sequence[OffsetCheck]
) -> tuple[OffsetCheck, ...]:
    before = sum(len(group) for group in stretches[:index])
    return tuple(check for check in checks if before <= check.stretch < before + len(stretches[index]))


def _wall_report(
    line: WallLine, stretches: Sequence[Stretch], q: float, checks: tuple[OffsetCheck, ...]
) -> WallReport:
    band, sd = wall_band(line.curve, stretches, q), offset_sd_of(line)
    return WallReport(
        line=line,
        band=band,
        next=read_next(band, sd),
        proposal=propose_shape(line.chord, line.wall.offsets, sd, line.wall.breaks),
        checks=checks,
    )


def _against_corners(room: Room) -> Adjustment | None:
    """Measured lengths against corners measured by x and y, the error of both ends worked in."""
    if not (lengths := room_lengths(room)) or room.corners is None:
        return None
    return adjust(between_placed(lengths), room.corners, ())


def _corner_findings(outline: Outline, adjustment: Adjustment | None) -> tuple[Finding, ...]:
    if adjustment is None:
        return ()
    if outline.adjustment is not None:
        return network_findings([corner.name for corner in outline.corners], adjustment)
    return tuple(suspicion([line]) for line in suspects(adjustment)[:1])


def _wall_findings(walls: Sequence[WallReport]) -> Iterator[Finding]:
    worst = most_likely_wrong([check for wall in walls for check in wall.checks])
    for wall in walls:
        if worst is not None and worst in wall.checks:
            yield _stands_out(wall, worst)
        yield from _check_readings(wall)


def _stands_out(wall: WallReport, check: OffsetCheck) -> Finding:
    index = wall.line.wall.offsets.index((check.station, check.offset))
    return Finding(
        path=f"{wall.line.path}.offsets[{index}]",
        code="reading stands out",
        level="warning",
        sentence=f"The reading at station {number_text(check.station, 0)} mm of wall {wall.line.name} is "
        f"{number_text(abs(check.away), 0)} mm away from what the other readings say. Read it again; "
        "if the wall jumps there, mark a break.",
    )


def _check_readings(wall: WallReport) -> Iterator[Finding]:
    line = wall.line
    for index, (station, offset) in enumerate(line.wall.checks):
        path = f"{line.path}.checks[{index}]"
        found = check_finding(wall.band, station, offset, offset_sd_of(line), path, line.name)
        if found is not None:
            yield found
    if line.wall.offsets and not line.wall.checks:
        yield Finding(
            path=line.path,
            code="no check reading",
            level="note",
            sentence=f"Wall {line.name} has no check reading. Read it at station "
            f"{number_text(wall.next.station, 0)} mm, where the band is ±{number_text(wall.next.now, 1)} mm.",
        )
