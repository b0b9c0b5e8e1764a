"""How far straight rows are moved against each other: fixed, or random-looking and still the same every time.

A random-looking stagger is a table of moves made from a seed by whole-number
arithmetic alone, so that desk and phone agree to the last bit. Past its end the
table is read backwards: neighbours in it stay neighbours, so the least stagger
holds everywhere, and a row asks for no walk from the anchor.
"""

from collections.abc import Callable, Iterator
from functools import lru_cache

from engine.errors import Finding
from engine.model.job import Floor, Stagger
from engine.units import number_text

# Rows to either side of the anchor before the table is read backwards: more than a room has.
TABLE = 512
# Of so many moves the one is taken that keeps farthest from the joints two rows back.
TRIES = 4
# Parts of the length: what a random-looking stagger keeps, and a fixed one moves, when nothing is said.
USUAL_LEAST, USUAL_BY = 1 / 4, 1 / 3
# Joints nearer to each other than this many widths are warned of (common practice, no source).
NEAR_WIDTHS = 2.0
# Joints a row farther on that differ by less than rounding are one, part of the length.
SAME = 1e-9

_MASK = (1 << 64) - 1


def row_shift(floor: Floor) -> Callable[[int], float]:
    """Row number to how far that row is moved on, as a part of the board's length, from 0 to below 1."""
    stagger, length = floor.stagger or Stagger(), floor.board.length
    if stagger.seed is None:
        step = _fixed(stagger, length)
        return lambda row: _turned(row * step)
    table = _random_table(stagger.seed, _least(stagger, length))
    first = table[_back_and_forth(0)]
    return lambda row: _turned(table[_back_and_forth(row)] - first)


def stagger_faults(floor: Floor) -> Iterator[Finding]:
    """A stagger that says two things at once, is no length, or is less than the least allowed."""
    stagger, length = floor.stagger or Stagger(), floor.board.length
    if stagger.by is not None and stagger.seed is not None:
        sentence = "The stagger is both fixed and random-looking. Keep either the distance or the seed."
        yield Finding(path="floor.stagger", code="stagger said twice", sentence=sentence)
    if stagger.least is not None and not 0 <= stagger.least <= length / 2:
        yield Finding(
            path="floor.stagger.least",
            code="least stagger out of range",
            sentence=f"Rows of {number_text(length, 1)} mm boards can keep at most half a board, "
            f"{number_text(length / 2, 1)} mm, between their end joints. Make the least stagger smaller.",
        )
    elif stagger.seed is None:
        yield from _fixed_faults(floor, stagger)


def _fixed_faults(floor: Floor, stagger: Stagger) -> Iterator[Finding]:
    length = floor.board.length
    kept = _apart(_fixed(stagger, length)) * length
    if stagger.least is not None and kept < stagger.least - SAME * length:
        yield Finding(
            path="floor.stagger.by",
            code="stagger too short",
            sentence=f"The end joints of neighbouring rows would lie {number_text(kept, 1)} mm apart, less "
            f"than the {number_text(stagger.least, 1)} mm allowed. Move rows on by "
            f"{number_text(stagger.least, 1)} to {number_text(length - stagger.least, 1)} mm, or make the "
            "least stagger smaller.",
        )
    elif stagger.least is None and kept < NEAR_WIDTHS * floor.board.width:
        yield Finding(
            path="floor.stagger.by",
            code="stagger short",
            level="warning",
            sentence=f"The end joints of neighbouring rows lie {number_text(kept, 1)} mm apart. "
            "Look up what the maker of the boards allows and enter it as the least stagger.",
        )


def _fixed(stagger: Stagger, length: float) -> float:
    return USUAL_BY if stagger.by is None else stagger.by / length


def _least(stagger: Stagger, length: float) -> float:
    return USUAL_LEAST if stagger.least is None else stagger.least / length


def _turned(part: float) -> float:
    """The part of a length beyond whole lengths; rounding just below a whole one is none."""
    rest = part % 1.0
    return rest if rest < 1.0 - SAME else 0.0


def _apart(part: float) -> float:
    """How far apart joints are that differ by a part of the length, whichever way round."""
    rest = part % 1.0
    return min(rest, 1.0 - rest)


def _back_and_forth(row: int) -> int:
    """The place in the table: the anchor's row in its middle, read backwards past either end."""
    place = (row + TABLE // 2) % (2 * TABLE - 2)
    return min(place, 2 * TABLE - 2 - place)


@lru_cache(maxsize=8)
def _random_table(seed: int, least: float) -> tuple[float, ...]:
    """Moves of successive rows, each at least ``least`` from the one before, as parts of the length."""
    moves = [_chance(seed, 0, 0)]
    for row in range(1, TABLE):
        steps = [least + _chance(seed, row, attempt) * (1 - 2 * least) for attempt in range(TRIES)]
        moves.append(_farthest([_turned(moves[-1] + step) for step in steps], moves[max(0, row - 2)]))
    return tuple(moves)


def _farthest(moves: list[float], other: float) -> float:
    return max(moves, key=lambda move: _apart(move - other))


def _chance(*numbers: int) -> float:
    """A number from 0 to below 1 that looks random, out of whole numbers (SplitMix64, Steele 2014)."""
    mixed = 0
    for number in numbers:
        mixed = (mixed + number + 0x9E3779B97F4A7C15) & _MASK
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & _MASK
        mixed ^= mixed >> 31
    return (mixed >> 11) / (1 << 53)
