"""The list in the order in which the saw is set: under which setting each piece stands, in words."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from msgspec import Struct

from engine.planning.floor_plan import FloorPlan
from engine.planning.saw_order import BladeSide, PieceCut, SawSetting, saw_settings
from engine.planning.to_cut import pieces_to_cut
from engine.planning.tools import mitre_saw
from engine.wire.figures import Writer


class SawPlace(Struct, frozen=True, kw_only=True):
    """A place, from 1, in the order of the saw; what the saw and the stop are set to there.

    0 for a piece that is glued to another which stands for it.
    """

    number: int
    setting: str
    stop: str


def saw_places(plan: FloorPlan, writer: Writer) -> dict[str, tuple[SawPlace, ...]]:
    """The places of every piece to cut, one for each of its cuts on the mitre saw; one if there is none.

    Two cuts of a piece at one setting are one place.
    """
    pieces = pieces_to_cut(plan)
    found: dict[PieceCut, tuple[str, str]] = {}
    if "mitre saw" in plan.job.cutting.tools:
        found = dict(_on_the_saw(saw_settings(pieces, mitre_saw(plan.job.cutting)), writer))
    on_it = {name for name, _ in found}
    stand_in = {p.id: p.glued.leads for p in pieces if p.glued and p.glued.leads != p.id}
    others = [piece.id for piece in pieces if piece.id not in on_it and piece.id not in stand_in]
    found |= dict.fromkeys(
        ((name, 0) for name in others), (f"Not on the mitre saw: {_pieces(len(others))}", "")
    )
    numbers: dict[tuple[str, str, str], int] = {}
    for (name, _), words in found.items():
        numbers.setdefault((name, *words), len(numbers) + 1)
    places: dict[str, tuple[SawPlace, ...]] = {}
    for (name, _), words in sorted(found.items()):
        place = SawPlace(number=numbers[name, *words], setting=words[0], stop=words[1])
        places[name] = (*places.get(name, ()), place)
    for name, leads in stand_in.items():
        places[name] = (SawPlace(number=0, setting=f"Cut as one with {leads}", stop=""),)
    return places


def _on_the_saw(settings: Sequence[SawSetting], writer: Writer) -> Iterator[tuple[PieceCut, tuple[str, str]]]:
    for (turned, angle), alike in groupby(settings, key=lambda each: (each.turned, each.angle)):
        stops = list(alike)
        turn = "square" if turned == "square" else f"{writer.degrees(angle)} to the {turned}"
        setting = f"Set {turn}: {_pieces(_count(stops))}"
        for each in stops:
            words = _stop(each.stop, each.side, len(each.pieces), writer)
            for cut in each.cuts:
                yield cut, (setting, words)


def _count(settings: Sequence[SawSetting]) -> int:
    return len({name for each in settings for name in each.pieces})


def _stop(stop: float | None, side: BladeSide, count: int, writer: Writer) -> str:
    if stop is None:
        return f"By their marks: {_pieces(count)}"
    return f"Stop {writer.mm(stop)} {side} of the blade: {_pieces(count)}"


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"
