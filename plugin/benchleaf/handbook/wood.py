"""Formulae of the Wood Handbook: moisture, weight, movement and strength of wood.

Takes plain numbers, gives plain numbers; exact where the formula is. Must not know species or
plans. WH10: FPL-GTR-190 (2010); WH21: FPL-GTR-282 (2021).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.frames import Number

# WH21 Tables 5-3: figures are at this moisture, percent; furniture is built near it.
SHOP_MOISTURE: Final = Fraction(12)
# WH21 p. 4-10: fibre saturation, percent, where a species' own is not known.
FIBRE_SATURATION: Final = Fraction(30)
# WH10 p. 13-15: the coefficients of Table 13-5 hold between these, percent.
LINEAR_FROM: Final = 6
LINEAR_TO: Final = 14
# WH10 p. 13-15: the coefficients of Table 13-5 are on the size at this moisture, percent.
CHANGE_BASE: Final = Fraction(10)
# WH21 Eq. 4-14: density of water, kg/m3.
WATER_KG_M3: Final = 1000


def equilibrium_moisture(warmth_c: float, humidity: float) -> float:
    """Moisture that wood comes to in air, percent: WH21 Eq. 4-5, p. 4-3 (transcription).

    Args:
        warmth_c: Temperature, degrees Celsius.
        humidity: Relative humidity, percent, 0 to below 100.

    >>> round(equilibrium_moisture(21.1, 50), 1)
    9.2
    """
    t, h = warmth_c, humidity / 100
    weight = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / weight * (kh / (1 - kh) + bound)


def change_of_size(
    size_mm: Number, coefficient: Number, moistures: tuple[Number, Number]
) -> Number:
    """Growth across the grain between two moistures: WH10 Eq. 13-2, p. 13-15 (read).

    Args:
        size_mm: Size at the first moisture, mm.
        coefficient: Radial or tangential coefficient of Table 13-5.
        moistures: First and second moisture, percent, both between 6 and 14.

    >>> float(change_of_size(232, Fraction("0.00245"), (8, 11)))
    1.7052
    """
    return size_mm * coefficient * (moistures[1] - moistures[0])


def wide_change_of_size(
    size_mm: Number, shrinkage: Number, moistures: tuple[Number, Number]
) -> Number:
    """Growth across the grain beyond 6 to 14 %: WH10 Eq. 13-3, p. 13-17 (from memory).

    Args:
        size_mm: Size at the first moisture, mm.
        shrinkage: Radial or tangential shrinkage from green to ovendry, percent.
        moistures: First and second moisture, percent, neither above fibre saturation.
    """
    first, second = (min(m, FIBRE_SATURATION) for m in moistures)
    return size_mm * (second - first) / (30 * 100 / shrinkage - 30 + first)


def coefficient_of_change(shrinkage: Fraction, saturation: Fraction = FIBRE_SATURATION) -> Fraction:
    """Coefficient of Table 13-5 as it follows from a shrinkage, percent (computed).

    Shrinkage is linear from fibre saturation to ovendry; the coefficient is on the size at 10 %.
    """
    part = shrinkage / 100
    return part / saturation / (1 - part * (saturation - CHANGE_BASE) / saturation)


def gravity_from_basic(basic: Fraction, moisture: Fraction) -> Fraction:
    """Specific gravity from that on green volume: WH21 Eq. 4-13, p. 4-12 (transcription).

    >>> round(float(gravity_from_basic(Fraction("0.45"), SHOP_MOISTURE)), 3)
    0.485
    """
    return basic / (1 - Fraction("0.265") * basic * (1 - moisture / FIBRE_SATURATION))


def density_kg_m3(gravity: Fraction, moisture: Fraction = SHOP_MOISTURE) -> Fraction:
    """Density at a moisture from the gravity at the same: WH21 Eq. 4-14, p. 4-12 (transcription).

    >>> density_kg_m3(Fraction("0.40"))
    Fraction(448, 1)
    """
    return WATER_KG_M3 * gravity * (1 + moisture / 100)


def strength_at(moisture: float, *, at_12: float, green: float, joined_at: float = 25) -> float:
    """Strength or stiffness at a moisture: WH21 Eq. 5-3, p. 5-34 (transcription).

    Args:
        moisture: Moisture, percent.
        at_12: The figure at 12 %.
        green: The figure of green wood, in the same unit.
        joined_at: Moisture where the dry and green lines meet, percent (Table 5-13; usually 25).

    >>> round(strength_at(8, at_12=103000, green=66000, joined_at=24))
    119473
    """
    power: float = (at_12 / green) ** ((12 - moisture) / (joined_at - 12))
    return at_12 * power
