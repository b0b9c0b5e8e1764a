"""What passes between a page and the engine: requests in, replies out, all JSON.

Every text a person reads is made here in the engine, rounded and with its
unit, so that a page only places it. Shapes for the screen are SVG path data in
millimetres with y already turned downwards.
"""

from typing import Annotated, Literal

from msgspec import Meta, Struct, field

from engine.errors import Finding
from engine.standards.formulas import Formula

Box = tuple[float, float, float, float]
Spot = tuple[float, float]
# No room is larger than a kilometre, mm.
Measured = Annotated[float, Meta(ge=-1e6, le=1e6)]
Exaggeration = Annotated[float, Meta(ge=0, le=1000)]


class Figure(Struct, frozen=True, kw_only=True):
    """One computed value as shown, and what it was computed from.

    ``formula`` is a key of the reply's ``formulas``; ``inputs`` are (name, text).
    """

    key: str
    label: str
    text: str
    unit: str = ""
    formula: str
    inputs: tuple[tuple[str, str], ...] = ()


class Label(Struct, frozen=True, kw_only=True):
    """A short text and where it stands on a drawing; ``turn`` in degrees clockwise."""

    text: str
    at: Spot
    turn: float = 0.0


class OtherShape(Struct, frozen=True, kw_only=True):
    """The same readings taken as another shape."""

    curve: str
    path: str


class ReadingMark(Struct, frozen=True, kw_only=True):
    """One reading on a wall, ``path`` its mark. ``typed`` is its station in mm as the job has it."""

    station: str
    typed: str
    offset: str
    path: str
    is_check: bool


class WallProfile(Struct, frozen=True, kw_only=True):
    """One wall drawn along itself, offsets much larger, the room above.

    ``line`` joins the corners, ``path`` is the wall, ``band`` where it may
    lie, ``others`` the shapes it is not taken for, ``next`` points to where
    the next reading tells most. ``words`` say how much larger.
    """

    view_box: Box
    line: str
    path: str
    band: str
    others: tuple[OtherShape, ...]
    readings: tuple[ReadingMark, ...]
    next: str
    labels: tuple[Label, ...]
    words: str


class NextReading(Struct, frozen=True, kw_only=True):
    """Where the next reading on a wall tells most. ``typed`` is the station as a form takes it, in mm."""

    typed: str
    station: Figure
    gain: Figure


class WallDrawing(Struct, frozen=True, kw_only=True):
    """One wall on the plan. ``bowed`` is the wall with its offsets drawn larger.

    ``proposal`` is the shape that the readings speak for. ``heading`` is the
    direction of the straight line from corner to corner, in degrees
    counter-clockwise from the x axis, as a form takes it.
    """

    name: str
    heading: str
    face: str
    path: str
    bowed: str
    profile: WallProfile
    label: Label
    length: Figure
    bow: Figure
    next: NextReading
    proposal: str
    proposal_words: str
    spacing: tuple[Figure, ...]


class CornerDrawing(Struct, frozen=True, kw_only=True):
    """One corner on the plan with its inside angle.

    ``ellipse`` is where it lies 95 times of 100, drawn as much larger as the
    walls' offsets; empty when the corner was measured by x and y.
    """

    name: str
    label: Label
    at: Spot
    angle: Figure
    ellipse: str
    known_to: Figure | None


class LengthRow(Struct, frozen=True, kw_only=True):
    """One measured length against all others. ``is_doubted``: it is among those most likely wrong.

    Several readings between ``from`` and ``to``, either way round, are one length.
    """

    from_: str = field(name="from")
    to: str
    name: str
    path: str
    observed: Figure
    residual: Figure
    smallest_blunder: Figure
    is_doubted: bool


class FixedDrawing(Struct, frozen=True, kw_only=True):
    """One fixed thing on the plan. ``places`` are its centre, or the points of its outline, in the room."""

    name: str
    path: str
    label: Label
    places: tuple[Figure, ...]


class RoomDrawing(Struct, frozen=True, kw_only=True):
    """The room to scale."""

    view_box: Box
    outline: str
    walls: tuple[WallDrawing, ...]
    corners: tuple[CornerDrawing, ...]
    fixed: tuple[FixedDrawing, ...]
    lengths: tuple[LengthRow, ...]
    figures: tuple[Figure, ...]


class PieceDrawing(Struct, frozen=True, kw_only=True):
    """One piece where it lies in the room."""

    id: str
    path: str
    hand: Literal["L", "R"]
    kind: str
    sliver: bool
    at: Spot


class Line(Struct, frozen=True, kw_only=True):
    """A line to strike or a mark on the floor."""

    path: str
    label: Label


class FloorDrawing(Struct, frozen=True, kw_only=True):
    """The pieces in the room, over the same view box as the room drawing."""

    lay_area: str
    pieces: tuple[PieceDrawing, ...]
    rows: tuple[Label, ...]
    lines: tuple[Line, ...]


class SawDrawing(Struct, frozen=True, kw_only=True):
    """One board as it lies on the saw, start end at the left, right long edge at the bottom.

    ``keep`` is what stays, ``waste`` what falls, ``cuts`` the lines to cut.
    """

    view_box: Box
    board: str
    keep: str
    waste: str
    cuts: tuple[str, ...]
    labels: tuple[Label, ...]


class Mark(Struct, frozen=True, kw_only=True):
    """One point of a marked curve: ``along`` from the kept end, ``across`` from the right long edge."""

    along: str
    across: str


class Card(Struct, frozen=True, kw_only=True):
    """All that is needed to cut and place one piece. Figures come in the order of their weight.

    ``planned`` are the left and right length as worked out, whatever was measured at the wall.
    """

    id: str
    title: str
    hand: Literal["L", "R"]
    kind: str
    kind_text: str
    wall: str
    place_text: str
    figures: tuple[Figure, ...]
    steps: tuple[str, ...]
    flags: tuple[str, ...]
    marks: tuple[Mark, ...]
    saw: SawDrawing
    near: Box
    planned: tuple[str, ...]
    cut: bool
    fitted: bool


class Asked(Struct, frozen=True, kw_only=True):
    """What every request carries: the decimal mark of the one who reads the reply."""

    decimal: Literal[".", ","] = "."


class CheckRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="check"):
    """Is this job sound? Answered with findings."""

    job: dict[str, object]


class RoomRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="room"):
    """Draw the room. ``exaggerate`` is how many times larger offsets are drawn in ``bowed``."""

    job: dict[str, object]
    exaggerate: Exaggeration = 20.0


class PlanRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="plan"):
    """Compute the whole plan."""

    job: dict[str, object]
    exaggerate: Exaggeration = 20.0


class SheetsRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="sheets"):
    """Compute the files that leave the app."""

    job: dict[str, object]


class ReadingRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="reading"):
    """Is this reading understood, and does it go with the others? ``reading`` as in the job's survey."""

    job: dict[str, object]
    reading: dict[str, object]


class MeasuredRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="measured"):
    """How do these lengths, measured at the wall, stand to those of the plan?"""

    job: dict[str, object]
    piece: str
    left: Measured | None = None
    right: Measured | None = None


class FixRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="two-tape fix"):
    """Where is a corner, from its distances to two known corners? Left of the line from first to second."""

    first: tuple[Measured, Measured]
    second: tuple[Measured, Measured]
    from_first: Measured
    from_second: Measured


Request = (
    CheckRequest | RoomRequest | PlanRequest | SheetsRequest | ReadingRequest | MeasuredRequest | FixRequest
)


class CheckReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="check"):
    """``read_only`` when the file comes from a newer version of the app."""

    findings: tuple[Finding, ...]
    read_only: bool = False


class PatternChoice(Struct, frozen=True, kw_only=True):
    """A laying pattern to choose. ``uses`` are the fields of the floor that only some patterns take."""

    name: str
    uses: tuple[str, ...]


class RoomReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="room"):
    """The room, with what was found on the way. ``patterns`` are all there are to choose from."""

    room: RoomDrawing
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]
    patterns: tuple[PatternChoice, ...]


class PlanReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="plan"):
    """The whole plan, and what a room's reply has.

    ``plan`` is the plan file; ``count_from`` is to be kept in the job's floor.
    """

    plan: dict[str, object]
    room: RoomDrawing
    floor: FloorDrawing
    cards: tuple[Card, ...]
    summary: tuple[Figure, ...]
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]
    count_from: dict[str, int]
    patterns: tuple[PatternChoice, ...]


class SheetsReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="sheets"):
    """File name to file text."""

    files: dict[str, str]
    findings: tuple[Finding, ...]


class ReadingReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="reading"):
    """``understood`` is the reading as it is taken, to be shown and read out.

    ``question`` asks to keep it or to read again when it does not go with the others.
    """

    understood: str
    question: Finding | None = None


class MeasuredReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="measured"):
    """The differences in words; ``fault`` says why the piece cannot be cut to these lengths."""

    differences: tuple[str, ...]
    fault: Finding | None = None


class FixReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="two-tape fix"):
    """The corner found."""

    point: Spot


class RefusedReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="refused"):
    """The job cannot be computed as it stands."""

    findings: tuple[Finding, ...]


class FaultReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="fault"):
    """A fault of the engine's own; ``trace`` is for its makers."""

    name: str
    message: str
    trace: str


class Progress(Struct, frozen=True, kw_only=True):
    """Sent while a long computation goes on."""

    step: str
    done: float = field(default=0.0)


Reply = (
    CheckReply
    | RoomReply
    | PlanReply
    | SheetsReply
    | ReadingReply
    | MeasuredReply
    | FixReply
    | RefusedReply
    | FaultReply
)
