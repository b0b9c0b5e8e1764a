"""The engine's only door: one request text in, one reply text out.

Whatever goes wrong comes back as data: a refusal with sentences for the user,
or a fault with a trace for us.
"""

from collections.abc import Callable
from traceback import format_exc
from typing import Any

import msgspec

from engine.errors import Refused
from engine.wire.answers import answer, load, not_loaded
from engine.wire.replies import (
    FaultReply,
    Progress,
    RefusedReply,
    Reply,
)
from engine.wire.requests import read_request

# What a page asks of a job first.
FIRST = ("check", "room", "plan")


def start(batch: Callable[..., Any]) -> None:
    """Use the geometry library of the browser, given as one call per batch. The desk needs no start.

    What the first answers need is loaded then; for the rest, ``load_more`` is called while nobody asks.
    """
    from engine.geometry.browser import Browser
    from engine.geometry.kernel import use

    use(Browser(batch))
    for name in FIRST:
        load(name)


def load_more() -> bool:
    """Load what one more kind of request needs. Is there more to load?"""
    left = not_loaded()
    if left:
        load(left[0])
    return len(left) > 1


def handle(text: str, report: Callable[[str], None] | None = None) -> str:
    """Answer one request. ``report`` is handed a Progress record as text while the work goes on."""
    return msgspec.json.encode(_reply(text, report)).decode()


def _reply(text: str, report: Callable[[str], None] | None) -> Reply:
    def tell(step: str, done: float) -> None:
        if report is not None:
            report(msgspec.json.encode(Progress(step=step, done=done)).decode())

    try:
        return answer(read_request(text), tell)
    except Refused as refused:
        return RefusedReply(findings=refused.findings)
    except Exception as error:
        return FaultReply(name=type(error).__name__, message=str(error), trace=format_exc())
