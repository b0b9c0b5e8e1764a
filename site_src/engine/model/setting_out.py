"""What the job says about where the pattern should sit."""

from typing import Annotated, Literal

from msgspec import Meta, Struct, field

Pair = tuple[float, float]
Measure = Literal["area", "long_point", "short_side"]


class EdgeThatMatters(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A wall along which the pieces should be large. Twice the ``weight`` asks for pieces twice as large."""

    from_: str = field(name="from")
    to: str
    weight: Annotated[float, Meta(gt=0)] = 1.0


class Through(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """An opening through whose middle a row axis runs, exactly or ``within`` so many mm of it."""

    from_: Pair = field(name="from")
    to: Pair
    within: Annotated[float, Meta(ge=0)] = 0.0


class KeptPlace(Struct, frozen=True, kw_only=True):
    """Another place for the pattern, kept to be compared."""

    anchor: Pair
    axis: float


class SettingOut(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Where the pattern should sit.

    The smallest piece along the ``edges`` by that ``measure``, over the edge's
    weight, is made as large as can be. The axis may be turned by
    ``axis_within`` degrees to either side. What is ``locked`` stays where it is.
    """

    edges: tuple[EdgeThatMatters, ...] = ()
    measure: Measure = "area"
    through: tuple[Through, ...] = ()
    axis_within: Annotated[float, Meta(ge=0, le=5)] = 0.0
    locked: bool = False
    kept: KeptPlace | None = None
