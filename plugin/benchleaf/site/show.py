"""How numbers and lists are worded on the pages of one plan.

Takes exact values in mm, minutes or hours and marks; gives text in the plan's units. Must not know
HTML: everything here is plain text, escaped when a template lays it out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import Number
from benchleaf.lengths import MM_PER_INCH, UnitName, format_length, format_with_unit
from benchleaf.reading.plan import Units

_MARK: Final = re.compile(r"([A-Z]+)([0-9]*)(?:[.]([0-9]+))?")
_UNIT_WORDS: Final = {Units.INCH: "inches", Units.MILLIMETRE: "millimetres"}


@dataclass(frozen=True, slots=True)
class Show:
    """The wording of numbers in one plan's units."""

    units: Units

    @property
    def unit(self) -> UnitName:
        """The unit's sign: `in`."""
        return "in" if self.units is Units.INCH else "mm"

    @property
    def unit_word(self) -> str:
        """The unit's name, for a table's caption: `inches`."""
        return _UNIT_WORDS[self.units]

    def length(self, length_mm: Number) -> str:
        """A length without its unit, for a table whose caption names the unit."""
        return format_length(Fraction(length_mm), self.unit)

    def with_unit(self, length_mm: Number) -> str:
        """A length with its unit, for a sentence."""
        return format_with_unit(Fraction(length_mm), self.unit)

    def size(self, *lengths_mm: Number) -> str:
        """Lengths as `29-1/2 × 3 × 3/4`."""
        return " × ".join(map(self.length, lengths_mm))

    def size_with_unit(self, *lengths_mm: Number) -> str:
        """Lengths as `29-1/2 × 3 × 3/4 in`."""
        return f"{self.size(*lengths_mm)} {self.unit}"

    def area(self, area_mm2: Number) -> str:
        """An area rounded for buying, in square feet or square metres."""
        if self.units is Units.INCH:
            square_feet = float(area_mm2) / float(12 * MM_PER_INCH) ** 2
            return f"{square_feet:.1f} sq ft"
        return f"{float(area_mm2) / 1e6:.2f} m²"

    def small_area(self, area_mm2: Number) -> str:
        """An area within a joint, in square inches or square centimetres."""
        if self.units is Units.INCH:
            return f"{float(area_mm2) / float(MM_PER_INCH) ** 2:.2f} sq in"
        return f"{float(area_mm2) / 100:.1f} cm²"


def show_count(count: int, word: str, plural: str = "") -> str:
    """A count with its word.

    >>> show_count(1, "part"), show_count(2, "part"), show_count(3, "box", "boxes")
    ('1 part', '2 parts', '3 boxes')
    """
    return f"{count} {word if count == 1 else plural or word + 's'}"


def begin_sentence(text: str) -> str:
    """A text with its first letter large, the rest as it is.

    >>> begin_sentence("glue-up of A1")
    'Glue-up of A1'
    """
    return text[:1].upper() + text[1:]


def show_minutes(minutes: int) -> str:
    """A stretch of work, in hours and minutes.

    >>> show_minutes(45), show_minutes(120), show_minutes(150)
    ('45 min', '2 h', '2 h 30 min')
    """
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


# chosen: how close an estimate is, minutes: to 5 below an hour, a quarter of an hour below four
# hours, the hour above.
_STEPS_OF_ESTIMATES: Final = ((60, 5), (4 * 60, 15))
_COARSEST_STEP: Final = 60


def show_estimate(minutes: int) -> str:
    """A stretch of work that was estimated, no closer than it can be known.

    >>> show_estimate(3), show_estimate(57), show_estimate(221), show_estimate(1724)
    ('5 min', '55 min', '3 h 45 min', '29 h')
    """
    step = next((step for below, step in _STEPS_OF_ESTIMATES if minutes < below), _COARSEST_STEP)
    return show_minutes(max(round(minutes / step), 1) * step)


def show_wait(hours: Fraction) -> str:
    """A wait, in minutes, hours or, where it is longer than a day, days.

    >>> show_wait(Fraction(1, 2)), show_wait(Fraction(24)), show_wait(Fraction(72))
    ('30 min', '24 h', '3 days')
    """
    if hours > 24 and hours % 24 == 0:
        return f"{hours // 24} days"
    return show_minutes(round(hours * 60))


def show_list(items: Sequence[str], last: str = "and") -> str:
    """Words in a row: commas, and a word before the last.

    >>> show_list(["saw", "drill", "rule"])
    'saw, drill and rule'
    """
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def show_marks(marks: Iterable[str]) -> str:
    """Marks and labels in a row, runs of three and more shortened.

    >>> show_marks(["A1", "A2", "A3", "A4", "B1", "B2", "C", "D1.1", "D1.2", "D1.3"])
    'A1–A4, B1, B2, C, D1.1–D1.3'
    """
    runs: list[list[str]] = []
    for mark in sorted(marks, key=order_of_mark):
        if runs and _follows(mark, runs[-1][-1]):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return ", ".join(_show_run(run) for run in runs)


def _follows(mark: str, before: str) -> bool:
    """Tell whether a mark is the next copy, or the next layer of the same copy."""
    (*_, number, layer), (*_, number_before, layer_before) = map(order_of_mark, (mark, before))
    if order_of_mark(mark)[:2] != order_of_mark(before)[:2]:
        return False
    if layer == layer_before == 0:
        return number == number_before + 1 and number_before > 0
    return number == number_before and layer == layer_before + 1 and layer_before > 0


def _show_run(run: list[str]) -> str:
    return f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(run)


def show_numbers(numbers: Iterable[int]) -> str:
    """Whole numbers in a row, runs of three and more shortened.

    >>> show_numbers([8, 1, 3, 4, 5, 7, 3])
    '1, 3–5, 7, 8'
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(_show_run([str(number) for number in run]) for run in runs)


def order_of_mark(mark: str) -> tuple[int, str, int, int]:
    """A key that sorts marks as the plan gives them: A... Z, AA; A2 before A10; A1 before A1.1.

    >>> sorted(["AA1", "B", "A10", "A2", "A2.1"], key=order_of_mark)
    ['A2', 'A2.1', 'A10', 'B', 'AA1']
    """
    match = _MARK.fullmatch(mark)
    if not match:
        return (len(mark), mark, 0, 0)
    letter, number, layer = match.groups(default="")
    return (len(letter), letter, int(number or 0), int(layer or 0))
