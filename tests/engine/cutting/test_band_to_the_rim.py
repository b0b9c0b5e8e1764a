"""All cuts of a corridor hold the band as far as the board goes: also where the cut meets its edges."""

from math import cos, radians, sin, tan

import pytest

from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.sawn_piece import plan_cuts, saw_piece
from engine.cutting.straight_cut import BAND_MARGIN
from engine.cutting.treatment import StraightCuts
from engine.geometry.frame import Frame
from tests.engine.cutting.one_board import SIZE, wall_for


@pytest.mark.parametrize("tolerance", [0.3, 2.0, 5.0])
@pytest.mark.parametrize("angle", [-60.0, -45.0, -20.0, 0.0, 3.0, 45.0, 65.0])
def test_a_cut_at_either_end_of_its_range_of_angles_holds_the_band(angle: float, tolerance: float) -> None:
    """Else such a piece would keep a setting of the saw for itself.

    The range itself is that of plane geometry: a
    cut as long as the board is wide, along one wall, may turn by twice the band over its length.
    """
    lean = 90 * tan(radians(angle))
    barrier = wall_for((300 + lean / 2, 0.0), (300 - lean / 2, 90.0), tolerance=tolerance)
    field = BoardGapField(GapField([barrier]), Frame(0.0, 0.0, 0.0))
    ring = ((0.0, 0.0), (300 + lean / 2, 0.0), (300 - lean / 2, 90.0), (0.0, 90.0))
    planned = plan_cuts((ring,), SIZE, field, 0.0)
    (run,) = [number for number, each in enumerate(planned.treatments) if isinstance(each, StraightCuts)]
    treatment = planned.treatments[run]
    assert isinstance(treatment, StraightCuts)
    corridor = treatment.lines[0].corridor
    assert corridor is not None
    for slope in corridor.slopes():
        line = corridor.line(slope, is_set=True)
        wanted = (*planned.treatments[:run], StraightCuts((line,)), *planned.treatments[run + 1 :])
        piece, used = saw_piece(planned, wanted)
        assert used == wanted
        assert piece.gap_least is not None
        assert piece.gap_most is not None
        assert piece.gap_least == pytest.approx(10 - tolerance + BAND_MARGIN, abs=0.002)
        assert piece.gap_most == pytest.approx(10 + tolerance - BAND_MARGIN, abs=0.002)
        # Both ends lie on the board's edges, 90 mm apart across it, the one in and the other out.
        turned = abs(corridor.angle_of(slope) - angle)
        length = 90 / cos(radians(corridor.angle_of(slope)))
        assert sin(radians(turned)) * length == pytest.approx(2 * (tolerance - BAND_MARGIN), abs=1e-6)
