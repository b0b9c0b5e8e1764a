"""The files that leave the app."""

from collections.abc import Iterator

from engine.planning.best_place import best_place
from engine.planning.floor_plan import plan_floor
from engine.sheets.label_grid import GRIDS
from engine.wire.answers import Tell
from engine.wire.figures import Writer, marked
from engine.wire.job_file import open_sound_job
from engine.wire.place_view import PATTERN_LOCKED, at_best, set_out_text
from engine.wire.replies import SheetsReply
from engine.wire.requests import SheetsRequest
from engine.wire.sheet_files import Source, binary_files, text_files


def answer(request: SheetsRequest, tell: Tell) -> SheetsReply:
    """The files asked for, of the job as it is or set out first."""
    opened = open_sound_job(request.job)
    is_locked = request.best and opened.job.wishes.locked
    best = best_place(opened.job, tell) if request.best and not is_locked else None
    plan = plan_floor(at_best(opened.job, best) if best else opened.job, tell)
    writer = Writer(request.decimal)
    source = Source(plan=plan, request=request, writer=writer, bound=best.bound if best else None)
    binary, fault = binary_files(source)
    moved = {"job.json": set_out_text(request.job, plan.job.floor)} if best else {}
    texts = text_files(source) | moved
    return SheetsReply(
        files=texts,
        binary_files=binary,
        sizes={
            name: writer.kilobytes(len(content)) for name, content in (*_bytes_of(texts), *binary.items())
        },
        label_grids=tuple(GRIDS[request.paper]),
        findings=marked(
            (*opened.findings, *([PATTERN_LOCKED] if is_locked else []), *plan.findings, *fault), writer
        ),
    )


def _bytes_of(texts: dict[str, str]) -> Iterator[tuple[str, bytes]]:
    for name, text in texts.items():
        yield name, text.encode()
