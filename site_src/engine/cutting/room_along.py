"""Whether pieces that slide along one board can lie beside each other on it: sure both ways.

If they can, they can as well with each moved to the start as far as it goes (the least solution of a system
of differences; Cormen et al., Introduction to Algorithms). There each lies at the least of its
slide or tight against another on the side of the start. So it is enough to put in one
after the other, in every order, at these places. That straight cuts part them is not asked.
"""

from collections.abc import Sequence

from engine.cutting.offcut_shapes import FIT, Nesting, PieceShape
from engine.cutting.parting import Placed


def have_room(lying: Sequence[Placed], loose: Sequence[PieceShape], nesting: Nesting) -> bool:
    """Is there a place for each of the ``loose`` pieces beside those that are ``lying``?"""
    if not loose:
        return True
    for i, shape in enumerate(loose):
        rest = [*loose[:i], *loose[i + 1 :]]
        if any(
            have_room([*lying, Placed(shape, way)], rest, nesting) for way in _ways(lying, shape, nesting)
        ):
            return True
    return False


def _ways(lying: Sequence[Placed], shape: PieceShape, nesting: Nesting) -> list[float]:
    """Where it may lie: at the least of its slide, and tight behind each of the others."""
    least, most = shape.slide
    found = ((each.way, nesting.forbidden(each.shape, shape)) for each in lying)
    stretches = [(way + taken[0], way + taken[1]) for way, taken in found if taken is not None]
    return [
        way
        for way in (least, *(high for _, high in stretches))
        if least - FIT <= way <= most + FIT
        and not any(low + FIT < way < high - FIT for low, high in stretches)
    ]
