"""The first boards, which way round they lie, and the order of laying, as a page shows them."""

from collections.abc import Iterator

from engine.drawing.first_boards import first_shapes, held_boards, roles_of, what_is_seen
from engine.drawing.paths import line_path, region_path, view_box
from engine.geometry.shapes import Point
from engine.patterns import find_pattern
from engine.patterns.edge_roles import Role
from engine.patterns.pattern import Edge, Hand
from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut
from engine.wire.board_pictures import board_picture, sides_of
from engine.wire.drawings import Figure
from engine.wire.figures import figure
from engine.wire.line_words import the_line
from engine.wire.setting_out_drawings import BoardsInHand, FirstBoards, LayingDrawing

# What is seen around the first boards, as a part of a board's length.
AROUND = 0.2

HAND_TEXT: dict[Hand, str] = {"L": "left board", "R": "right board"}
VERB_OF_ONE = {"go": "goes", "stay open": "stays open"}
END_TEXT = {"left": "left edge", "right": "right edge", "start": "start end", "far": "far end"}


def first_boards(plan: FloorPlan, sheet: SettingOut) -> FirstBoards:
    """The boards that are laid first, over the struck lines."""
    margin = AROUND * plan.job.floor.board.length
    return FirstBoards(
        view_box=view_box(what_is_seen(sheet), margin),
        lines=tuple(line_path((line.start.at, line.end.at)) for line in sheet.lines),
        boards=tuple(
            board_picture(shape, str(number)) for number, shape in enumerate(first_shapes(plan, sheet), 1)
        ),
        words=tuple(_first_words(plan, sheet)),
    )


def _first_words(plan: FloorPlan, sheet: SettingOut) -> Iterator[str]:
    if not sheet.first:
        yield "No whole board has room: begin with the piece that bears number 1."
        return
    one, other = map(the_line, sheet.crossing)
    if len(sheet.first) == 1:
        yield f"Lay board 1 with its corner where {one} and {other} cross."
    else:
        boards = "1 and 2" if len(sheet.first) == 2 else f"1 to {len(sheet.first)}"
        yield f"Lay boards {boards} where {one} and {other} cross."
    if sheet.at != plan.job.floor.anchor and _far(sheet.at, plan.job.floor.anchor):
        yield "Where boards meet in the plan lies off the floor: these are the nearest in the same rows."
    yield "The arrow runs from the start end to the far end."


def _far(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) + abs(one[1] - other[1]) > 1


def hand_names(plan: FloorPlan) -> dict[Hand, str]:
    """What boards of each hand are called, left ones first; only a board where there is but one."""
    hands = sorted({piece.board.hand for piece in plan.pieces})
    return dict.fromkeys(hands, "board") if len(hands) < 2 else {hand: HAND_TEXT[hand] for hand in hands}


def boards_in_hand(plan: FloorPlan) -> BoardsInHand:
    """Each hand of board upright, its start end below."""
    names, held = hand_names(plan), held_boards(plan)
    points = [point for each in held for point in (*each.shape.outline[0], each.below)]
    return BoardsInHand(
        view_box=view_box(points, plan.job.floor.board.width),
        boards=tuple(board_picture(each.shape, names[each.shape.hand], each.below) for each in held),
        words=tuple(_hand_words(roles_of(plan), tuple(names), names)),
    )


def _hand_words(roles: dict[Edge, Role], hands: tuple[Hand, ...], names: dict[Hand, str]) -> Iterator[str]:
    if len(hands) == 2 and all(roles.get((hand, "start")) == "goes in" for hand in hands):
        yield "Face up, tongue end towards you: a left board has its long tongue on the left."
    for hand in hands:
        goes, takes = (_listed(roles, hand, role) for role in ("goes in", "takes"))
        yield f"{names[hand].capitalize()}: {goes} into what lies; {takes} for the next boards."
        either = " and ".join(END_TEXT[side] for side in sides_of(roles, hand, "either"))
        if either:
            yield f"Its {either} go in at some places and take at others."
    yield "Tongues are drawn on the edges that go in. If your joint has the groove there, read it so."


def _listed(roles: dict[Edge, Role], hand: Hand, role: Role) -> str:
    sides = [END_TEXT[side] for side in sides_of(roles, hand, role)]
    verb = "go" if role == "goes in" else "stay open"
    return f"{' and '.join(sides)} {verb if len(sides) > 1 else VERB_OF_ONE[verb]}"


def laying_drawing(plan: FloorPlan, sheet: SettingOut) -> LayingDrawing:
    """Numbers for all pieces, and the edge of the whole boards."""
    whole = len(sheet.whole_boards)
    waiting = sheet.steps[sheet.field :]
    return LayingDrawing(
        field=region_path(sheet.covered),
        numbers={piece.id: str(number) for number, piece in enumerate(sheet.steps, 1)},
        waiting=tuple(piece.id for piece in waiting),
        figures=tuple(_counts(whole, sheet.field - whole, len(waiting))),
        words=tuple(_laying_words(plan, sheet)),
    )


def _counts(whole: int, in_turn: int, waiting: int) -> Iterator[Figure]:
    pieces = ("pieces in all", str(whole + in_turn + waiting))
    yield figure("whole", "Whole boards", str(whole), "", "laying order", pieces)
    yield figure("in turn", "Cut, laid in turn", str(in_turn), "", "laying order", pieces)
    yield figure("waiting", "Cut, laid last", str(waiting), "", "laying order", pieces)


def _laying_words(plan: FloorPlan, sheet: SettingOut) -> Iterator[str]:
    words = find_pattern(plan.job.floor.pattern).laid
    if words:
        yield words
    yield "The bold line is where the whole boards end and the cutting begins."
    yield f"Cut pieces up to number {sheet.field} go in when their turn comes: later there is no way in."
    if sheet.field < len(sheet.steps):
        yield f"From number {sheet.field + 1} on they can wait until the field lies. Measure them there."
    if sheet.apart:
        names = ", ".join(piece.id for piece in sheet.apart)
        yield f"These touch nothing laid before them, the lines say where they lie: {names}."
