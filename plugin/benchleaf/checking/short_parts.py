"""A joint joins every copy that it could: none falls a little short of its mate.

What:
    A joint's parts meet in some places, yet a copy of one meets no copy of the other, and faces one
    a small gap away.

Why:
    The rail reaches one leg and stops 1/8 short of the other. Both its ends look joined in the
    plan, since the joint has a contact.

Limit:
    Gaps up to 1 in (25.4 mm); exact.

Source:
    Common practice, no source: what is joined meets.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.frames import Axis, Box
from benchleaf.joinery.moving import MOVING
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import MM_PER_INCH
from benchleaf.piece.records import ChosenJoint, Piece

# chosen: a slip of the tape or of a sum is smaller; further apart, copies stand apart on purpose.
_WIDEST_GAP_MM = MM_PER_INCH


def find_short_parts(joinery: Joinery) -> Iterator[Finding]:
    """Find copies that fall a little short of the mate that a joint names."""
    voice = Voice(joinery.piece, "K210")
    for joint in joinery.piece.joints:
        nearest = min(_gaps(joinery.piece, joint), default=None) if joint.contacts else None
        if nearest is not None:
            gap, axis, first, second = nearest
            ends = f"{joint.first} ({first}) stops short of {joint.second} ({second})"
            yield voice.warning(
                f"joints[{joint.index}]",
                f"{ends}, by {voice.show(gap)} ({axis.extent})",
                "Move a face of one so that they meet, or widen the gap if it is meant.",
            )


def _gaps(piece: Piece, joint: ChosenJoint) -> Iterator[tuple[Fraction, Axis, str, str]]:
    """Small gaps between copies that face each other, one of which has no mate in the joint."""
    met = {mark for contact in joint.contacts for mark in (contact.first, contact.second)}
    # A door or a drawer has its mate, and stands clear of all else on purpose.
    groups = piece.groups if joint.kind in MOVING else ()
    clear = {mark for group in groups if met & {*group.marks} for mark in group.marks}
    for one in piece.copies_of(joint.first):
        for other in piece.copies_of(joint.second):
            is_met = {one.mark, other.mark} <= met or one.mark in clear
            if one.mark == other.mark or is_met:
                continue
            for axis in Axis:
                gap = _facing_gap(one.box, other.box, axis)
                if 0 < gap <= _WIDEST_GAP_MM:
                    yield gap, axis, one.mark, other.mark


def _facing_gap(one: Box, other: Box, axis: Axis) -> Fraction:
    """The gap along an axis between two boxes that would meet along it; 0 if they would not."""
    common = one.meet(other).size
    if all(common[other_axis] > 0 for other_axis in Axis if other_axis != axis):
        return Fraction(max(-common[axis], 0))
    return Fraction(0)


CHECK = Check(
    code="K210",
    name="short_parts",
    title="A joint joins every copy that it could: none falls a little short of its mate.",
    run=find_short_parts,
)
