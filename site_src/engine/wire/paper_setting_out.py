"""The words of the setting-out sheet: those of the screen, put as rows for paper."""

from collections.abc import Iterator

from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut
from engine.setting_out.strike_lines import StrikeLine
from engine.setting_out.ties import Mark
from engine.sheets.setting_out_words import LineWords, MarkWords, SettingOutWords
from engine.wire.drawings import Figure
from engine.wire.laying_view import hand_names
from engine.wire.setting_out_drawings import MarkDrawing, SettingOutSheet, StrikeDrawing


def setting_out_words(plan: FloorPlan, sheet: SettingOut, drawn: SettingOutSheet) -> SettingOutWords:
    """What the screen says of the lines, the first boards and the order of laying."""
    square, laying = drawn.square, drawn.laying
    return SettingOutWords(
        lines=tuple(_line(*pair) for pair in zip(sheet.lines, drawn.lines, strict=True)),
        square=(*map(_sentence, square.figures), *square.words) if square else (),
        first=drawn.first.words,
        hands=hand_names(plan),
        in_hand=drawn.in_hand.words,
        numbers=laying.numbers,
        laying=laying.words,
        cautions=(*([drawn.as_it_lies] if drawn.as_it_lies else []), *drawn.cautions),
    )


def _line(line: StrikeLine, drawn: StrikeDrawing) -> LineWords:
    first, second = (_mark(*pair) for pair in zip(line.marks, drawn.marks, strict=True))
    return LineWords(
        name=drawn.name,
        is_struck=drawn.is_struck,
        words=drawn.words,
        marks=(first, second),
        checks=tuple(_checks(line, drawn)),
    )


def _checks(line: StrikeLine, drawn: StrikeDrawing) -> Iterator[str]:
    yield _sentence(drawn.length)
    if drawn.laser:
        corners = zip(line.checks, drawn.laser, strict=True)
        sides = (
            f"{tie.corner} {shown.text} {'left' if tie.distance > 0 else 'right'}" for tie, shown in corners
        )
        yield f"With a laser along it, corners lie square across, mm: {', '.join(sides)}."
    if drawn.field:
        yield f"{drawn.field[0].label}: {', '.join(shown.text for shown in drawn.field)} mm."


def _mark(mark: Mark, drawn: MarkDrawing) -> MarkWords:
    one, other = ((tie.corner, shown.text) for tie, shown in zip(mark.ties, drawn.ties, strict=True))
    return MarkWords(
        number=drawn.number,
        ties=(one, other),
        check=(mark.check.corner, drawn.check.text) if mark.check and drawn.check else None,
        along=(drawn.along.label.removeprefix("Along "), drawn.along.text) if drawn.along else None,
        known_to=drawn.known_to.text,
        note=drawn.words,
    )


def _sentence(shown: Figure) -> str:
    return f"{shown.label}: {shown.text} {shown.unit}.".replace(" .", ".")
