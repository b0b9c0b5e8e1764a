"""What was accepted stays: through a killed page, a restart, a torn record, a second tab."""

import copy
import json
import os
import random
import signal
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Error, Page, Playwright

from tests.browser.served_site import Site
from tests.browser.store_story import (
    JOB,
    OFFSETS,
    OPEN_STORE,
    TAMPER,
    OpenTab,
    change,
    create,
    opened,
    read,
    refusal,
    text_of,
    until,
)


def test_every_acknowledged_reading_survives_a_browser_killed_while_writing(
    playwright: Playwright, browser_type_launch_args: dict[str, Any], site: Site, tmp_path: Path
) -> None:
    """A reading the app called saved is there after the browser died in the middle of the next one."""

    def start() -> tuple[BrowserContext, Page]:
        profile = tmp_path / "profile"
        context = playwright.chromium.launch_persistent_context(profile, **browser_type_launch_args)
        tab = context.new_page()
        tab.goto(site.address + "app/refused.js")
        tab.evaluate(OPEN_STORE)
        return context, tab

    context, tab = start()
    job = create(tab)
    acknowledged: list[int] = []
    tab.expose_function("saved", lambda n: acknowledged.append(n))
    tab.evaluate(
        """(id) => { void (async () => {
          for (let n = 2; ; n += 1) {
            const edit = { path: ['room', 'walls', 0, 'offsets', n], value: [1300 + n, n] };
            await store.change(id, [edit], `reading ${n}`);
            await saved(n);
          }
        })(); }""",
        job,
    )
    while len(acknowledged) < 25:
        tab.wait_for_timeout(5)
    kill(context)
    context, tab = start()
    shown = opened(tab, job)
    context.close()
    found = shown["doc"]["room"]["walls"][0]["offsets"]
    assert shown["notes"] == []
    assert found[2 : 2 + len(acknowledged)] == [[1300 + n, n] for n in acknowledged]
    assert len(found) - 2 - len(acknowledged) <= 1  # at most the one that was under way


def kill(context: BrowserContext) -> None:
    """End the browser of this test, and it alone, the way a phone does: without a word."""
    assert context.browser
    session = context.browser.new_browser_cdp_session()
    processes = session.send("SystemInfo.getProcessInfo")["processInfo"]
    gone: list[object] = []
    context.on("close", lambda closed: gone.append(closed))
    os.kill(next(process["id"] for process in processes if process["type"] == "browser"), signal.SIGKILL)
    with suppress(Error):
        context.pages[0].wait_for_timeout(5000)
    assert gone


def test_every_write_is_strict_and_resolves_after_the_transaction_is_complete(store_tab: OpenTab) -> None:
    """“Saved” means on the disk: each change is one strict transaction that has completed."""
    tab = store_tab()
    job = create(tab)
    seen = tab.evaluate(
        """async (id) => {
          const seen = [];
          const original = IDBDatabase.prototype.transaction;
          IDBDatabase.prototype.transaction = function (stores, mode, options) {
            const tx = original.call(this, stores, mode, options);
            if (mode === 'readwrite') {
              seen.push(`begun ${tx.durability}`);
              tx.addEventListener('complete', () => seen.push('complete'));
            }
            return tx;
          };
          for (const n of [0, 1]) {
            await store.change(id, [{ path: ['name'], value: `Room ${n}` }], 'Name');
            seen.push('saved');
          }
          return seen;
        }""",
        job,
    )
    assert seen == ["begun strict", "complete", "saved"] * 2


def test_sixty_steps_are_taken_back_and_made_again_across_restarts(store_tab: OpenTab) -> None:
    """Undo of at least 50 steps gives the same file again, byte for byte, after the page was closed."""
    tab = store_tab()
    job = create(tab)
    texts = [text_of(tab, job)]
    dice = random.Random(7)
    for n in range(60):
        edits: list[dict[str, Any]] = dice.choice(
            [
                [{"path": [*OFFSETS, 0], "value": [650, n]}],
                [{"path": [*OFFSETS, 0], "insert": True, "value": [10 + n, 1]}],
                [{"path": ["progress", f"R{n}", "cut"], "value": True}],
                [{"path": ["room", "corners", f"E{n}"], "value": [n, n]}],
                [{"path": ["room", "walls", 1, "gap"], "value": n}, {"path": ["name"], "value": f"Room {n}"}],
            ]
        )
        change(tab, job, edits, f"step {n}")
        texts.append(text_of(tab, job))
    tab.close()
    tab = store_tab()
    for n in reversed(range(60)):
        assert opened(tab, job)["undo"] == f"step {n}"
        tab.evaluate("(id) => store.undo(id)", job)
        assert text_of(tab, job) == texts[n]
    tab.close()
    tab = store_tab()
    for n in range(60):
        assert tab.evaluate("async (id) => (await store.redo(id)).undo", job) == f"step {n}"
        assert text_of(tab, job) == texts[n + 1]
    assert refusal(tab, "await store.redo(x)", job) == ["no step"]


def test_a_corner_taken_out_and_put_back_by_undo_stands_where_it_stood(store_tab: OpenTab) -> None:
    """The order of the corners is the order round the room, so undo may not move one."""
    tab = store_tab()
    job = create(tab)
    before = text_of(tab, job)
    change(tab, job, [{"path": ["room", "corners", "A"], "remove": True}])
    tab.evaluate("(id) => store.undo(id)", job)
    assert text_of(tab, job) == before
    assert list(opened(tab, job)["doc"]["room"]["corners"]) == ["D", "A", "B", "C"]


def test_a_change_that_is_refused_in_its_last_edit_changes_nothing(store_tab: OpenTab) -> None:
    """Edits of one change are taken together or not at all."""
    tab = store_tab()
    job = create(tab)
    before = opened(tab, job)
    for bad in (
        {"path": [*OFFSETS, 99], "value": [1, 1]},
        {"path": ["room", "walls", 0, "gap"], "value": 1e12},
        {"path": ["__proto__", "polluted"], "value": 1},
        {"path": ["room", "constructor"], "value": 1},
        {"path": ["nothing"], "remove": True},
        {"path": [], "value": 1},
    ):
        edits = [{"path": ["name"], "value": "Changed"}, bad]
        assert refusal(tab, "await store.change(...x)", [job, edits, "bad"]), bad
    assert refusal(tab, "await store.change(x, [{path: ['name'], value: NaN}], '')", job) == ["absurd number"]
    assert refusal(tab, "await store.change(x, [{path: ['name'], value: () => 1}], '')", job) == ["not plain"]
    assert opened(tab, job) == before
    assert tab.evaluate("({}).polluted") is None


def test_a_tampered_journal_entry_is_set_aside_and_no_measure_is_lost(store_tab: OpenTab) -> None:
    """One unreadable entry of the past costs the steps back past it, and nothing else."""
    tab = store_tab()
    job = create(tab)
    for n in range(6):
        read(tab, job, 2 + n, [1950 + n, n])
    before = text_of(tab, job)
    tab.evaluate(TAMPER, ["journal", [job, 3], {"edits": [{"path": ["name"], "value": "torn"}]}])
    mended = opened(tab, job)
    assert len(mended["notes"]) == 1
    assert "set aside" in mended["notes"][0]
    assert text_of(tab, job) == before
    assert '"torn"' in tab.evaluate("store.exportQuarantine()")
    for _ in range(3):
        tab.evaluate("(id) => store.undo(id)", job)
    assert refusal(tab, "await store.undo(x)", job) == ["no step"]
    assert opened(tab, job)["notes"] == []
    assert len(opened(tab, job)["doc"]["room"]["walls"][0]["offsets"]) == 5


@pytest.mark.parametrize("count", [7, 57, 260])
def test_a_tampered_head_is_put_together_anew_from_the_journal(store_tab: OpenTab, count: int) -> None:
    """The journal alone gives the whole job back, from its beginning or from a base, undo included."""
    tab = store_tab()
    job = create(tab)
    for n in range(count):
        read(tab, job, 2 + n, [1950 + n, n])
    tab.evaluate("async (id) => { await store.undo(id); await store.undo(id); await store.redo(id); }", job)
    before = opened(tab, job)
    torn = copy.deepcopy(before["doc"]) | {"name": "torn"}
    tab.evaluate(TAMPER, ["jobs", job, {"doc": torn}])
    assert tab.evaluate("store.listJobs()")[0]["damaged"] is True
    assert refusal(tab, "await store.change(x, [{path: ['name'], value: 'x'}], '')", job) == ["damaged"]
    after = opened(tab, job)
    assert "nothing is lost" in after["notes"][0]
    assert {**after, "notes": [], "sinceExport": 0} == {**before, "notes": [], "sinceExport": 0}
    assert '"torn"' in tab.evaluate("store.exportQuarantine()")


def test_with_head_and_entry_torn_the_job_goes_back_to_the_last_sound_entry_and_says_so(
    store_tab: OpenTab,
) -> None:
    """What stands after an unreadable entry is set aside, never applied to a state it was not made for."""
    tab = store_tab()
    job = create(tab)
    for n in range(6):
        read(tab, job, 2 + n, [1950 + n, n])
    tab.evaluate(TAMPER, ["journal", [job, 4], {"words": "torn entry"}])
    tab.evaluate(TAMPER, ["jobs", job, {"seq": 99}])
    after = opened(tab, job)
    assert "last 3 entries" in after["notes"][0]
    assert after["doc"]["room"]["walls"][0]["offsets"][2:] == [[1950, 0], [1951, 1], [1952, 2]]
    raw = tab.evaluate("store.exportQuarantine()")
    assert "torn entry" in raw
    assert "[1955,5]" in raw
    assert read(tab, job, 5, [1990, 9])["seq"] == 4


def test_a_job_with_nothing_readable_left_is_set_aside_whole(store_tab: OpenTab) -> None:
    """Even then nothing is deleted: the raw records can be exported."""
    tab = store_tab()
    job = create(tab)
    tab.evaluate(TAMPER, ["bases", [job, 0], {"seq": 0, "done": [1]}])
    tab.evaluate(TAMPER, ["jobs", job, {"seq": 5}])
    assert refusal(tab, "await store.openJob(x)", job) == ["lost"]
    assert tab.evaluate("store.exportQuarantine()").count('"Loft room"') == 2


def test_a_second_tab_reads_is_told_so_and_takes_the_pen_over(store_tab: OpenTab) -> None:
    """Two tabs never write one job; the second hears of changes, and may write once the first is closed."""
    first = store_tab()
    job = create(first)
    second = store_tab()
    assert [first.evaluate("store.writable()"), second.evaluate("store.writable()")] == [True, False]
    second.evaluate("() => { globalThis.heard = []; store.onEvent((event) => heard.push(event.kind)); }")
    shown = opened(second, job)
    assert shown["readOnly"]
    assert shown["why"] == "other tab"
    assert shown["sentence"]
    assert refusal(second, "await store.renameJob(x, 'two')", job) == ["other tab"]
    assert refusal(second, "await store.createJob(x)", JOB) == ["other tab"]
    read(first, job, 2, [1950, 5])
    until(second, "heard.includes('written')")
    assert opened(second, job)["doc"]["room"]["walls"][0]["offsets"][2] == [1950, 5]
    first.close()
    until(second, "heard.includes('writable')")
    assert read(second, job, 3, [2600, 7])["readOnly"] is False


def test_a_full_phone_is_said_in_words_and_half_a_change_is_undone(store_tab: OpenTab) -> None:
    """A write that finds no room after its first record leaves nothing behind and tells the user what to do.

    The fault is put in by hand where the browser raises it: Chromium's quota cannot be narrowed from outside.
    """
    tab = store_tab()
    job = create(tab)
    before = opened(tab, job)
    tab.evaluate(
        """() => {
          const original = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = function (record) {
            IDBObjectStore.prototype.put = original;
            throw new DOMException('no room', 'QuotaExceededError');
          };
        }"""
    )
    assert refusal(tab, "await store.renameJob(x, 'Full')", job) == ["storage full"]
    assert opened(tab, job) == before
    assert tab.evaluate("(id) => store.history(id)", job) == []
    assert read(tab, job, 2, [1950, 5])["seq"] == 1


def test_the_bin_gives_back_whole_and_empties_for_good(store_tab: OpenTab) -> None:
    """A job in the bin cannot be changed, comes back with its undo, and goes only when the bin is emptied."""
    tab = store_tab()
    kept, gone = create(tab), create(tab)
    read(tab, kept, 2, [1950, 5])
    before = opened(tab, kept)
    tab.evaluate("async (ids) => { for (const id of ids) await store.binJob(id); }", [kept, gone])
    assert tab.evaluate("store.listJobs()") == []
    assert opened(tab, kept)["why"] == "in the bin"
    assert refusal(tab, "await store.undo(x)", kept) == ["in the bin"]
    tab.evaluate("(id) => store.restoreJob(id)", kept)
    assert opened(tab, kept) == before
    assert tab.evaluate("store.emptyBin()") == 1
    assert [line["id"] for line in tab.evaluate("store.listJobs()")] == [kept]
    assert refusal(tab, "await store.openJob(x)", gone) == ["no job"]


def test_changes_since_the_last_export_are_counted(store_tab: OpenTab) -> None:
    """The reminder to export counts what no exported file has."""
    tab = store_tab()
    job = create(tab)
    for n in range(3):
        read(tab, job, 2 + n, [1950 + n, n])
    exported = tab.evaluate("(id) => store.exportJob(id)", job)
    read(tab, job, 5, [1990, 1])
    tab.evaluate("([id, seq]) => store.markExported(id, seq)", [job, exported["seq"]])
    assert opened(tab, job)["sinceExport"] == 1
    assert tab.evaluate("store.listJobs()")[0]["sinceExport"] == 1


def test_results_and_settings_are_kept_and_a_torn_result_counts_as_none(store_tab: OpenTab) -> None:
    """The last plan shows before the engine is up; one that cannot be believed is computed again instead."""
    tab = store_tab()
    job = create(tab)
    tab.evaluate("(id) => store.saveResult(id, 'plan', { reply: 'plan', cards: [1, 2] }, 3)", job)
    tab.evaluate("store.settings.set('decimal', ',')")
    tab.close()
    tab = store_tab()
    assert tab.evaluate("store.settings.get('decimal')") == ","
    assert tab.evaluate("store.settings.get('current job')") == job
    assert tab.evaluate("store.settings.get('theme', 'light')") == "light"
    last = tab.evaluate("(id) => store.loadResult(id, 'plan')", job)
    assert last == {"value": {"reply": "plan", "cards": [1, 2]}, "seq": 3}
    tab.evaluate(TAMPER, ["results", [job, "plan"], {"seq": 4}])
    assert tab.evaluate("(id) => store.loadResult(id, 'plan')", job) is None


def test_the_exported_file_is_the_document_and_the_same_document_is_the_same_file(store_tab: OpenTab) -> None:
    """An export holds nothing of the app's own, keeps unknown keys, and comes back as it went."""
    tab = store_tab()
    job = create(tab)
    text = text_of(tab, job)
    assert json.loads(text) == JOB
    again = tab.evaluate("async (text) => (await store.importJob(text)).id", text)
    assert again != job
    assert text_of(tab, again) == text


def test_the_checksum_is_the_published_crc(store_tab: OpenTab) -> None:
    """CRC-32 of "123456789" is CBF43926 (check value in R. Williams, A Painless Guide to CRC, 1993)."""
    tab = store_tab()
    value = tab.evaluate("async () => (await import('/app/store/records.js')).crc32('123456789')")
    assert value == 0xCBF43926
