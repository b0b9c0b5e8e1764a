"""The job file as records: one floor, as the user measured and decided it.

The JSON Schema that ships with the app is made from these records, so a
field's name here is its name in the file.
"""

from typing import Annotated, Literal

from msgspec import Meta, Struct, field

from engine.model.laid import Laid
from engine.model.readings import Survey
from engine.model.setting_out import SettingOut

FORMAT: Literal["out-of-true job"] = "out-of-true job"
VERSION = 1

Pair = tuple[float, float]

Face = Literal["wall", "threshold", "opening", "fixed", "glazing"]
CurveKind = Literal["smooth", "straight", "arc"]
ThingKind = Literal[
    "island", "plinth", "chimney breast", "column", "pipe", "door lining", "threshold", "opening", "other"
]


Tool = Literal["mitre saw", "track saw", "jigsaw", "table saw"]


class Wall(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One side of the room between two corners, room interior on its left.

    ``offsets`` are (station along the line from ``from`` to ``to``, offset
    positive into the room). ``length`` and ``sd`` are a measured length and
    its standard deviation, used when corners are solved from lengths.
    ``breaks`` are stations that split the wall (a chimney breast, a casing):
    each has one reading, or two where the wall steps, first before, then
    after. ``offset_sd`` is the standard deviation of one offset; ``checks``
    are readings kept out of the curve to prove it. ``next_floor`` is how far
    the floor beyond a threshold or opening stands above this room's base.
    """

    from_: str = field(name="from")
    to: str
    face: Face = "wall"
    gap: float = 10.0
    tolerance: float | None = None
    curve: CurveKind = "smooth"
    offsets: tuple[Pair, ...] = ()
    breaks: tuple[float, ...] = ()
    offset_sd: float | None = None
    checks: tuple[Pair, ...] = ()
    next_floor: float | None = None
    length: float | None = None
    sd: float | None = None


class Tie(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A measured length between two corners that is not a wall."""

    from_: str = field(name="from")
    to: str
    length: float
    sd: float | None = None


class FixedThing(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Something the floor goes round: an ``outline``, or a round ``centre`` and ``diameter``.

    An ``undercut`` door lining takes nothing from the floor, which runs under it.
    A thing that stands ``by_lengths`` gets its place from lengths read to it;
    until then its outline or centre says only its size, and the floor takes no
    notice of it.
    """

    name: str
    kind: ThingKind = "other"
    undercut: bool = False
    by_lengths: bool = False
    outline: tuple[Pair, ...] | None = None
    centre: Pair | None = None
    diameter: float | None = None
    gap: float = 10.0
    tolerance: float | None = None


class Room(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Corners counter-clockwise, the walls between them, ties and fixed things.

    ``corners`` may be left out when walls carry lengths and there are enough
    ties; they are then solved.
    """

    corners: dict[str, Pair] | None = None
    walls: tuple[Wall, ...]
    ties: tuple[Tie, ...] = ()
    fixed: tuple[FixedThing, ...] = ()


class Board(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The board as bought, laying measure (without tongue and click)."""

    length: float
    width: float
    thickness: float | None = None


class CountFrom(Struct, frozen=True, kw_only=True):
    """Lattice row and place that carry number 1, so that numbers stay when the room is read again."""

    row: int
    place: int


class Stagger(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How far the end joints of one row lie from those of the next, in mm along the row.

    ``by`` moves each row on by that much; ``seed`` makes it look random, the
    same for the same number. Without either it is a third of the board.
    ``least`` is what neighbouring rows must keep; without it a random-looking
    stagger keeps a quarter of the board.
    """

    by: float | None = None
    least: float | None = None
    seed: int | None = None


class Floor(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The pattern and where it sits: ``axis`` is the row axis, ``anchor`` where the first two boards meet.

    Some patterns take more: ``strips`` is how many boards lie side by side
    (herringbone, basket), ``angle`` how far a chevron board's ends are cut
    from square in degrees, ``stagger`` how straight rows are moved. Each
    pattern has its own default.
    """

    pattern: str = "herringbone"
    board: Board
    axis: float = 90.0
    anchor: Pair
    strips: int | None = None
    angle: float | None = None
    stagger: Stagger | None = None
    count_from: CountFrom | None = None


BoardOrder = Literal["laying", "saw"]


class Cutting(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The tools and what the user accepts.

    ``saw_step`` is the angle step the mitre saw can be set to in degrees (0:
    any angle), ``detents`` where it clicks in besides, on both sides;
    ``largest_left`` and ``largest_right`` are how far it turns from square.
    ``face`` tells which way the board's face looks on it. ``sliver`` is the
    least width or long point that need not be glued; ``hand_clearance`` how
    far a hand stays from the blade: a shorter piece is never held by hand.
    ``tools`` are those there are. ``marked_on`` is the side of the board that
    is marked; there left and right change places. ``blade_takes`` tells where
    the blade runs against a line.
    ``saw_error`` is by how many degrees a saw may be off: so much of the gap's tolerance is left to it.
    ``saw_reach`` is how far across a board the mitre saw cuts at square, from the fence on (0: not known).
    ``guide`` is how far the near side of the track saw's blade lies from the edge of its plate that runs
    along the guide (0: the guide lies on the line).
    ``trim`` is how much wider every sawn edge may be left until it was tried:
    two pieces of one board keep the kerf and twice the trim between them.
    ``glue_first``: pieces too small to hold are joined to their neighbours
    before they are cut, and the longer blanks that this takes are counted.
    ``offcuts`` false: no offcut is used. Boards are opened in
    ``board_order``: as they are laid, or as the saw is set.
    """

    kerf: float = 2.4
    gap_tolerance: float = 2.0
    sliver: float = 20.0
    saw_step: float = 0.5
    detents: tuple[float, ...] = (15.0, 22.5, 30.0, 45.0)
    largest_left: float = 50.0
    largest_right: float = 50.0
    face: Literal["up", "down"] = "up"
    hand_clearance: float = 150.0
    tools: tuple[Tool, ...] = ("mitre saw", "track saw", "jigsaw")
    marked_on: Literal["face", "back"] = "face"
    blade_takes: Literal["beyond the line", "half the line"] = "beyond the line"
    saw_error: float = 0.0
    saw_reach: float = 0.0
    guide: float = 0.0
    trim: float = 0.0
    glue_first: bool = False
    offcuts: bool = True
    board_order: BoardOrder = "laying"


# More than this over one piece is a slip of the thumb.
Spoiled = Annotated[int, Meta(ge=0, le=99)]


class PieceProgress(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What has been done with one piece.

    ``left`` and ``right`` are lengths in mm that the piece needs as measured
    at the wall, the gap taken off; they go before those of the plan.
    ``spoiled`` is how many boards or offcuts were spoiled over it: each needs
    another. ``board`` is the board it was cut from, as the plan called it
    then: it stays on that one. ``cut_at`` and ``fitted_at`` are when it was marked, as ISO 8601.
    """

    cut: bool = False
    fitted: bool = False
    spoiled: Spoiled = 0
    board: str = ""
    cut_at: str = ""
    fitted_at: str = ""
    left: float | None = None
    right: float | None = None


class LongMark(Struct, frozen=True, kw_only=True):
    """A mark on the laid floor: ``at`` in the room as planned, and its measured ``distance`` to the wall.

    The distance is square to the straight line between the wall's corners; at a threshold it is that to the
    tile.
    """

    at: Pair
    distance: float


class LongCut(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One straight cut along a whole wall, for a last row that is laid long and taken up as one unit.

    ``gap`` is what the seam is to be, without it the wall's; ``depth`` how deep
    it is filled, without it the board's thickness. ``guide`` is the distance
    from the saw plate's edge that runs along the guide to the near side of the
    blade, ``guide_on`` where the guide lies. ``allowance`` is how much longer
    than needed the pieces are laid.
    """

    from_: str = field(name="from")
    to: str
    marks: tuple[LongMark, ...] = ()
    gap: float | None = None
    depth: float | None = None
    guide: float | None = None
    guide_on: Literal["floor", "waste"] = "floor"
    allowance: float = 20.0


class Photo(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A picture of one wall, named by its two corners, or of one fixed thing.

    ``jpeg`` is base64 and stands only in a file that leaves the phone: inside
    the app pictures lie beside the job, and no computation ever sees one.
    """

    id: str
    wall: tuple[str, str] | None = None
    thing: str | None = None
    time: str = ""
    jpeg: str | None = None


class ProvenBoards(Struct, frozen=True, kw_only=True):
    """It was proved that the cut pieces of a hand take so many boards at least.

    ``of`` tells those very pieces, as ``planning.proven_boards`` writes it; for others it proves nothing.
    """

    least: int
    of: str


class Job(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One floor.

    ``shared_boards`` are pieces, by id, that a longer search found to share a board: each set in the order in
    which they are put on it. It is followed as far as it still holds. ``proven_boards`` are its proofs.
    """

    format: Literal["out-of-true job"] = FORMAT
    version: int = VERSION
    name: str = ""
    room: Room
    floor: Floor
    cutting: Cutting = Cutting()
    progress: dict[str, PieceProgress] = {}
    long_cuts: tuple[LongCut, ...] = ()
    shared_boards: tuple[tuple[str, ...], ...] = ()
    proven_boards: dict[Literal["L", "R"], ProvenBoards] = {}
    laid: Laid | None = None
    setting_out: SettingOut | None = None
    survey: Survey | None = None
    photos: tuple[Photo, ...] = ()

    @property
    def wishes(self) -> SettingOut:
        """What is wished for the place of the pattern; nothing where the job does not say."""
        return self.setting_out or SettingOut()
