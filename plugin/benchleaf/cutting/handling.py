"""What one person can still steer across a table saw, and what is sawn where it lies.

Takes sizes in mm, gives yes or no. Must not know layouts.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.shops.records import TableSaw

# Layouts are chosen for the usual shop, so that a plan has one cutting diagram wherever it is made.
_USUAL_MM: Final = TableSaw().panel_mm
MOST_LENGTH_MM, MOST_WIDTH_MM = _USUAL_MM
# chosen: a piece of another form is as handy with a little more area, 0.75 m2 for 0.72.
_MORE_AREA: Final = Fraction(750, 720)
MOST_AREA_MM2: Final = int(MOST_LENGTH_MM * MOST_WIDTH_MM * _MORE_AREA)


def is_handy(
    one_mm: Fraction,
    other_mm: Fraction,
    panel_mm: tuple[Fraction, Fraction] = _USUAL_MM,
) -> bool:
    """Tell whether a piece of these two sides goes over a table saw.

    Args:
        one_mm: One side.
        other_mm: The other.
        panel_mm: Both sides of the largest panel that the saw carries alone, the long one first.
    """
    long, short = max(one_mm, other_mm), min(one_mm, other_mm)
    most_area = panel_mm[0] * panel_mm[1] * _MORE_AREA
    return long * short <= most_area or (long <= panel_mm[0] and short <= panel_mm[1])
