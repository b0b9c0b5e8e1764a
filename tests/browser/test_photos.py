"""A photo on the screens: taken, shrunk, through a reload, in the exported file, and undo works on it."""

import base64
import json
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.invented_pictures import png, sideways_jpeg
from tests.browser.screens import give_file, open_demo
from tests.browser.store_story import JOB, OpenTab, create, text_of, until
from tests.browser.stored_photos import COUNT_JPEGS, add

WIDE = {"name": "wall.png", "mimeType": "image/png", "buffer": png(2000, 1500)}
# What a picture in the database is, and how it looks at its left, right, top and bottom.
STORED = """async () => {
  const answer = (ask) => new Promise((done) => { ask.onsuccess = () => done(ask.result); });
  const db = await answer(indexedDB.open('out-of-true'));
  const records = await answer(db.transaction('photos').objectStore('photos').getAll());
  db.close();
  return Promise.all(records.map(async ({ job, id, jpeg }) => {
    const bitmap = await createImageBitmap(new Blob([jpeg]));
    const { width, height } = bitmap;
    const canvas = Object.assign(document.createElement('canvas'), { width, height });
    const pen = canvas.getContext('2d');
    pen.drawImage(bitmap, 0, 0);
    const light = (x, y) => pen.getImageData(x * (width - 1), y * (height - 1), 1, 1).data[0] > 128;
    return { job, id, width, height, bytes: [...jpeg.slice(0, 400)],
      light: [light(0.1, 0.5), light(0.9, 0.5), light(0.5, 0.1), light(0.5, 0.9)] };
  }));
}"""


def test_a_photo_of_a_wall_is_taken_shrunk_kept_exported_and_taken_back(page: Page, tmp_path: Path) -> None:
    """Promise: a photo is there after a reload and in the file, and undo takes it away."""
    job = open_demo(page)
    page.goto(f"/{job}/wall/0")
    photos = page.get_by_role("region", name="Photos of wall A–B")
    photos.get_by_label("Take a photo of wall A–B").set_input_files(WIDE)
    expect(page.get_by_role("status")).to_have_text("Saved: Photo of wall A–B")
    page.reload()
    pictures = photos.locator("img")
    expect(pictures).to_have_count(1)
    assert pictures.evaluate("async (img) => { await img.decode(); return img.naturalWidth; }") == 1280

    (stored,) = page.evaluate(STORED)
    assert (stored["width"], stored["height"]) == (1280, 960)
    assert bytes(stored["bytes"][:3]) == b"\xff\xd8\xff"
    assert stored["light"][:2] == [False, True]

    page.goto(f"/{job}/wall/1")
    expect(page.get_by_role("region", name="Photos of wall B–C").locator("img")).to_have_count(0)

    page.goto(f"/{job}/more")
    with page.expect_download() as download:
        page.get_by_role("button", name="Job file").click()
    download.value.save_as(tmp_path / "job.json")
    (written,) = json.loads((tmp_path / "job.json").read_text(encoding="utf-8"))["photos"]
    assert written["wall"] == ["A", "B"]
    assert base64.b64decode(written["jpeg"], validate=True)[:400] == bytes(stored["bytes"])

    page.goto(f"/{job}/wall/0")
    page.get_by_role("button", name="Undo: Photo of wall A–B").click()
    expect(pictures).to_have_count(0)
    page.goto(f"/{job}/more")
    page.get_by_role("button", name="Do again: Photo of wall A–B").click()
    page.goto(f"/{job}/wall/0")
    expect(pictures).to_have_count(1)


def test_a_job_file_brings_its_photos_to_another_phone(page: Page, store_tab: OpenTab) -> None:
    """Promise: photos truly travel, and belong to the thing they were taken of."""
    there = store_tab()
    job = create(
        there,
        JOB | {"room": JOB["room"] | {"fixed": [{"name": "pipe", "centre": [300, 90], "diameter": 22}]}},
    )
    add(there, job, {"thing": "pipe"}, sideways_jpeg(there, 60, 40))
    text = text_of(there, job)
    there.evaluate("async (id) => { await store.binJob(id); await store.emptyBin(); store.close(); }", job)
    assert there.evaluate(COUNT_JPEGS) == 0
    there.close()
    page.goto("/#/jobs")
    give_file(page, text)
    page.get_by_role("heading", name="Plan", exact=True).wait_for()
    here = page.evaluate("location.hash").rsplit("/", 1)[0]
    page.goto(f"/{here}/thing/0")
    photos = page.get_by_role("region", name="Photos of pipe")
    expect(photos.locator("img")).to_have_count(1)
    photos.get_by_role("button", name="Look at the photo of pipe").click()
    dialog = page.get_by_role("dialog")
    shown = dialog.get_by_role("img", name="Photo of pipe")
    assert shown.evaluate("async (img) => { await img.decode(); return img.naturalWidth; }") > 0
    dialog.get_by_role("button", name="Take it out").click()
    expect(dialog).to_be_hidden()
    expect(photos.locator("img")).to_have_count(0)
    page.get_by_role("button", name="Undo: Photo of pipe taken out").click()
    expect(photos.locator("img")).to_have_count(1)


def test_a_photo_stands_upright_and_tells_no_place(page: Page) -> None:
    """Promise: a picture that the camera wrote on its side is turned, and where it was taken is not kept."""
    job = open_demo(page)
    taken = sideways_jpeg(page, 600, 400)
    assert b"Exif" in taken
    assert b"invented" in taken
    page.goto(f"/{job}/thing/1")
    page.get_by_label("Take a photo of pipe").set_input_files(
        {"name": "camera.jpg", "mimeType": "image/jpeg", "buffer": taken}
    )
    expect(page.get_by_role("status")).to_have_text("Saved: Photo of pipe")
    (stored,) = page.evaluate(STORED)
    assert (stored["width"], stored["height"]) == (400, 600)
    # Orientation 6: the left of the dots as written is the top of the picture (Exif 2.3, 4.6.4 A).
    assert stored["light"][2:] == [False, True]
    kept = bytes(stored["bytes"])
    assert b"Exif" not in kept
    assert b"invented" not in kept


def test_a_picture_that_cannot_be_read_is_refused_in_words_and_changes_nothing(page: Page) -> None:
    job = open_demo(page)
    page.goto(f"/{job}/wall/0")
    page.get_by_label("Take a photo of wall A–B").set_input_files(
        {"name": "x.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"}
    )
    expect(page.get_by_role("alert")).to_contain_text("This picture cannot be read.")
    assert page.evaluate(COUNT_JPEGS) == 0


def test_photos_follow_a_thing_to_its_new_name_and_outlive_it(page: Page) -> None:
    """Promise: no photo is lost by a new name or with the thing it shows."""
    job = open_demo(page)
    page.goto(f"/{job}/thing/1")
    page.get_by_label("Take a photo of pipe").set_input_files(WIDE)
    expect(page.get_by_role("status")).to_have_text("Saved: Photo of pipe")
    page.get_by_label("Name (Pipe)").fill("riser")
    page.get_by_label("Name (Pipe)").press("Enter")
    renamed = page.get_by_role("region", name="Photos of riser")
    expect(renamed.locator("img")).to_have_count(1)
    page.get_by_role("button", name="Take it out of the room").click()
    page.get_by_role("heading", name="Room", exact=True).wait_for()
    gone = page.get_by_role("region", name="Photos of what is gone")
    expect(gone.get_by_role("button", name="Look at the photo of riser")).to_be_visible()


def test_photos_change_no_plan_and_the_engine_never_gets_a_picture(page: Page) -> None:
    """Promise: a photo costs no computing, and what is asked of the engine stays small."""
    page.add_init_script(
        """globalThis.asked = [];
        const post = Worker.prototype.postMessage;
        Worker.prototype.postMessage = function (message, ...rest) {
          if (message.kind === 'ask') asked.push(message.text);
          return post.call(this, message, ...rest);
        };"""
    )
    job = open_demo(page)
    page.goto(f"/{job}/wall/0")
    page.wait_for_timeout(1000)
    before = page.evaluate("asked.length")
    assert before > 0
    page.get_by_label("Take a photo of wall A–B").set_input_files(WIDE)
    expect(page.get_by_role("status")).to_have_text("Saved: Photo of wall A–B")
    page.wait_for_timeout(1000)
    assert page.evaluate("asked.length") == before
    page.get_by_label("Gap to the floor").fill("11")
    page.get_by_label("Gap to the floor").press("Enter")
    until(page, f"asked.length > {before}")
    texts = page.evaluate("asked")
    assert json.loads(texts[-1])["job"]["photos"][0]["wall"] == ["A", "B"]
    assert not [text for text in texts if '"jpeg"' in text]
