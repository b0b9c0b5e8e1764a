"""The desk's geometry and the phone's give the same answers.

The same jobs go through shapely here and through GEOS in WebAssembly under
real Pyodide in Node, all in one start of it. Structure must be equal,
coordinates within 0.001 mm.
"""

import json
import os
import random
import shutil
import subprocess
from math import cos, hypot, pi, radians, sin
from pathlib import Path

import pytest

from engine.geometry.native import Native
from engine.geometry.shapes import region_area
from engine.geometry.strips import strip

HERE = Path(__file__).parent
SITE = HERE.parent.parent / "site_src"
MODULES = Path(os.environ.get("OUT_OF_TRUE_NODE_MODULES", SITE / "node_modules"))
NEAR = 0.001

native = Native()


def box(left, low, right, high):
    """Make an upright rectangle."""
    return ((left, low), (right, low), (right, high), (left, high))


def crooked_room(chance, points_a_wall=200):
    """Make a room of four bowed, bumpy walls."""
    corners = [
        (0.0, 0.0),
        (5200.0, chance.uniform(-40, 40)),
        (5200 + chance.uniform(-40, 40), 4100.0),
        (-20.0, 4080.0),
    ]
    ring = []
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        bow, bump, length = chance.uniform(-18, 18), chance.uniform(-3, 3), hypot(bx - ax, by - ay)
        for k in range(points_a_wall):
            t = k / points_a_wall
            rise = (bow * sin(pi * t) + bump * sin(7 * pi * t)) / length
            ring.append((ax + t * (bx - ax) - rise * (by - ay), ay + t * (by - ay) + rise * (bx - ax)))
    return tuple(ring)


def boards_of(length, width, axis, anchor, reach):
    """Make herringbone boards straight from the lattice (METHODS.md), within ``reach`` mm of the anchor."""
    c, s = cos(radians(axis - 45)), sin(radians(axis - 45))
    boards = []
    for i in range(-99, 99):
        for j in range(-12, 12):
            du, dv = i * width + j * length, i * width - j * length
            if hypot(du, dv) < reach:
                for corners in (box(0, 0, length, width), box(-width, 0, 0, length)):
                    turned = [
                        (anchor[0] + c * (u + du) - s * (v + dv), anchor[1] + s * (u + du) + c * (v + dv))
                        for u, v in corners
                    ]
                    boards.append(tuple(turned))
    return boards


def room_jobs(seed):
    """Chain the verbs as a plan does: outline, strips along the walls, an island, then the boards."""
    chance = random.Random(seed)
    ring = crooked_room(chance)
    strips = strip((*ring, ring[0]), chance.choice([3.0, 10.0, 14.5]))
    outline, taken = native.unite([(ring,)]), native.unite([*strips, (box(2000, 1500, 3200, 2300),)])
    lay = native.subtract(outline, taken)
    axis = chance.choice([90.0, 45.0, 45.02, chance.uniform(0, 180)])
    boards = boards_of(*chance.choice([(600, 90), (450.5, 71.3)]), axis, (2600, 2000), 3900)
    return [
        ("unite", [(ring,)]),
        ("unite", [*strips, (box(2000, 1500, 3200, 2300),)]),
        ("subtract", outline, taken),
        ("clip", lay, boards),
    ]


def touching_jobs():
    """Boards that share edges with the region, or miss it or reach into it by less than can be seen."""
    region = ((box(0, 0, 1800, 900),),)
    square = boards_of(600, 90, 45.0, (0, 0), 2500)
    shifts = [shift * sign for shift in (0.0, 1e-9, 1e-7, 4e-7, 1e-5, 2e-4, 0.01) for sign in (1, -1)]
    beside = [box(600 + shift, 900 + shift, 1200, 990) for shift in shifts]
    ends = [box(1800 + shift, 90, 2400, 180) for shift in shifts]
    turned = boards_of(600, 90, 71.3, (431.7, 512.9), 1500)
    neighbours = [("clip", ((board,),), turned) for board in turned[:40:4]]
    return [("clip", region, square), ("clip", region, beside), ("clip", region, ends), *neighbours]


def shallow_jobs():
    """Walls that run almost along the boards, where a hair across is a millimetre along."""
    jobs = []
    for slope in (1.3e-6, 1.17e-5, 1e-4, 1.7e-4, 1e-3, 5e-3):
        ring = ((0.0, 0.0), (3000.0, 3000 * slope), (3000.0, 1500.0), (0.0, 1500.0))
        middle = 1500 * slope  # a row of long edges that cross the wall half-way
        boards = [
            box(300 * i - 7.3, 90 * j + middle, 300 * i + 592.7, 90 * j + 90 + middle)
            for i in range(9)
            for j in range(17)
        ]
        jobs.append(("clip", ((ring,),), boards))
    return jobs


def fault_jobs():
    """One polygon for each reason, and a sound one."""
    square, far = box(0, 0, 9, 9), box(20, 20, 21, 21)
    rings = [
        [((0, 0), (2, 0), (0, 2), (2, 2))],
        [((0, 0), (4, 0), (4, 4), (2, 0), (0, 4))],
        [square, far],
        [square, box(1, 1, 5, 5), box(2, 2, 3, 3)],
        [square, square],
        [((0, 0), (2, 0), (0, 0))],
        [square, box(1, 1, 2, 2)],
    ]
    return [("fault_of", polygon) for polygon in rings]


def tiny_jobs():
    """A corner that rounding left a hair off zero, where clipping to a box fails in GEOS."""
    room = ((0.0, 0.0), (2200.0, 1.2e-308), (2200.0, 1800.0), (0.0, 1790.0))
    return [("clip", ((room,),), boards_of(600, 90, 0.0, (1100, 900), 2500))]


FAMILIES = {
    "crooked rooms": [job for seed in range(4) for job in room_jobs(seed)],
    "touching boards": touching_jobs(),
    "almost parallel walls": shallow_jobs(),
    "a coordinate all but zero": tiny_jobs(),
    "faults": fault_jobs(),
    "nothing at all": [
        ("unite", []),
        ("subtract", [], []),
        ("clip", [], [box(0, 0, 1, 1)]),
        ("clip", [], []),
    ],
}


def run_node(script, *arguments, text=""):
    """Run a script with Node and give what it printed; say how to mend a missing tool."""
    node = shutil.which("node")
    if not node or not (MODULES / "geos-wasm").exists():
        pytest.fail(f"Node or {MODULES} is missing: run `npm ci --ignore-scripts` in site_src.")
    done = subprocess.run(
        [node, str(HERE / script), *map(str, arguments)],
        input=text,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-4000:]
    return done.stdout


@pytest.fixture(scope="module")
def phone_answers():
    """Answers of the phone's kernel to all jobs, by family."""
    jobs = [
        {"verb": verb, "arguments": arguments} for family in FAMILIES.values() for verb, *arguments in family
    ]
    printed = run_node(
        "kernel_in_node.mjs", SITE, MODULES / "pyodide", MODULES / "geos-wasm", text=json.dumps(jobs)
    )
    answers = iter(json.loads(printed))
    return {name: [next(answers) for _ in family] for name, family in FAMILIES.items()}


def assert_alike(ours, theirs):
    """Same structure all the way down, numbers within ``NEAR``."""
    if isinstance(ours, (tuple, list)):
        assert len(ours) == len(theirs)
        for mine, other in zip(ours, theirs, strict=True):
            assert_alike(mine, other)
    elif isinstance(ours, float):
        assert abs(ours - theirs) < NEAR
    else:
        assert ours == theirs


def answer_to_region(answer):
    """Make tuples of an answer's lists, as the engine has them."""
    return tuple(map(answer_to_region, answer)) if isinstance(answer, list) else answer


@pytest.mark.parametrize("family", FAMILIES)
def test_phone_and_desk_give_the_same_shapes(phone_answers, family):
    """Every job of the family: equal structure, every coordinate within 0.001 mm."""
    for (verb, *arguments), answer in zip(FAMILIES[family], phone_answers[family], strict=True):
        assert "error" not in answer, answer
        assert_alike(getattr(native, verb)(*arguments), answer["value"])


@pytest.mark.parametrize("family", ["crooked rooms", "a coordinate all but zero"])
def test_the_phones_pieces_add_up_to_the_room(phone_answers, family):
    """The boards tile the plane, so their parts fill the lay area, on the phone by itself too."""
    for job, answer in zip(FAMILIES[family], phone_answers[family], strict=True):
        if job[0] == "clip":
            pieces = (answer_to_region(part) for part in answer["value"])
            assert sum(map(region_area, pieces)) == pytest.approx(region_area(job[1]), abs=0.1)


def test_the_workers_side_of_the_kernel_keeps_its_promises():
    """Memory given back, errors as sentences, a start that never comes to an end is refused."""
    run_node("geos_kernel_checks.mjs", SITE, MODULES / "geos-wasm")
