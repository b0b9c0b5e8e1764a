"""What each request is answered with, one file each, found by its name when it is first asked for.

A low line in a file's name is a space in the request's. What only some answers need would keep the first ones
waiting: a phone has it loaded afterwards, while nobody asks.
"""

from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules
from sys import modules
from typing import Any

from engine.errors import Refused
from engine.wire.figures import Writer, marked
from engine.wire.replies import Reply
from engine.wire.requests import Request

Tell = Callable[[str, float], None]
Answer = Callable[[Any, Tell], Reply]


def answer(request: Request, tell: Tell) -> Reply:
    """The reply to a request. Raises Refused when the job cannot be computed as it stands."""
    find = load(str(request.__struct_config__.tag))
    try:
        return find(request, tell)
    except Refused as refused:
        raise Refused(*marked(refused.findings, Writer(request.decimal))) from None


def answer_names() -> tuple[str, ...]:
    """Everything that is answered, as requests name it."""
    return tuple(sorted(module.name.replace("_", " ") for module in iter_modules(__path__)))


def load(name: str) -> Answer:
    """What answers the requests of that name, with all that it needs."""
    found: Answer = import_module(_module(name)).answer
    return found


def not_loaded() -> tuple[str, ...]:
    """The requests for which something is still to be loaded."""
    return tuple(name for name in answer_names() if _module(name) not in modules)


def _module(name: str) -> str:
    return f"{__name__}.{name.replace(' ', '_')}"
