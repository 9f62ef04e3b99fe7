"""What the saws of a small shop take across: by length, width and thickness of the piece.

Takes sizes in mm, gives the saw that crosscuts a piece, and where its stop goes. Must not know
operations or cuts.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import Final

from benchleaf.frames import Number

# Common practice, no source: a 10 in table saw cuts 3-1/8 in deep; more is sawn from both faces.
DEEPEST_SAW_MM: Final = 79
# The same blade less the floor of a sled, 1/2 to 3/4 in thick (common practice, no source).
DEEPEST_ON_SLED_MM: Final = 60
# chosen: where less than 15 mm of blade is to spare, it is tried on the piece first.
TRY_BLADE_MM: Final = DEEPEST_SAW_MM - 15
# From memory: a 10 in mitre saw cuts 3-1/2 in high; a few millimetres less are counted on.
DEEPEST_MITRE_MM: Final = 85
# From memory: the same saw cuts 5-1/2 in wide, a sliding one 12 in.
WIDEST_MITRE_MM: Final = 140
WIDEST_SLIDING_MM: Final = 300
# From memory: a 7-1/4 in circular saw cuts 2-3/8 in deep.
DEEPEST_CIRCULAR_MM: Final = 60
# chosen: as long as the fence of a large sled, 36 in; more hangs over at both sides.
LONGEST_ON_SLED_MM: Final = 915
# chosen: from the blade to the end of the fence of such a sled, or of a usual mitre saw.
FARTHEST_SLED_STOP_MM: Final = 450
FARTHEST_MITRE_STOP_MM: Final = 250


class CrossSaw(StrEnum):
    """A saw that cuts across."""

    SLED = "table saw"
    MITRE = "mitre saw"
    CIRCULAR = "circular saw"


def choose_cross_saw(long_mm: Number, wide_mm: Number, thick_mm: Number = 0) -> CrossSaw:
    """Choose the saw that cuts across a piece.

    Args:
        long_mm: Along the saw's fence, square to the cut.
        wide_mm: Along the cut.
        thick_mm: Through the piece.

    >>> choose_cross_saw(700, 300, 18)
    <CrossSaw.SLED: 'table saw'>
    >>> choose_cross_saw(700, 76, 76), choose_cross_saw(2400, 280, 18)
    (<CrossSaw.MITRE: 'mitre saw'>, <CrossSaw.MITRE: 'mitre saw'>)
    >>> choose_cross_saw(1200, 400, 36)
    <CrossSaw.CIRCULAR: 'circular saw'>
    """
    if long_mm <= LONGEST_ON_SLED_MM and thick_mm <= DEEPEST_ON_SLED_MM:
        return CrossSaw.SLED
    # chosen: what is thick is cut on a plain mitre saw; a slide that is drawn out is less rigid.
    widest = WIDEST_MITRE_MM if thick_mm > DEEPEST_ON_SLED_MM else WIDEST_SLIDING_MM
    if wide_mm <= widest and thick_mm <= DEEPEST_MITRE_MM:
        return CrossSaw.MITRE
    return CrossSaw.SLED if long_mm <= LONGEST_ON_SLED_MM else CrossSaw.CIRCULAR


def deepest_mm(saw: CrossSaw) -> int:
    """How deep a saw cuts across in one go, mm."""
    return {
        CrossSaw.SLED: DEEPEST_ON_SLED_MM,
        CrossSaw.MITRE: DEEPEST_MITRE_MM,
        CrossSaw.CIRCULAR: DEEPEST_CIRCULAR_MM,
    }[saw]


def say_stop(saw: CrossSaw, setting_mm: Fraction, size: str) -> str:
    """Where the stop goes: on the saw's own fence, or on a batten beyond it.

    Args:
        saw: The sled or the mitre saw.
        setting_mm: From the blade to the stop.
        size: The same in words.
    """
    if saw is CrossSaw.MITRE:
        if setting_mm <= FARTHEST_MITRE_STOP_MM:
            return f"Clamp a stop to the saw's fence, {size} from the blade."
        return f"Clamp a stop to a batten beside the saw's bed, {size} from the blade."
    if setting_mm <= FARTHEST_SLED_STOP_MM:
        return f"Clamp a stop to the sled, {size} from the blade."
    return (
        f"Lengthen the sled's fence with a batten, and clamp a stop to it, {size} from the blade."
    )
