"""All pieces of a floor sawn with the fewest settings of the saw.

Each straight cut may be made at a range of angles without its gap leaving the band.
All cuts together get as few ways of turning the saw as there can be, in as few numbers of degrees as
there then can be. At each, the pieces that lie against a stop
get as few places of the stop as there can be. Where the gap of a piece as measured leaves its band that way,
the piece is held to be less free, and all are looked at again.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence

from msgspec import Struct

from engine.cutting.at_fence import AtFence
from engine.cutting.corridor import CutLine
from engine.cutting.fewest import Range, fewest_points, nearest
from engine.cutting.fewest_turns import fewest_turns
from engine.cutting.freedom import Freedom
from engine.cutting.joined_cut import JoinedCut, Place
from engine.cutting.saw_angles import Saw
from engine.cutting.sawn_piece import PlannedPiece, SawnPiece, saw_piece
from engine.cutting.stop import DoubtAt, lies_for, preferred_stop, stop_range, with_stop
from engine.cutting.straight_lines import CutPlace, Treatments, with_lines

# How often the groups are formed anew after pieces that did not hold their bands as was wanted.
ROUNDS = 6


class TurnedCut(Struct, frozen=True, kw_only=True):
    """A cut that the saw is turned for: how far it may be (degrees), and how far it was by itself."""

    place: Place
    line: CutLine
    turns: Range
    wanted: float
    is_settable: bool


def saw_together(
    planned: Sequence[PlannedPiece], saw: Saw, doubt_at: DoubtAt, joined: Sequence[JoinedCut] = ()
) -> list[SawnPiece]:
    """Every piece sawn so that its gaps stay inside their bands, the saw set as seldom as can be.

    ``doubt_at``: how far a wall may lie from where the survey has it, in mm. Of a ``joined`` cut, which the
    pieces are planned with already, the first place alone has a corridor: the others follow it.
    """
    shared = {place[0] for cut in joined for place in cut.places}
    pieces = [Freedom(plan=plan, may_move=i not in shared) for i, plan in enumerate(planned)]
    sawn: dict[int, tuple[SawnPiece, Treatments]] = {}
    for _ in range(ROUNDS):
        before = list(pieces)
        for i, wanted in enumerate(_wanted(pieces, joined, saw, doubt_at)):
            if i not in sawn or sawn[i][1] != wanted:
                sawn[i] = saw_piece(before[i].plan, wanted, may_move=before[i].may_move)
                if sawn[i][1] != wanted:
                    pieces[i] = before[i].after(wanted, sawn[i][1], saw)
        _hold_joined(pieces, before, joined, saw)
        if pieces == before:
            break
    return [sawn[i][0] for i in range(len(pieces))]


def _hold_joined(
    pieces: list[Freedom], before: Sequence[Freedom], joined: Sequence[JoinedCut], saw: Saw
) -> None:
    """Where one of the pieces did not hold a cut made through several, all take the line known to hold."""
    for cut in joined:
        members = [i for i, *_ in cut.places]
        lead, *place = cut.places[0]
        at = (place[0], place[1])
        if all(pieces[i] == before[i] for i in members) or at in before[lead].limits:
            continue
        for i in members:
            pieces[i] = before[i]
        pieces[lead] = before[lead].held_at(at, saw)


def _wanted(
    pieces: Sequence[Freedom], joined: Sequence[JoinedCut], saw: Saw, doubt_at: DoubtAt
) -> list[Treatments]:
    """How each piece is to be treated when all share the fewest settings."""
    shared = dict(_shared_lines(pieces, joined, saw, doubt_at))
    for cut in joined:
        if cut.places[0] in shared:
            shared |= dict(cut.lines(shared[cut.places[0]], pieces))
    lines: dict[int, dict[CutPlace, CutLine]] = {}
    for (i, *place), line in shared.items():
        lines.setdefault(i, {})[(place[0], place[1])] = line
    return [with_lines(piece.plan.treatments, lines.get(i, {})) for i, piece in enumerate(pieces)]


def _shared_lines(
    pieces: Sequence[Freedom], joined: Sequence[JoinedCut], saw: Saw, doubt_at: DoubtAt
) -> Iterator[tuple[Place, CutLine]]:
    """The cuts of all pieces at the settings that they share."""
    cuts = [cut for i, piece in enumerate(pieces) for cut in _turned_cuts(i, piece, saw)]
    turns = shared_turns(cuts, saw)
    edges = {cut.places[0]: cut.fence for cut in joined}
    for turn in sorted(set(turns.values())):
        lines = {cut.place: _cut_at(cut, turn, saw) for cut in cuts if turns[cut.place] == turn}
        lies = {
            place: lies_for(pieces[place[0]].plan, line, is_face_up=saw.is_face_up, edge=edges.get(place))
            for place, line in lines.items()
        }
        barred = {
            cut.places[0]
            for cut in joined
            if cut.places[0] in lies and lies[cut.places[0]].end not in cut.ends
        }
        yield from _at_stops(lines, lies, pieces, barred, doubt_at)


def _turned_cuts(i: int, piece: Freedom, saw: Saw) -> Iterator[TurnedCut]:
    for place, line in piece.lines():
        held = piece.turns(place, line, saw)
        if held is not None:
            settable = saw.settable(held)
            yield TurnedCut(
                place=(i, *place),
                line=line,
                turns=settable or held,
                wanted=saw.turned(line.angle, line.keeps_start),
                is_settable=settable is not None,
            )


def shared_turns(cuts: Sequence[TurnedCut], saw: Saw) -> dict[Place, float]:
    """How the saw is turned for each cut (degrees), in as few ways, then numbers, as there can be."""
    chosen: dict[Place, float] = {}
    for is_settable in (True, False):
        alike = [cut for cut in cuts if cut.is_settable == is_settable]
        turns = fewest_turns([cut.turns for cut in alike], saw.preferred)
        chosen |= {cut.place: nearest(turns, cut.turns, cut.wanted) for cut in alike}
    return chosen


def _at_stops(
    lines: Mapping[Place, CutLine],
    lies: Mapping[Place, AtFence],
    pieces: Sequence[Freedom],
    barred: Collection[Place],
    doubt_at: DoubtAt,
) -> Iterator[tuple[Place, CutLine]]:
    """The cuts made at one setting, with the fewest places of the stop on either side of the blade.

    The ``barred`` ones cannot lie against one.
    """
    for is_left in (True, False):
        side = [place for place in lines if lies[place].is_left == is_left]
        free = [place for place in side if pieces[place[0]].shares_stop and place not in barred]
        found = (
            (place, stop_range(pieces[place[0]].plan, lines[place], lies[place], doubt_at)) for place in free
        )
        ranges = {place: held for place, held in found if held is not None}
        stops = fewest_points(list(ranges.values()), preferred_stop)
        for place in side:
            if place in ranges:
                held = ranges[place]
                stop = nearest(stops, held, (held[0] + held[1]) / 2)
                yield place, with_stop(lines[place], lies[place], stop)
            else:
                yield place, lines[place]


def _cut_at(cut: TurnedCut, turn: float, saw: Saw) -> CutLine:
    """A cut with the saw turned so, as near to the nominal gap as it can be."""
    corridor = cut.line.corridor
    assert corridor is not None
    angle = saw.turned(turn, cut.line.keeps_start)
    return corridor.line(corridor.slope_of(angle), is_set=cut.is_settable)
