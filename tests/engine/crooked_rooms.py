"""Invented crooked rooms for property tests: four walls or a chimney breast, bowed, with things inside."""

from typing import Any

from hypothesis import strategies as st

from engine.patterns import pattern_names


def _numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False).map(lambda value: round(value, 2))


@st.composite
def corner_sets(draw: st.DrawFn) -> dict[str, list[float]]:
    width, depth = draw(_numbers(1600, 4200)), draw(_numbers(1500, 3600))

    def near(x: float, y: float) -> list[float]:
        return [round(x + draw(_numbers(-60, 60)), 2), round(y + draw(_numbers(-60, 60)), 2)]

    corners = [near(0, 0), near(width, 0), near(width, depth)]
    if draw(st.booleans()):
        breast_width, breast_depth = draw(_numbers(400, 700)), draw(_numbers(250, 450))
        corners += [near(breast_width + 300, depth), near(breast_width + 300, depth - breast_depth)]
        corners.append(near(0, depth - breast_depth))
    else:
        corners.append(near(0, depth))
    return dict(zip("ABCDEF", corners, strict=False))


@st.composite
def walls(draw: st.DrawFn, start: str, end: str, length: float) -> dict[str, Any]:
    curve = draw(st.sampled_from(["smooth", "smooth", "straight", "arc"]))
    count = draw(st.integers(0, 4))
    stations = [length * (i + 1) / (count + 1) for i in range(count)]
    bow = draw(_numbers(-20, 20))
    offsets = [
        [round(s, 1), round(bow * 4 * s / length * (1 - s / length) + draw(_numbers(-1.5, 1.5)), 2)]
        for s in stations
    ]
    return {
        "from": start,
        "to": end,
        "gap": draw(st.sampled_from([0.0, 3.0, 8.0, 10.0, 12.5])),
        "curve": curve,
        "offsets": offsets,
    }


@st.composite
def patterns(draw: st.DrawFn, length: float) -> dict[str, Any]:
    """Every other time a herringbone; else any other pattern, its board and what it takes."""
    width = round(length * draw(_numbers(0.1, 1.0)), 2)
    name = draw(st.just("herringbone") | st.sampled_from(pattern_names()))
    if name == "basket":
        width = length / draw(st.integers(1, 6))
    if name == "double herringbone":
        width = round(width / 2, 2)
    floor: dict[str, Any] = {"pattern": name, "board": {"length": length, "width": width}}
    if name == "chevron":
        floor["angle"] = draw(_numbers(5, 80))
    if name in ("straight", "diagonal"):
        floor["stagger"] = {"seed": draw(st.integers(0, 99))}
    return floor


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    """A whole job document whose room makes sense."""
    corners = draw(corner_sets())
    names = list(corners)
    pairs = list(zip(names, names[1:] + names[:1], strict=True))
    lengths = {
        (a, b): ((corners[a][0] - corners[b][0]) ** 2 + (corners[a][1] - corners[b][1]) ** 2) ** 0.5
        for a, b in pairs
    }
    fixed: list[dict[str, Any]] = []
    if draw(st.booleans()):
        x, y = draw(_numbers(500, 900)), draw(_numbers(450, 700))
        outline = [[x, y], [x + 400, y + 15], [x + 390, y + 300], [x - 5, y + 290]]
        fixed.append({"name": "plinth", "outline": outline, "gap": 8})
    if draw(st.booleans()):
        centre = [draw(_numbers(150, 1300)), draw(_numbers(120, 380))]
        fixed.append(
            {"name": "pipe", "centre": centre, "diameter": draw(st.sampled_from([15, 22, 110])), "gap": 6}
        )
    length = draw(_numbers(250, 900))
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "property test",
        "room": {
            "corners": corners,
            "walls": [draw(walls(a, b, lengths[a, b])) for a, b in pairs],
            "fixed": fixed,
        },
        "floor": {
            **draw(patterns(length)),
            "axis": draw(st.sampled_from([0.0, 45.0, 90.0]) | _numbers(-180, 180)),
            "anchor": [draw(_numbers(0, 2500)), draw(_numbers(0, 2500))],
        },
        "cutting": {
            "kerf": 2.4,
            "gap_tolerance": draw(st.sampled_from([0.5, 2.0, 3.0])),
            "sliver": 20,
            "saw_step": draw(st.sampled_from([0.0, 0.5, 1.0])),
        },
    }
