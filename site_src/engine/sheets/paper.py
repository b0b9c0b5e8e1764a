"""The sheets that a printer holds."""

from typing import Literal

from msgspec import Struct

PaperName = Literal["A4", "Letter"]


class Paper(Struct, frozen=True):
    """A sheet, its width and height in mm."""

    width: float
    height: float

    @property
    def landscape(self) -> "Paper":
        """The same sheet lying on its side."""
        return Paper(self.height, self.width)


# A4: ISO 216. Letter: ANSI/ASME Y14.1, 8½ × 11 inches.
PAPERS: dict[PaperName, Paper] = {"A4": Paper(210.0, 297.0), "Letter": Paper(215.9, 279.4)}
