"""What a page shows of one long straight cut."""

from msgspec import Struct

from engine.wire.drawings import Box, Figure, Label


class LongBoard(Struct, frozen=True, kw_only=True):
    """A board that the cut goes through. ``take`` says what to lay of it, ``flags`` what to know of it."""

    id: str
    path: str
    take: str
    rough: Figure
    flags: tuple[str, ...]


class MarkShown(Struct, frozen=True, kw_only=True):
    """A mark as measured: its distance to cut and guide, and how it goes with the others.

    ``residual`` is there with more than two marks.
    """

    place: str
    to_cut: Figure
    to_guide: Figure | None
    residual: Figure | None
    is_doubted: bool


class CornerToMeasure(Struct, frozen=True, kw_only=True):
    """A corner of the pattern that a mark may be: ``typed`` are its x and y as the job takes them."""

    words: str
    typed: tuple[str, str]


class LongCutDrawing(Struct, frozen=True, kw_only=True):
    """One long cut, the wall above and the floor below, as one who kneels before it sees them.

    ``is_measured``: two marks are, so that there is a line to cut by; ``cut``,
    ``guide``, ``figures`` and ``steps`` are empty until then. ``note`` is said of
    a floor that was taken as it lies.
    """

    wall: str
    is_measured: bool
    note: str
    view_box: Box
    edge: str
    cut: str
    guide: str
    boards: tuple[LongBoard, ...]
    labels: tuple[Label, ...]
    mark_labels: tuple[Label, ...]
    figures: tuple[Figure, ...]
    marks: tuple[MarkShown, ...]
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    corners: tuple[CornerToMeasure, ...]
