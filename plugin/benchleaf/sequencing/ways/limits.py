"""What the saws of a shop can do of an operation, by its own figures.

Takes an operation and a shop, gives what the shop lacks, in words. Must not know ways.
"""

from __future__ import annotations

from typing import Final

from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.sawcuts import SHORTEST_ON_MITRE_MM
from benchleaf.sequencing.ways.records import BY_HAND, fact_mm, setting
from benchleaf.shops import Shop

HOLD: Final = "two clamps, to hold work and guides"
SAWN: Final = {**BY_HAND, "cut.through": True}
"""What is true of a saw moved by hand right through."""
GUIDED: Final = {**MACHINED, "cut.through": True}
"""What is true of a machine that saws right through."""
SHOT: Final = ("marking knife", "try square", "bench hook with a stop", "shooting board")
PLANED: Final = ("marking gauge", "hand plane", HOLD)
BY_SAW: Final = "by hand saw"
# chosen: narrower boards do not carry a guide and the saw's shoe beside the cut.
_NARROWEST_GUIDED_MM: Final = 90


def lacks_band_saw(operation: Operation, shop: Shop) -> str:
    """What is lacking to rip on the bandsaw."""
    saw = shop.band_saw
    if saw is None:
        return "a bandsaw"
    if setting(operation, "fence") > saw.throat_mm:
        return "a bandsaw with a deeper throat"
    if fact_mm(operation, "stock.thickness_mm") > saw.high_mm:
        return "a bandsaw that takes thicker stock"
    return ""


def lacks_guide(operation: Operation, shop: Shop) -> str:
    """What is lacking to rip along a guide."""
    saw = shop.circular_saw
    if saw is None:
        return "a circular saw with a guide"
    if fact_mm(operation, "cut.length_mm") > saw.guide_mm:
        return "a longer guide"
    if fact_mm(operation, "stock.thickness_mm") > saw.deep_mm:
        return "a circular saw that cuts deeper"
    if fact_mm(operation, "stock.width_mm") < _NARROWEST_GUIDED_MM:
        return "a saw for stock too narrow to carry a guide"
    return ""


def lacks_fence(operation: Operation, shop: Shop) -> str:
    """What is lacking to rip against a table saw's fence."""
    saw = shop.table_saw
    if saw is not None and setting(operation, "fence") > max(saw.rip_mm, saw.rip_left_mm):
        return "a table saw whose fence opens wider"
    is_sheet = operation.facts.get("stock.kind") == "sheet"
    if saw is not None and is_sheet and fact_mm(operation, "part.mass_kg") > saw.carries_kg:
        return "a table saw that carries more"
    return ""


def lacks_sled(operation: Operation, shop: Shop) -> str:
    """What is lacking to crosscut on the sled: stock lies along its fence."""
    saw = shop.table_saw
    if saw is None or not saw.sled_mm:
        return "a table saw with a sled"
    if fact_mm(operation, "stock.longest_mm") > saw.sled_mm:
        return "a longer sled"
    if fact_mm(operation, "stock.widest_mm") > saw.sled_deep_mm:
        return "a deeper sled"
    return ""


def lacks_mitre_saw(operation: Operation, shop: Shop) -> str:
    """What is lacking to crosscut on the mitre saw."""
    saw = shop.mitre_saw
    if saw is None:
        return "a mitre saw"
    if fact_mm(operation, "stock.thickness_mm") > saw.high_mm:
        return "a mitre saw that cuts higher"
    if fact_mm(operation, "stock.widest_mm") > saw.wide_mm:
        return "a wider mitre saw"
    return ""


def holds_too_little(operation: Operation, shop: Shop) -> str:
    """On a mitre saw a piece is held well clear of the blade."""
    if fact_mm(operation, "cut.keeper_mm") < SHORTEST_ON_MITRE_MM:
        return "a way to hold so short a piece"
    return lacks_mitre_saw(operation, shop)


def lacks_circular(operation: Operation, shop: Shop) -> str:
    """What is lacking to crosscut along a guide."""
    saw = shop.circular_saw
    if saw is None:
        return "a circular saw with a guide"
    if fact_mm(operation, "cut.length_mm") > saw.guide_mm:
        return "a longer guide"
    if fact_mm(operation, "stock.thickness_mm") > 2 * saw.deep_mm:
        return "a circular saw that cuts deeper"
    return ""
