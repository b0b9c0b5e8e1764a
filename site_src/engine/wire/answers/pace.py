"""How fast the work goes, and how long what is left will take."""

from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.pace_view import pace_view
from engine.wire.replies import PaceReply
from engine.wire.requests import PaceRequest


def answer(request: PaceRequest, _: Tell) -> PaceReply:
    """From the times of the marks alone."""
    return pace_view(request.pieces, Writer(request.decimal))
