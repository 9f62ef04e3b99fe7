"""What one person can still steer across a table saw, and what is sawn where it lies.

Takes sizes in mm, gives yes or no. Must not know layouts or machines.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

# chosen: what one person can still steer on a table saw: up to 0.75 m2, or 1200 by 600 mm.
MOST_AREA_MM2: Final = 750_000
MOST_LENGTH_MM: Final = 1200
MOST_WIDTH_MM: Final = 600


def is_handy(one_mm: Fraction, other_mm: Fraction) -> bool:
    """Tell whether a piece of these two sides goes over the table saw."""
    long, short = max(one_mm, other_mm), min(one_mm, other_mm)
    return long * short <= MOST_AREA_MM2 or (long <= MOST_LENGTH_MM and short <= MOST_WIDTH_MM)
