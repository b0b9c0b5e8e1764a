"""Files leave the phone by the share sheet or as downloads, and the screen stays on while it is needed."""

import json

import pytest
from playwright.sync_api import Page

from tests.browser.store_story import JOB, OpenTab, create

SEND = """async (file) => (await import('/app/share.js')).sendFiles([file])"""
# The sheet itself belongs to the phone; what stands in for it answers as the Web Share API says.
SHEET = """(answer) => {
  globalThis.shared = [];
  navigator.canShare = () => true;
  navigator.share = async ({ files }) => {
    if (answer) throw new DOMException('', answer);
    for (const file of files) shared.push([file.name, file.type, await file.text()]);
  };
}"""
FILE = {"name": "Loft-room.job.json", "text": '{"name": "Loft"}\n'}


@pytest.fixture
def tab(blank: OpenTab) -> Page:
    return blank()


def test_without_a_share_sheet_the_job_file_is_downloaded_byte_for_byte(store_tab: OpenTab) -> None:
    """The exported file, as saved by the browser, is the job."""
    tab = store_tab()
    job = create(tab)
    with tab.expect_download() as download:
        how = tab.evaluate(
            """async (id) => {
              const { sendFiles, fileName } = await import('/app/share.js');
              const { text, name } = await store.exportJob(id);
              return sendFiles([{ name: fileName(name, 'job.json'), text }]);
            }""",
            job,
        )
    assert how == {"done": True, "how": "downloaded"}
    assert download.value.suggested_filename == "Loft-room.job.json"
    assert json.loads(download.value.path().read_text(encoding="utf-8")) == JOB


def test_the_share_sheet_gets_the_file_with_its_type(tab: Page) -> None:
    tab.evaluate(SHEET, None)
    assert tab.evaluate(SEND, FILE) == {"done": True, "how": "shared"}
    assert tab.evaluate("shared") == [[FILE["name"], "application/json", FILE["text"]]]


def test_a_sheet_that_was_closed_does_not_count_as_exported(tab: Page) -> None:
    """The reminder to export goes on when the user changed their mind."""
    tab.evaluate(SHEET, "AbortError")
    assert tab.evaluate(SEND, FILE) == {"done": False, "how": "stopped"}


def test_a_sheet_that_fails_falls_back_to_a_download(tab: Page) -> None:
    tab.evaluate(SHEET, "NotAllowedError")
    with tab.expect_download() as download:
        assert tab.evaluate(SEND, FILE) == {"done": True, "how": "downloaded"}
    assert download.value.suggested_filename == FILE["name"]


def test_a_file_name_is_safe_whatever_the_job_is_called(tab: Page) -> None:
    """Letters and digits of any script stay; what a file system could read as more does not."""
    names = {
        "Loft room": "Loft-room.csv",
        "../../etc/passwd": "etc-passwd.csv",
        'a"b:c*d?e|f': "a-b-c-d-e-f.csv",
        "Søre loft, 2. sal": "Søre-loft-2-sal.csv",
        " . ": "floor.csv",
        "": "floor.csv",
        "x" * 300: "x" * 60 + ".csv",
    }
    made = """async (names) => {
      const { fileName } = await import('/app/share.js');
      return names.map((name) => fileName(name, 'csv'));
    }"""
    assert tab.evaluate(made, list(names)) == list(names.values())


def test_the_screen_is_kept_on_again_after_each_return_until_it_may_sleep(tab: Page) -> None:
    """The browser drops the lock whenever the page is hidden; it is asked for again until let go."""
    counts = tab.evaluate(
        """async () => {
          let asked = 0;
          let held = null;
          const request = async () => {
            asked += 1;
            held = { released: false, release: async () => { held.released = true; } };
            return held;
          };
          Object.defineProperty(navigator, 'wakeLock', { value: { request }, configurable: true });
          const { keepAwake, letSleep } = await import('/app/wake.js');
          const back = async () => {
            held.released = true;
            document.dispatchEvent(new Event('visibilitychange'));
            await null;
          };
          const counts = [await keepAwake(), asked];
          await back();
          await back();
          counts.push(asked);
          await letSleep();
          counts.push(held.released);
          await back();
          return [...counts, asked];
        }"""
    )
    assert counts == [True, 1, 3, True, 3]
