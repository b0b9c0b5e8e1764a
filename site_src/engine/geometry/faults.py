"""What can be wrong with a polygon, in words that do not depend on the library that found it."""

from math import isfinite

from engine.geometry.shapes import Point, Polygon

Fault = tuple[str, Point]

REASONS = {
    "not a number": "A coordinate is not a finite number.",
    "too few corners": "A ring needs at least three corners that differ.",
    "crosses itself": "Two sides cross each other.",
    "touches itself": "The outline touches itself in a point or along a side.",
    "hole outside": "A hole lies outside the outline or inside another hole.",
    "in parts": "The inside falls apart into pieces that only touch.",
}

_FROM_GEOS = {
    "Invalid Coordinate": "not a number",
    "Too few points in geometry component": "too few corners",
    "Self-intersection": "crosses itself",
    "Ring Self-intersection": "touches itself",
    "Duplicate Rings": "touches itself",
    "Hole lies outside shell": "hole outside",
    "Holes are nested": "hole outside",
    "Interior is disconnected": "in parts",
}


def reason_of(geos_reason: str) -> str:
    """Translate the reason GEOS gives (its ``IsValidOp`` texts, GEOS 3.13) into a key of ``REASONS``."""
    return _FROM_GEOS.get(geos_reason, "crosses itself")


def plain_fault(polygon: Polygon) -> Fault | None:
    """Find what a library would refuse to take in at all."""
    for ring in polygon:
        for x, y in ring:
            if not (isfinite(x) and isfinite(y)):
                return "not a number", (x, y)
    for ring in polygon or ((),):
        if len(set(ring)) < 3:
            return "too few corners", ring[0] if ring else (0.0, 0.0)
    return None
