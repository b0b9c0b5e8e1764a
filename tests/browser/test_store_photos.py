"""A photo in the store: in one transaction with its change, apart from the journal, only if it is a photo."""

import base64
import json

from tests.browser.store_story import (
    JOB,
    TAMPER,
    OpenTab,
    change,
    create,
    opened,
    read,
    refusal,
    text_of,
)
from tests.browser.stored_photos import COUNT_JPEGS, JPEG, add, photo_of


def test_a_photo_and_its_change_are_one_strict_transaction(store_tab: OpenTab) -> None:
    """Both are on the disk or neither is; a full phone is said in words."""
    tab = store_tab()
    job = create(tab)
    before = opened(tab, job)
    modes = tab.evaluate(
        """async ([job, bytes]) => {
          const seen = [];
          const original = IDBDatabase.prototype.transaction;
          IDBDatabase.prototype.transaction = function (stores, mode, options) {
            const tx = original.call(this, stores, mode, options);
            if (mode === 'readwrite') seen.push([tx.durability, [...tx.objectStoreNames].includes('photos')]);
            return tx;
          };
          const put = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = function () {
            IDBObjectStore.prototype.put = put;
            throw new DOMException('no room', 'QuotaExceededError');
          };
          const jpeg = new Blob([new Uint8Array(bytes)]);
          const adding = () => store.addPhoto(job, jpeg, { thing: 'pipe' }, 'Photo');
          const [{ code, sentence }] = await refusal(adding);
          return [...seen, code, sentence];
        }""",
        [job, list(JPEG)],
    )
    assert modes[:2] == [["strict", True], "storage full"]
    assert "no room left" in modes[2]
    assert opened(tab, job) == before
    assert tab.evaluate(COUNT_JPEGS) == 0


def test_the_journal_names_a_photo_and_does_not_hold_it(store_tab: OpenTab) -> None:
    """Undo and redo need the name alone; the picture stays until the bin is emptied, and then goes."""
    tab = store_tab()
    job = create(tab)
    large = JPEG + bytes(300_000)
    assert add(tab, job, {"wall": ["A", "B"]}, large)["undo"] == "Photo"
    tab.evaluate("async (id) => { await store.undo(id); await store.redo(id); await store.undo(id); }", job)
    assert "photos" not in opened(tab, job)["doc"]
    assert tab.evaluate(COUNT_JPEGS) == 1
    tab.evaluate("(id) => store.redo(id)", job)
    assert photo_of(tab, job) == large
    sizes = tab.evaluate(
        """async () => {
          const answer = (ask) => new Promise((done) => { ask.onsuccess = () => done(ask.result); });
          const db = await answer(indexedDB.open('out-of-true'));
          const all = await Promise.all(['jobs', 'journal', 'bases']
            .map((name) => answer(db.transaction(name).objectStore(name).getAll())));
          db.close();
          return JSON.stringify(all).length;
        }"""
    )
    assert sizes < 10_000
    tab.evaluate("(id) => store.binJob(id)", job)
    assert tab.evaluate(COUNT_JPEGS) == 1
    tab.evaluate("store.emptyBin()")
    assert tab.evaluate(COUNT_JPEGS) == 0


def test_what_is_no_photo_is_not_kept(store_tab: OpenTab) -> None:
    """Neither what is no JPEG, nor what is too large, nor one more than a file can carry."""
    tab = store_tab()
    job = create(tab)
    adding = "await store.addPhoto(x[0], new Blob([new Uint8Array(x[1])]), { thing: 'pipe' }, 'Photo')"
    assert refusal(tab, adding, [job, list(b"GIF89a")]) == ["no photo"]
    large = adding.replace("new Uint8Array(x[1])", "new Uint8Array(x[1]), new Uint8Array(1024 * 1024)")
    assert refusal(tab, large, [job, list(JPEG)]) == ["large photo"]
    for _ in range(60):
        add(tab, job, {"thing": "pipe"})
    assert refusal(tab, adding, [job, list(JPEG)]) == ["many photos"]
    again = tab.evaluate("async (text) => (await store.importJob(text)).id", text_of(tab, job))
    assert photo_of(tab, again, 59) == JPEG


def with_photos(*photos: object) -> str:
    return json.dumps({**JOB, "photos": list(photos)})


def test_a_photo_that_cannot_be_read_from_a_file_costs_itself_alone(store_tab: OpenTab) -> None:
    """The job opens with a note, whatever stands where the picture should be."""
    tab = store_tab()
    sound = base64.b64encode(JPEG).decode()
    too_large = base64.b64encode(JPEG + bytes(1024 * 1024)).decode()
    for bad in (
        "no base64 §",
        sound[:-6] + "=",
        base64.b64encode(b"GIF89a").decode(),
        "",
        too_large,
        "A" * 5_000_000,
    ):
        text = with_photos(
            {"id": "one", "wall": ["A", "B"], "jpeg": bad}, {"id": "two", "thing": "pipe", "jpeg": sound}
        )
        kept = tab.evaluate("(text) => store.importJob(text)", text)
        assert len(kept["notes"]) == 1, bad[:20]
        assert kept["notes"][0].startswith("1 photo in the file could not be read")
        assert opened(tab, kept["id"])["doc"]["photos"] == [
            {"id": "one", "wall": ["A", "B"]},
            {"id": "two", "thing": "pipe"},
        ]
        assert photo_of(tab, kept["id"], 0) is None
        assert photo_of(tab, kept["id"], 1) == JPEG


def test_two_photos_of_one_name_in_a_file_stay_two_photos(store_tab: OpenTab) -> None:
    """Neither takes the other's place, and a name that is none gets one."""
    tab = store_tab()
    jpegs = [JPEG + bytes([n]) for n in range(3)]
    names = ["same", "same", {"a": 1}]
    photos = [
        {"id": name, "thing": "pipe", "jpeg": base64.b64encode(jpeg).decode()}
        for name, jpeg in zip(names, jpegs, strict=True)
    ]
    kept = tab.evaluate("(text) => store.importJob(text)", with_photos(*photos))
    assert [photo_of(tab, kept["id"], n) for n in range(3)] == jpegs


def test_more_photos_than_a_job_holds_leave_the_rest_in_the_file(store_tab: OpenTab) -> None:
    tab = store_tab()
    sound = base64.b64encode(JPEG).decode()
    kept = tab.evaluate(
        "(text) => store.importJob(text)",
        with_photos(*({"id": f"p{n}", "thing": "pipe", "jpeg": sound} for n in range(63))),
    )
    assert kept["notes"][0].startswith("3 photos in the file could not be read")
    assert tab.evaluate(COUNT_JPEGS) == 60


def test_photos_that_are_no_list_are_refused(store_tab: OpenTab) -> None:
    tab = store_tab()
    assert refusal(tab, "await store.importJob(x)", json.dumps({**JOB, "photos": 5})) == ["shape"]
    assert refusal(tab, "await store.importJob(x)", json.dumps({**JOB, "photos": ["x"]})) == ["shape"]


def test_a_torn_picture_is_not_shown_and_the_job_is_exported_without_it(store_tab: OpenTab) -> None:
    tab = store_tab()
    job = create(tab)
    add(tab, job, {"thing": "pipe"})
    (photo,) = opened(tab, job)["doc"]["photos"]
    tab.evaluate(TAMPER.replace("...change", "jpeg: new Uint8Array(9)"), ["photos", [job, photo["id"]], {}])
    assert photo_of(tab, job) is None
    assert json.loads(text_of(tab, job))["photos"] == [photo]


def test_the_first_layout_of_the_database_is_carried_over_with_all_it_holds(
    store_tab: OpenTab, blank: OpenTab
) -> None:
    """Promise: an app that knows photos opens what one without them stored, undo included."""
    tab = store_tab()
    job = create(tab)
    read(tab, job, 2, [1950, 5])
    tab.evaluate("store.settings.set('decimal', ',')")
    tab.evaluate("(id) => store.saveResult(id, 'plan', { cards: [] }, 1)", job)
    before, text = opened(tab, job), text_of(tab, job)
    version = tab.evaluate(AS_VERSION_1)
    assert version == 1
    tab.close()
    tab = store_tab()
    assert opened(tab, job) == before
    assert text_of(tab, job) == text
    assert tab.evaluate("store.settings.get('decimal')") == ","
    assert tab.evaluate("(id) => store.loadResult(id, 'plan')", job)["seq"] == 1
    tab.evaluate("(id) => store.undo(id)", job)
    add(tab, job, {"wall": ["A", "B"]})
    change(tab, job, [{"path": ["name"], "value": "After"}])
    assert photo_of(tab, job) == JPEG


# Makes the database anew as version 1 laid it out, with the records it holds now.
AS_VERSION_1 = """async () => {
  store.close();
  const answer = (ask) => new Promise((done, fail) => {
    ask.onsuccess = () => done(ask.result);
    ask.onerror = () => fail(ask.error);
  });
  const KEYS = {
    jobs: { keyPath: 'id' }, journal: { keyPath: ['job', 'seq'] }, bases: { keyPath: ['job', 'seq'] },
    results: { keyPath: ['job', 'key'] }, quarantine: { keyPath: 'number', autoIncrement: true },
    settings: { keyPath: 'key' },
  };
  const now = await answer(indexedDB.open('out-of-true'));
  const held = {};
  for (const name of Object.keys(KEYS)) {
    held[name] = await answer(now.transaction(name).objectStore(name).getAll());
  }
  now.close();
  await answer(indexedDB.deleteDatabase('out-of-true'));
  const opening = indexedDB.open('out-of-true', 1);
  opening.onupgradeneeded = () => {
    for (const [name, keys] of Object.entries(KEYS)) opening.result.createObjectStore(name, keys);
  };
  const old = await answer(opening);
  for (const name of Object.keys(KEYS)) {
    const records = old.transaction(name, 'readwrite').objectStore(name);
    for (const record of held[name]) await answer(records.add(record));
  }
  const { version } = old;
  old.close();
  return version;
}"""
