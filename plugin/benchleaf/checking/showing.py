"""How quantities are worded in a plan's units: forces, masses, stresses, small lengths.

Takes a `Quantity` and the units, gives text. Lengths of the plan stay exact; what was reckoned is
shown to three figures, no closer than it can be known.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from benchleaf.checking.records import Quantity
from benchleaf.handbook.supplies import LITRES_PER_FL_OZ, LITRES_PER_GALLON, M2_PER_FT2
from benchleaf.handbook.units import KG_PER_LB, KPA_PER_PSF, M3_PER_FT3, MPA_PER_PSI, N_PER_LBF
from benchleaf.lengths import MM_PER_INCH, format_with_unit
from benchleaf.reading.plan import Units

_INCH_POUND: Final[Mapping[str, tuple[Fraction, str]]] = {
    "mm": (MM_PER_INCH, "in"),
    "N": (N_PER_LBF, "lbf"),
    "N/mm": (N_PER_LBF / MM_PER_INCH, "lbf/in"),
    "N m": (N_PER_LBF * 12 * MM_PER_INCH / 1000, "lbf ft"),
    "kPa": (KPA_PER_PSF, "lb/sq ft"),
    "MPa": (MPA_PER_PSI, "psi"),
    "kg": (KG_PER_LB, "lb"),
    "kg/m3": (KG_PER_LB / M3_PER_FT3, "lb/cu ft"),
    "mm4": (MM_PER_INCH**4, "in⁴"),
    "m3": (M3_PER_FT3, "cu ft"),
    "m2": (M2_PER_FT2, "sq ft"),
    "l": (LITRES_PER_FL_OZ, "fl oz"),
    "m2/l": (M2_PER_FT2 / LITRES_PER_GALLON, "sq ft/gal"),
}
_METRIC_SIGNS: Final = {
    "kg/m3": "kg/m³",
    "mm4": "mm⁴",
    "m3": "m³",
    "m2": "m²",
    "m2/l": "m²/l",
    "deg": "°",
}


def show_quantity(quantity: Quantity, units: Units) -> str:
    """A quantity with its unit.

    >>> weight = Quantity(symbol="W", name="load", value=1112.0, unit="N")
    >>> show_quantity(weight, Units.INCH), show_quantity(weight, Units.MILLIMETRE)
    ('250 lbf', '1110 N')
    >>> span = Quantity(symbol="L", name="span", value=Fraction(914), unit="mm")
    >>> show_quantity(span, Units.MILLIMETRE)
    '914 mm'
    """
    value, unit = quantity.value, quantity.unit
    if unit == "mm" and isinstance(value, Fraction | int):
        return format_with_unit(Fraction(value), "in" if units is Units.INCH else "mm")
    if unit == "mm":
        return _show_small(float(value), units)
    factor, sign = Fraction(1), _METRIC_SIGNS.get(unit, unit)
    if units is Units.INCH and unit in _INCH_POUND:
        factor, sign = _INCH_POUND[unit]
    return (
        f"{three_figures(float(value) / float(factor))}{'' if sign == '°' else ' '}{sign}".strip()
    )


def _show_small(length_mm: float, units: Units) -> str:
    """A length that was reckoned, to what could be felt: 0.001 in or 0.01 mm."""
    is_inch = units is Units.INCH
    value, sign, places = (
        (length_mm / float(MM_PER_INCH), "in", 3) if is_inch else (length_mm, "mm", 2)
    )
    least = 10**-places
    if 0 < value < least:
        return f"less than {least:g} {sign}"
    if value >= 10:  # an arm or a height, which nobody sets out by
        places = 1 if is_inch else 0
    text = f"{value:.{places}f}"
    return f"{text.rstrip('0').rstrip('.') if places else text} {sign}"


def three_figures(value: float) -> str:
    """A number to three figures, without an exponent; no more than four decimals.

    >>> three_figures(1234.5), three_figures(0.04747), three_figures(12.0), three_figures(12411)
    ('1230', '0.0475', '12', '12,400')
    """
    if not value:
        return "0"
    rounded = float(f"{value:.3g}")
    # chosen: from ten thousand on, digits are set off by threes
    text = f"{rounded:,.0f}" if abs(rounded) >= 10_000 else f"{rounded:.4f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text if text not in {"0", "-0"} else f"{value:.2g}"
