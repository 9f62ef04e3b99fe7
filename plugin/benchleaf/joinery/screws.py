"""Holes for a wood screw: clearance, pilot and countersink, by its gauge and the wood.

Takes a gauge and the author's words for the wood, gives diameters. Knows no joint.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.handbook.materials import find_material
from benchleaf.handbook.tables import Proportion, load_screws
from benchleaf.lengths import MM_PER_INCH, UnitName

# chosen: fibreboards have no grain to give way; a tight pilot splits their edge. They take the wide
# pilot of hardwood.
_BOARDS = frozenset({"mdf", "particleboard"})


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewHoles:
    """What is bored for one screw, mm."""

    shank_mm: Fraction
    clearance_mm: Fraction
    """Diameter of the hole that lets the shank through."""
    pilot_mm: Fraction
    pilot_rule: Proportion
    head_mm: Fraction
    """Diameter of the head, and of the countersink's mouth."""
    countersink_mm: Fraction
    """Depth of the countersink."""
    plug_mm: Fraction
    """Diameter of a counterbore: the smallest plug that covers the head."""


def work_out_holes(gauge: int, material: str, units: UnitName) -> ScrewHoles:
    """Work out the holes for a screw.

    Args:
        gauge: Gauge number, one of the table's.
        material: The author's words for the wood that the thread goes into.
        units: The plan's units; bits are in 1/64 in or 0.5 mm.

    >>> holes = work_out_holes(8, "pine", "in")
    >>> holes.pilot_mm / MM_PER_INCH, holes.clearance_mm / MM_PER_INCH
    (Fraction(5, 64), Fraction(11, 64))
    """
    screws = load_screws()
    shank = screws.shank_mm[gauge]
    rule = screws.rules[f"pilot in {screw_group(material)}"]
    root = shank * screws.rules["root diameter"].factor
    head = shank * screws.rules["head diameter"].factor
    bit = _bit_mm(units)
    clearance = math.ceil(shank / bit) * bit
    sink = (head - clearance) * screws.rules["countersink depth"].factor
    return ScrewHoles(
        shank_mm=shank,
        clearance_mm=clearance,
        pilot_mm=math.floor(root * rule.factor / bit + Fraction(1, 2)) * bit,
        pilot_rule=rule,
        head_mm=head,
        countersink_mm=math.ceil(sink / bit) * bit,
        plug_mm=next((p for p in screws.plugs_mm(units) if p >= head), head),
    )


def screw_group(material: str) -> str:
    """Which pilot a material takes: `hardwood` or `softwood`.

    Plywood goes by the wood that it is named for. What is not known takes the narrow pilot, which
    holds in any wood.

    >>> screw_group("birch plywood"), screw_group("plywood"), screw_group("MDF")
    ('hardwood', 'softwood', 'hardwood')
    """
    found = find_material(material)
    if found is None:
        return "softwood"
    return "hardwood" if found.group == "hardwood" or found.kind in _BOARDS else "softwood"


def _bit_mm(units: UnitName) -> Fraction:
    # Twist drills are sold in steps of 1/64 in and of 0.5 mm: common practice, no source.
    return MM_PER_INCH / 64 if units == "in" else Fraction(1, 2)
