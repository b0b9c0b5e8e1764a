"""The pace as the Cut screen shows it: a spread, by kind, with what was left out."""

from typing import Any

from tests.engine.small_jobs import ask


def piece(kind: str, minute: float | None = None, fitted: float | None = None) -> dict[str, Any]:
    """A piece marked at that minute of an invented morning."""

    def iso(at: float | None) -> str:
        return "" if at is None else f"2026-03-14T{8 + int(at // 60):02}:{int(at % 60):02}:00.000Z"

    return {
        "kind": kind,
        "is_cut": minute is not None,
        "is_fitted": fitted is not None,
        "cut_at": iso(minute),
        "fitted_at": iso(fitted),
    }


def test_the_pace_is_a_spread_and_so_is_what_is_left() -> None:
    """Twelve mitres at five minutes each, twelve to go: about twelve an hour, about an hour."""
    pieces = [*(piece("mitre", 5.0 * i) for i in range(13)), *(piece("mitre") for _ in range(12))]
    reply = ask("pace", pieces=pieces)
    cutting = reply["cutting"]
    low, high = map(float, cutting["rate"]["text"].split("–"))
    assert low < 12 < high
    assert (cutting["rate"]["unit"], cutting["left"]["unit"]) == ("an hour", "h")
    assert cutting["title"] == (
        f"Cutting: {cutting['rate']['text']} pieces an hour, {cutting['left']['text']} h left"
    )
    low, high = map(float, cutting["left"]["text"].split("–"))
    assert low < 1 < high
    assert cutting["words"].startswith("From 12 pieces marked one after the other; 8 times out of 10")
    assert reply["fitting"] is None
    assert set(reply["formulas"]) == {"pace", "time left"}


def test_each_kind_has_its_own_pace_once_three_are_timed() -> None:
    """Mitres take six minutes, crosscuts two; of notches nothing is known but how many are left."""
    at, pieces = 0.0, [piece("mitre", 0)]
    for kind, minutes in (("mitre", 6), ("crosscut", 2)) * 6:
        at += minutes
        pieces.append(piece(kind, at))
    cutting = ask("pace", pieces=[*pieces, piece("notch"), piece("notch")], decimal=",")["cutting"]
    crosscut, mitre, notch = cutting["kinds"]
    assert [kind["kind_text"] for kind in (crosscut, mitre, notch)] == ["Crosscut", "Mitre", "Notch"]
    assert float(crosscut["rate"]["text"].split("–")[0]) > float(mitre["rate"]["text"].split("–")[0])
    assert notch["rate"] is None
    assert notch["left"] == "2 left"


def test_breaks_are_left_out_and_said_so() -> None:
    """A lunch of 45 minutes is no slow piece."""
    minutes = [0, 5, 10, 15, 60, 65, 70, 75]
    words = ask("pace", pieces=[piece("mitre", at) for at in minutes])["cutting"]["words"]
    assert words.endswith("Left out: a break of more than 30 min, 45 min in all.")
    minutes = [0, 5, 10, 15, 60, 65, 70, 75, 140, 145]
    words = ask("pace", pieces=[piece("mitre", at) for at in minutes])["cutting"]["words"]
    assert words.endswith("Left out: 2 breaks of more than 30 min, 1 h 50 min in all.")


def test_a_mark_without_a_readable_time_is_done_and_tells_no_pace() -> None:
    """Marks of older files have no time; they count as done."""
    pieces = [{**piece("mitre", 1), "cut_at": text} for text in ("", "soon", "2026-13-40", "9999-99")]
    assert ask("pace", pieces=pieces)["cutting"] is None


def test_fitting_is_told_beside_cutting() -> None:
    """Both are timed by their own marks."""
    pieces = [piece("mitre", 5.0 * i, 100 + 10.0 * i) for i in range(8)]
    reply = ask("pace", pieces=pieces)
    assert reply["fitting"]["rate"]["label"] == "Pieces fitted"
    assert reply["fitting"]["kinds"] == []
    assert reply["fitting"]["left"]["text"] == "0"


def test_what_is_no_kind_is_refused() -> None:
    """A slip of the page is told, not guessed at."""
    assert ask("pace", pieces=[{**piece("mitre"), "kind": "zigzag"}])["reply"] == "refused"
