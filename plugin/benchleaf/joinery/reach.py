"""How deep a joint may go into one of its mates before it meets a face or another joint.

Takes a Marking and the joint's footprint; gives depths. Knows which kinds of joint go deep, and no
more of them: it looks at where other joints meet the same copy, never at how they are worked out.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.frames import Box
from benchleaf.joinery.marking import Marking, N, U, V
from benchleaf.piece.records import Contact, ContactKind

_DEEP_KINDS = frozenset({"dowels", "mortise and tenon"})


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
    whole = marking.box_of(mark)
    ours = Box(
        (footprint.low[U], footprint.low[V], whole.low[N]),
        (footprint.high[U], footprint.high[V], whole.high[N]),
    )
    for other in _other_deep_contacts(marking, mark):
        zone, is_opposite = _zone(marking, mark, other)
        if not zone.meet(ours).is_solid():
            continue
        if is_opposite:
            yield (extent_mm(marking, mark) - marking.bench.wall_mm) / 2
        elif mark == marking.contact.first:
            yield Fraction(-zone.high[N])
        else:
            yield Fraction(zone.low[N])


def _other_deep_contacts(marking: Marking, mark: str) -> Iterator[Contact]:
    for joint in marking.bench.piece.joints:
        if joint.kind not in _DEEP_KINDS:
            continue
        for other in joint.contacts:
            if other.kind is not ContactKind.FACE or mark not in (other.first, other.second):
                continue
            if other != marking.contact:
                yield other


def _zone(marking: Marking, mark: str, other: Contact) -> tuple[Box, bool]:
    """The band of a copy that lies before another joint, and whether it is on our own axis."""
    whole = other.first_box if mark == other.first else other.second_box
    band = Box((Fraction(0), Fraction(0), whole.low[N]), (other.u_mm, other.v_mm, whole.high[N]))
    placed = other.frame.box_outward(band)
    n = marking.contact.frame.inward_direction(other.frame.axes[N])
    return marking.contact.frame.box_inward(placed), bool(n[N])
