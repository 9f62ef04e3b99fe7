"""Drill and router bits that a usual shop has.

Takes a width, gives the bit to fit. Must not know joints.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.lengths import MM_PER_INCH
from benchleaf.reading.plan import Units

# Common practice, no source: straight bits and brad-point bits sold singly, in 16ths of an inch and
# in mm.
_SIXTEENTHS: Final = (2, 3, 4, 5, 6, 8, 10, 12)
_INCH_MM: Final = tuple(Fraction(n, 16) * MM_PER_INCH for n in _SIXTEENTHS)
_METRIC_MM: Final = tuple(Fraction(n) for n in (3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20))


def largest_bit_mm(
    width_mm: Fraction, units: Units, owned_mm: tuple[Fraction, ...] | None = None
) -> Fraction:
    """The largest bit that is no wider than a cut; the cut's own width if all are wider.

    Args:
        width_mm: Of the cut.
        units: The plan's, in which usual bits are sold.
        owned_mm: The bits that a shop has; None for the usual ones.

    >>> largest_bit_mm(Fraction(18), Units.MILLIMETRE), largest_bit_mm(Fraction(57), Units.INCH)
    (Fraction(18, 1), Fraction(381, 20))
    """
    usual = _INCH_MM if units is Units.INCH else _METRIC_MM
    bits = usual if owned_mm is None else owned_mm
    return max((bit for bit in bits if bit <= width_mm), default=width_mm)
