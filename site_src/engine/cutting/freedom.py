"""How far the cuts of one piece may be turned, as sawing it has shown.

Each cut's own range is what its band allows. Measured against all walls a gap may leave its band all the
same: where the band of another wall begins, or where two cuts of one piece meet. Then the range ends
where the gap still holds, and not at the one angle that the piece would have by itself.
"""

from collections.abc import Iterator, Mapping
from math import inf

from msgspec import Struct, field
from msgspec.structs import replace

from engine.cutting.at_fence import at_fence
from engine.cutting.corridor import CutLine
from engine.cutting.fewest import Range
from engine.cutting.saw_angles import Saw
from engine.cutting.sawn_piece import PlannedPiece, at_same_angles, is_held
from engine.cutting.straight_lines import CutPlace, Treatments, are_turned_alike, lines_of, with_lines

# The end of a range is sought by halving it so often: 100° to less than a hundredth.
HALVINGS = 14
ANY: Range = (-inf, inf)


class Freedom(Struct, frozen=True, kw_only=True):
    """What is known of one piece.

    ``limits`` are how far the saw may be turned, in degrees, where that is less than the band allows;
    ``shares_stop``: may the cuts be moved along the board for a stop? ``may_move``: may they lie where other
    walls want them? Not one that other pieces follow.
    """

    plan: PlannedPiece
    limits: Mapping[CutPlace, Range] = field(default_factory=dict)
    shares_stop: bool = True
    may_move: bool = True

    def lines(self) -> Iterator[tuple[CutPlace, CutLine]]:
        """The straight cuts that it would have by itself, without those that follow another piece's."""
        yield from (each for each in lines_of(self.plan.treatments) if each[1].corridor is not None)

    def turns(self, place: CutPlace, line: CutLine, saw: Saw) -> Range | None:
        """How far the saw may be turned for one of them; None when it cannot make it."""
        across = self._across(line, saw)
        held = saw.holding(line, across)
        if held is None:
            return None
        first, last = self.limits.get(place, ANY)
        inner = (max(held[0], first), min(held[1], last))
        if inner[0] <= inner[1]:
            return inner
        turn = _turn(line, saw)
        return (turn, turn) if saw.makes(turn, across) else None

    def _across(self, line: CutLine, saw: Saw) -> float:
        """How far off the fence it ends (mm)."""
        assert line.corridor is not None
        size = self.plan.size
        lies = at_fence(size, line.angle, keeps_start=line.keeps_start, is_face_up=saw.is_face_up)
        return lies.across(line.corridor.ends)

    def held_at(self, place: CutPlace, saw: Saw) -> "Freedom":
        """The same with one cut held to its own turn, and without a stop."""
        turn = _turn(dict(self.lines())[place], saw)
        return replace(self, limits={**self.limits, place: (turn, turn)}, shares_stop=False)

    def after(self, wanted: Treatments, sawn: Treatments, saw: Saw) -> "Freedom":
        """The same when it was to be treated as ``wanted`` and had to be treated otherwise."""
        if are_turned_alike(sawn, wanted):
            return replace(self, shares_stop=False)
        if sawn != self.plan.treatments:
            return Freedom(plan=replace(self.plan, treatments=sawn), may_move=self.may_move)
        return replace(self, limits=dict(self._limits(dict(lines_of(wanted)), saw)))

    def _limits(self, wanted: Mapping[CutPlace, CutLine], saw: Saw) -> Iterator[tuple[CutPlace, Range]]:
        """Limits that leave out what was wanted: of the cuts at fault, else of all."""
        own = dict(self.lines())
        turns = {
            place: (_turn(line, saw), saw.turned(wanted[place].angle, line.keeps_start))
            for place, line in own.items()
        }
        at_fault = [place for place, (_, turn) in turns.items() if not self._is_held(place, turn, saw)]
        for place, (good, bad) in turns.items():
            first, last = self.limits.get(place, ANY)
            if not at_fault:
                yield place, (good, good)
            elif place in at_fault:
                end = self._last_held(place, good, bad, saw)
                yield place, (max(first, end), last) if bad < good else (first, min(last, end))
            else:
                yield place, (first, last)

    def _last_held(self, place: CutPlace, good: float, bad: float, saw: Saw) -> float:
        """How far from its own turn towards one that does not hold it may be turned."""
        for _ in range(HALVINGS):
            middle = (good + bad) / 2
            if self._is_held(place, middle, saw):
                good = middle
            else:
                bad = middle
        return good

    def _is_held(self, place: CutPlace, turn: float, saw: Saw) -> bool:
        """Are all gaps inside their bands with this one cut turned so, and the others as they are?"""
        line = dict(self.lines())[place]
        assert line.corridor is not None
        slope = line.corridor.slope_of(saw.turned(turn, line.keeps_start))
        turned = with_lines(self.plan.treatments, {place: line.corridor.line(slope, is_set=True)})
        return any(is_held(self.plan, each) for each in at_same_angles(turned, self.may_move))


def _turn(line: CutLine, saw: Saw) -> float:
    return saw.turned(line.angle, line.keeps_start)
