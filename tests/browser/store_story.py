"""Why this file exists: the job and the small verbs that the tests of the store share."""

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page

OpenTab = Callable[[], Page]

# Leaves `store`, the app's store, and `refusal(work)`, the findings of what was refused.
OPEN_STORE = """async () => {
  const { openStore } = await import('/app/store/index.js');
  globalThis.store = await openStore();
  globalThis.refusal = async (work) => {
    try { await work(); return null; } catch (fault) { return fault.findings ?? String(fault); }
  };
}"""

JOB: dict[str, Any] = {
    "format": "out-of-true job",
    "version": 1,
    "name": "Loft room",
    "room": {
        "corners": {"D": [-20, 4080], "A": [0, 0], "B": [5200, 0], "C": [5230, 4100]},
        "walls": [
            {"from": "A", "to": "B", "gap": 10, "offsets": [[650, 6], [1300, 11]]},
            {"from": "B", "to": "C", "gap": 3},
            {"from": "C", "to": "D"},
            {"from": "D", "to": "A"},
        ],
    },
    "floor": {"board": {"length": 600, "width": 90}, "anchor": [2600, 2000]},
    "chalk": {"colour": "blue"},
}
OFFSETS = ["room", "walls", 0, "offsets"]

# Reaches past the app into its database, as a torn write or a failing memory would.
TAMPER = """async ([store, key, change]) => {
  const answer = (ask) => new Promise((done) => { ask.onsuccess = () => done(ask.result); });
  const db = await answer(indexedDB.open('out-of-true'));
  const records = db.transaction(store, 'readwrite').objectStore(store);
  const record = await answer(records.get(key));
  if (!record) throw new Error('no such record');
  await answer(records.put({ ...record, ...change }));
  db.close();
}"""


def create(tab: Page, job: dict[str, Any] = JOB) -> str:
    return str(tab.evaluate("async (job) => (await store.createJob(job)).id", job))


def read(tab: Page, job: str, index: int, reading: list[float]) -> dict[str, Any]:
    """Enter one reading of wall A–B."""
    return change(tab, job, [{"path": [*OFFSETS, index], "value": reading}], f"Wall A–B, {reading}")


def change(tab: Page, job: str, edits: list[dict[str, Any]], words: str = "Change") -> dict[str, Any]:
    return dict(tab.evaluate("([id, edits, words]) => store.change(id, edits, words)", [job, edits, words]))


def opened(tab: Page, job: str) -> dict[str, Any]:
    return dict(tab.evaluate("(id) => store.openJob(id)", job))


def text_of(tab: Page, job: str) -> str:
    return str(tab.evaluate("async (id) => (await store.exportJob(id)).text", job))


def refusal(tab: Page, work: str, argument: object = None) -> list[str]:
    """Codes of what a piece of work was refused for."""
    findings = tab.evaluate(f"(x) => refusal(async () => {{ {work} }})", argument)
    assert isinstance(findings, list), findings
    assert all(finding["sentence"].endswith((".", "?")) for finding in findings)
    return [finding["code"] for finding in findings]


def until(tab: Page, expression: str) -> None:
    """Wait, a minute at most. The content policy forbids the way Playwright does it."""
    tab.evaluate(
        f"""async () => {{
          for (let turn = 0; turn < 2400; turn += 1) {{
            if (await ({expression})) return;
            await new Promise((go) => setTimeout(go, 25));
          }}
          throw new Error('this never became true');
        }}"""
    )
