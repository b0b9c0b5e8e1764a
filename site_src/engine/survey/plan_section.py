"""The survey as the plan file tells it."""

from math import isinf

from engine.survey.network import Adjusted, Adjustment
from engine.survey.outline import Outline
from engine.survey.reliability import smallest_blunder
from engine.survey.report import SurveyReport, WallReport


def survey_section(outline: Outline, report: SurveyReport) -> dict[str, object]:
    """The plan file's ``survey``: lengths in mm, headings in degrees.

    ``smallest_blunder`` is null when some length is checked by no other, or
    when there are no lengths; so is a length's own.
    """
    adjustment = report.adjustment
    return {
        "corners": {corner.name: [*corner.at] for corner in outline.corners},
        "angles": {corner.name: corner.angle for corner in outline.corners},
        "ellipses": _ellipses(outline),
        "residuals": [_residual(line) for line in adjustment.lengths] if adjustment else [],
        "smallest_blunder": _finite(smallest_blunder(adjustment)) if adjustment else None,
        "walls": [_wall(wall) for wall in report.walls],
    }


def _ellipses(outline: Outline) -> dict[str, dict[str, float]]:
    """95 % ellipses in the frame of the first two corners; none for corners measured by x and y."""
    adjustment: Adjustment | None = outline.adjustment
    if adjustment is None:
        return {}
    found = {corner.name: adjustment.ellipse(corner.name) for corner in outline.corners}
    return {
        name: {"major": ellipse.major, "minor": ellipse.minor, "heading": ellipse.heading}
        for name, ellipse in found.items()
    }


def _residual(line: Adjusted) -> dict[str, object]:
    return {
        "from": line.length.from_,
        "to": line.length.to,
        "observed": line.length.value,
        "adjusted": line.adjusted,
        "redundancy": line.redundancy,
        "w": line.w,
        "smallest_blunder": _finite(line.smallest_blunder),
    }


def _wall(wall: WallReport) -> dict[str, object]:
    return {
        "from": wall.line.from_,
        "to": wall.line.to,
        "bow": wall.line.bow,
        "read_next": [wall.next.station, wall.next.gain],
        "band": wall.next.now,
        "shape": wall.proposal.kind,
    }


def _finite(value: float) -> float | None:
    return None if isinf(value) else value
