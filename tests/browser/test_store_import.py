"""No file gets in that could harm the app or the user, and each refusal says why."""

import copy
import json
import sys
import unicodedata
from typing import Any

from playwright.sync_api import Page

from tests.browser.store_story import JOB, OpenTab, create, opened, refusal, text_of


def imported(tab: Page, text: str) -> dict[str, Any]:
    """Import a text: the new job, or the findings it was refused for."""
    return dict(
        tab.evaluate(
            """async (text) => {
              try {
                return { ...(await store.importJob(text)), findings: [] };
              } catch (fault) {
                return { findings: fault.findings };
              }
            }""",
            text,
        )
    )


def with_change(**changes: object) -> str:
    return json.dumps({**JOB, **changes})


def with_raw(value: str) -> str:
    """The job with a value that Python would not write."""
    return with_change(notes=0).replace('"notes": 0', f'"notes": {value}')


def with_key(key: str) -> str:
    return with_change(notes=0).replace('"notes"', f'"{key}"')


def with_wall(**wall: object) -> str:
    return with_change(room=room(walls=[wall]))


def room(**changes: object) -> dict[str, Any]:
    return {**JOB["room"], **changes}


REFUSED = {
    "empty": ("", "not json", ""),
    "not JSON": ("{'format': 1}", "not json", ""),
    "cut short": (json.dumps(JOB)[:-20], "not json", ""),
    "a list": ("[]", "not a job", "format"),
    "null": ("null", "not a job", "format"),
    "another format": (with_change(format="out-of-true plan"), "not a job", "format"),
    "no version": (with_change(version=None), "no version", "version"),
    "version as text": (with_change(version="1"), "no version", "version"),
    "version 0": (with_change(version=0), "no version", "version"),
    "no room": (with_change(room=None), "shape", "room"),
    "no walls": (with_change(room={"corners": {}}), "shape", "room.walls"),
    "walls not a list": (with_change(room=room(walls={"0": {}})), "shape", "room.walls"),
    "corners a list": (with_change(room=room(corners=[[0, 0]])), "shape", "room.corners"),
    "no floor": (with_change(floor=None), "shape", "floor"),
    "name not a text": (with_change(name=["Loft"]), "shape", "name"),
    "too large a file": (with_change(notes=["x" * 19_000] * 280), "too large", ""),
    "too large in bytes": (
        json.dumps({**JOB, "notes": ["€" * 19_000] * 100}, ensure_ascii=False),
        "too large",
        "",
    ),
    "too deep": (with_raw("[" * 30 + "]" * 30), "too deep", "notes" + "[0]" * 24),
    "very deep": (with_raw("[" * 200_000 + "]" * 200_000), "", None),
    "too many values": (with_change(notes=[0] * 200_001), "too many", ""),
    "too long a text": (with_change(name="x" * 20_001), "too long", "name"),
    "infinite": (with_raw("1e999"), "absurd number", "notes"),
    "minus infinite": (with_raw("[-1e999]"), "absurd number", "notes[0]"),
    "absurd": (with_wall(gap=2e9), "absurd number", "room.walls[0].gap"),
    "NaN": (with_change(notes=float("nan")), "not json", ""),
    "__proto__": (with_key("__proto__"), "unsafe key", "__proto__"),
    "__proto__ inside": (with_wall(__proto__={"gap": 1}), "unsafe key", "room.walls[0].__proto__"),
    "__proto__ escaped": (with_key("\\u005f_proto__"), "unsafe key", "__proto__"),
    "constructor": (with_change(constructor={"prototype": {}}), "unsafe key", "constructor"),
    "prototype": (with_change(floor={"prototype": 1}), "unsafe key", "floor.prototype"),
    "names that look the same": (with_change(progress={"R1": {}, "R1\u202e": {}}), "same name", ""),
}


def test_an_unfit_file_is_refused_with_a_sentence_and_leaves_no_trace(store_tab: OpenTab) -> None:
    """Nothing of a refused file is kept, and the first finding names what is wrong and where."""
    tab = store_tab()
    for case, (text, code, path) in REFUSED.items():
        findings = imported(tab, text)["findings"]
        assert findings, case
        assert all(finding["sentence"].endswith(".") for finding in findings), case
        assert code in ("", findings[0]["code"]), (case, findings)
        assert path in (None, findings[0]["path"]), (case, findings)
    assert tab.evaluate("store.listJobs()") == []
    assert tab.evaluate("store.settings.get('current job', null)") is None
    assert tab.evaluate("({}).gap") is None


def test_an_unknown_key_is_kept(store_tab: OpenTab) -> None:
    """What a future version or another hand wrote into the file comes out again."""
    tab = store_tab()
    job = copy.deepcopy(JOB) | {"heating": {"film": [{"width": 500}]}}
    job["room"]["walls"][0]["colour"] = None
    kept = imported(tab, json.dumps(job))
    assert kept["findings"] == []
    assert kept["notes"] == []
    assert json.loads(text_of(tab, kept["id"])) == job


def test_a_file_of_a_newer_version_opens_to_be_read_only(store_tab: OpenTab) -> None:
    """A newer file is kept as it is, whatever its shape, and may be read and exported but not changed."""
    tab = store_tab()
    newer = {"format": "out-of-true job", "version": 2, "name": "From later", "rooms": []}
    kept = imported(tab, json.dumps(newer))
    shown = opened(tab, kept["id"])
    assert shown["readOnly"]
    assert shown["why"] == "newer version"
    assert shown["sentence"]
    assert refusal(tab, "await store.renameJob(x, 'x')", kept["id"]) == ["newer version"]
    assert json.loads(text_of(tab, kept["id"])) == newer


def test_characters_that_cannot_be_seen_are_taken_out(store_tab: OpenTab) -> None:
    """Controls and bidirectional controls, as classed by the Unicode Character Database (unicodedata)."""
    everything = [chr(code) for code in range(sys.maxunicode + 1)]
    turning = {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"}
    marks = {"LEFT-TO-RIGHT MARK", "RIGHT-TO-LEFT MARK", "ARABIC LETTER MARK"}
    unseen = [
        c for c in everything if unicodedata.bidirectional(c) in turning or unicodedata.name(c, "") in marks
    ]
    controls = [c for c in everything if unicodedata.category(c) == "Cc"]
    assert len(unseen) == 12
    assert len(controls) == 65
    tab = store_tab()
    notes = [f"a{control}b" for control in controls]
    kept = imported(tab, with_change(name="Lo" + "".join(unseen) + "f\nt", notes=notes, אבג="שלום"))
    assert kept["notes"] == ["Characters that are not seen were taken out of 64 texts."]
    doc = opened(tab, kept["id"])["doc"]
    assert doc["name"] == "Lof t"
    assert set(doc["notes"]) == {"ab", "a\tb", "a\nb"}
    assert doc["אבג"] == "שלום"  # a right-to-left script is no control
    rename = "async (id) => (await store.renameJob(id, ' Att\\u202eic\\u0000 ')).doc.name"
    renamed = tab.evaluate(rename, kept["id"])
    assert renamed == "Attic"


def test_an_import_that_does_not_read_back_keeps_nothing(store_tab: OpenTab) -> None:
    """Written under a new id, read back, then switched to: all in one transaction, or nothing of it."""
    tab = store_tab()
    old = create(tab)
    codes = tab.evaluate(
        """async (text) => {
          const original = IDBObjectStore.prototype.add;
          IDBObjectStore.prototype.add = function (record) {
            const torn = { ...record, doc: { ...record.doc, name: 'torn' } };
            return original.call(this, this.name === 'jobs' ? torn : record);
          };
          const findings = await refusal(() => store.importJob(text));
          IDBObjectStore.prototype.add = original;
          return findings.map((finding) => finding.code);
        }""",
        json.dumps(JOB),
    )
    assert codes == ["read back"]
    assert [line["id"] for line in tab.evaluate("store.listJobs()")] == [old]
    tab.close()
    assert store_tab().evaluate("store.settings.get('current job')") == old
