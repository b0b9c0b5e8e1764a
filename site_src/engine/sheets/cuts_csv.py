"""The cut list as a table: one row for each piece to cut (RFC 4180)."""

import csv
from io import StringIO

from engine.model.plan import Plan, PlanPiece

COLUMNS = (
    "id",
    "row",
    "place",
    "hand",
    "kind",
    "left_mm",
    "right_mm",
    "saw_angle_deg",
    "long_point",
    "measured_from",
    "along",
    "gap_least_mm",
    "gap_most_mm",
    "sliver",
    "cuts",
    "from_board",
    "offcut_of",
    "measured",
)

# A spreadsheet takes a text that begins so for a formula.
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def cuts_csv(plan: Plan) -> str:
    """One row per piece that is not a whole board; lengths in mm, angles in degrees, decimal points.

    ``plan`` as ``cut_record`` gives it: the lengths are those to cut, and
    ``measured`` names the long edges whose length was measured at the wall.
    """
    text = StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    table.writerow(COLUMNS)
    table.writerows(_row(piece) for piece in plan.pieces if piece.kind != "whole")
    return text.getvalue()


def _row(piece: PlanPiece) -> tuple[str, ...]:
    return (
        _text(piece.id),
        str(piece.row),
        str(piece.place),
        piece.hand,
        piece.kind,
        f"{piece.left:.1f}",
        f"{piece.right:.1f}",
        f"{piece.saw_angle + 0.0:.2f}",
        _long_point(piece),
        _text(piece.kept_end),
        _text("; ".join(dict.fromkeys(cut.along for cut in piece.cuts))),
        "" if piece.gap_least is None else f"{piece.gap_least:.1f}",
        "" if piece.gap_most is None else f"{piece.gap_most:.1f}",
        "yes" if piece.sliver else "no",
        str(len(piece.cuts)),
        _text(piece.from_board),
        _text(piece.after),
        "; ".join(piece.measured),
    )


def _long_point(piece: PlanPiece) -> str:
    if abs(piece.left - piece.right) < 0.05:
        return "even"
    return "left" if piece.left > piece.right else "right"


def _text(value: str) -> str:
    """A text cell that no spreadsheet takes for a formula."""
    return "'" + value if value.startswith(_FORMULA_STARTS) else value
