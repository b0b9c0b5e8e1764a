"""The longer search for boards that can be saved, as a page shows it between two slices."""

from collections.abc import Iterator

from engine.planning.better_boards import MOST_SLICES, BetterBoards, better_boards, spare_boards
from engine.planning.floor_plan import FloorPlan
from engine.wire.drawings import Figure, Saving
from engine.wire.figures import Writer, figure
from engine.wire.replies import ImproveReply
from engine.wire.requests import ImproveRequest


def saving(plan: FloorPlan) -> Saving:
    """Whether boards could be saved."""
    spare = spare_boards(plan.supply)
    if not plan.job.cutting.offcuts:
        words = "No offcut is used, so pieces share no boards."
        return Saving(words=words, can_be_sought=False)
    if spare == 0:
        words = "Proven: these pieces cannot be had from fewer boards."
        return Saving(words=words, can_be_sought=False)
    words = f"{_boards(spare)} might be saved at most, if a longer search finds how."
    return Saving(words=words, can_be_sought=True)


def improve_view(plan: FloorPlan, request: ImproveRequest, writer: Writer) -> ImproveReply:
    """One slice of the search, and what it came to."""
    found = better_boards(plan.supply, request.together, request.number)
    is_done = found.spare == 0 or request.number + 1 >= MOST_SLICES
    return ImproveReply(
        together=found.together,
        saved=found.saved,
        figures=tuple(_figures(plan, found, writer)),
        words=_words(found, is_done, f"{writer.count(request.seconds, 0)} s"),
        part=1.0 if is_done else (request.number + 1) / MOST_SLICES,
        is_done=is_done,
    )


def _figures(plan: FloorPlan, found: BetterBoards, writer: Writer) -> Iterator[Figure]:
    count, supply = len(plan.supply.boards) - found.saved, plan.supply
    planned = ("as planned", str(len(supply.boards)))
    yield figure("boards now", "Boards now", writer.count(count, 0), "", "boards", planned)
    yield figure("least", "At least", writer.count(sum(supply.bound.values()), 0), "", "proven least")


def _words(found: BetterBoards, is_done: bool, time: str) -> str:
    saved = f"{_boards(found.saved)} saved" if found.saved else "No board saved"
    if found.spare == 0:
        return f"{saved} after {time}: no more can be."
    if is_done:
        return (
            f"{saved} after {time}, and the search ends. {_boards(found.spare)} more might be: that is open."
        )
    return f"{saved} so far, after {time}. {_boards(found.spare)} more might be."


def _boards(count: int) -> str:
    return "1 board" if count == 1 else f"{count} boards"
