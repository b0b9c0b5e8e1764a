"""The list in the order in which the saw is set: under which setting each piece stands, in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from engine.planning.floor_plan import FloorPlan
from engine.planning.saw_order import SawSetting, saw_settings
from engine.planning.to_cut import pieces_to_cut
from engine.planning.tools import mitre_saw
from engine.wire.figures import Writer
from engine.wire.tool_words import stop_side


@dataclass(frozen=True, kw_only=True, slots=True)
class SawPlace:
    """A piece's place, from 1, in the order of the saw; what the saw and the stop are set to for it."""

    number: int
    setting: str
    stop: str


def saw_places(plan: FloorPlan, writer: Writer) -> dict[str, SawPlace]:
    """The place of every piece to cut; one that needs two settings stands under the first."""
    pieces = pieces_to_cut(plan)
    found: dict[str, tuple[str, str]] = {}
    if "mitre saw" in plan.job.cutting.tools:
        for name, words in _on_the_saw(saw_settings(pieces, mitre_saw(plan.job.cutting)), writer):
            found.setdefault(name, words)
    others = [piece.id for piece in pieces if piece.id not in found]
    found |= dict.fromkeys(others, (f"Not on the mitre saw: {_pieces(len(others))}", ""))
    return {
        name: SawPlace(number=number, setting=setting, stop=stop)
        for number, (name, (setting, stop)) in enumerate(found.items(), 1)
    }


def _on_the_saw(settings: Sequence[SawSetting], writer: Writer) -> Iterator[tuple[str, tuple[str, str]]]:
    for (turned, angle), alike in groupby(settings, key=lambda each: (each.turned, abs(each.angle))):
        stops = list(alike)
        count = len({name for each in stops for name in each.pieces})
        turn = "square" if turned == "square" else f"{writer.degrees(angle)} to the {turned}"
        setting = f"Set {turn}: {_pieces(count)}"
        for _, at_stop in groupby(stops, key=lambda each: each.stop):
            same = list(at_stop)
            names = [name for each in same for name in each.pieces]
            for name in names:
                yield name, (setting, _stop(same[0], len(names), writer))


def _stop(setting: SawSetting, count: int, writer: Writer) -> str:
    if setting.stop is None:
        return f"By their marks: {_pieces(count)}"
    return f"Stop {writer.mm(setting.stop)} {stop_side(setting.turned)}: {_pieces(count)}"


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"
