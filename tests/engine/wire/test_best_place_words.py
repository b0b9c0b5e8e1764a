"""The reply with the best place says where nothing good can be had, and which measure decided."""

from tests.engine.small_jobs import ask, small_job


def test_the_reply_says_why_little_can_be_had_with_the_reader_s_decimal_mark() -> None:
    """A wall 40 mm out of the rows: the note is in the reply; triangles are told by their long point."""
    job = small_job(
        room__corners={"A": [0, 0], "B": [1800, 40], "C": [1812, 1420], "D": [-6, 1400]},
        setting_out={"edges": [{"from": "A", "to": "B"}], "measure": "short_side"},
    )
    job["room"]["walls"][0]["offsets"] = []
    job["floor"]["board"] = {"length": 400, "width": 70}
    reply = ask("best place", job=job, decimal=",")
    assert reply["reply"] == "best place", reply
    assert reply["worth"]["inputs"] == [["measure", "long point"]]
    (note,) = [finding for finding in reply["findings"] if finding["code"] == "no good place"]
    assert "39,7 mm" in note["sentence"]
    assert note["level"] == "note"


def test_an_area_is_told_in_the_unit_of_the_figures_beside_it() -> None:
    job = small_job(
        room__corners={"A": [0, 0], "B": [1800, 40], "C": [1812, 1420], "D": [-6, 1400]},
        setting_out={"edges": [{"from": "A", "to": "B"}], "measure": "area"},
    )
    job["floor"]["board"] = {"length": 400, "width": 70}
    reply = ask("best place", job=job)
    (note,) = [finding for finding in reply["findings"] if finding["code"] == "no good place"]
    assert reply["worth"]["unit"] == "cm²"
    assert f"an area of {reply['worth']['text']} cm²" in note["sentence"]
