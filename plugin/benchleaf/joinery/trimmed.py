"""Ends cut at an angle that are ends still when the joints are cut.

Takes the joinery and a mark, gives trims. Where a joint adds a tenon at such an end, the plane is
the tenon's shoulder and is sawn with it.
"""

from __future__ import annotations

from benchleaf.forms import box_round
from benchleaf.frames import dot
from benchleaf.joinery.records import CutCopy, Joinery
from benchleaf.piece.records import Trim

# chosen: far more than rounding leaves, less than any tenon. mm
_BEYOND_MM = 0.01


def open_trims(joinery: Joinery, mark: str) -> tuple[Trim, ...]:
    """The trims of a copy that are sawn right across, in the order of faces."""
    cut = joinery.copies[mark]
    trims = joinery.piece.parts[cut.part].trims
    return tuple(trim for trim in trims if not is_shoulder(cut, trim))


def is_shoulder(cut: CutCopy, trim: Trim) -> bool:
    """Tell whether wood that a joint adds stands out beyond a trim."""
    return any(
        dot(trim.normal, corner) > trim.offset_mm + _BEYOND_MM
        for feature in cut.features
        if feature.adds
        for corner in box_round(feature.shape).corners()
    )
