"""A wall's curve against scipy and against figures printed elsewhere."""

from itertools import pairwise
from math import dist, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.optimize import minimize_scalar

from engine.survey.arcs import Arc, best_sagitta
from engine.survey.curves import sample, shape_keeping_curve, wall_curve

CHORD = 4000.0
PLACES = np.linspace(0, CHORD, 331)

Readings = list[tuple[float, float]]

readings = st.dictionaries(
    st.integers(1, 159).map(lambda k: k * 25.0),
    st.floats(-60, 60).map(lambda y: round(y, 3)),
    min_size=1,
    max_size=10,
).map(lambda found: sorted(found.items()))


def _with_corners(found: Readings) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    points = np.array([(0, 0), *found, (CHORD, 0)], dtype=float)
    return points[:, 0], points[:, 1]


@settings(deadline=None)
@given(readings)
def test_smooth_wall_is_scipys_not_a_knot_spline(found: Readings) -> None:
    """Offset, slope and bend are those of scipy.interpolate.CubicSpline with bc_type "not-a-knot"."""
    ours, theirs = wall_curve("smooth", CHORD, found), CubicSpline(*_with_corners(found))
    scale = max(1.0, np.abs(theirs(PLACES)).max())
    assert [ours.offset(x) for x in PLACES] == pytest.approx(theirs(PLACES), abs=1e-9 * scale)
    assert [ours.slope(x) for x in PLACES] == pytest.approx(theirs(PLACES, 1), abs=1e-10 * scale)
    middles = PLACES[:-1] + 0.123  # never at a knot of these grids, where the end formulas may differ in side
    assert [ours.bend(x) for x in middles] == pytest.approx(theirs(middles, 2), abs=1e-10 * scale)


@settings(deadline=None)
@given(readings)
def test_shape_keeping_wall_is_scipys_pchip(found: Readings) -> None:
    """The curve that never overshoots is scipy.interpolate.PchipInterpolator."""
    ours, theirs = shape_keeping_curve(CHORD, found), PchipInterpolator(*_with_corners(found))
    assert [ours.offset(x) for x in PLACES] == pytest.approx(theirs(PLACES), abs=1e-10)


@settings(deadline=None)
@given(st.floats(-1500, 1500), st.lists(st.floats(-15, 15), min_size=3, max_size=3))
def test_arc_has_the_sagitta_that_scipy_finds(sagitta: float, noise: list[float]) -> None:
    """One unknown, least squares: scipy.optimize.minimize_scalar finds no lower sum of squares."""
    true = Arc(CHORD, sagitta)
    found = [(x, true.offset(x) + e) for x, e in zip((700.0, 1900.0, 3100.0), noise, strict=True)]

    def squares(s: float) -> float:
        return sum((Arc(CHORD, s).offset(x) - y) ** 2 for x, y in found)

    theirs = minimize_scalar(
        squares, bounds=(sagitta - 60, sagitta + 60), method="bounded", options={"xatol": 1e-10}
    )
    assert squares(best_sagitta(CHORD, found)) <= theirs.fun + 1e-6


@pytest.mark.parametrize(
    ("chord", "sagitta", "radius", "digits"),
    [
        (12, 2, 10, 12),  # TRADE.md, Geometry: published worked example (V)
        (20_000, 50.0013, 1_000_000, 1),  # TRADE.md, Geometry (calc)
        (4000, 100.2513, 20_000, 2),  # TRADE.md, Geometry (calc)
    ],
)
def test_bow_and_radius_belong_together(chord: float, sagitta: float, radius: float, digits: int) -> None:
    """R = c²/8s + s/2 gives the published radius, and s = R − √(R² − c²/4) the bow again."""
    arc = Arc(chord, radius - sqrt(radius**2 - chord**2 / 4))
    assert arc.offset(chord / 2) == pytest.approx(sagitta, abs=5e-5)
    assert arc.radius == pytest.approx(radius, rel=10.0**-digits)


def test_published_bow_of_a_long_arc() -> None:
    """R 15, chord 20 → bow 3.82 (TRADE.md, Geometry: published (V))."""
    assert round(Arc(20, 15 - sqrt(15**2 - 10**2)).offset(10), 2) == 3.82


@pytest.mark.parametrize(
    ("kind", "step", "printed", "digits"),
    [
        # TRADE.md, Geometry, "curve through offsets, error against a true arc R 5 m, chord 4 m" (calc).
        ("straight", 1000, 28.9, 1),
        ("straight", 500, 7.6, 1),
        ("straight", 250, 1.96, 2),
        ("smooth", 1000, 0.84, 2),
        ("smooth", 500, 0.080, 3),
        ("smooth", 250, 0.006, 3),
    ],
)
def test_error_between_stations_is_the_stated_one(kind: str, step: int, printed: float, digits: int) -> None:
    """Read on a true arc at that spacing, the curve misses it by no more and no less than TRADE.md says."""
    true = Arc(CHORD, 5000 - sqrt(5000**2 - 2000**2))
    found = [(float(x), true.offset(x)) for x in range(step, 4000, step)]
    curve = wall_curve(kind, CHORD, found)  # type: ignore[arg-type]
    worst = max(abs(curve.offset(x) - true.offset(x)) for x in range(0, 4000, 5))
    assert round(worst, digits) == printed


@settings(deadline=None)
@given(readings, st.sampled_from(["smooth", "straight", "arc"]))
def test_sampled_wall_keeps_its_chord_error(found: Readings, kind: str) -> None:
    """No point of the curve lies farther than 0.01 mm from the drawn line, and every reading is drawn."""
    curve = wall_curve(kind, CHORD, found)  # type: ignore[arg-type]
    points = sample(curve)
    for (x0, y0), (x1, y1) in pairwise(points):
        for share in (0.2, 0.5, 0.8):
            x = x0 + share * (x1 - x0)
            sagging = abs(curve.offset(x) - (y0 + share * (y1 - y0))) * (x1 - x0)
            assert sagging / dist((x0, y0), (x1, y1)) < 0.0101
    if kind != "arc":
        assert {x for x, _ in found} <= {x for x, _ in points}
