"""What of a board lies over an edge between two stations of it, by the heights of its points over it."""

from collections.abc import Sequence

from engine.setting_out.board_over import Over
from engine.setting_out.piece_left import Heights, clipped
from engine.setting_out.searched_edge import Cut


def heights_inside(over: Over, outer: Sequence[Cut], start: float, end: float) -> list[float]:
    """The heights over an edge, between its ends, of what the edges beside it leave of a board."""
    beside = [cut.over.heights for cut in outer]
    rows = _between([list(row) for row in zip(over.heights, over.stations, *beside, strict=True)], start, end)
    for column in range(2, 2 + len(outer)):
        rows = clipped(rows, column)
    return [row[0] for row in rows]


def heights_between(heights: Heights, stations: Sequence[float], low: float, high: float) -> list[float]:
    """The board's heights over an edge between two stations, those of its part's corners in any order."""
    if low > high:
        return []
    found = []
    before, last = stations[-1], heights[-1]
    for station, height in zip(stations, heights, strict=True):
        for end in (low, high):
            if (station < end) != (before < end):
                found.append(last + (end - before) / (station - before) * (height - last))
        if low <= station <= high:
            found.append(height)
        before, last = station, height
    return found


def _between(rows: list[list[float]], low: float, high: float) -> list[list[float]]:
    """What of a ring, its points' heights, stations and what else is told, lies between two stations."""
    stations = [station for _, station, *_ in rows]
    rows = [[height, station - low, *others] for height, station, *others in rows]
    if min(stations) < low:
        rows = clipped(rows, 1)
    if max(stations) > high:
        rows = clipped([[height, high - low - along, *others] for height, along, *others in rows], 1)
    return rows
