"""What a page asks of the engine, as JSON.

What cannot be read is the caller's mistake and gets a sentence, not a trace.
"""

from typing import Annotated, Literal

import msgspec
from msgspec import Meta, Struct

from engine.cutting.cuts import Kind
from engine.errors import Finding, Refused
from engine.sheets.label_grid import LabelGrid
from engine.sheets.paper import PaperName
from engine.wire.drawings import Spot
from engine.wire.structure import misfit

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


SheetName = Literal[
    "plan.json",
    "cuts.csv",
    "plan.svg",
    "pieces.svg",
    "plan.dxf",
    "pieces.dxf",
    "setting-out.pdf",
    "cuts.pdf",
    "saw.pdf",
    "plan.pdf",
    "scribes.pdf",
    "corners.pdf",
    "labels.pdf",
]


class SheetsRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="sheets"):
    """Compute the files that leave the app, for printing on that ``paper``.

    ``only`` those files, else all. ``labels`` names one of the reply's label grids; ``own_labels`` goes
    before it. Labels begin with number ``first_label`` of the first sheet, row by row from the top left.
    With ``best`` the pattern is first put where it sits best; the job with it there is one of the files.
    """

    job: dict[str, object]
    paper: PaperName = "A4"
    labels: str = ""
    own_labels: LabelGrid | None = None
    first_label: float = 1
    only: tuple[SheetName, ...] | None = None
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


class Moved(Asked, frozen=True, kw_only=True):
    """With ``at``, a point of the map's drawing, the pattern is moved there first."""

    job: dict[str, object]
    at: Spot | None = None


class MovedRequest(Moved, frozen=True, kw_only=True, tag_field="ask", tag="moved"):
    """Where do the boards lie? Answered at once: the picture follows a finger.

    And where do they lie a ``step`` (mm) to each side? So that the picture follows a tap without asking.
    """

    step: Annotated[float, Meta(ge=0, le=1e6)] = 0.0


class PlaceRequest(Moved, frozen=True, kw_only=True, tag_field="ask", tag="place"):
    """What lies along the edges that matter?

    Here and below, ``in_slices``: answered with “more” until all is done, so that a move gets in between.
    """

    in_slices: bool = False


class SliversRequest(Moved, frozen=True, kw_only=True, tag_field="ask", tag="slivers"):
    """How many slivers lie along all edges?"""

    in_slices: bool = False


class BestPlaceRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="best place"):
    """Where does the pattern sit best?"""

    job: dict[str, object]
    in_slices: bool = False


class PlaceCountsRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="place counts"):
    """How many slivers and boards does the pattern leave where the job puts it?"""

    job: dict[str, object]


class PlaceMapRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="place map"):
    """What is every place of the pattern worth?"""

    job: dict[str, object]
    in_slices: bool = False


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


class AsLaidRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="as laid"):
    """Is the floor still where it should be? From the job's readings on the laid floor."""

    job: dict[str, object]


class SolvedProgramme(Struct, frozen=True, kw_only=True):
    """What the solver gave for a programme: the columns' values, in their order, and its lower bound.

    No values without a solution; no bound while there is none.
    """

    values: tuple[float, ...] = ()
    bound: float | None = None


class SoFar(Struct, frozen=True, kw_only=True):
    """How far the solver is with a programme: its best solution and lower bound, None while there is none."""

    found: float | None = None
    bound: float | None = None


class ImproveRequest(Asked, frozen=True, kw_only=True, tag_field="ask", tag="improve"):
    """What comes next in the search for boards that can be saved, once these programmes are ``solved``?

    ``under_way`` is how far the solver is with the one after them. The page has waited for ``seconds``.
    """

    job: dict[str, object]
    solved: tuple[SolvedProgramme, ...] = ()
    under_way: SoFar | None = None
    seconds: float


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
    | MovedRequest
    | PlaceRequest
    | SliversRequest
    | BestPlaceRequest
    | PlaceCountsRequest
    | PlaceMapRequest
    | AsLaidRequest
    | LaidBoardRequest
    | ImproveRequest
)


def read_request(text: str) -> Request:
    """The request that a text stands for. Raises Refused."""
    try:
        request: Request = msgspec.json.decode(text, type=Request)
        return request
    except msgspec.ValidationError as error:
        raise misfit(error, "The request") from None
    except (msgspec.DecodeError, RecursionError, UnicodeError):
        raise Refused(
            Finding(
                path="",
                code="not JSON",
                sentence="This is no readable JSON text: it is cut short, damaged or nested too deeply. "
                "Choose a file that the app has exported.",
            )
        ) from None
