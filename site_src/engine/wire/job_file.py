"""A job file in: its structure checked here, once, and every fault named with its place in the file."""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

import msgspec
from msgspec import Struct

from engine.errors import Finding, Refused
from engine.model.job import FORMAT, VERSION, Job, Pair, PieceProgress
from engine.planning.checks import check_job
from engine.wire.structure import misfit

# No room, board or reading is larger than a kilometre; such a number is a slip of the thumb, mm.
MOST = 1_000_000.0
# Deeper than any job goes.
DEPTH = 12

# Control characters, and those that turn the direction of writing, can make a name read as another;
# the last two may not stand in a drawing's file.
_HIDDEN = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff]")


class OpenedJob(Struct, frozen=True, kw_only=True):
    """A job as read, with what was noticed. ``is_read_only``: it comes from a newer version."""

    job: Job
    findings: tuple[Finding, ...]
    is_read_only: bool


def open_job(document: Mapping[str, Any]) -> OpenedJob:
    """Read a decoded job file. Raises Refused when it is no job or a value has the wrong shape."""
    _refuse_foreign(document)
    is_newer = _version(document) > VERSION
    faults = tuple(_number_faults(document, "", 0))
    if faults:
        raise Refused(*faults)
    clean = _without_hidden(document)
    notes = [*_unknown_keys(clean, Job, ""), *([_newer(document)] if is_newer else [])]
    return OpenedJob(job=_convert(clean), findings=tuple(notes), is_read_only=is_newer)


def open_sound_job(document: Mapping[str, Any]) -> OpenedJob:
    """The job, read and found to make sense. Raises Refused with every fault at once."""
    opened = open_job(document)
    faults = [finding for finding in check_job(opened.job) if finding.level == "error"]
    if faults:
        raise Refused(*faults)
    return opened


def _refuse_foreign(document: Mapping[str, Any]) -> None:
    if document.get("format") != FORMAT:
        raise Refused(
            Finding(
                path="format",
                code="not a job file",
                sentence=f"This is not a job file: its “format” must be “{FORMAT}”. Choose another file.",
            )
        )


def _version(document: Mapping[str, Any]) -> int:
    version = document.get("version", VERSION)
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise Refused(
            Finding(
                path="version",
                code="version not readable",
                sentence="“version” must be a whole number from 1. Export the job again.",
            )
        )
    return version


def _newer(document: Mapping[str, Any]) -> Finding:
    return Finding(
        path="version",
        code="newer version",
        level="warning",
        sentence=f"This job was written by a newer version ({document['version']}) of the app. "
        "It can be looked at but not changed here; update the app to go on.",
    )


def _number_faults(value: Any, path: str, depth: int) -> Iterator[Finding]:
    if depth > DEPTH:
        yield Finding(
            path=path, code="too deep", sentence=f"{path} is nested too deeply to be a job. Take it out."
        )
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _number_faults(inner, f"{path}.{key}".lstrip("."), depth + 1)
    elif isinstance(value, Sequence) and not isinstance(value, str):
        for index, inner in enumerate(value):
            yield from _number_faults(inner, f"{path}[{index}]", depth + 1)
    # Put so that what is not a number fails too.
    elif isinstance(value, int | float) and not abs(value) <= MOST:
        yield Finding(
            path=path,
            code="absurd number",
            sentence=f"{path} is not a length that a floor can have. Read it again in millimetres.",
        )


def _without_hidden(value: Any) -> Any:
    """The same with hidden characters taken out of every text."""
    if isinstance(value, str):
        return _HIDDEN.sub("", value)
    if isinstance(value, Mapping):
        return {_HIDDEN.sub("", key): _without_hidden(inner) for key, inner in value.items()}
    if isinstance(value, Sequence):
        return [_without_hidden(inner) for inner in value]
    return value


def _convert(document: Mapping[str, Any]) -> Job:
    try:
        return msgspec.convert(document, Job)
    except msgspec.ValidationError as error:
        _refuse_entries(document)
        raise misfit(error, "The job file") from None


def _refuse_entries(document: Mapping[str, Any]) -> None:
    """Raise Refused for the first misfit in a group of named entries: the decoder does not give the name."""
    room = document.get("room")
    corners = room.get("corners") if isinstance(room, Mapping) else None
    for path, group, kind in (
        ("room.corners", corners, Pair),
        ("progress", document.get("progress"), PieceProgress),
    ):
        for name, entry in group.items() if isinstance(group, Mapping) else ():
            try:
                msgspec.convert(entry, kind)
            except msgspec.ValidationError as error:
                raise misfit(error, "The job file", f"{path}.{name}") from None


def _unknown_keys(value: Any, kind: Any, path: str) -> Iterator[Finding]:
    """A note for each key that the records do not know; the file keeps it."""
    kind = _read_as(value, kind)
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct) and isinstance(value, Mapping):
        known = _fields(kind)
        for key, inner in value.items():
            inner_path = f"{path}.{key}".lstrip(".")
            if key in known:
                yield from _unknown_keys(inner, known[key], inner_path)
            else:
                yield _unknown(inner_path)
    elif get_origin(kind) is dict and isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _unknown_keys(inner, get_args(kind)[1], f"{path}.{key}")
    elif get_origin(kind) is tuple and get_args(kind)[-1] is Ellipsis and isinstance(value, Sequence):
        for index, inner in enumerate(value):
            yield from _unknown_keys(inner, get_args(kind)[0], f"{path}[{index}]")


@cache
def _fields(kind: type[msgspec.Struct]) -> Mapping[str | None, Any]:
    """A record's keys in the file, the one that tells records apart among them, and what each is read as.

    Found once: with every move of the pattern the whole job is read.
    """
    hints = get_type_hints(kind)
    fields: dict[str | None, Any] = {kind.__struct_config__.tag_field: str}
    return fields | {info.encode_name: hints[info.name] for info in msgspec.structs.fields(kind)}


def _read_as(value: Any, kind: Any) -> Any:
    """The type behind ``T | None``; of several records the one whose tag the value bears."""
    if not isinstance(kind, UnionType):
        return kind
    kinds = [inner for inner in get_args(kind) if inner is not type(None)]
    return next((inner for inner in kinds if _bears_tag(value, inner)), kinds[0])


def _bears_tag(value: Any, kind: Any) -> bool:
    config = getattr(kind, "__struct_config__", None)
    return isinstance(value, Mapping) and config is not None and value.get(config.tag_field) == config.tag


def _unknown(path: str) -> Finding:
    return Finding(
        path=path,
        code="unknown key",
        level="note",
        sentence=f"“{path}” is not known to this version; it is kept in the file and not used.",
    )
