"""What a mitre saw can be set to, and which way it is turned for a cut.

A cut's angle counts from square and says which long edge stays longer. The saw
knows another thing: whether it is turned to the right or to the left. For a board
that lies face up these are one when its start end stays, and each other's opposite
when its far end does: a cut line lies the same way whichever side of it is kept.
"""

from math import acos, ceil, cos, degrees, floor, inf, radians

from msgspec import Struct

from engine.cutting.corridor import CutLine

# A setting this far beyond the end of a range is still in it, degrees; a step is never that fine.
AT_END = 1e-7
# Kept back from either end of a range, degrees: desk and phone differ by less, and settings are round.
ROUNDING = 1e-5

Range = tuple[float, float]


class Saw(Struct, frozen=True, kw_only=True):
    """A mitre saw. Angles in degrees from square, to the right positive.

    ``step`` is the step of its scale (0: any angle); ``detents`` are where it
    clicks in, on both sides; a saw always does at square. ``is_face_up``: the
    board lies on it with its face up. ``error`` is by how much it may be off;
    ``reach`` is how far off the fence it cuts at square, mm.
    """

    step: float = 0.5
    detents: tuple[float, ...] = ()
    largest_left: float = 50.0
    largest_right: float = 50.0
    is_face_up: bool = True
    error: float = 0.0
    reach: float = inf

    def turned(self, angle: float, keeps_start: bool) -> float:
        """How the saw is turned for a cut's angle, or the angle for how it is turned."""
        return angle if keeps_start == self.is_face_up else -angle

    def only(self, turn: float) -> Range | None:
        """One way of turning it as a range; None when it does not swing so far."""
        swings = -self.largest_left - AT_END <= turn <= self.largest_right + AT_END
        return (turn, turn) if swings else None

    def reach_at(self, turn: float) -> float:
        """How far off the fence it cuts turned so (mm): its blade travels as far, but slantwise."""
        return self.reach * cos(radians(turn))

    def makes(self, turn: float, across: float) -> bool:
        """Does it swing so far, and reach there to where a cut ends ``across`` mm off the fence?"""
        return self.only(turn) is not None and across <= self.reach_at(turn) + AT_END

    def holding(self, line: CutLine, across: float = 0.0) -> Range | None:
        """How far it can be turned for a cut that holds the same band and ends ``across`` mm off the fence.

        None when it does not swing or reach so far.
        """
        assert line.corridor is not None
        least, most = line.corridor.angles()
        keeps_start = line.keeps_start
        first, last = sorted((self.turned(least, keeps_start), self.turned(most, keeps_start)))
        if across > self.reach:
            return None
        turned_most = degrees(acos(across / self.reach))
        inner = (
            max(first, -min(self.largest_left, turned_most)),
            min(last, self.largest_right, turned_most),
        )
        return inner if inner[0] <= inner[1] else None

    def settable(self, held: Range) -> Range | None:
        """The first and the last setting within a range; None where it has none there."""
        first, last = self._shrunk(held)
        if self.step <= 0:
            return first, last
        first, last = self._next(first), -self._next(-last)
        return (first, last) if first <= last else None

    def _shrunk(self, held: Range) -> Range:
        """A little less than the range, unless there is next to nothing of it; the end of its swing stays."""
        first, last = held
        if last - first < 4 * ROUNDING:
            return held
        return (
            first if first <= -self.largest_left else first + ROUNDING,
            last if last >= self.largest_right else last - ROUNDING,
        )

    def nearest(self, turn: float) -> float:
        """The setting nearest to a way of turning it, as far as it swings."""
        turn = min(max(turn, -self.largest_left), self.largest_right)
        if self.step <= 0:
            return turn
        settings = (self._next(turn), -self._next(-turn))
        within = [setting for setting in settings if self.only(setting) is not None]
        return min(within, key=lambda setting: (round(abs(setting - turn), 9), abs(setting)))

    def _next(self, turn: float) -> float:
        """The first setting from ``turn`` on; the settings to the left mirror those to the right."""
        on_scale = ceil((turn - AT_END) / self.step) * self.step
        return min([on_scale, *(click for click in self._clicks() if click >= turn - AT_END)])

    def _clicks(self) -> tuple[float, ...]:
        """Where it clicks in, from left to right."""
        return tuple(sorted({0.0, *self.detents, *(-detent for detent in self.detents)}))

    def preferred(self, settings: Range) -> float:
        """The setting to take of a range that begins and ends with one: a detent, else near its middle."""
        first, last = settings
        middle = (first + last) / 2
        clicks = [click for click in self._clicks() if first - AT_END <= click <= last + AT_END]
        if clicks:
            return min(clicks, key=lambda click: (round(abs(click - middle), 6), abs(click)))
        if self.step <= 0:
            return middle
        below = floor(middle / self.step + AT_END) * self.step
        steps = (first, below, below + self.step, last)
        within = [turn for turn in steps if first - AT_END <= turn <= last + AT_END]
        return min(within, key=lambda turn: (round(abs(turn - middle), 6), abs(turn)))
