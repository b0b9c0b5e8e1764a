"""A struck line in the midst of a sentence."""

from engine.model.laid import ROW_AXIS
from engine.planning.line_names import shown_name
from engine.planning.setting_out import START_LINE


def the_line(name: str) -> str:
    """Its name with an article: some are nouns, others say how the line runs."""
    return f"the {name}" if name in (ROW_AXIS, START_LINE) else f"the line {shown_name(name)}"
