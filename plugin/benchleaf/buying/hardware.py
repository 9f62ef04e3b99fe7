"""Hardware to buy: what the joints take by the piece, with spares.

Takes Joinery and CutPlan; gives purchases. What is cut from rods is bought as rods.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from math import ceil
from typing import Final

from benchleaf.buying.records import Pack, Purchase, Shelf
from benchleaf.checking.records import Quantity
from benchleaf.cutting.records import CutPlan
from benchleaf.handbook.supplies import load_supplies
from benchleaf.joinery.records import Hardware, Joinery, JointFit

_MADE: Final = frozenset({"wedge", "key", "spline", "loose tenon"})
"""Kinds that are cut from offcuts at the bench."""
_Key = tuple[str, str]


def list_hardware(joinery: Joinery, cut_plan: CutPlan) -> Iterator[Purchase]:
    """One line for each kind and size, sorted."""
    items: dict[_Key, Hardware] = {}
    counts: dict[_Key, Counter[str]] = {}
    for fit in joinery.fits:
        for item in fit.hardware:
            key = (item.kind, item.size)
            items[key] = item
            counts.setdefault(key, Counter())[_name_joint(joinery, fit)] += item.count
    # What is cut from rods is bought as rods.
    cut = Counter(blank.part for blank in cut_plan.blanks if blank.is_hardware)
    for key, by_joint in sorted(counts.items()):
        if sum(by_joint.values()) > cut[" ".join(key)]:
            yield _purchase(items[key], by_joint, joinery.piece.plan.units.value)


def _name_joint(joinery: Joinery, fit: JointFit) -> str:
    copies = joinery.piece.copies
    return f"{copies[fit.contact.first].part} to {copies[fit.contact.second].part}"


def _purchase(item: Hardware, by_joint: Counter[str], unit: str) -> Purchase:
    size = item.size_in(unit)
    count = sum(by_joint.values())
    spare = 0 if item.kind in _MADE else spare_of(item.kind, count)
    return Purchase(
        shelf=Shelf.HARDWARE,
        name=f"{item.kind} {size}",
        what=item.kind,
        size=size,
        addends=tuple(
            Quantity(symbol="", name=name, value=Fraction(some), unit="")
            for name, some in by_joint.items()
        ),
        needed=Quantity(symbol="", name="", value=Fraction(count), unit=""),
        spare=spare,
        packs=(Pack(count=count + spare, holds=None),),
        note="cut from offcuts" if item.kind in _MADE else "",
        is_there=item.kind in _MADE,
    )


def spare_of(kind: str, count: int) -> int:
    """How many are bought beyond the count.

    >>> spare_of("wood screw", 8), spare_of("wood screw", 21), spare_of("butt hinge", 2)
    (1, 3, 0)
    """
    return ceil(load_supplies().spare.get(kind, Fraction(0)) * count)
