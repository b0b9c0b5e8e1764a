"""Times how soon the pattern follows the hand on a phone's screen in Chromium.

From the moment of the hand's event to the moment when the frame with the new
picture has been painted, the engine's answer in between; and how long its
questions about the place take. A whole plan of the same floor is timed in the
same run, as something to compare with.
"""

import statistics
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from builder.browser import browser_path
from builder.places import BUILDER
from builder.serve import serving

PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 740},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}
# Walls of the demo room that matter.
WALLS = {"one wall": ("C–D",), "three walls": ("C–D", "A–B", "E–F")}
MOVES = 30
# Rests in ms: now shorter, now longer, so that some moves come while slivers are counted; or a frame each.
RESTS, RUN = [100 + step * 137 % 600 for step in range(MOVES)], [16] * MOVES
# Longer than the hand rests before a whole plan is asked for, ms.
SETTLED = 3000
STARTS = 120_000

Log = dict[str, list[dict[str, Any]]]


def print_moves(folder: Path) -> None:
    """One line for each way to move the pattern, and how that stands to a whole plan."""
    head = ("median ms", "worst", "to a plan", "lies", "is worth")
    print(f"\n{'from input to picture':34}" + "".join(f"{each:>12}" for each in head))
    for name, walls in WALLS.items():
        log, begun = moved_by_hand(folder, walls)
        plan = statistics.median(_took(log, "plan", 0))
        for (way, start), end in zip(begun.items(), [*list(begun.values())[1:], float("inf")], strict=True):
            waits = _waits(log, start, end)
            middle = statistics.median(waits)
            lies, worth = (statistics.median(_took(log, what, start, end)) for what in ("moved", "place"))
            print(
                f"{f'{name}, {way}':34}{middle:>12.0f}{max(waits):>12.0f}{middle / plan:>12.3f}"
                f"{lies:>12.1f}{worth:>12.1f}"
            )


def moved_by_hand(folder: Path, walls: Sequence[str]) -> tuple[Log, dict[str, float]]:
    """All that the page noted, and when each way of moving began, in ms."""
    from playwright.sync_api import sync_playwright

    chromium = browser_path()
    with serving(folder) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        context = browser.new_context(base_url=address, service_workers="block", **PHONE)
        context.add_init_script(path=BUILDER / "bench_moves.js")
        page = context.new_page()
        page.set_default_timeout(STARTS)
        _open_place(page, walls)
        begun = {}
        for way, move in WAYS.items():
            _settle(page)
            begun[way] = float(page.evaluate("performance.now()"))
            move(page)
        _settle(page)
        log = page.evaluate("movesLog")
        browser.close()
    return log, begun


def _open_place(page: Any, walls: Sequence[str]) -> None:
    page.goto("/#/jobs")
    page.get_by_role("button", name="Open the demo job").click()
    page.locator("path.piece").first.wait_for()
    job = page.evaluate("location.hash").rsplit("/", 1)[0]
    page.goto(f"/{job}/place")
    for wall in walls:
        page.get_by_label(wall).select_option("1")
        page.get_by_text(f"Saved: {wall} matters").wait_for()
    page.get_by_role("button", name="Map of all places").click()
    page.locator(".place-map svg").wait_for()


def _settle(page: Any) -> None:
    """Wait until the plan is there and nothing more is asked."""
    page.wait_for_timeout(SETTLED)
    # Asked anew each time: the app's policy forbids what waiting for a condition would evaluate.
    while not page.evaluate("movesLog.replies.length === movesLog.asks.length"):
        page.wait_for_timeout(RESTS[0])


def _finger(page: Any, rests: Sequence[int]) -> None:
    """A finger on the map, across all of it."""
    finger = page.context.new_cdp_session(page)
    drawing = page.locator(".place-map svg")
    # Between what stays in sight and the buttons.
    drawing.evaluate("svg => svg.scrollIntoView()")
    box = drawing.bounding_box()

    def touch(kind: str, part: float) -> None:
        x, y = box["x"] + box["width"] * (0.1 + 0.8 * part), box["y"] + box["height"] * (0.9 - 0.7 * part)
        points = [] if kind == "touchEnd" else [{"x": x, "y": y}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", 0)
    for step, rest in enumerate(rests, 1):
        page.wait_for_timeout(rest)
        touch("touchMove", step / len(rests))
    page.wait_for_timeout(RESTS[0])
    touch("touchEnd", 1)


def _buttons(page: Any) -> None:
    for step, rest in enumerate(RESTS):
        page.get_by_role("button", name="Move right 10 mm" if step % 3 else "Move up 10 mm").tap()
        page.wait_for_timeout(rest)


WAYS: dict[str, Callable[[Any], None]] = {
    "finger now and then": lambda page: _finger(page, RESTS),
    "finger that runs": lambda page: _finger(page, RUN),
    "buttons": _buttons,
}


def _waits(log: Log, start: float, end: float) -> list[float]:
    """How long each input waited for the picture of a place that was asked for after it.

    A picture that was known before that answer counts from when it was painted.
    """
    places = {reply["id"]: reply["by"] for reply in log["replies"] if "by" in reply}
    asks = [(ask["at"], places[ask["id"]]) for ask in log["asks"] if ask["id"] in places]
    waits = []
    for at in (each["at"] for each in log["inputs"] if start <= each["at"] < end):
        later = {place for asked, place in asks if asked >= at}
        painted = (one["painted"] for one in log["pictures"] if one["painted"] >= at and one["by"] in later)
        waits += [first - at for first in [next(painted, None)] if first is not None]
    return waits


def _took(log: Log, what: str, start: float, end: float = float("inf")) -> Iterator[float]:
    """How long the engine's answers to one question took that was put meanwhile."""
    asks = {ask["id"]: ask["at"] for ask in log["asks"] if ask["what"] == what and start <= ask["at"] < end}
    return (reply["at"] - asks[reply["id"]] for reply in log["replies"] if reply["id"] in asks)
