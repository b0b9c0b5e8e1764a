"""The search for boards that can be saved, as a page shows it between two questions."""

from collections.abc import Iterator

from engine.cutting.board_programme import whole_boards
from engine.planning.better_boards import BetterBoards, spare_boards
from engine.planning.floor_plan import FloorPlan
from engine.wire.drawings import Figure, Saving
from engine.wire.figures import Writer, figure
from engine.wire.replies import ImproveReply
from engine.wire.requests import ImproveRequest, SoFar


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


def improve_view(
    plan: FloorPlan, found: BetterBoards | None, request: ImproveRequest, writer: Writer
) -> ImproveReply:
    """How far it is; ``found`` is None while the sets of pieces are being listed."""
    time = f"{writer.count(request.seconds, 0)} s"
    if found is None:
        return _shown(words=f"Listing the pieces that can share a board, {time} so far.")
    fewer, proven = _so_far(found, request.under_way)
    saved, spare = found.saved + fewer, found.spare - fewer - proven
    is_done = not found.programme
    return _shown(
        found=found,
        figures=tuple(_figures(plan, saved, spare, writer)),
        words=_words(found, time) if is_done else _words_so_far(saved, spare, time),
        part=1.0 if is_done else found.settled / max(found.in_doubt, 1),
        is_done=is_done,
    )


def _shown(
    *,
    found: BetterBoards | None = None,
    figures: tuple[Figure, ...] = (),
    words: str,
    part: float = 0.0,
    is_done: bool = False,
) -> ImproveReply:
    return ImproveReply(
        programme=found.programme if found else "",
        together=found.together if found else (),
        proofs={**found.proofs} if found else {},
        saved=found.saved if found else 0,
        figures=figures,
        words=words,
        part=part,
        is_done=is_done,
    )


def _so_far(found: BetterBoards, under_way: SoFar | None) -> tuple[int, int]:
    """Boards fewer, and boards more that are needed at least, by how far the solver is."""
    if under_way is None:
        return 0, 0
    least = found.at_least
    if found.are_all and under_way.bound is not None:
        least = max(least, min(whole_boards(under_way.bound), found.at_stake))
    boards = found.at_stake
    if under_way.found is not None:
        boards = max(least, min(boards, whole_boards(under_way.found)))
    return found.at_stake - boards, least - found.at_least


def _figures(plan: FloorPlan, saved: int, spare: int, writer: Writer) -> Iterator[Figure]:
    boards = len(plan.supply.boards)
    now, planned = boards - saved, ("as planned", str(boards))
    yield figure("boards now", "Boards found", writer.count(now, 0), "", "boards", planned)
    yield figure("least", "At least", writer.count(now - spare, 0), "", "proven least")


def _words_so_far(saved: int, spare: int, time: str) -> str:
    so_far = f"{_fewer(saved)} so far" if saved else "No board saved so far"
    return f"{so_far}, after {time}. {_boards(spare)} more might be."


def _words(found: BetterBoards, time: str) -> str:
    result = f"{_fewer(found.saved)}, found in {time}." if found.saved else f"No board saved in {time}."
    if found.spare == 0:
        cut = "With what is cut already, no" if found.has_begun else "No"
        return f"{result} {cut} cutting of these pieces needs fewer: proven."
    if not found.are_all:
        return (
            f"{result} There are too many ways to share boards to look at all, so nothing is proven: "
            f"{_boards(found.spare)} more might be saved."
        )
    return f"{result} {_boards(found.spare)} more might be: that is open."


def _fewer(count: int) -> str:
    return f"{_boards(count)} fewer"


def _boards(count: int) -> str:
    return "1 board" if count == 1 else f"{count} boards"
