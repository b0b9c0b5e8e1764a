"""A request's text in. What cannot be read is the caller's mistake and gets a sentence, not a trace."""

import msgspec

from engine.errors import Finding, Refused
from engine.wire.messages import Request
from engine.wire.structure import misfit


def read_request(text: str) -> Request:
    """The request that a text stands for. Raises Refused."""
    try:
        request: Request = msgspec.json.decode(text, type=Request)
        return request
    except msgspec.ValidationError as error:
        raise misfit(error, "The request") from None
    except (msgspec.DecodeError, RecursionError, UnicodeError):
        raise Refused(
            Finding(
                path="",
                code="not JSON",
                sentence="This is no readable JSON text: it is cut short, damaged or nested too deeply. "
                "Choose a file that the app has exported.",
            )
        ) from None
