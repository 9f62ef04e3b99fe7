"""Plain words for steps: lengths, marks, parts, and sentences short enough for the bench.

Takes values and names, gives text in the plan's units. Must not know operations.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import Number
from benchleaf.handbook.units import KG_PER_LB
from benchleaf.lengths import MM_PER_INCH, format_length, format_with_unit
from benchleaf.reading.plan import Units

# ASD-STE100, rule 5.1: at most 20 words in a sentence of a procedure; from memory.
MOST_WORDS: Final = 20

_MARK: Final = re.compile(r"([A-Z]+)([0-9]*)(?:\.([0-9]+))?")
_ES: Final = ("s", "x", "z", "ch", "sh")
_VOWELS: Final = "aeiou"
# Words of the trade whose plural does not follow the rules below.
_ODD_PLURALS: Final = {"shelf": "shelves", "half": "halves", "foot": "feet", "knife": "knives"}


@dataclass(frozen=True, slots=True)
class Say:
    """The wording of lengths in one plan's units."""

    units: Units

    def length(self, length_mm: Number) -> str:
        """A length to set or mark out, with its unit; `≈` where it is rounded."""
        return format_with_unit(Fraction(length_mm), self.units.value)

    def about(self, length_mm: Number) -> str:
        """A length that is read off a tape, rounded to 1/16 in or 1 mm, with its unit."""
        # chosen: sixteenths and whole millimetres are the finest marks that all tapes carry.
        length = Fraction(round(length_mm)) if self.units is Units.MILLIMETRE else length_mm
        return format_with_unit(Fraction(length), self.units.value, grid=16, show_rounding=False)

    def plain(self, length_mm: Number) -> str:
        """The same as `about`, without its unit."""
        return self.about(length_mm).removesuffix(f" {self.units}")

    def lengths(self, lengths_mm: Sequence[Number]) -> str:
        """Several lengths, the unit said once: `3/4 and 2-1/4 in`."""
        shown = [format_length(Fraction(length), self.units.value) for length in lengths_mm]
        return f"{join_words(shown)} {self.units}"

    def mass(self, mass_kg: float) -> str:
        """A mass to the nearest pound, or kilogram."""
        if self.units is Units.INCH:
            return f"{round(mass_kg / float(KG_PER_LB))} lb"
        return f"{round(mass_kg)} kg"

    def usual(self, metric: str, inch: str) -> str:
        """A usual figure that is round in either unit: `3 mm`, `1/8 in`."""
        return inch if self.units is Units.INCH else metric


def round_opening_up(length_mm: Fraction, units: Units) -> Fraction:
    """A least opening as it is said: up to the next 1/8 in or 1 mm, so that it is never too small.

    >>> round_opening_up(Fraction("1002.1"), Units.MILLIMETRE)
    Fraction(1003, 1)
    """
    # chosen: clamps are picked by eye; eighths and whole millimetres do.
    step = MM_PER_INCH / 8 if units is Units.INCH else Fraction(1)
    return math.ceil(length_mm / step) * step


def pluralise(noun: str) -> str:
    """The plural of a part's name.

    >>> pluralise("long rail"), pluralise("shelf"), pluralise("box"), pluralise("tray")
    ('long rails', 'shelves', 'boxes', 'trays')
    """
    start, _, last = noun.rpartition(" ")
    if last in _ODD_PLURALS:
        many = _ODD_PLURALS[last]
    elif last.endswith(_ES):
        many = last + "es"
    elif last.endswith("y") and len(last) > 1 and last[-2] not in _VOWELS:
        many = last[:-1] + "ies"
    else:
        many = last + "s"
    return f"{start} {many}" if start else many


def name_parts(parts: Iterable[tuple[str, int]]) -> str:
    """Parts by name, with the article: (name, number of copies).

    >>> name_parts([("leg", 4), ("seat", 1)])
    'the legs and the seat'
    """
    return join_words([f"the {pluralise(name) if count > 1 else name}" for name, count in parts])


def join_words(words: Sequence[str], last: str = "and") -> str:
    """Words in a row.

    >>> join_words(["saw", "drill", "rule"])
    'saw, drill and rule'
    """
    if len(words) < 2:
        return "".join(words)
    gap = "" if last.startswith(",") else " "
    return f"{', '.join(words[:-1])}{gap}{last} {words[-1]}"


def order_of_mark(mark: str) -> tuple[int, str, int, int]:
    """A key that sorts marks and blanks' labels: A, B... Z, AA; A2 before A10; A1.2 after A1.1.

    >>> sorted(["AA1", "B", "A10", "A2", "A2.1"], key=order_of_mark)
    ['A2', 'A2.1', 'A10', 'B', 'AA1']
    """
    match = _MARK.fullmatch(mark)
    if not match:
        return (1000, mark, 0, 0)
    return (len(match[1]), match[1], int(match[2] or 0), int(match[3] or 0))


def sort_marks(marks: Iterable[str]) -> tuple[str, ...]:
    """Marks in their order, each once."""
    return tuple(sorted(set(marks), key=order_of_mark))


def join_marks(marks: Iterable[str], among: Sequence[str] | None = None) -> str:
    """Marks in a row, runs of three and more shortened.

    Args:
        marks: Marks or labels of blanks.
        among: All marks there are, in order; a run is a stretch of these. Numbers count where None.

    >>> join_marks(["A1", "A2", "A3", "A4", "B1", "B2", "C"])
    'A1 to A4, B1, B2 and C'
    """
    wanted = sort_marks(marks)
    runs: list[list[str]] = []
    for mark in wanted:
        if runs and _follows(runs[-1][-1], mark, among):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    words: list[str] = []
    for run in runs:
        words += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else run
    return join_words(words)


def _follows(before: str, mark: str, among: Sequence[str] | None) -> bool:
    one, two = order_of_mark(before), order_of_mark(mark)
    if one[:2] != two[:2]:
        return False
    if among is not None:
        return before in among and among.index(mark) == among.index(before) + 1
    return one[3] == two[3] == 0 and two[2] == one[2] + 1 > 1


def count_words(text: str) -> int:
    """Words in a sentence, as a reader counts them: `3/8 in` is two."""
    return len(text.split())


def spread(start: str, marks: Sequence[str], end: str = "") -> Iterator[str]:
    """Sentences of 20 words at most that say the same of many marks.

    >>> list(spread("Mark", ["A1", "A2"], "on the top end"))
    ['Mark A1 and A2 on the top end.']
    """
    ordered = sort_marks(marks)
    while ordered:
        taken = len(ordered)
        while taken > 1 and count_words(_sentence(start, ordered[:taken], end)) > MOST_WORDS:
            taken -= 1
        yield _sentence(start, ordered[:taken], end)
        ordered = ordered[taken:]


def _sentence(start: str, marks: Sequence[str], end: str) -> str:
    return " ".join(filter(None, [start, join_marks(marks), end])) + "."


def capitalise(text: str) -> str:
    """A text with its first letter large, the rest as it is."""
    return text[:1].upper() + text[1:]


def make_slug(text: str) -> str:
    """The part of an address that a title gives: letters, digits, hyphens.

    >>> make_slug("Rip strips 2-3/8 in wide")
    'rip-strips-2-3-8-in-wide'
    """
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "step"
