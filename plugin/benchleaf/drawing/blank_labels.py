"""Words in rectangles: the largest that fit, turned where the rectangle is narrow.

Takes a rectangle on the sheet, a mark and a size, gives texts, or says that they do not fit. Must
not know stock or cuts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.clearance import Clearance, Rectangle, box_of_text
from benchleaf.drawing.page import CAPTION_HEIGHT, NAME_HEIGHT, NOTE_HEIGHT
from benchleaf.drawing.scene import Role, Text
from benchleaf.drawing.text_metrics import text_width

# chosen: three quarters of a millimetre each side keeps letters off the saw cuts.
_MARGIN_MM: Final = 0.75
# chosen: less above and below, where capitals and figures leave room of their own; a line alone
# needs least.
_TIGHT_MM: Final = 0.35
_TIGHT_LINES_MM: Final = 0.65
_BETWEEN_LINES_MM: Final = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What a rectangle says."""

    texts: tuple[Text, ...]
    says_size: bool
    """False where only the mark had room."""


@dataclass(frozen=True, slots=True)
class _Row:
    words: str
    height: float


def label_rectangle(box: Rectangle, mark: str, size: str, taken: Clearance) -> Label | None:
    """Set a mark and a size in a rectangle.

    Args:
        box: The rectangle, on the sheet.
        mark: What it is called; may be empty.
        size: Its size in words.
        taken: What is taken; the texts are added to it.

    Returns:
        The texts, or None where not even the mark fits.
    """
    for rows, says_size in _ways(mark, size):
        for is_turned in (False, True):
            for texts in _set(box, rows, is_turned=is_turned):
                boxes = [box_of_text(text) for text in texts]
                if all(taken.is_free(each) for each in boxes):
                    taken.take(texts)
                    return Label(texts=texts, says_size=says_size)
    return None


def _ways(mark: str, size: str) -> Iterator[tuple[tuple[_Row, ...], bool]]:
    """Ways to say it, the clearest first."""
    if mark:
        yield (_Row(mark, NAME_HEIGHT), _Row(size, NOTE_HEIGHT)), True
        yield (_Row(mark, NOTE_HEIGHT), _Row(size, NOTE_HEIGHT)), True
    joined = f"{mark}  {size}".strip()
    yield (_Row(joined, NOTE_HEIGHT),), True
    if mark:
        yield (_Row(mark, CAPTION_HEIGHT), _Row(size, CAPTION_HEIGHT)), True
    yield (_Row(joined, CAPTION_HEIGHT),), True
    if mark:
        yield (_Row(mark, NOTE_HEIGHT),), False
        yield (_Row(mark, CAPTION_HEIGHT),), False


def _set(box: Rectangle, rows: tuple[_Row, ...], *, is_turned: bool) -> Iterator[tuple[Text, ...]]:
    """Places for rows of words in a rectangle, its middle first; none if it is too small."""
    wide, high = box.right - box.left, box.bottom - box.top
    along, across = (high, wide) if is_turned else (wide, high)
    needed = max(text_width(row.words, row.height) for row in rows)
    stack = sum(row.height for row in rows) + _BETWEEN_LINES_MM * (len(rows) - 1)
    tight = _TIGHT_MM if len(rows) == 1 else _TIGHT_LINES_MM
    if needed + 2 * _MARGIN_MM > along or stack + 2 * tight > across:
        return
    slack = (along - needed) / 2 - _MARGIN_MM
    for share in (0.0, 0.5, -0.5, 1.0, -1.0):
        middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
        shift = (0.0, share * slack) if is_turned else (share * slack, 0.0)
        centre = (middle[0] + shift[0], middle[1] + shift[1])
        yield tuple(_stacked(centre, rows, stack, is_turned=is_turned))


def _stacked(
    centre: tuple[float, float], rows: tuple[_Row, ...], stack: float, *, is_turned: bool
) -> Iterator[Text]:
    at = -stack / 2
    for row in rows:
        line = at + row.height / 2
        x, y = (centre[0] + line, centre[1]) if is_turned else (centre[0], centre[1] + line)
        yield Text(
            at=(x, y),
            text=row.words,
            height=row.height,
            turn_deg=-90.0 if is_turned else 0.0,
            role=Role.NOTE,
            halo=False,
        )
        at += row.height + _BETWEEN_LINES_MM
