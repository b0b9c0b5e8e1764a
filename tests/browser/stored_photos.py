"""A photo put into the store, and read out of it, as the app's own modules do it."""

from typing import Any

from playwright.sync_api import Page

ADD = """async ([job, bytes, of]) => {
  const jpeg = new Blob([new Uint8Array(bytes)], { type: 'image/jpeg' });
  return store.addPhoto(job, jpeg, of, 'Photo');
}"""
# The least that counts as one here: the first marker, and something to know it by.
JPEG = b"\xff\xd8\xff\xe0 a picture, or so it says \xff\xd9"
COUNT_JPEGS = """async () => {
  const answer = (ask) => new Promise((done) => { ask.onsuccess = () => done(ask.result); });
  const db = await answer(indexedDB.open('out-of-true'));
  const count = await answer(db.transaction('photos').objectStore('photos').count());
  db.close();
  return count;
}"""


def add(tab: Page, job: str, of: dict[str, object], jpeg: bytes = JPEG) -> dict[str, Any]:
    return dict(tab.evaluate(ADD, [job, list(jpeg), of]))


def photo_of(tab: Page, job: str, index: int = 0) -> bytes | None:
    """The picture as the store gives it."""
    made = tab.evaluate(
        """async ([id, index]) => {
          const { doc } = await store.openJob(id);
          const photo = await store.readPhoto(id, doc.photos[index].id);
          return photo && [photo.type, ...new Uint8Array(await photo.arrayBuffer())];
        }""",
        [job, index],
    )
    if made is None:
        return None
    assert made[0] == "image/jpeg"
    return bytes(made[1:])
