"""The lines to strike and their marks, as a page shows them."""

from collections.abc import Iterator, Sequence

from engine.drawing.paths import line_path, ring_path, spot
from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point
from engine.model.laid import ROW_AXIS, SQUARE_TO_IT
from engine.planning.field import Interval, whole_along
from engine.planning.floor_plan import FloorPlan
from engine.planning.line_names import shown_name
from engine.planning.lines_as_they_lie import AS_IT_LIES, PARALLELS, PARALLELS_AS_THEY_LIE
from engine.planning.pieces import Piece
from engine.planning.setting_out import ALONG_ROWS, START_LINE, SettingOut
from engine.setting_out.square import SquareCheck
from engine.setting_out.strike_lines import StrikeLine, WantedLine, placed
from engine.setting_out.ties import GOOD_ANGLE, Mark, Tie
from engine.wire.drawings import Figure, Label
from engine.wire.figures import Writer, figure
from engine.wire.line_words import the_line
from engine.wire.mark_numbers import NEW_LINES, number_spots
from engine.wire.setting_out_drawings import MarkDrawing, SquareDrawing, StrikeDrawing

# A mark this much farther from a wall than its gap still lies at that wall, mm.
AT_WALL = 2.0
# Lines turned by less against each other are as far apart all along, to a millimetre in ten metres.
PARALLEL = 1e-4
FIRST_WORDS = "Strike it first: all others are held against it."
MISSED_WORDS = "The row axis itself misses the floor."
SQUARE_WORDS = "With this line struck see “Is it square?” before you strike the next."
LINE_WORDS = {
    SQUARE_TO_IT: "Square to the row axis, through the point where boards meet in the plan.",
    ALONG_ROWS: "The rows run along it.",
    START_LINE: "Square to the rows, where the first boards begin.",
    AS_IT_LIES: "Where the laid floor has its row axis now. Lay the rest by it, and strike it in another "
    "colour: readings still count from the first row axis.",
}


def strike_drawings(plan: FloorPlan, sheet: SettingOut, writer: Writer) -> tuple[StrikeDrawing, ...]:
    """Every line in the order of striking; marks are numbered through."""
    boards, spots = sheet.whole_boards, number_spots(plan, sheet.lines)
    return tuple(
        _drawing(plan, sheet, line, 2 * index + 1, (boards, spots), writer)
        for index, line in enumerate(sheet.lines)
    )


def _drawing(
    plan: FloorPlan,
    sheet: SettingOut,
    line: StrikeLine,
    number: int,
    around: tuple[Sequence[Piece], Sequence[Point]],
    writer: Writer,
) -> StrikeDrawing:
    boards, spots = around
    ends = (f"mark {number}", f"mark {number + 1}")
    return StrikeDrawing(
        name=shown_name(line.name),
        is_struck=plan.as_it_lies is not None and line.wanted.name not in NEW_LINES,
        path=line_path((line.start.at, line.end.at)),
        words=" ".join(_line_words(sheet, line, writer)),
        length=figure(
            "length",
            f"From {ends[0]} to {ends[1]}",
            writer.length(line.length),
            "mm",
            "line length",
            *((name, _place_text(mark.at, writer)) for name, mark in zip(ends, line.marks, strict=True)),
        ),
        marks=(
            _mark(plan, line.start, number, spots[number - 1], writer),
            _mark(plan, line.end, number + 1, spots[number], writer),
        ),
        laser=tuple(_laser(tie, line, writer) for tie in line.checks),
        field=tuple(_field(reach, ends[0], len(boards), writer) for reach in whole_along(line, boards)),
    )


def _field(reach: Interval, mark: str, boards: int, writer: Writer) -> Figure:
    return figure(
        "field",
        f"Whole boards lie at it, from {mark}",
        f"{writer.length(reach[0])} to {writer.length(reach[1])}",
        "mm",
        "whole boards at a line",
        ("whole boards", str(boards)),
    )


def _line_words(sheet: SettingOut, line: StrikeLine, writer: Writer) -> Iterator[str]:
    name = line.wanted.name
    if name == sheet.lines[0].wanted.name and all(each.wanted.name not in NEW_LINES for each in sheet.lines):
        yield FIRST_WORDS
    if name in PARALLELS_AS_THEY_LIE:
        yield _parallel_words(sheet, line.wanted, writer)
    elif name in PARALLELS:
        yield (
            f"{writer.mm(sheet.rows.parallel)} to the {name.split()[0]} of {the_line(sheet.crossing[0])}: "
            "corners of boards lie on it."
        )
    if name in LINE_WORDS:
        yield LINE_WORDS[name]
    if name == SQUARE_TO_IT and all(each.wanted.name != ROW_AXIS for each in sheet.lines):
        yield MISSED_WORDS
    if name in sheet.crossing:
        yield "The first boards lie on it."
    if line is _last_for_square(sheet):
        yield SQUARE_WORDS


def _last_for_square(sheet: SettingOut) -> StrikeLine | None:
    """The line with which all is struck that the square check takes."""
    names = sheet.square.names if sheet.square else ()
    return next((line for line in reversed(sheet.lines) if line.wanted.name in names), None)


def _parallel_words(sheet: SettingOut, line: WantedLine, writer: Writer) -> str:
    """How far a parallel as it lies is from the row axis as it lies, where they are parallel."""
    axis = next((each.wanted for each in sheet.lines if each.wanted.name == AS_IT_LIES), None)
    lies = "corners of boards still to be laid lie on it."
    if axis is None or not _are_parallel(axis, line):
        return f"By the laid floor {lies}"
    side = line.name.split()[0]
    return f"{writer.mm(abs(placed(axis, line.through)[1]))} to the {side} of the {AS_IT_LIES}: {lies}"


def _are_parallel(one: WantedLine, other: WantedLine) -> bool:
    (ux, uy), (vx, vy) = one.direction, other.direction
    return abs(ux * vy - uy * vx) < PARALLEL


def _mark(plan: FloorPlan, mark: Mark, number: int, at: Point, writer: Writer) -> MarkDrawing:
    corners = {corner.name: corner.at for corner in plan.room.outline.corners}
    taped = (*mark.ties, *([mark.check] if mark.check else []))
    return MarkDrawing(
        number=str(number),
        label=Label(text=str(number), at=spot(at)),
        tapes="".join(line_path((corners[tie.corner], mark.at)) for tie in taped),
        ties=tuple(_tie(tie, mark, writer) for tie in mark.ties),
        check=None if mark.check is None else _tie(mark.check, mark, writer, "Check, from"),
        along=_along(plan, mark, writer),
        known_to=figure(
            "known to",
            "Two tapes leave",
            f"± {writer.length(mark.known_to)}",
            "mm",
            "mark known to",
            ("the tapes cross at", writer.degrees(mark.angle)),
            *((f"from {tie.corner}", writer.mm(tie.distance)) for tie in mark.ties),
        ),
        words=_mark_words(mark),
    )


def _mark_words(mark: Mark) -> str:
    if not mark.in_sight:
        return "Something stands between: measure over it, with a level and a plumb."
    if mark.angle < GOOD_ANGLE:
        return "These tapes cross flatly and say little: prove the mark along the wall or by laser."
    if mark.check is None:
        return "No third corner is in sight: of both places where the tapes meet take the one in the drawing."
    return ""


def _tie(tie: Tie, mark: Mark, writer: Writer, words: str = "From") -> Figure:
    return figure(
        "tie",
        f"{words} {tie.corner}",
        writer.length(tie.distance),
        "mm",
        "tie to mark",
        ("mark", _place_text(mark.at, writer)),
    )


def _along(plan: FloorPlan, mark: Mark, writer: Writer) -> Figure | None:
    """How far along the wall the mark lies, from the nearer corner."""
    found = [(nearest_on_polyline(mark.at, wall.points), wall) for wall in plan.room.outline.walls]
    nearest, wall = min(found, key=lambda pair: pair[0].distance)
    if nearest.distance > wall.wall.gap + AT_WALL:
        return None
    rest = wall.length - nearest.station
    corner, station = (wall.from_, nearest.station) if nearest.station <= rest else (wall.to, rest)
    return figure(
        "along",
        f"Along {wall.name} from {corner}",
        writer.length(station),
        "mm",
        "along the wall",
        ("from the wall", writer.mm(nearest.distance)),
    )


def _laser(tie: Tie, line: StrikeLine, writer: Writer) -> Figure:
    side = "left" if tie.distance > 0 else "right"
    return figure(
        "laser",
        f"{tie.corner}, {side} of it",
        writer.length(abs(tie.distance)),
        "mm",
        "square to the line",
        ("line", shown_name(line.name)),
    )


def _place_text(point: Point, writer: Writer) -> str:
    return f"x {writer.length(point[0])}, y {writer.length(point[1])}"


def square_drawing(check: SquareCheck | None, writer: Writer) -> SquareDrawing | None:
    """The square check in the room."""
    if check is None:
        return None
    marks = (("P", check.at), ("Q", check.on_first), ("R", check.on_second))
    labels = [*marks, *([("S", check.fourth)] if check.fourth else [])]
    return SquareDrawing(
        path=_square_path(check),
        diagonals=_diagonals(check),
        labels=tuple(Label(text=name, at=spot(at)) for name, at in labels),
        figures=tuple(_square_figures(check, writer)),
        words=tuple(_square_words(check)),
    )


def _square_path(check: SquareCheck) -> str:
    if check.fourth is not None:
        return ring_path((check.at, check.on_first, check.fourth, check.on_second))
    return line_path((check.on_first, check.at, check.on_second))


def _diagonals(check: SquareCheck) -> str:
    across = line_path((check.on_first, check.on_second))
    return across if check.fourth is None else across + line_path((check.at, check.fourth))


def _square_figures(check: SquareCheck, writer: Writer) -> Iterator[Figure]:
    sides = (("P to Q", writer.mm(check.along)), ("P to R", writer.mm(check.across)))
    rows = (
        ("along", f"P to Q, on {the_line(check.names[0])}", check.along),
        ("across", f"P to R, on {the_line(check.names[1])}", check.across),
        ("diagonal", "Q to R", check.diagonal),
    )
    for key, label, length in rows:
        yield figure(key, label, writer.length(length), "mm", "three four five", *sides)
    if check.fourth is not None:
        yield figure(
            "other diagonal",
            "P to S, the same",
            writer.length(check.diagonal),
            "mm",
            "equal diagonals",
            *sides,
        )


def _square_words(check: SquareCheck) -> Iterator[str]:
    first, second = (the_line(name) for name in check.names)
    yield f"P is where {first} and {second} cross. Mark Q on the one, R on the other."
    yield "Q to R as given: the lines are square. Longer: the angle at P is open; shorter: it is shut."
    if check.fourth is not None:
        yield "With S as far from Q as R is from P, both diagonals are equal when all is square."
