"""What the survey promises about its own errors, held against invented rooms whose truth is known.

A small study always runs; the full one of 500 rooms bears the mark ``long``.
"""

from dataclasses import dataclass
from random import Random

import pytest
from msgspec.structs import replace

from engine.model.job import Room
from engine.survey.corners import solve_corners
from engine.survey.network import OUTLIER
from engine.survey.outline import room_outline
from engine.survey.report import SurveyReport, survey_report
from tests.engine.survey.survey_rooms import read_lengths, read_walls, true_room

BLUNDER = 15.0
SEEDS = [pytest.param(25, id="25 rooms"), pytest.param(500, id="500 rooms", marks=pytest.mark.long)]


@dataclass
class Tally:
    """How often out of how many."""

    hits: int = 0
    tries: int = 0

    def add(self, hit: bool) -> None:
        self.hits += hit
        self.tries += 1

    @property
    def share(self) -> float:
        return self.hits / self.tries


@pytest.mark.parametrize("rooms", SEEDS)
@pytest.mark.parametrize(("spacing", "sd"), [(500.0, 0.5), (1000.0, 0.5), (600.0, 1.0)])
def test_bands_contain_the_true_wall(rooms: int, spacing: float, sd: float) -> None:
    """At 23 places on every wall, the truth lies inside the band at least 93 times of 100."""
    tally = Tally()
    for seed in range(rooms):
        random = Random(seed)
        true = true_room(random)
        room = Room(corners=true.corners, walls=read_walls(true, random, spacing, sd))
        for wall in survey_report(room, room_outline(room)).walls:
            shape = true.shapes[wall.line.from_ + wall.line.to]
            for k in range(1, 24):
                station = wall.line.chord * k / 24
                away = abs(shape(station) - wall.line.curve.offset(station))
                tally.add(away <= wall.band.half_width(station))
    print(f"{rooms} rooms, {spacing:.0f} mm, sd {sd}: inside {tally.share:.3f} of {tally.tries}")
    assert tally.share >= 0.93


@pytest.mark.parametrize("rooms", SEEDS)
def test_band_is_not_wide_for_nothing(rooms: int) -> None:
    """Read every 500 mm to half a millimetre, the band is on average narrower than ± 2 mm."""
    total = count = 0.0
    for seed in range(rooms):
        random = Random(seed)
        true = true_room(random)
        room = Room(corners=true.corners, walls=read_walls(true, random, 500.0, 0.5))
        for wall in survey_report(room, room_outline(room)).walls:
            drawn = wall.band.drawn()
            total += sum(half for _, _, half in drawn)
            count += len(drawn)
    print(f"{rooms} rooms: mean half width {total / count:.2f} mm")
    assert total / count < 2.0


@pytest.mark.parametrize("rooms", SEEDS)
def test_blunder_in_a_length_is_flagged_where_it_must_be(rooms: int) -> None:
    """15 mm added to a length whose stated smallest blunder is below 15 mm: some length fails its test.

    The stated figure is found with 80 % power (Baarda), so more than 80 % of
    those planted must be flagged, and nearly all where the figure is below 10 mm.
    Without a blunder few rooms are flagged.
    """
    flagged, sure, false = Tally(), Tally(), Tally()
    for seed in range(rooms):
        true = true_room(Random(seed))
        clean = solve_corners(read_lengths(true, Random(seed), 1.0)).adjustment
        false.add(any(abs(line.w) > OUTLIER for line in clean.lengths))
        target = Random(seed).choice(clean.lengths)
        if target.smallest_blunder > BLUNDER:
            continue
        wrong = {target.length.from_ + target.length.to: BLUNDER}
        found = solve_corners(read_lengths(true, Random(seed), 1.0, **wrong)).adjustment
        hit = any(abs(line.w) > OUTLIER for line in found.lengths)
        flagged.add(hit)
        if target.smallest_blunder <= 10:
            sure.add(hit)
    print(f"{rooms} rooms: flagged {flagged.share:.3f}, sure {sure.share:.3f}, false {false.share:.3f}")
    assert flagged.tries > rooms / 2
    assert flagged.share > 0.8
    assert sure.share > 0.98
    assert false.share < 0.05


@pytest.mark.parametrize("rooms", SEEDS)
def test_blunder_in_an_offset_is_flagged_where_it_must_be(rooms: int) -> None:
    """15 mm added to one reading whose stated smallest blunder is below 15 mm: that reading stands out."""
    flagged, placed, false = Tally(), Tally(), Tally()
    for seed in range(rooms):
        random = Random(seed)
        true = true_room(random)
        room = Room(corners=true.corners, walls=read_walls(true, random, 500.0, 0.5))
        report = survey_report(room, room_outline(room))
        false.add(any(check.suspect for wall in report.walls for check in wall.checks))
        index = random.randrange(len(room.walls))
        check = random.choice(report.walls[index].checks)
        if check.smallest_blunder > BLUNDER:
            continue
        found = _with_blunder(room, index, check.station)
        checks = [(check, wall) for wall, each in enumerate(found.walls) for check in each.checks]
        worst, on = max(checks, key=lambda pair: abs(pair[0].w))
        flagged.add(worst.suspect)
        placed.add((on, worst.station) == (index, check.station))
    print(
        f"{rooms} rooms: flagged {flagged.share:.3f}, placed {placed.share:.3f}, "
        f"false {false.share:.3f} of {flagged.tries}"
    )
    assert flagged.tries > rooms / 2
    assert flagged.share > 0.8
    assert placed.share > 0.8
    assert false.share < 0.2


def _with_blunder(room: Room, index: int, station: float) -> SurveyReport:
    wall = room.walls[index]
    offsets = tuple((s, o + BLUNDER if s == station else o) for s, o in wall.offsets)
    walls = (*room.walls[:index], replace(wall, offsets=offsets), *room.walls[index + 1 :])
    changed = replace(room, walls=walls)
    return survey_report(changed, room_outline(changed))
