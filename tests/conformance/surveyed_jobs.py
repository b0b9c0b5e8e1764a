"""Invented rooms that were read in every way there is, to be worked out by desk and phone alike."""

from typing import Any

Reading = dict[str, Any]


def surveyed_jobs() -> dict[str, dict[str, Any]]:
    """What was read with → the job."""
    return {
        "inches": _job(_square_room(), _inches(), board=(600, 90), axis=71.3, anchor=(1800, 1300)),
        "datum line": _job({"walls": []}, _datum(), board=(490, 70), axis=0.0, anchor=(2500, 100)),
        "lengths and ties": _job(_bay(), _lengths(), board=(750, 125), axis=90.0, anchor=(1500, 1000)),
    }


def _job(
    room: dict[str, Any],
    readings: list[Reading],
    *,
    board: tuple[float, float],
    axis: float,
    anchor: tuple[float, float],
) -> dict[str, Any]:
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "Read on site",
        "room": room,
        "survey": {
            "instruments": [
                {"name": "laser", "kind": "laser", "accuracy": 1.5},
                {"name": "rule", "kind": "rule"},
            ],
            "readings": [{"id": f"r{n}", **reading} for n, reading in enumerate(readings, 1)],
        },
        "floor": {"board": {"length": board[0], "width": board[1]}, "axis": axis, "anchor": list(anchor)},
        "cutting": {"kerf": 2.4, "gap_tolerance": 2, "sliver": 20, "saw_step": 0.5},
    }


def _walls(corners: str, **common: Any) -> list[dict[str, Any]]:
    return [{"from": a, "to": b, **common} for a, b in zip(corners, corners[1:] + corners[0], strict=True)]


def _square_room() -> dict[str, Any]:
    return {
        "corners": {"A": [0, 0], "B": [3650, 12], "C": [3640, 2710], "D": [-8, 2695]},
        "walls": _walls("ABCD"),
    }


def _offsets(wall: str, typed: dict[int, str], **how: Any) -> list[Reading]:
    common = {"of": "offset", "from": wall[0], "to": wall[1], "instrument": "rule", **how}
    return [{**common, "station": station, "typed": text} for station, text in typed.items()]


def _inches() -> list[Reading]:
    """Fractions of an inch: a bow, a line in front of the wall, a straightedge."""
    line = {600: "1 7/8", 1200: "2-1/8", 1800: "2 5/16", 2400: "2.25", 3000: "1 15/16"}
    return [
        *_offsets("AB", {1825: "5/8"}, unit="in", by="bow"),
        *_offsets("CD", line, unit="in", by="line", stand_off=50.8),
        *_offsets("DA", {700: "1/8", 1400: "3/16", 2100: "1/16"}, unit="in", by="straightedge"),
        *_offsets("AB", {1825: "9/16"}, unit="in", by="bow", corrects="r1"),
    ]


def _datum() -> list[Reading]:
    right = {400: "1482", 1500: "1491.5", 2600: "1496", 3700: "1489", 4700: "1478"}
    left = {350: "1310", 1500: "1302", 2600: "1300.5", 3700: "1306", 4700: "1315"}
    beside = [("right", at, text) for at, text in right.items()] + [
        ("left", at, text) for at, text in left.items()
    ]
    common = {"of": "datum", "instrument": "laser"}
    return [
        *({**common, "side": side, "station": station, "typed": text} for side, station, text in beside),
        {**common, "side": "behind", "station": 0, "typed": "-12"},
        {**common, "side": "ahead", "station": 900, "typed": "5.031", "unit": "m"},
        {**common, "side": "ahead", "station": -1100, "typed": "501.8", "unit": "cm"},
    ]


def _bay() -> dict[str, Any]:
    pipe = {"name": "pipe", "centre": [0, 0], "diameter": 22, "gap": 8}
    return {"walls": [*_walls("ABCDE", gap=12)], "fixed": [pipe]}


def _lengths() -> list[Reading]:
    """Every wall and four ties; a pipe by two lengths; two walls read."""
    typed = {
        "AB": "3200.5", "BC": "2400", "CD": "1844.5", "DE": "1775.5", "EA": "2391",
        "AC": "4032", "BD": "3561", "BE": "4024", "CE": "3279.5",
    }  # fmt: skip
    lengths = [
        {"of": "length", "from": pair[0], "to": pair[1], "typed": text, "instrument": "laser"}
        for pair, text in typed.items()
    ]
    to_pipe = [
        {"of": "thing", "thing": "pipe", "from": corner, "typed": text}
        for corner, text in (("A", "340"), ("B", "2893.5"))
    ]
    bowed = _offsets("AB", {800: "6", 1600: "9.5", 2400: "7"}, by="bow")
    return [*lengths, *to_pipe, *bowed, *_offsets("CD", {950: "-4"}, by="bow")]
