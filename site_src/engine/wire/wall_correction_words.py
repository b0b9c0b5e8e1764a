"""What a piece measured otherwise says of its wall, in words and as readings for the job."""

from collections.abc import Iterator, Sequence

from engine.planning.wall_correction import PieceChange, WallCorrection
from engine.units import number_text
from engine.wire.figures import Writer, as_typed
from engine.wire.replies import WallCorrectionReply, WallReading

# So many pieces are named, the others counted.
NAMED = 6
# What a rule cannot tell is no difference, mm.
AS_SURVEYED = 0.25
NONE = (
    "These lengths do not speak of one wall: only a piece with one straight cut along a wall, away from its "
    "corners, on a floor that lies as planned, does."
)


def wall_correction_reply(found: WallCorrection | None, writer: Writer) -> WallCorrectionReply:
    """The wall's new readings, and what would change, before anything is taken."""
    if found is None:
        return WallCorrectionReply(words=(NONE,))
    return WallCorrectionReply(
        words=tuple(_words(found, writer)),
        wall=found.record,
        offsets=found.offsets,
        readings=tuple(
            WallReading(
                from_=found.wall.from_,
                to=found.wall.to,
                station=shot.station,
                typed=as_typed(shot.offset),
            )
            for shot in found.shots
        ),
        stands_in_for=found.stands_in_for,
    )


def _words(found: WallCorrection, writer: Writer) -> Iterator[str]:
    for shot in found.shots:
        station, by = number_text(shot.station, 0, writer.mark), shot.offset - shot.surveyed
        where = "as surveyed"
        if abs(by) >= AS_SURVEYED:
            where = (
                f"{writer.mm(abs(by))} {'farther into the room' if by > 0 else 'farther back'} than surveyed"
            )
        yield f"Wall {found.wall.name} lies {where} at {station} mm."
    count = len(found.stands_in_for)
    if count:
        yield f"{'A reading' if count == 1 else f'{count} readings'} right beside it would be taken back."
    yield from _changes([change for change in found.changes if not change.is_cut], "to cut", writer)
    yield from _changes([change for change in found.changes if change.is_cut], "cut already", writer)
    if not found.changes:
        yield "No other piece changes by it."
    if found.others:
        more = "1 more comes" if found.others == 1 else f"{found.others} more come"
        yield f"{more} under another setting of the saw, inside the gaps."


def _changes(changes: Sequence[PieceChange], which: str, writer: Writer) -> Iterator[str]:
    if not changes:
        return
    named = ", ".join(change.id for change in changes[:NAMED])
    more = f" and {len(changes) - NAMED} more" if len(changes) > NAMED else ""
    count = f"{len(changes)} piece{'s' if len(changes) > 1 else ''}"
    yield f"{count} {which} would change by up to {writer.mm(changes[0].by)}: {named}{more}."
