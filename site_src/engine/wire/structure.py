"""What does not fit the records, said with its place: the decoder's words become a finding."""

import re

import msgspec

from engine.errors import Finding, Refused

# The kinds of value as the decoder calls them, and as a person who opens the file would.
_KINDS = {
    "float": "a number",
    "int": "a whole number",
    "str": "a text",
    "bool": "true or false",
    "null": "nothing",
    "array": "a list",
    "object": "a group of entries",
}


def misfit(error: msgspec.ValidationError, what: str, path: str = "") -> Refused:
    """A refusal that says what is wrong at which place. ``path`` stands for the decoder's ``$``.

    msgspec says ``Expected `float`, got `str` - at `$.room.walls[0].gap```.
    """
    reason, _, place = str(error).partition(" - at ")
    path = (path + place.rstrip("`").rpartition("$")[2]).lstrip(".")
    where = f"at {path}" if path else "at the top"
    return Refused(
        Finding(
            path=path,
            code="wrong structure",
            sentence=f"{what} cannot be read {where}: {_in_words(reason)}. Correct that entry.",
        )
    )


def _in_words(reason: str) -> str:
    words = re.sub("`([^`]+)`", _kind_in_words, reason)
    return words[:1].lower() + words[1:]


def _kind_in_words(found: re.Match[str]) -> str:
    """``float | null`` becomes “a number or nothing”; a name stays and is put in quotes."""
    parts = found[1].split(" | ")
    if not set(parts) <= _KINDS.keys():
        return f"“{found[1]}”"
    return " or ".join(_KINDS[part] for part in parts)
