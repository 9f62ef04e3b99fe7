"""What a bolt carries sideways between two pieces of wood: the yield theory of dowels.

Takes plain numbers and the rules of `fasteners.yml`, gives newtons that may be counted on. The
theory stands in the Wood Handbook, chapter 8; its factors are those of NDS, section 12.3, from
memory. Must not know plans.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from benchleaf.handbook.tables import load_rules
from benchleaf.lengths import MM_PER_INCH

_ACROSS_DEG = 90
# NDS section 12.3, from memory: what yield loads are divided by, along the grain, in modes where
# the wood is crushed, where the bolt tilts, and where it bends.
_CRUSHED, _TILTED, _BENT = 4.0, 3.6, 3.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One of the two pieces that a bolt goes through."""

    gravity: float
    thickness_mm: float
    angle_deg: float
    """Between the load and the grain, 0 to 90."""


def bearing_mpa(member: Member, diameter_mm: float) -> float:
    """Strength of wood under a bolt, MPa; between the two ways by Hankinson's formula.

    >>> oak = Member(gravity=0.5, thickness_mm=38, angle_deg=0)
    >>> round(bearing_mpa(oak, 12.7), 1)
    38.6
    """
    rules = load_rules("bolts")
    along = float(rules["bearing along"].value) * member.gravity
    inches = math.sqrt(float(MM_PER_INCH) / diameter_mm)
    # 6,100 psi is 42.06 MPa for a bolt of 1 in; in mm under the root it is 212.
    across: float = float(rules["bearing across"].value) * member.gravity**1.45 * inches
    across /= math.sqrt(float(MM_PER_INCH))
    angle = math.radians(member.angle_deg)
    return along * across / (along * math.sin(angle) ** 2 + across * math.cos(angle) ** 2)


def bolt_lateral_n(main: Member, side: Member, *, diameter_mm: float) -> float:
    """Load across one bolt that may be counted on, N: the least of six ways to give way.

    Args:
        main: The thicker piece.
        side: The other.
        diameter_mm: The bolt's.
    """
    d, bends = diameter_mm, float(load_rules("bolts")["yield strength"].value)
    lm, ls = main.thickness_mm, side.thickness_mm
    em, es = bearing_mpa(main, d), bearing_mpa(side, d)
    re, rt = em / es, lm / ls
    k1 = math.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)
    k1 /= 1 + re
    k2 = math.sqrt(2 * (1 + re) + 2 * bends * (1 + 2 * re) * d**2 / (3 * em * lm**2)) - 1
    k3 = math.sqrt(2 * (1 + re) / re + 2 * bends * (2 + re) * d**2 / (3 * em * ls**2)) - 1
    ways = (
        d * lm * em / _CRUSHED,
        d * ls * es / _CRUSHED,
        k1 * d * ls * es / _TILTED,
        k2 * d * lm * em / ((1 + 2 * re) * _BENT),
        k3 * d * ls * em / ((2 + re) * _BENT),
        d**2 / _BENT * math.sqrt(2 * em * bends / (3 * (1 + re))),
    )
    steepest = max(main.angle_deg, side.angle_deg)
    return min(ways) / (1 + 0.25 * steepest / _ACROSS_DEG)
