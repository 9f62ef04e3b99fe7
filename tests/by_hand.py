"""Figures worked out by hand, and how to hold a worked plan against them.

Lengths are written as a maker writes them, in the plan's units, and read by Python's own Fraction,
not by the reader under test.
"""

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction

from benchleaf.cutting.records import CutPlan
from benchleaf.frames import Box
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece

# NIST SP 811 (2008), appendix B.8: 1 inch is 25.4 mm exactly.
MM = {"in": Fraction(254, 10), "mm": Fraction(1)}


def number(text: str) -> Fraction:
    """Read `16-9/16` or `3/4` or `942`."""
    whole, _, part = text.rpartition("-")
    return Fraction(part) + (Fraction(whole) if whole else 0)


def box_of(text: str, unit: str) -> Box:
    """A box from `left front bottom, right back top` in a plan's units."""
    low, high = (
        tuple(number(word) * MM[unit] for word in corner.split()) for corner in text.split(",")
    )
    return Box(low, high)


def first_boxes(piece: Piece) -> dict[str, Box]:
    """Where the first copy of each part stands, shoulder to shoulder."""
    return {name: part.box for name, part in piece.parts.items()}


def copies_per_part(piece: Piece) -> dict[str, int]:
    """How many copies of each part."""
    return {name: len(piece.copies_of(name)) for name in piece.parts}


def finished_sizes(joinery: Joinery, part: str) -> set[tuple[Fraction, ...]]:
    """Sizes of the least boxes round the copies of a part, joints included, mm."""
    return {cut.blank.size for cut in joinery.copies.values() if cut.part == part}


def sizes_of(texts: Iterable[str], unit: str) -> set[tuple[Fraction, ...]]:
    """Sizes `wide deep high` in a plan's units."""
    return {tuple(number(word) * MM[unit] for word in text.split()) for text in texts}


def blanks_of(cut_plan: CutPlan, unit: str) -> dict[str, Counter[tuple[Fraction, Fraction]]]:
    """Rough sizes of the blanks of each part in a plan's units, length then width, and how many."""
    found: dict[str, Counter[tuple[Fraction, Fraction]]] = {}
    for blank in cut_plan.blanks:
        sizes = found.setdefault(blank.part, Counter())
        sizes[(blank.length_mm / MM[unit], blank.width_mm / MM[unit])] += 1
    return found


def counted(lines: dict[str, str]) -> dict[str, Counter[tuple[Fraction, Fraction]]]:
    """Blanks written by hand: `12 of 16-13/16 x 2-13/32`."""
    found = {}
    for part, line in lines.items():
        count, _, size = line.partition(" of ")
        length, width = map(number, size.split(" x "))
        found[part] = Counter({(length, width): int(count)})
    return found
