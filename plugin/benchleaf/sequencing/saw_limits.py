"""What the saws of a shop take across: by length, width and thickness of the piece.

Takes sizes in mm and a shop, gives the saw that crosscuts a piece, and where its stop goes. Must
not know operations or cuts.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import Final

from benchleaf.frames import Number
from benchleaf.shops import USUAL_SHOP, Shop
from benchleaf.shops.records import CircularSaw, MitreSaw, TableSaw

# The floor of a sled, 1/2 to 3/4 in thick (common practice, no source).
_SLED_FLOOR_MM: Final = 19
# chosen: where less than 15 mm of blade is to spare, it is tried on the piece first.
_SPARE_BLADE_MM: Final = 15
# chosen: from the blade to the end of the fence of a usual sled, or of a usual mitre saw.
FARTHEST_SLED_STOP_MM: Final = 450
FARTHEST_MITRE_STOP_MM: Final = 250


class CrossSaw(StrEnum):
    """A saw that cuts across."""

    SLED = "table saw"
    MITRE = "mitre saw"
    CIRCULAR = "circular saw"


def choose_cross_saw(
    long_mm: Number, wide_mm: Number, thick_mm: Number = 0, *, shop: Shop = USUAL_SHOP
) -> CrossSaw:
    """Choose the saw that cuts across a piece, or that would if it were there.

    Args:
        long_mm: Along the saw's fence, square to the cut.
        wide_mm: Along the cut.
        thick_mm: Through the piece.
        shop: Whose saws they are. Where it has none that does, the work is that of the saw that is
            nearest to it, and is done another way.

    >>> choose_cross_saw(700, 300, 18)
    <CrossSaw.SLED: 'table saw'>
    >>> choose_cross_saw(700, 76, 76), choose_cross_saw(2400, 280, 18)
    (<CrossSaw.MITRE: 'mitre saw'>, <CrossSaw.MITRE: 'mitre saw'>)
    >>> choose_cross_saw(1200, 400, 36)
    <CrossSaw.CIRCULAR: 'circular saw'>
    """
    on_sled = _goes_on_sled(long_mm, wide_mm, shop.table_saw)
    if on_sled and thick_mm <= deepest_mm(CrossSaw.SLED, shop):
        return CrossSaw.SLED
    if _goes_on_mitre(wide_mm, thick_mm, shop):
        return CrossSaw.MITRE
    return CrossSaw.SLED if on_sled else CrossSaw.CIRCULAR


def _goes_on_sled(long_mm: Number, wide_mm: Number, saw: TableSaw | None) -> bool:
    return saw is not None and long_mm <= saw.sled_mm and wide_mm <= saw.sled_deep_mm


def _goes_on_mitre(wide_mm: Number, thick_mm: Number, shop: Shop) -> bool:
    saw = shop.mitre_saw
    if saw is None:
        # What a hand saw cuts on a bench hook: chosen, as wide as a mitre saw.
        return shop.circular_saw is None and wide_mm <= MitreSaw().wide_mm
    # chosen: what is thick is cut on a plain mitre saw; a slide that is drawn out is less rigid.
    is_thick = thick_mm > deepest_mm(CrossSaw.SLED, shop)
    return wide_mm <= (saw.rigid_mm if is_thick else saw.wide_mm) and thick_mm <= saw.high_mm


def deepest_mm(saw: CrossSaw, shop: Shop = USUAL_SHOP) -> Fraction:
    """How deep a saw cuts across in one go, mm; that of a usual one where the shop has none."""
    table, mitre = shop.table_saw or TableSaw(), shop.mitre_saw or MitreSaw()
    circular = shop.circular_saw or CircularSaw()
    return {
        CrossSaw.SLED: table.height_mm - _SLED_FLOOR_MM,
        CrossSaw.MITRE: mitre.high_mm,
        CrossSaw.CIRCULAR: circular.deep_mm,
    }[saw]


def deepest_rip_mm(shop: Shop) -> Fraction:
    """How deep the table saw cuts in one go, mm; more is sawn from both faces."""
    return (shop.table_saw or TableSaw()).height_mm


def try_blade_mm(shop: Shop) -> Fraction:
    """From which thickness on the blade is tried on the piece first, mm."""
    return deepest_rip_mm(shop) - _SPARE_BLADE_MM


def widest_rip_mm(shop: Shop) -> Fraction:
    """How far the fence opens, to the side where it opens farther, mm; 0 without a table saw."""
    saw = shop.table_saw
    return max(saw.rip_mm, saw.rip_left_mm) if saw else Fraction(0)


def widest_mitre_mm(shop: Shop) -> Fraction:
    """How wide the mitre saw cuts, mm; 0 where there is none."""
    return shop.mitre_saw.wide_mm if shop.mitre_saw else Fraction(0)


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
