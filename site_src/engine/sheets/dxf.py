"""A drawing as DXF R12 text, the one version of the format that every CAD program reads.

Group codes and their order: Autodesk's published "DXF Reference", the part of
release 12: closed polylines are POLYLINE with flag 1, their corners VERTEX.
The version has no unit of its own; a comment says that it is the millimetre.
"""

from collections.abc import Iterable, Iterator, Sequence

from engine.geometry.shapes import Point

Group = tuple[int, str]

# As in the plan file.
DECIMALS = 4
# Height of a name, mm.
NAME_HEIGHT = 25.0


def dxf_file(layers: Sequence[str], entities: Iterable[Group]) -> str:
    """The whole file; ``layers`` by plain capital names, ``entities`` as the functions below give them."""
    groups = (
        (999, "All lengths are millimetres"),
        *_section("HEADER", [(9, "$ACADVER"), (1, "AC1009")]),
        *_section(
            "TABLES", [*_table("LTYPE", 1, _LINE_TYPE), *_table("LAYER", len(layers), _layers(layers))]
        ),
        *_section("ENTITIES", entities),
        (0, "EOF"),
    )
    return "".join(f"{code:>3}\r\n{value}\r\n" for code, value in groups)


def polyline(layer: str, points: Sequence[Point], *, closed: bool) -> Iterator[Group]:
    """A line through points, or a ring."""
    yield from ((0, "POLYLINE"), (8, layer), (66, "1"), *_at(10, (0.0, 0.0)), (70, str(int(closed))))
    for point in points:
        yield from ((0, "VERTEX"), (8, layer), *_at(10, point))
    yield from ((0, "SEQEND"), (8, layer))


def text(
    layer: str, at: Point, words: str, *, height: float = NAME_HEIGHT, turn: float = 0.0
) -> Iterator[Group]:
    """One line of text with its middle on a point; ``turn`` in degrees counter-clockwise."""
    yield from ((0, "TEXT"), (8, layer), *_at(10, at), (40, _number(height)), (1, _plain(words)))
    yield from ((50, _number(turn)), (72, "1"), *_at(11, at), (73, "2"))


_LINE_TYPE: Sequence[Group] = (
    (0, "LTYPE"), (2, "CONTINUOUS"), (70, "0"), (3, "Solid line"), (72, "65"), (73, "0"), (40, "0.0"),
)  # fmt: skip


def _section(name: str, groups: Iterable[Group]) -> Iterator[Group]:
    yield from ((0, "SECTION"), (2, name), *groups, (0, "ENDSEC"))


def _table(name: str, count: int, groups: Iterable[Group]) -> Iterator[Group]:
    yield from ((0, "TABLE"), (2, name), (70, str(count)), *groups, (0, "ENDTAB"))


def _layers(names: Sequence[str]) -> Iterator[Group]:
    for name in names:
        yield from ((0, "LAYER"), (2, name), (70, "0"), (62, "7"), (6, "CONTINUOUS"))


def _at(code: int, point: Point) -> tuple[Group, ...]:
    return ((code, _number(point[0])), (code + 10, _number(point[1])), (code + 20, "0.0"))


def _number(value: float) -> str:
    return f"{round(value, DECIMALS) + 0.0:.{DECIMALS}f}"


def _plain(words: str) -> str:
    """Text in ASCII, on one line: other characters by their numbers, a dash between corners as a hyphen."""
    one_line = " ".join(words.replace("–", "-").split())
    return "".join(_escaped(character) for character in one_line)


def _escaped(character: str) -> str:
    code = ord(character)
    if " " <= character <= "~":
        return character
    return f"\\U+{code:04X}" if code <= 0xFFFF else "?"
