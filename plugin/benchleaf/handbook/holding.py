"""Formulae of fasteners: what draws a screw or a nail out, and what pushes it aside.

Takes plain numbers and rows of `fasteners.yml`, gives newtons at which a joint fails in a test.
Must not know plans.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from benchleaf.handbook.tables import load_lateral, load_withdrawal

# ASME B18.6.1, from memory: basic diameter of a wood screw, in; Wood Handbook Table 8-9 agrees.
_FIRST_GAUGE_IN: Final = Fraction("0.060")
_STEP_GAUGE_IN: Final = Fraction("0.013")


def gauge_diameter_in(gauge: int) -> Fraction:
    """Shank diameter of a wood screw by its gauge number, in.

    >>> float(gauge_diameter_in(8))
    0.164
    """
    return _FIRST_GAUGE_IN + gauge * _STEP_GAUGE_IN


def withdrawal_n(fastener: str, gravity: float, *, diameter_mm: float, thread_mm: float) -> float:
    """Load that draws a fastener out of side grain in a test, N.

    Args:
        fastener: `wood screw`, `smooth nail`, `ringed nail`, `drift bolt` or `lag screw`.
        gravity: Specific gravity of the wood that holds it.
        diameter_mm: Shank's diameter (the root's for a ringed nail), mm.
        thread_mm: Length of thread in the wood that holds it, mm.

    >>> round(withdrawal_n("wood screw", 0.63, diameter_mm=4.1656, thread_mm=25.4))
    4546
    """
    row = load_withdrawal()[fastener]
    power: float = gravity ** float(row.gravity_power) * diameter_mm ** float(row.diameter_power)
    return float(row.coefficient) * power * thread_mm


def lateral_n(fastener: str, group: str, gravity: float, *, diameter_mm: float) -> float | None:
    """Load that pushes a fastener aside in a test, N; None where the table has no such wood.

    Args:
        fastener: `wood screw`, `nail` or `lag screw`.
        group: `hardwood` or `softwood`.
        gravity: Specific gravity of the wood; one between two rows goes by the lower.
        diameter_mm: Shank's diameter, mm.
    """
    row = load_lateral()[fastener]
    fitting = [k for kind, least, _, k in row.factors if kind == group and float(least) <= gravity]
    if not fitting:
        return None
    power: float = diameter_mm ** float(row.diameter_power)
    return float(max(fitting)) * power
