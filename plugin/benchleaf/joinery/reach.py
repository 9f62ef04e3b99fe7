"""How deep a joint may go into one of its mates before it meets a face or another joint.

Takes a Marking and the joint's footprint; gives depths. Knows which kinds of joint go deep, and no
more of them: it looks at where other joints meet the same copy, never at how they are worked out.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.frames import Axis, Box, main_axis
from benchleaf.joinery.marking import Marking, N, U, V
from benchleaf.piece.contacts import contact_box
from benchleaf.piece.records import Contact, ContactKind

_DEEP_KINDS = frozenset(
    {
        "dowels",
        "drawbored tenon",
        "loose tenon",
        "mortise and tenon",
        "twin tenons",
        "wedged tenon",
    }
)


def extent_mm(marking: Marking, mark: str) -> Fraction:
    """How far a copy reaches from the contact along n, mm."""
    box = marking.box_of(mark)
    if mark == marking.contact.first:
        return Fraction(-box.low[N])
    return Fraction(box.high[N])


def bearable_mm(marking: Marking, mark: str) -> Fraction:
    """How deep a blind hole may go so that the shop's wall is left, mm; not below 0."""
    return max(extent_mm(marking, mark) - marking.bench.wall_mm, Fraction(0))


def clear_mm(marking: Marking, mark: str, footprint: Box) -> Fraction:
    """How deep a hole may go without coming under another joint of the same copy, mm.

    A joint on the opposite face is met half way, a wall between; one on a face round the corner is
    left the whole band of wood that lies before its mate. Where that would leave nothing, the
    bearable depth is given, and whether the two meet is for the check of finished parts.

    Args:
        marking: The joint.
        mark: The copy that is cut into.
        footprint: What the joint cuts, in the contact's frame; its n is not looked at.
    """
    bearable = bearable_mm(marking, mark)
    limits = [limit for limit in _limits(marking, mark, footprint) if limit > 0]
    return min([bearable, *limits])


def _limits(marking: Marking, mark: str, footprint: Box) -> Iterator[Fraction]:
    contact = marking.contact
    is_second = mark == contact.second
    extent = extent_mm(marking, mark)
    n = (Fraction(0), extent) if is_second else (-extent, Fraction(0))
    ours = contact.frame.box_outward(
        Box(
            (footprint.low[U], footprint.low[V], n[0]), (footprint.high[U], footprint.high[V], n[1])
        )
    )
    way = contact.frame.axes[N]
    axis = main_axis(way)
    goes_up = (way[axis] > 0) == is_second
    for other in _other_deep_contacts(marking, mark):
        band, across = _band(marking, mark, other)
        if not _overlap(band, ours):
            continue
        if across == axis:
            yield (extent - marking.bench.wall_mm) / 2
        elif goes_up:
            yield Fraction(band.low[axis] - ours.low[axis])
        else:
            yield Fraction(ours.high[axis] - band.high[axis])


def _other_deep_contacts(marking: Marking, mark: str) -> Iterator[Contact]:
    ours = {marking.contact.first, marking.contact.second}
    for joint in marking.bench.piece.joints:
        if joint.kind not in _DEEP_KINDS:
            continue
        for other in joint.contacts:
            if mark not in (other.first, other.second) or other.kind is not ContactKind.FACE:
                continue
            if {other.first, other.second} != ours:
                yield other


def _band(marking: Marking, mark: str, other: Contact) -> tuple[Box, Axis]:
    """The band of a copy that lies before another joint, and the axis along which it runs.

    In the piece's axes, straight from the boxes: a rail may meet hundreds of slats. Where one of
    them is turned, the boxes share more than the touching faces, and the contact itself is asked.
    """
    copies = marking.bench.piece.copies
    whole = copies[mark].box
    touching = copies[other.first].box.meet(copies[other.second].box)
    axis = next((axis for axis in Axis if touching.low[axis] == touching.high[axis]), None)
    if axis is None:
        touching, axis = contact_box(other), main_axis(other.frame.axes[N])
    low, high = list(touching.low), list(touching.high)
    low[axis], high[axis] = whole.low[axis], whole.high[axis]
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2])), axis


def _overlap(one: Box, other: Box) -> bool:
    return all(
        one.low[axis] < other.high[axis] and other.low[axis] < one.high[axis] for axis in Axis
    )
