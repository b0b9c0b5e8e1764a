"""A job file in: its structure checked here, once, and every fault named with its place in the file."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import isfinite
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

import msgspec

from engine.errors import Finding, Refused
from engine.model.job import FORMAT, VERSION, Job

# No room, board or reading is larger than a kilometre; such a number is a slip of the thumb, mm.
MOST = 1_000_000.0
# Deeper than any job goes.
DEPTH = 12

# Control characters, and those that turn the direction of writing, can make a name read as another.
_HIDDEN = re.compile("[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]")


@dataclass(frozen=True, kw_only=True, slots=True)
class OpenedJob:
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
        yield Finding(path=path, code="too deep", sentence=f"{path} is nested too deeply to be a job.")
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _number_faults(inner, f"{path}.{key}".lstrip("."), depth + 1)
    elif isinstance(value, Sequence) and not isinstance(value, str):
        for index, inner in enumerate(value):
            yield from _number_faults(inner, f"{path}[{index}]", depth + 1)
    elif isinstance(value, int | float) and not (isfinite(value) and abs(value) <= MOST):
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
        raise Refused(_structural(str(error))) from None


def _structural(message: str) -> Finding:
    """msgspec says ``… - at `$.room.walls[0].gap` ``; the path is taken out, the reason stays."""
    reason, _, place = message.partition(" - at `$")
    path = place.rstrip("`").lstrip(".")
    where = f"at {path}" if path else "at the top"
    return Finding(
        path=path,
        code="wrong structure",
        sentence=f"The job file cannot be read {where}: {reason[:1].lower()}{reason[1:]}. Correct that entry.",
    )


def _unknown_keys(value: Any, kind: Any, path: str) -> Iterator[Finding]:
    """A note for each key that the records do not know; the file keeps it."""
    kind = _plain(kind)
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct) and isinstance(value, Mapping):
        hints = get_type_hints(kind)
        fields = {info.encode_name: hints[info.name] for info in msgspec.structs.fields(kind)}
        for key, inner in value.items():
            inner_path = f"{path}.{key}".lstrip(".")
            if key in fields:
                yield from _unknown_keys(inner, fields[key], inner_path)
            else:
                yield _unknown(inner_path)
    elif get_origin(kind) is dict and isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _unknown_keys(inner, get_args(kind)[1], f"{path}.{key}")
    elif get_origin(kind) is tuple and get_args(kind)[-1] is Ellipsis and isinstance(value, Sequence):
        for index, inner in enumerate(value):
            yield from _unknown_keys(inner, get_args(kind)[0], f"{path}[{index}]")


def _plain(kind: Any) -> Any:
    """The type behind ``T | None``."""
    if isinstance(kind, UnionType):
        return next(inner for inner in get_args(kind) if inner is not type(None))
    return kind


def _unknown(path: str) -> Finding:
    return Finding(
        path=path,
        code="unknown key",
        level="note",
        sentence=f"“{path}” is not known to this version; it is kept in the file and not used.",
    )
