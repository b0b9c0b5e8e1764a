"""The plan file as text."""

import msgspec

from engine.model.plan import Plan


def plan_json(plan: Plan) -> str:
    """The plan file, indented so that a person can read it."""
    return msgspec.json.format(msgspec.json.encode(plan), indent=1).decode() + "\n"
