"""What a page shows, ready to be placed: figures, drawings and cards, as parts of the replies.

Every text a person reads is made in the engine, rounded and with its unit.
Shapes for the screen are SVG path data in millimetres with y already turned
downwards.
"""

from typing import Literal

from msgspec import Struct, field

Box = tuple[float, float, float, float]
Spot = tuple[float, float]


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
    counter-clockwise from the x axis, as a form takes it; ``ends`` are its two
    corners in the room, as the job holds points.
    """

    name: str
    heading: str
    ends: tuple[Spot, Spot]
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


class BoardPicture(Struct, frozen=True, kw_only=True):
    """One board face up: ``goes_in`` are its tongues, ``takes`` the grooves, ``heading`` an arrow."""

    hand: Literal["L", "R"]
    path: str
    goes_in: str
    takes: str
    heading: str
    label: Label


class SawDrawing(Struct, frozen=True, kw_only=True):
    """One board or offcut as it lies on the saw, or to be marked.

    ``keep`` is what stays, ``waste`` what falls, ``cuts`` the lines to cut. ``fence`` and ``stop`` are those
    of the mitre saw, empty where there is none; ``words`` say how the board lies, ``joined`` are the boards
    glued to it. ``number`` is its place in the order of the saw, 0 where another piece stands for it;
    ``setting`` and ``stop_text`` what that is set to then, ``stop_length`` how far off the stop stands,
    ``figures`` the keys of the card's figures that say so, none where there is no stop.
    """

    number: int = 0
    setting: str = ""
    stop_text: str = ""
    stop_length: str = ""
    figures: tuple[str, ...] = ()

    view_box: Box
    fence: str
    stop: str
    words: str
    board: str
    keep: str
    waste: str
    joined: tuple[str, ...] = ()
    cuts: tuple[str, ...]
    labels: tuple[Label, ...]


class Mark(Struct, frozen=True, kw_only=True):
    """One point of a marked curve: ``along`` from the kept end, ``across`` from the right long edge."""

    along: str
    across: str


class BoardDrawing(Struct, frozen=True, kw_only=True):
    """One board that is sawn: its pieces in the order of cutting, and the offcuts left in words."""

    title: str
    hand: Literal["L", "R"]
    pieces: tuple[str, ...]
    spoiled: str
    offcuts: tuple[str, ...]
    saw: SawDrawing


class Saving(Struct, frozen=True, kw_only=True):
    """Whether a longer search could save boards, in words."""

    words: str
    can_be_sought: bool


class GlueUpDrawing(Struct, frozen=True, kw_only=True):
    """Pieces to be joined and cut in one, where they lie in the room.

    ``blanks`` are what is taken of each board, ``keep`` what stays of it, in the order of ``pieces``. Without
    a straight line for all along one of the ``walls`` there is no cut for it. ``labels`` name the pieces,
    ``mark_labels`` number the marks.
    """

    pieces: tuple[str, ...]
    view_box: Box
    blanks: tuple[str, ...]
    keep: tuple[str, ...]
    walls: tuple[str, ...]
    cuts: tuple[str, ...]
    labels: tuple[Label, ...]
    mark_labels: tuple[Label, ...]
    figures: tuple[Figure, ...]
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


class CardNeighbour(Struct, frozen=True, kw_only=True):
    """A piece that lies against an edge of another, ``label`` its name where it lies."""

    id: str
    words: str
    path: str
    label: Label


class PlannedLength(Struct, frozen=True, kw_only=True):
    """One length of a piece as worked out: of which ``side`` of the board's face, and what that is called."""

    side: Literal["left", "right"]
    name: str
    text: str


class Card(Struct, frozen=True, kw_only=True):
    """All that is needed to cut and place one piece. Figures come in the order of their weight.

    ``board_text`` says which board or offcut it is cut from, ``board`` is that board's id.
    ``planned`` are its two lengths as worked out, whatever was measured at the wall, that first which is
    called left where the board is marked. ``saws`` are one for each of its cuts on the mitre saw, or one.
    ``lies`` is the piece where it goes, with what is left of its tongues and grooves; ``laying`` its place
    in the order of laying, ``spoken`` what a voice says of it. ``together`` are the pieces that are cut with
    it, itself among them: marks are for all. ``glue_offer`` says which piece it could be joined to before
    the cut, empty where there is no need.
    """

    id: str
    title: str
    hand: Literal["L", "R"]
    kind: str
    kind_text: str
    wall: str
    place_text: str
    board_text: str
    board: str
    figures: tuple[Figure, ...]
    steps: tuple[str, ...]
    flags: tuple[str, ...]
    marks: tuple[Mark, ...]
    saws: tuple[SawDrawing, ...]
    near: Box
    lies: BoardPicture
    planned: tuple[PlannedLength, ...]
    neighbours: tuple[CardNeighbour, ...]
    laying: int
    spoken: str
    together: tuple[str, ...]
    glue_offer: str
    cut: bool
    fitted: bool


class EdgeRow(Struct, frozen=True, kw_only=True):
    """The smallest piece along one wall by each measure; ``decides`` is the key of the one that counts."""

    name: str
    figures: tuple[Figure, ...]
    decides: str


class Levels(Struct, frozen=True, kw_only=True):
    """Places of a map that are worth about the same. ``cells`` is to be filled, ``line`` drawn round them."""

    label: Label
    cells: str
    line: str
