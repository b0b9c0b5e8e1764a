"""The plan file as records: every piece of one floor, as laid and as sawn."""

from typing import Literal

from msgspec import Struct, field

from engine.model.laid import CreepChanged

FORMAT: Literal["out-of-true plan"] = "out-of-true plan"
VERSION = 1

Pair = tuple[float, float]
Rings = tuple[tuple[Pair, ...], ...]


class LayArea(Struct, frozen=True, kw_only=True):
    """The area to lay; each part's outer ring counter-clockwise, its holes after it, clockwise."""

    area_m2: float
    rings: Rings


class BoardPlace(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The right-hand corner of the whole board's start end, and the direction it heads in (degrees).

    ``lean`` is how far the left long edge is moved on against the right one (mm): not 0 for a chevron only.
    """

    x: float
    y: float
    angle: float
    lean: float = 0.0


class PlanCut(Struct, frozen=True, kw_only=True):
    """One cut in the board's frame, the piece on the left of its points; the kerf lies on the right."""

    kind: str
    points: tuple[Pair, ...]
    angle: float
    along: str


class PlanStep(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One step of cutting a piece: the tool, what it does, and for which wall or thing.

    ``work``: the mitre saw is turned (``angle``, ``turned``, ``stop`` and ``side`` as in
    ``PlanSawSetting``; ``against`` says what meets the stop where that is no end of the
    board), a line is followed, a rip is sawn from end to end, a hole is drilled
    (``centre`` in the board's frame, ``diameter``), a slot is sawn to it from the nearest ``edge``, an
    opening is sawn inside, the legs of a notch are sawn, or marks are followed. Lengths in mm, angles in
    degrees.
    """

    tool: str
    work: Literal["turn", "line", "rip", "drill", "slot", "inside", "legs", "marks", "joined"]
    along: str
    angle: float | None = None
    turned: Literal["left", "right", "square"] | None = None
    stop: float | None = None
    side: Literal["left", "right"] | None = None
    against: Literal["sawn end"] | None = None
    centre: Pair | None = None
    diameter: float | None = None
    edge: str | None = None


class PlanPiece(Struct, frozen=True, kw_only=True):
    """One piece. Rings are in room coordinates, outer first; lengths in mm; gaps None without a cut.

    ``from_board`` is the board it is cut from, ``after`` the piece of that board whose offcut it is, empty
    when it opens the board. ``keeps`` are the board's edges that must stay so that it locks.
    ``measure_at_wall``: the survey does not vouch for the wall here, see ``planning.uncertainty``.
    ``measured``: lengths of long edges in mm as measured at the wall, by side; they go before ``left``
    and ``right``, which stay as worked out. ``hand_near``: too short to be held by hand at the saw.
    """

    id: str
    row: int
    place: int
    hand: Literal["L", "R"]
    kind: str
    sliver: bool
    outline: Rings
    ideal: Rings
    board: BoardPlace
    left: float
    right: float
    saw_angle: float
    kept_end: str
    cuts: tuple[PlanCut, ...]
    gap_least: float | None
    gap_most: float | None
    from_board: str
    after: str
    keeps: tuple[Literal["left", "right", "start", "far"], ...]
    measure_at_wall: bool
    measured: dict[Literal["left", "right"], float] = {}
    steps: tuple[PlanStep, ...] = ()
    hand_near: bool = False


class PlanSawSetting(Struct, frozen=True, kw_only=True):
    """One setting of the mitre saw and the pieces cut at it, in the order in which the saw is set.

    ``angle`` in degrees as on the saw's scale, never below 0, ``turned`` to that side, the board lying as the
    job says (the sign of a piece's ``saw_angle`` tells another thing, which of its long edges is longer).
    ``stop``: mm from the blade to the stop along the fence, on the ``side`` of the blade on which the piece
    lies; None where each cut goes by its marks.
    """

    angle: float
    turned: Literal["left", "right", "square"]
    stop: float | None
    side: Literal["left", "right"]
    pieces: tuple[str, ...]


class PlanOffcut(Struct, frozen=True, kw_only=True):
    """What is left of a board, mm: how long and wide it is, and what is left of the board's edges."""

    length: float
    width: float
    left: float
    right: float
    start: float
    far: float


class PlanBoard(Struct, frozen=True, kw_only=True):
    """One board to take, with the pieces in the order in which they are cut from it, and what is left.

    Boards of a hand are counted in the order in which they are opened. ``spoiled`` are pieces that went
    wrong on it: they are cut from another board.
    """

    id: str
    hand: Literal["L", "R"]
    pieces: tuple[str, ...]
    spoiled: tuple[str, ...]
    offcuts: tuple[PlanOffcut, ...]


class PlanLongCut(Struct, frozen=True, kw_only=True):
    """One straight cut along a wall, in the room as planned, where the floor lies.

    ``cut`` and ``guide`` run from end to end, ``edge`` is the wall as it lies against the floor. Gaps in mm;
    ``filler`` in ml. ``pieces``: what to lay of each board that is crossed, in mm. ``residuals`` in mm, mark
    by mark, once there are more than two.
    """

    from_: str = field(name="from")
    to: str
    cut: tuple[Pair, ...]
    guide: tuple[Pair, ...] | None
    edge: tuple[Pair, ...]
    gap_start: float
    gap_end: float
    gap_least: float
    gap_most: float
    filler: float | None
    pieces: dict[str, float]
    residuals: tuple[float, ...]


class PlanGlueMark(Struct, frozen=True, kw_only=True):
    """Where a common cut meets the ``side`` of one board, at a ``distance`` in mm.

    On a long edge from the end named ``from``, null: from where the blank begins; on an end of the board
    from its right long edge.
    """

    piece: str
    side: Literal["left", "right", "start", "far"]
    distance: float
    from_: Literal["left", "right", "start", "far"] | None = field(name="from")


class PlanGlueCut(Struct, frozen=True, kw_only=True):
    """One straight cut through a glue-up, in the room, for those of its pieces that are cut there.

    ``cut`` and the gaps (mm) are null where no single line keeps the gap inside its band for all of them.
    """

    along: str
    pieces: tuple[str, ...]
    cut: tuple[Pair, ...] | None
    gap_least: float | None
    gap_most: float | None
    marks: tuple[PlanGlueMark, ...]


class PlanGlueBlank(Struct, frozen=True, kw_only=True):
    """What is taken of a board for one piece of a glue-up, mm: its whole width over a ``length``.

    ``from`` is the end of the board that stays on it; null: the whole board, or neither end.
    """

    length: float
    from_: Literal["start", "far"] | None = field(name="from")


class PlanGlueUp(Struct, frozen=True, kw_only=True):
    """Pieces to join before they are cut, the largest first; one without a blank stays a whole board.

    Offered only, unless the job's ``cutting`` has ``glue_first``: then the boards are those of the blanks.
    """

    pieces: tuple[str, ...]
    blanks: dict[str, PlanGlueBlank]
    cuts: tuple[PlanGlueCut, ...]


class PlanLine(Struct, frozen=True, kw_only=True):
    """A line to strike between the marks ``from`` and ``to``, each found by two tapes from corners.

    ``ties`` are (corner, distance in mm to the mark). The first two meet in ``from``, the next two in
    ``to``; of the two places where their circles cross it is the one at the mark. They cross at 30° to
    150° wherever two such corners are in sight. Where there are six, the fifth is a check of ``from``
    and the sixth one of ``to``.
    """

    name: str
    from_: Pair = field(name="from")
    to: Pair
    ties: tuple[tuple[str, float], ...]


class PlanSmallest(Struct, frozen=True, kw_only=True):
    """The smallest piece along one wall by each measure on its own: mm, mm, mm²."""

    long_point: float
    short_side: float
    area: float


class PlanSettingOut(Struct, frozen=True, kw_only=True):
    """Where the pattern sits, and the lines to strike for it. ``slivers`` is their number on the floor.

    ``smallest`` has every wall that the floor reaches. ``bound`` is what no place of the pattern
    can beat, by the job's measure over its weights; None when the job names no edges or it was
    not searched.
    """

    anchor: Pair
    axis: float
    smallest: dict[str, PlanSmallest]
    slivers: int
    bound: float | None = None
    lines: tuple[PlanLine, ...]


class PlanAsItLies(Struct, frozen=True, kw_only=True):
    """The floor was taken as it lies: its pieces stand where they lie, not where they were set out.

    At ``about`` (a point of the pattern as set out) it lies ``ahead`` mm along the row axis and ``left`` mm
    to the left of it, turned by ``turn`` degrees, and gains ``creep_along`` and ``creep_across`` mm for each,
    from a ``change`` on more or less.
    ``open_joints`` is what the ideals leave of the lay area, in mm² (below 0 where boards are too wide);
    pieces in ``keeps`` are as they were cut before.
    """

    about: Pair
    ahead: float
    left: float
    turn: float
    creep_along: float
    creep_across: float
    change: CreepChanged | None = None
    open_joints: float
    keeps: tuple[str, ...]


class Plan(Struct, frozen=True, kw_only=True):
    """One floor's plan. ``counts`` are the pieces of each kind.

    ``boards`` are all that are taken, ``bound`` is a proven number below which the pieces cannot be had, one
    more in both for each time that a piece was spoiled; ``waste`` the part of the boards' area that no piece
    takes, from 0 to 1.
    """

    format: Literal["out-of-true plan"] = FORMAT
    version: int = VERSION
    name: str
    lay_area: LayArea
    pieces: tuple[PlanPiece, ...]
    counts: dict[str, int]
    boards: tuple[PlanBoard, ...]
    bound: int
    waste: float
    survey: dict[str, object]
    setting_out: PlanSettingOut
    warnings: tuple[str, ...]
    saw_settings: tuple[PlanSawSetting, ...] = ()
    long_cuts: tuple[PlanLongCut, ...] = ()
    as_it_lies: PlanAsItLies | None = None
    glue_ups: tuple[PlanGlueUp, ...] = ()
