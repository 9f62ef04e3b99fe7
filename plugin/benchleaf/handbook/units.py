"""Units of the sources, as exact factors to those that Benchleaf reckons in.

Takes nothing, gives exact rationals. Reckoned in: mm, N, MPa (N/mm2), kPa, kg, kg/m3, percent,
degrees Celsius.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from benchleaf.lengths import MM_PER_INCH

# NIST SP 811 (2008), appendix B.8: 1 lb = 4.535 923 7 E-01 kg, exactly.
KG_PER_LB: Final = Fraction(45359237, 10**8)
# NIST SP 811 (2008), appendix B.8: standard gravity 9.806 65 m/s2, exactly.
GRAVITY_M_S2: Final = Fraction(980665, 10**5)
N_PER_LBF: Final = KG_PER_LB * GRAVITY_M_S2
"""Newtons in the weight of a pound."""
MPA_PER_PSI: Final = N_PER_LBF / MM_PER_INCH**2
"""Megapascals (N/mm2) in a pound on a square inch."""
KPA_PER_PSF: Final = MPA_PER_PSI * 1000 / 144
"""Kilopascals in a pound on a square foot."""
M3_PER_FT3: Final = (12 * MM_PER_INCH / 1000) ** 3
"""Cubic metres in a cubic foot."""

UNITS: Final[Mapping[str, tuple[Fraction, str]]] = MappingProxyType(
    {
        "value": (Fraction(1), ""),
        "mm": (Fraction(1), "mm"),
        "in": (MM_PER_INCH, "mm"),
        "n": (Fraction(1), "N"),
        "lbf": (N_PER_LBF, "N"),
        "lb": (KG_PER_LB, "kg"),
        "mpa": (Fraction(1), "MPa"),
        "kpa": (Fraction(1, 1000), "MPa"),
        "gpa": (Fraction(1000), "MPa"),
        "psi": (MPA_PER_PSI, "MPa"),
        "mpsi": (MPA_PER_PSI * 10**6, "MPa"),
        "psf": (KPA_PER_PSF, "kPa"),
        "kg_m3": (Fraction(1), "kg/m3"),
        "lb_ft3": (KG_PER_LB / M3_PER_FT3, "kg/m3"),
        "ft3": (M3_PER_FT3, "m3"),
        "percent": (Fraction(1), "%"),
        "celsius": (Fraction(1), "C"),
    }
)
"""Key of a table's row to its exact factor and the unit that it comes to."""
