"""What passes between a page and the engine: requests in, replies out, all JSON.

What the replies are made of stands in ``drawings.py``.
"""

from typing import Annotated, Literal

from msgspec import Meta, Struct, field

from engine.cutting.cuts import Kind
from engine.errors import Finding
from engine.sheets.label_grid import LabelGrid
from engine.sheets.paper import PaperName
from engine.standards.formulas import Formula
from engine.wire.drawings import (
    BoardDrawing,
    Box,
    Card,
    EdgeRow,
    Figure,
    FloorDrawing,
    HeldRow,
    LaidCorner,
    LaidReadingRow,
    Levels,
    ProposalRow,
    RoomDrawing,
    Spot,
    WallEndRow,
)
from engine.wire.long_cut_record import LongCutDrawing
from engine.wire.setting_out_drawings import SettingOutSheet

# No room is larger than a kilometre, mm.
Measured = Annotated[float, Meta(ge=-1e6, le=1e6)]
Exaggeration = Annotated[float, Meta(ge=0, le=1000)]


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
    """Compute the files that leave the app, for printing on that ``paper``.

    ``labels`` names one of the reply's label grids; ``own_labels`` goes before it.
    With ``best`` the pattern is first put where it sits best; the job with it there is one of the files.
    """

    job: dict[str, object]
    paper: PaperName = "A4"
    labels: str = ""
    own_labels: LabelGrid | None = None
    best: bool = False


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


class WallCorrectionRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="wall correction"):
    """What do these lengths, measured at the wall, say of their wall, and what would others become?"""

    job: dict[str, object]
    piece: str
    left: Measured | None = None
    right: Measured | None = None


class PlaceRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="place"):
    """What lies along the edges, with the pattern where it is?

    With ``at``, a point of the map's drawing, the pattern is moved there first.
    """

    job: dict[str, object]
    at: Spot | None = None


class BestPlaceRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="best place"):
    """Where does the pattern sit best?"""

    job: dict[str, object]


class PlaceMapRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="place map"):
    """What is every place of the pattern worth?"""

    job: dict[str, object]


class PieceMarks(Struct, frozen=True, kw_only=True):
    """A piece to cut, with when it was marked as ISO 8601, empty when it was not or nobody knows when."""

    kind: Kind
    is_cut: bool
    is_fitted: bool
    cut_at: str = ""
    fitted_at: str = ""


class PaceRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="pace"):
    """How fast does the work go, and how long will what is left take?"""

    pieces: tuple[PieceMarks, ...]


class FixRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="two-tape fix"):
    """Where is a corner, from its distances to two known corners? Left of the line from first to second."""

    first: tuple[Measured, Measured]
    second: tuple[Measured, Measured]
    from_first: Measured
    from_second: Measured


class AsLaidRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="as laid"):
    """Is the floor still where it should be? From the job's readings on the laid floor."""

    job: dict[str, object]


class LaidBoardRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="laid board"):
    """Which corners of this piece can be read, and to what?"""

    job: dict[str, object]
    piece: str


Request = (
    CheckRequest
    | RoomRequest
    | PlanRequest
    | SheetsRequest
    | ReadingRequest
    | MeasuredRequest
    | PaceRequest
    | WallCorrectionRequest
    | FixRequest
    | PlaceRequest
    | BestPlaceRequest
    | PlaceMapRequest
    | AsLaidRequest
    | LaidBoardRequest
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
    ``long_cuts`` are in the job's order, null where one names no wall with floor along it. ``boards`` are
    those from which something is cut.
    """

    plan: dict[str, object]
    room: RoomDrawing
    floor: FloorDrawing
    cards: tuple[Card, ...]
    summary: tuple[Figure, ...]
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]
    setting_out: SettingOutSheet
    count_from: dict[str, int]
    long_cuts: tuple[LongCutDrawing | None, ...]
    boards: tuple[BoardDrawing, ...]
    patterns: tuple[PatternChoice, ...]


class SheetsReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="sheets"):
    """File name to file text, and to the bytes of files that are no text (base64 on the way).

    ``label_grids`` names the label sheets there are for that paper, the usual one first.
    """

    files: dict[str, str]
    binary_files: dict[str, bytes]
    label_grids: tuple[str, ...]
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


class WallReading(Struct, frozen=True, kw_only=True):
    """A reading to add to the job's survey: the wall's offset at a station, as bow."""

    from_: str = field(name="from")
    to: str
    station: float
    typed: str


class WallCorrectionReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="wall correction"):
    """``words`` tell the difference. ``readings`` are to be added, those in ``stands_in_for`` taken back.

    A job without a survey takes the ``offsets`` at its wall with that number instead. Without a ``wall``
    the lengths say nothing of one.
    """

    words: tuple[str, ...]
    wall: int | None = None
    offsets: tuple[Spot, ...] = ()
    readings: tuple[WallReading, ...] = ()
    stands_in_for: tuple[str, ...] = ()


class KindPaceShown(Struct, frozen=True, kw_only=True):
    """The pace of one kind of piece; ``rate`` is None when too few were timed."""

    kind_text: str
    rate: Figure | None
    left: str


class PaceShown(Struct, frozen=True, kw_only=True):
    """The pace of cutting or fitting, and the time left; ``words`` say what it rests on."""

    title: str
    rate: Figure
    left: Figure
    kinds: tuple[KindPaceShown, ...]
    words: str


class PaceReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="pace"):
    """Each None until enough pieces were marked one after the other."""

    cutting: PaceShown | None
    fitting: PaceShown | None
    formulas: dict[str, Formula]


class FixReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="two-tape fix"):
    """The corner found."""

    point: Spot


class PlaceReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="place"):
    """``anchor`` is where the boards meet now, ``boards`` are all of them, to be clipped by the lay area.

    ``at`` is where the place lies on the map. ``worth`` is the smallest piece
    over its weight, by the job's measure.
    """

    anchor: Spot
    boards: str
    at: Spot
    worth: Figure
    edges: tuple[EdgeRow, ...]
    formulas: dict[str, Formula]


class BestPlaceReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="best place"):
    """The best place, to be kept in the job's floor, and what it is worth beside the place as it is.

    ``words`` say how far the pattern moves. ``counts`` are slivers and boards.
    """

    anchor: Spot
    axis: float
    words: str
    worth: Figure
    bound: Figure
    edges_now: tuple[EdgeRow, ...]
    edges: tuple[EdgeRow, ...]
    counts_now: tuple[Figure, ...]
    counts: tuple[Figure, ...]
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]


class PlaceMapReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="place map"):
    """A map of all places. Across it the pattern moves across its rows, up it along them."""

    view_box: Box
    levels: tuple[Levels, ...]
    words: str


class AsLaidReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="as laid"):
    """``now`` is the offset at the board read last, ``at`` its id; ``drift`` what was fitted.

    ``ends`` come with the worst first. ``take`` is to be added to the job's
    ``laid.taken`` to cut the rest from the floor as it lies, and the pieces in
    its ``spare`` are then no longer cut; None where there is nothing to take.
    ``taken`` says that this has been done, ``spare`` what became of pieces then.
    """

    at: str
    now: tuple[Figure, ...]
    drift: tuple[Figure, ...]
    ends: tuple[WallEndRow, ...]
    readings: tuple[LaidReadingRow, ...]
    proposals: tuple[ProposalRow, ...]
    held: tuple[HeldRow, ...]
    joints: Figure | None
    take: dict[str, object] | None
    taken: str
    spare: tuple[str, ...]
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]


class LaidBoardReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="laid board"):
    """The board as it lies in the room, ``near`` what is seen of the floor around it."""

    near: Box
    path: str
    corners: tuple[LaidCorner, ...]


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
    | PaceReply
    | WallCorrectionReply
    | FixReply
    | PlaceReply
    | BestPlaceReply
    | PlaceMapReply
    | AsLaidReply
    | LaidBoardReply
    | RefusedReply
    | FaultReply
)
