"""Types for the page, made from the engine's records, so that both sides mean the same by a message.

``messages.d.ts`` is committed, for editors and the type check; a test fails when
it is stale. ``job.schema.json`` is the job file's JSON Schema and ships with the app.
"""

import inspect
import json
from typing import Any

import msgspec

from builder.console import step
from builder.places import SITE

TARGET = SITE / "app" / "messages.d.ts"
SCHEMA = "job.schema.json"
HEAD = "// Made by `python3 -m builder types` from the records of engine/wire; change it there.\n"


def write() -> None:
    """Write the types anew."""
    step(f"writing {TARGET.name}")
    TARGET.write_text(types(), encoding="utf-8")


def job_schema() -> dict[str, bytes]:
    """The JSON Schema of a job file."""
    from engine.model.job import Job

    schema = msgspec.json.schema(Job) | {"title": "Out of True job"}
    text = json.dumps(_level(schema), indent=1, ensure_ascii=False, sort_keys=True)
    return {SCHEMA: text.encode() + b"\n"}


def _level(part: Any) -> Any:
    """Descriptions without the indent of their source, which Python keeps up to 3.12: all write one file."""
    if isinstance(part, list):
        return [_level(inner) for inner in part]
    if not isinstance(part, dict):
        return part
    levelled = {key: _level(inner) for key, inner in part.items()}
    if isinstance(levelled.get("description"), str):
        levelled["description"] = inspect.cleandoc(levelled["description"])
    return levelled


def types() -> str:
    """TypeScript declarations of every message."""
    from engine.model.job import Job
    from engine.wire.replies import Progress, Reply
    from engine.wire.requests import Request

    roots = (Request, Reply, Progress, Job)
    _, components = msgspec.json.schema_components(roots, schema_hook=_any, ref_template="{name}")
    lines = [_declaration(name, schema) for name, schema in sorted(components.items())]
    unions = [_union("Request", Request), _union("Reply", Reply)]
    return HEAD + "\n" + "\n".join([*lines, *unions])


def _any(kind: object) -> dict[str, Any]:
    """What the records leave open stays open."""
    return {"type": "any"}


def _union(name: str, kind: Any) -> str:
    return f"export type {name} = {' | '.join(sorted(member.__name__ for member in kind.__args__))};\n"


def _declaration(name: str, schema: dict[str, Any]) -> str:
    required = set(schema.get("required", ()))
    fields = [
        f"  {_key(key)}{'' if key in required else '?'}: {_type(inner)};"
        for key, inner in schema["properties"].items()
    ]
    return f"{_comment(schema)}export interface {name} {{\n" + "\n".join(fields) + "\n}\n"


def _comment(schema: dict[str, Any]) -> str:
    words = schema.get("description", "").split("\n")[0]
    return f"/** {words} */\n" if words else ""


def _key(key: str) -> str:
    return key if key.isidentifier() else json.dumps(key)


_PLAIN = {"string": "string", "number": "number", "integer": "number", "boolean": "boolean", "null": "null"}


def _type(schema: dict[str, Any]) -> str:
    if "$ref" in schema:
        return str(schema["$ref"])
    if "enum" in schema:
        return " | ".join(json.dumps(value) for value in schema["enum"])
    if "anyOf" in schema:
        return " | ".join(_type(inner) for inner in schema["anyOf"])
    kind = schema.get("type")
    if kind == "array":
        return _array(schema)
    if kind == "object":
        return f"Record<string, {_type(schema.get('additionalProperties') or {})}>"
    return _PLAIN.get(str(kind), "unknown")


def _array(schema: dict[str, Any]) -> str:
    if "prefixItems" in schema:
        return f"[{', '.join(_type(inner) for inner in schema['prefixItems'])}]"
    return f"({_type(schema.get('items') or {})})[]"
