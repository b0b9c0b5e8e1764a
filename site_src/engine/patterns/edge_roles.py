"""Which edges of a board go into those laid before, and which take those that follow.

With a joint that is laid forwards the edge that goes in carries the tongue.
"""

from typing import Literal

from engine.patterns.pattern import Edge, Pattern

Role = Literal["goes in", "takes", "either"]


def edge_roles(pattern: Pattern) -> dict[Edge, Role]:
    """Hand and side → its role; ``either`` where some boards of that hand go in there and others take."""
    laid = {joint.laid for joint in pattern.joints}
    joins = {joint.joins for joint in pattern.joints}
    return {edge: _role(edge in joins, edge in laid) for edge in sorted(laid | joins)}


def _role(goes_in: bool, takes: bool) -> Role:
    if goes_in and takes:
        return "either"
    return "goes in" if goes_in else "takes"
