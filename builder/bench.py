"""Prints what the app weighs on the way to a phone, how fast it starts and how soon it follows the hand.

All starts are timed in the same browser in the same run, in turn, after one
unmeasured visit for each that lasts long enough for the browser to keep what it
compiled. Nothing is asserted: a machine under load would fail.
"""

import hashlib
import shutil
import statistics
import tempfile
from pathlib import Path
from typing import Any

from builder.bench_moves import print_moves
from builder.browser import browser_path
from builder.console import Trouble, step
from builder.engine_pack import engine_wheel
from builder.node import packages
from builder.output import Files
from builder.pipeline import app_files
from builder.places import BUILDER, KEPT
from builder.runtime import FOLDER, UNMODIFIED
from builder.serve import Handler, serving
from builder.wheels import WHEELS

LIMIT_MB = 6.0
ROUNDS = 5
KINDS = ("ours", "stock", "stock with engine")

# How long a first visit lasts, in ms: a browser keeps compiled WebAssembly only after some seconds.
FIRST_VISIT = 12_000

TIME_ONE = """([kind, wheels, stay]) => new Promise((resolve, reject) => {
  const worker = new Worker('/bench_worker.js', { type: 'module' });
  worker.onmessage = ({ data }) => setTimeout(() => { worker.terminate(); resolve(data); }, stay);
  worker.onerror = ({ message }) => reject(new Error(message));
  worker.postMessage({ kind, wheels });
})"""


class Fresh(Handler):
    """A browser need not ask again for what it has: as from the app's own cache."""

    freshness = "max-age=3600"


def bench() -> None:
    """Print the three tables."""
    files = app_files()
    print_sizes(files)
    with tempfile.TemporaryDirectory() as folder:
        wheels = _lay_out(files, Path(folder, "app"))
        step(f"timing {ROUNDS} starts of each kind in Chromium")
        print_starts(_starts(Path(folder, "app"), wheels, Path(folder, "profile")))
        step("timing moves of the pattern by hand")
        print_moves(Path(folder, "app"))


def print_sizes(files: Files) -> None:
    """One line for each folder or large file, and the sum after brotli."""
    packed = packed_sizes(files)
    largest = sorted(packed, key=lambda path: -packed[path])[:12]
    print(f"\n{'file':60}{'bytes':>12}{'brotli':>12}")
    for path in largest:
        print(f"{path:60}{len(files[path]):>12}{packed[path]:>12}")
    others = [path for path in files if path not in largest]
    _print_sum(f"{len(others)} others", others, files, packed)
    _print_sum("all", list(files), files, packed)
    total = sum(packed.values())
    print(f"{total / 1e6:.2f} MB after brotli; the limit is {LIMIT_MB} MB\n")


def _print_sum(name: str, paths: list[str], files: Files, packed: dict[str, int]) -> None:
    print(f"{name:60}{sum(len(files[path]) for path in paths):>12}{sum(packed[path] for path in paths):>12}")


def packed_sizes(files: Files, quality: int = 11) -> dict[str, int]:
    """Bytes of each file after brotli, at its best unless told otherwise, as a static host sends it.

    What others made and ships unmodified always at its best: it weighs more than half, packs for
    half a minute and never changes, so what each file came to is kept.
    """
    import brotli

    def packed(path: str, content: bytes) -> int:
        if not path.startswith("vendor/") and path.removeprefix(f"{FOLDER}/") not in UNMODIFIED:
            return len(brotli.compress(content, quality=quality))
        kept = KEPT / f"{hashlib.sha256(content).hexdigest()}.size"
        if not kept.exists():
            kept.write_text(str(len(brotli.compress(content, quality=11))), encoding="ascii")
        return int(kept.read_text(encoding="ascii"))

    return {path: packed(path, content) for path, content in files.items()}


def print_starts(times: dict[str, list[float]]) -> None:
    """Medians and how ours stands to the stock runtime."""
    medians = {kind: statistics.median(each) for kind, each in times.items()}
    print(f"\n{'start of':20}{'median ms':>12}{'least':>10}{'most':>10}")
    for kind, each in times.items():
        print(f"{kind:20}{medians[kind]:>12.0f}{min(each):>10.0f}{max(each):>10.0f}")
    print(f"\nours, engine ready, to the stock runtime alone: {medians['ours'] / medians['stock']:.2f}")
    print(f"ours to the stock runtime with the engine: {medians['ours'] / medians['stock with engine']:.2f}")


def _lay_out(files: Files, folder: Path) -> list[str]:
    """The app, the stock runtime and the sources beside each other; addresses of the source wheels."""
    for path, content in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    stock = Path(shutil.copytree(packages() / "pyodide", folder / "stock"))
    wheels = [*(Path(shutil.copy(wheel.fetched(), stock)) for wheel in WHEELS), engine_wheel(stock)]
    shutil.copy(BUILDER / "bench_worker.js", folder)
    return [f"/stock/{wheel.name}" for wheel in wheels]


def _starts(folder: Path, wheels: list[str], profile: Path) -> dict[str, list[float]]:
    from playwright.sync_api import sync_playwright

    chromium = browser_path()
    times: dict[str, list[float]] = {kind: [] for kind in KINDS}
    with serving(folder, Fresh) as address, sync_playwright() as playwright:
        # A profile on disk: a private window keeps no compiled WebAssembly. And the app's policy
        # admits two workers only; the one that times is a third.
        context = playwright.chromium.launch_persistent_context(
            profile, executable_path=chromium, args=["--no-sandbox"], bypass_csp=True, service_workers="block"
        )
        for turn in range(ROUNDS + 1):
            for kind in KINDS:
                measured = _time_one(context, address, kind, wheels, stay=0 if turn else FIRST_VISIT)
                if turn:
                    times[kind].append(measured)
        context.close()
    return times


def _time_one(context: Any, address: str, kind: str, wheels: list[str], *, stay: int) -> float:
    page = context.new_page()
    page.goto(f"{address}job.schema.json")
    answer = page.evaluate(TIME_ONE, [kind, [address.rstrip("/") + wheel for wheel in wheels], stay])
    page.close()
    if "fault" in answer:
        raise Trouble(f"The start of “{kind}” failed: {answer['fault']}")
    return float(answer["milliseconds"])
