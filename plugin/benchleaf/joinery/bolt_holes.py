"""Bolts: how thick, how long, and the holes that they pass through.

Takes a Marking; gives sizes and holes in the contact's frame. Knows no single family.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from benchleaf.joinery.marking import Marking
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm
from benchleaf.joinery.records import Hardware, JointSize
from benchleaf.piece.records import SolvedRound


def choose_diameter(marking: Marking, thin_mm: Fraction, sold: Sequence[Fraction]) -> JointSize:
    """The diameter of a bolt: the author's, or the thickest sold that suits the thinner part.

    Args:
        marking: The joint; its option `size` is looked at.
        thin_mm: Thickness of the thinner part, along the bolt.
        sold: Diameters that are sold, ascending, mm.
    """
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        return planned("bolt diameter", given.diameter_mm)
    usual = thin_mm * factor("bolt diameter")
    fitting = [size for size in sold if size <= usual] or [sold[0]]
    return proposed("bolt diameter", fitting[-1], key="bolt diameter")


def choose_length(
    marking: Marking, least_mm: Fraction, sold: Sequence[Fraction], *, key: str
) -> JointSize | None:
    """The length of a bolt: the author's, or the shortest sold that is enough; None without one.

    Args:
        marking: The joint; its option `size` is looked at.
        least_mm: The shortest that does, mm.
        sold: Lengths that are sold, ascending, mm.
        key: Key of the rule by which it is enough.
    """
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        return planned("bolt length", given.length_mm)
    fitting = next((length for length in sold if length >= least_mm), None)
    if fitting is None:
        return None
    return proposed("bolt length", fitting, key=key, rounding="up to the next length sold")


def hole_size(marking: Marking, diameter_mm: Fraction) -> JointSize:
    """The diameter of a bolt's hole."""
    room = usual_mm("bolt hole clearance", marking.units)
    return proposed("bolt hole", diameter_mm + room, key="bolt hole clearance")


def item(
    marking: Marking, kind: str, *, diameter_mm: Fraction, length_mm: Fraction, count: int
) -> Hardware:
    """Something round that is bought: by diameter and length, or by diameter alone."""
    size = marking.show(diameter_mm)
    if length_mm:
        size = marking.show_round(diameter_mm, length_mm)
    return Hardware(kind=kind, size=size, diameter_mm=diameter_mm, length_mm=length_mm, count=count)
