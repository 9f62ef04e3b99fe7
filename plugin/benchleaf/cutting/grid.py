"""Lengths as whole numbers of steps: exact and fast to reckon with.

Takes exact lengths, gives the largest step that measures them all. Must not know stock or blanks.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Steps of one length, in which a layout is reckoned."""

    step_mm: Fraction
    """Length of one step, above 0."""

    def count(self, length_mm: Fraction) -> int:
        """A length as a whole number of steps.

        Raises:
            ValueError: The length is not a whole number of steps.
        """
        steps = length_mm / self.step_mm
        if steps.denominator != 1:
            raise ValueError(f"{length_mm} mm is not a whole number of steps of {self.step_mm} mm")
        return steps.numerator

    def length_mm(self, steps: int) -> Fraction:
        """A number of steps as a length, mm."""
        return steps * self.step_mm


def common_grid(lengths_mm: Iterable[Fraction]) -> Grid:
    """Find the longest step that measures every length; 1 mm where all are 0.

    >>> common_grid([Fraction(3, 4), Fraction(1, 2), Fraction(0)]).step_mm
    Fraction(1, 4)
    >>> common_grid([]).step_mm
    Fraction(1, 1)
    """
    above = 0
    below = 1
    for length in lengths_mm:
        common = lcm(below, length.denominator)
        above = gcd(above * (common // below), length.numerator * (common // length.denominator))
        below = common
    return Grid(step_mm=Fraction(above, below) if above else Fraction(1))
