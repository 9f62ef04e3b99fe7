"""Sizes of joints by published proportion, rounded to what a person can set out.

Takes exact lengths and a key of the handbook's proportions; gives `JointSize` rows that carry their
rule and source. Knows no contact and no single family.
"""

from __future__ import annotations

import math
from fractions import Fraction

from benchleaf.handbook.tables import Proportion, load_proportions
from benchleaf.joinery.records import JointSize
from benchleaf.lengths import MM_PER_INCH, UnitName


def grid_mm(units: UnitName) -> Fraction:
    """The step to which proposed sizes are rounded, mm.

    >>> grid_mm("mm"), grid_mm("in")
    (Fraction(1, 1), Fraction(127, 80))
    """
    # chosen: 1/16 in and 1 mm are the finest marks that all common rules and tapes carry.
    return MM_PER_INCH / 16 if units == "in" else Fraction(1)


def round_down(value_mm: Fraction, units: UnitName) -> Fraction:
    """The largest multiple of the grid that is not above a value.

    >>> round_down(Fraction("7.9"), "mm")
    Fraction(7, 1)
    """
    step = grid_mm(units)
    return math.floor(value_mm / step) * step


def round_up(value_mm: Fraction, units: UnitName) -> Fraction:
    """The smallest multiple of the grid that is not below a value."""
    step = grid_mm(units)
    return math.ceil(value_mm / step) * step


def round_nearest(value_mm: Fraction, units: UnitName) -> Fraction:
    """The multiple of the grid nearest to a value; halves go down.

    >>> round_nearest(Fraction("6.5"), "mm"), round_nearest(Fraction("6.6"), "mm")
    (Fraction(6, 1), Fraction(7, 1))
    """
    step = grid_mm(units)
    return math.ceil(value_mm / step - Fraction(1, 2)) * step


def grid_words(units: UnitName) -> str:
    """How the grid is called: `1/16` or `millimetre`."""
    return "1/16" if units == "in" else "millimetre"


def proportion(key: str) -> Proportion:
    """A row of the handbook's proportions."""
    return load_proportions()[key]


def factor(key: str) -> Fraction:
    """A plain number of the handbook's proportions."""
    return load_proportions()[key].factor


def usual_mm(key: str, units: UnitName) -> Fraction:
    """A length of the handbook's proportions, for a plan's units, mm."""
    return load_proportions()[key].length_mm(units)


def planned(name: str, value_mm: Fraction) -> JointSize:
    """A size that the author gave."""
    return JointSize(name=name, value_mm=value_mm, rule="from the plan", source="the plan")


def worked(name: str, value_mm: Fraction, rule: str) -> JointSize:
    """A size that follows from others."""
    return JointSize(name=name, value_mm=value_mm, rule=rule, source="worked out")


def proposed(name: str, value_mm: Fraction, *, key: str, rounding: str = "") -> JointSize:
    """A size by a row of the handbook.

    Args:
        name: What the size is of.
        value_mm: Rounded, mm.
        key: Key of the proportion.
        rounding: How it was rounded, in words, or empty.
    """
    row = load_proportions()[key]
    rule = f"{row.rule}, {rounding}" if rounding else row.rule
    return JointSize(name=name, value_mm=value_mm, rule=rule, source=row.source)


def proposed_share(
    name: str, whole_mm: Fraction, *, key: str, units: UnitName, least_mm: Fraction
) -> JointSize:
    """A size that is a share of another by a row of the handbook, to the nearest mark of a rule.

    Args:
        name: What the size is of.
        whole_mm: What it is a share of, mm.
        key: Key of the proportion.
        units: The plan's.
        least_mm: What it never falls below, mm.
    """
    wanted = round_nearest(whole_mm * factor(key), units)
    rounding = f"to the nearest {grid_words(units)}"
    return proposed(name, max(wanted, least_mm), key=key, rounding=rounding)


def stock_tenon_mm(thin_mm: Fraction, units: UnitName) -> Fraction:
    """The thickness of a tenon for the thinner of two parts, mm.

    >>> stock_tenon_mm(Fraction(24), "mm")
    Fraction(8, 1)
    """
    wanted = round_nearest(thin_mm * factor("tenon thickness"), units)
    return max(wanted, grid_mm(units))


def housing_depth_mm(thickness_mm: Fraction, units: UnitName) -> Fraction:
    """The depth of a housing in a part of a thickness, mm: from 1/4 up to 1/3 of it.

    The least multiple of the grid that is no less than a quarter; where that is more than a third,
    the next below.

    >>> housing_depth_mm(Fraction(18), "mm"), housing_depth_mm(Fraction(6), "mm")
    (Fraction(5, 1), Fraction(2, 1))
    """
    deep = round_up(thickness_mm * factor("housing depth"), units)
    if deep <= thickness_mm * factor("housing depth, most"):
        return deep
    return max(round_down(thickness_mm * factor("housing depth"), units), grid_mm(units) / 2)
