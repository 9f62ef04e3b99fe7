"""Compound angles of canted boxes and frames: what the saw is set to.

Takes the number of sides and their slope, gives settings in degrees. Source: the identities stand
in Snyder and Gottesman, Compound-Angle Joinery (2014), and on a saw's compound-angle chart.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CompoundCut:
    """Settings of one end of a side, degrees."""

    gauge_deg: float
    """Mitre gauge, from square."""
    tilt_deg: float
    """Blade, from upright, for ends that meet in a mitre."""
    butt_tilt_deg: float
    """Blade, from upright, for ends that butt against the next side's face."""
    dihedral_deg: float
    """Angle between neighbouring sides, inside."""


def canted_cut(sides: int, slope_deg: float) -> CompoundCut:
    """Work out the cut at the ends of the sides of a canted box.

    Args:
        sides: Number of sides, 3 or more.
        slope_deg: Slope of each side from the horizontal: 0 for a flat frame, 90 for a box.

    >>> cut = canted_cut(4, 30)
    >>> round(cut.gauge_deg, 2), round(cut.tilt_deg, 2), round(cut.butt_tilt_deg, 2)
    (40.89, 20.7, 48.59)
    """
    slope, half = math.radians(slope_deg), math.pi / sides
    between = math.sin(slope) ** 2 * math.cos(2 * half) + math.cos(slope) ** 2
    turn = math.degrees(math.acos(max(-1.0, min(1.0, between))))
    return CompoundCut(
        gauge_deg=math.degrees(math.atan(math.cos(slope) * math.tan(half))),
        tilt_deg=math.degrees(math.asin(math.sin(slope) * math.sin(half))),
        butt_tilt_deg=90 - turn,
        dihedral_deg=180 - turn,
    )
