"""What a line to strike is called where a person reads it; files keep the name by which it is known."""

from engine.model.laid import SQUARE_TO_IT

# “It” says nothing on a list where another line stands before, or on the drawing of the line alone.
SHOWN = "square to the row axis"


def shown_name(name: str) -> str:
    """A line's name, or that of one of its parts."""
    return SHOWN + name.removeprefix(SQUARE_TO_IT) if name.startswith(SQUARE_TO_IT) else name


def read_to(name: str) -> str:
    """What a distance on the laid floor is read to, a wall or a line, after “to” and on a list of them."""
    return f"line {shown_name(name)}" if name == SQUARE_TO_IT else name
