"""What the engine answers a page, as JSON. What the replies are made of stands in ``drawings.py``."""

from typing import Literal

from msgspec import Struct, field

from engine.errors import Finding
from engine.model.job import ProvenBoards
from engine.standards.formulas import Formula
from engine.wire.drawings import (
    BoardDrawing,
    Box,
    Card,
    EdgeRow,
    Figure,
    FloorDrawing,
    GlueUpDrawing,
    Levels,
    RoomDrawing,
    Saving,
    Spot,
)
from engine.wire.laid_drawings import CreepRow, HeldRow, LaidCorner, LaidReadingRow, ProposalRow, WallEndRow
from engine.wire.long_cut_record import LongCutDrawing
from engine.wire.setting_out_drawings import SettingOutSheet


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
    glue_ups: tuple[GlueUpDrawing, ...]
    saving: Saving
    patterns: tuple[PatternChoice, ...]


class ImproveReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="improve"):
    """How far the search is: ``part`` from 0 to 1, ``is_done`` when it is at its end.

    ``programme`` is to be solved next; where it is empty and not all is done, the same is to be asked again.
    In the end ``together`` and ``proofs`` may go into the job as ``shared_boards`` and ``proven_boards``.
    ``saved`` are boards fewer than planned.
    """

    programme: str
    together: tuple[tuple[str, ...], ...]
    proofs: dict[Literal["L", "R"], ProvenBoards]
    saved: int
    figures: tuple[Figure, ...]
    words: str
    part: float
    is_done: bool


class SheetsReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="sheets"):
    """File name to file text, and to the bytes of files that are no text (base64 on the way).

    ``sizes`` by file name, to be shown. A file that no piece needs is missing.
    ``label_grids`` names the label sheets there are for that paper, the usual one first.
    """

    files: dict[str, str]
    binary_files: dict[str, bytes]
    sizes: dict[str, str]
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


class MovedTo(Struct, frozen=True, kw_only=True):
    """``anchor`` is where the boards meet, ``at`` where that lies on the map, ``by`` their transform."""

    anchor: Spot
    at: Spot
    by: str


class MovedReply(MovedTo, frozen=True, kw_only=True, tag_field="reply", tag="moved"):
    """``boards`` are drawn moved ``by`` their transform and clipped by the lay area.

    While the pattern is moved they stay as they are; ``taps`` are where a step to each side leads.
    """

    boards: str
    taps: tuple[MovedTo, ...]


class MoreReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="more"):
    """There is more to do before the answer: the same is to be asked again."""


class PlaceReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="place"):
    """``worth`` is the smallest piece over its weight, by the job's measure.

    ``missed`` says off which openings' middle the row axis runs, though it was wanted there.
    """

    worth: Figure
    edges: tuple[EdgeRow, ...]
    missed: tuple[str, ...]
    formulas: dict[str, Formula]


class SliversReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="slivers"):
    """How many slivers lie along all edges."""

    slivers: Figure
    formulas: dict[str, Formula]


class BestPlaceReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="best place"):
    """The best place, to be kept in the job's floor, and what it is worth beside the place as it is.

    ``words`` say how far the pattern moves. Slivers and boards there are asked for
    apart, since all pieces are cut for them.
    """

    anchor: Spot
    axis: float
    words: str
    worth: Figure
    bound: Figure
    edges_now: tuple[EdgeRow, ...]
    edges: tuple[EdgeRow, ...]
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]


class PlaceCountsReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="place counts"):
    """Slivers and boards of the floor at a place, as in the plan's summary."""

    counts: tuple[Figure, ...]
    formulas: dict[str, Formula]


class PlaceMapReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="place map"):
    """A map of all places. Across it the pattern moves across its rows, up it along them."""

    view_box: Box
    levels: tuple[Levels, ...]
    words: str


class AsLaidReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="as laid"):
    """``now`` is the offset at the board read last, ``at`` its id, the larger way first.

    ``arrow`` turns an arrow that points right so that it points that way on the
    plan, in degrees clockwise. ``verdict`` is said where nothing shows that the
    pattern lies off. ``creep`` and ``turn`` are what was fitted.
    ``ends`` come with the worst first. ``take`` is to be added to the job's
    ``laid.taken`` to cut the rest from the floor as it lies, and the pieces in
    its ``spare`` are then no longer cut; None where there is nothing to take.
    ``taken`` says that this has been done, ``spare`` what became of pieces then; ``set_aside`` that it does
    not count any more, and why.
    ``read_to`` names each wall or line that a reading in the job was taken to.
    """

    at: str
    now: tuple[Figure, ...]
    arrow: float
    verdict: str
    turn: Figure | None
    creep: tuple[CreepRow, ...]
    ends: tuple[WallEndRow, ...]
    readings: tuple[LaidReadingRow, ...]
    read_to: dict[str, str]
    proposals: tuple[ProposalRow, ...]
    held: tuple[HeldRow, ...]
    joints: Figure | None
    take: dict[str, object] | None
    taken: str
    set_aside: str
    spare: tuple[HeldRow, ...]
    formulas: dict[str, Formula]
    findings: tuple[Finding, ...]


class LaidBoardReply(Struct, frozen=True, kw_only=True, tag_field="reply", tag="laid board"):
    """The board as it lies in the room, ``near`` what is seen of the floor around it.

    ``letters``: how large those of the corners' numbers may be so that none touch, mm of the room.
    """

    near: Box
    path: str
    letters: float
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
    | MovedReply
    | MoreReply
    | PlaceReply
    | SliversReply
    | BestPlaceReply
    | PlaceCountsReply
    | PlaceMapReply
    | AsLaidReply
    | LaidBoardReply
    | ImproveReply
    | RefusedReply
    | FaultReply
)
