"""Lines of equal value through a grid of values, as SVG path data (marching squares)."""

from collections.abc import Iterator, Sequence

from engine.drawing.paths import short_number
from engine.geometry.shapes import Point

Grid = Sequence[Sequence[float]]


def contour_path(rows: Grid, level: float, width: float, height: float) -> str:
    """Where a grid laid over a drawing of that size passes a level.

    The first row lies at the bottom of the drawing; the path's y runs downwards.
    """
    return "".join(f"M{_text(start)}L{_text(end)}" for start, end in _segments(rows, level, width, height))


def cells_path(rows: Grid, low: float, high: float, width: float, height: float) -> str:
    """The cells of the grid whose middle value is at least ``low`` and below ``high``."""
    down, right = len(rows) - 1, len(rows[0]) - 1
    step_x, step_y = width / right, height / down
    path = []
    for i in range(down):
        for j in range(right):
            middle = (rows[i][j] + rows[i][j + 1] + rows[i + 1][j] + rows[i + 1][j + 1]) / 4
            if low <= middle < high:
                corner = _text((j * step_x, height - (i + 1) * step_y))
                path.append(
                    f"M{corner}h{short_number(step_x)}v{short_number(step_y)}h-{short_number(step_x)}Z"
                )
    return "".join(path)


def _segments(rows: Grid, level: float, width: float, height: float) -> Iterator[tuple[Point, Point]]:
    down, right = len(rows) - 1, len(rows[0]) - 1
    for i in range(down):
        for j in range(right):
            square = ((i, j), (i, j + 1), (i + 1, j + 1), (i + 1, j))
            crossed = []
            for (a, b), (c, d) in zip(square, square[1:] + square[:1], strict=True):
                one, other = rows[a][b] - level, rows[c][d] - level
                if (one < 0) != (other < 0):
                    share = one / (one - other)
                    x, y = (b + share * (d - b)) / right, (a + share * (c - a)) / down
                    crossed.append((x * width, height - y * height))
            # A saddle crosses all four sides: either way of joining them is true to the grid.
            yield from zip(crossed[::2], crossed[1::2], strict=True)


def _text(point: Point) -> str:
    return f"{short_number(point[0])} {short_number(point[1])}"
