"""Widths of text on the sheet, from metrics shipped in the package.

Takes text and the height of its capitals, gives mm. Must not know scenes or SVG: it is told what a
drawing is about to say, and the drawing makes room.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.drawing.fonts.sans_widths import CAP_HEIGHT, UNITS_PER_EM, WIDTHS_TEXT
from benchleaf.drawing.scene import Text

# chosen: a full em for characters without a figure; East Asian faces draw theirs on the em square.
_UNKNOWN_WIDTH: Final = UNITS_PER_EM
# From the OS/2 table of the same font: typographic ascender 1491, descender -431.
_DESCENT_OF_CAPITALS: Final = 431 / CAP_HEIGHT
ELLIPSIS: Final = "…"
# Characters that stand on the base line in the faces measured; all others may hang below it.
_STANDING: Final = frozenset("0123456789 ABCDEFGHIKLMNOPRSTUVWXYZabcdefhiklmnorstuvwxz-./:×≈½¼¾°")


def _read_widths(text: str) -> Iterator[tuple[int, int]]:
    code = 0
    for word in text.split():
        if word.endswith(":"):
            code = int(word[:-1], 16)
            continue
        width, _, times = word.partition("*")
        for _ in range(int(times or 1)):
            yield code, int(width)
            code += 1


_WIDTHS: Final[Mapping[int, int]] = MappingProxyType(dict(_read_widths(WIDTHS_TEXT)))


def text_width(text: str, height: float) -> float:
    """Measure a line of text.

    Args:
        text: One line.
        height: Height of its capitals, mm.

    Returns:
        Advance width, mm.

    >>> round(text_width("29-1/2", 2.5), 2)
    10.3
    >>> text_width("", 2.5)
    0.0
    """
    units = sum(_character_width(character) for character in text)
    return units * height / CAP_HEIGHT


def _character_width(character: str) -> int:
    known = _WIDTHS.get(ord(character))
    if known is not None:
        return known
    return 0 if unicodedata.combining(character) else _UNKNOWN_WIDTH


def font_size(height: float) -> float:
    """Font size, mm, at which capitals stand `height` mm high.

    >>> round(font_size(2.5), 2)
    3.63
    """
    return height * UNITS_PER_EM / CAP_HEIGHT


def fit_text(text: str, height: float, room: float) -> str:
    """Shorten a text to a width, mm, with an ellipsis; empty where not even that fits.

    >>> fit_text("left side panel", 2.5, 100), fit_text("left side panel", 2.5, 15)
    ('left side panel', 'left sid…')
    """
    if text_width(text, height) <= room:
        return text
    room -= text_width(ELLIPSIS, height)
    kept = 0
    for character in text:
        room -= text_width(character, height)
        if room < 0:
            break
        kept += 1
    return text[:kept].rstrip() + ELLIPSIS if kept else ""


def wrap_text(text: str, height: float, room: float) -> tuple[str, ...]:
    """Break a text into lines no wider than a width, mm; a word that is wider is shortened.

    >>> wrap_text("mortise 3/8 wide, 1 deep", 2.5, 25)
    ('mortise 3/8', 'wide, 1 deep')
    """
    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else ""
        if joined and text_width(joined, height) <= room:
            lines[-1] = joined
        else:
            lines.append(fit_text(word, height, room))
    return tuple(lines)


def text_corners(text: Text) -> tuple[tuple[float, float], ...]:
    """Corners of the box round a placed text, with descenders where it has any, mm on the sheet."""
    width = text_width(text.text, text.height)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    hang = 0.0 if _STANDING.issuperset(text.text) else _DESCENT_OF_CAPITALS
    top, bottom = -text.height / 2, text.height * (0.5 + hang)
    turn = math.radians(text.turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    return tuple(
        (text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos)
        for x, y in (
            (left, top),
            (left + width, top),
            (left + width, bottom),
            (left, bottom),
        )
    )
