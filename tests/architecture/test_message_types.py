"""The page and the engine mean the same by a message."""

import json

import msgspec

from builder import message_types
from engine.model.job import Job


def test_the_committed_message_types_are_those_of_the_records() -> None:
    """If this fails, run `python3 -m builder types` and commit what it wrote."""
    assert message_types.TARGET.read_text(encoding="utf-8") == message_types.types()


def test_the_shipped_schema_accepts_the_fields_the_records_have() -> None:
    schema = json.loads(message_types.job_schema()[message_types.SCHEMA])
    named = schema["$defs"]["Job"]["properties"]
    assert set(named) == {field.encode_name for field in msgspec.structs.fields(Job)}
    assert set(schema["$defs"]["Job"]["required"]) == {"room", "floor"}


def test_the_schema_says_the_same_on_every_python() -> None:
    """Up to 3.12 a record's words bear the indent of its source, from 3.13 on they do not."""
    text = message_types.job_schema()[message_types.SCHEMA].decode()
    assert '"The tools and what the user accepts.\\n\\n``saw_step`` is' in text
