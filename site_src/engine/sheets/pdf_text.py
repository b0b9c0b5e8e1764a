"""Text as the fonts that every PDF reader has can show it, and how wide it comes out.

Widths: Adobe's font metrics of Helvetica (the "Core 14" AFM files), in thousandths of the font size.
"""

from collections.abc import Iterator

POINTS = 72 / 25.4

_WIDTHS = {
    191: "'",
    222: "ijl‚‘’",
    260: "|¦",
    278: " !,./:;I[\\]ft·ÌÍÎÏìíîï",
    333: "()-`r„ˆ‹“”˜›¡¨¯²³´¸¹",
    334: "{}",
    350: "•",
    355: '"',
    365: "º",
    370: "ª",
    389: "*",
    400: "°",
    469: "^",
    500: "Jcksvxyzšžçýÿ",
    537: "¶",
    556: "#$0123456789?L_abdeghnopqu€ƒ†‡–¢£¤¥§«µ»àáâãäåèéêëðñòóôõöùúûüþ",
    584: "+<=>~¬±×÷",
    611: "FTZŽ¿ßø",
    667: "&ABEKPSVXYŠŸÀÁÂÃÄÅÈÉÊËÝÞ",
    722: "CDHNRUwÇÐÑÙÚÛÜ",
    737: "©®",
    778: "GOQÒÓÔÕÖØ",
    833: "Mm",
    834: "¼½¾",
    889: "%æ",
    944: "Wœ",
    1000: "…‰Œ—™Æ",
    1015: "@",
}
WIDTHS = {character: width for width, characters in _WIDTHS.items() for character in characters}

# The fonts have no minus sign of their own; the dash is as wide as a figure.
_INSTEAD = str.maketrans({"\N{MINUS SIGN}": "–", "\N{NO-BREAK SPACE}": " ", "\t": " ", "\n": " "})


def printable(text: str) -> str:
    """The text with a question mark for each character that the fonts do not have."""
    return "".join(character if character in WIDTHS else "?" for character in text.translate(_INSTEAD))


def encoded(text: str) -> bytes:
    """The text in the fonts' own encoding (WinAnsi)."""
    return printable(text).encode("cp1252")


def width_of(text: str, size: float) -> float:
    """Width in mm of a text set in Helvetica; ``size`` of the font in points."""
    return sum(WIDTHS[character] for character in printable(text)) / 1000 * size / POINTS


def wrapped(text: str, size: float, width: float) -> Iterator[str]:
    """The text in lines no wider than ``width`` mm, broken between words; no word is broken."""
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, size) > width:
            yield line
            line = word
        else:
            line = longer
    if line:
        yield line


def shortened(text: str, size: float, width: float) -> str:
    """The text, cut off with dots where it is wider than ``width`` mm."""
    if width_of(text, size) <= width:
        return text
    while text and width_of(f"{text}…", size) > width:
        text = text[:-1]
    return f"{text}…"
