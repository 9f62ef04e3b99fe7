"""Which copies are put together at one go: the assembly tree gathered into groups.

Takes the joinery's binary tree, gives Groups: neighbours that close in one direction are closed at
once, small sub-assemblies stand by themselves. Must not know operations or words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.frames import Axis
from benchleaf.joinery.records import Assembly, JointFit
from benchleaf.sequencing.wording import sort_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: what two hands spread and close within the 10 minutes that usual glue stays open.
MOST_JOINTS: Final = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Copies and smaller groups that are put together in one go."""

    copies: tuple[str, ...]
    """Marks of all copies in it, sorted."""
    members: tuple[Group, ...]
    """In the order in which they are brought together; empty for a single copy."""
    axis: Axis | None
    """Axis of the piece along which it closes; None for a single copy, or where it is locked."""
    fits: tuple[JointFit, ...]
    """Joints that close between its members."""

    @property
    def is_glued(self) -> bool:
        """Tell whether any joint that closes here is glued."""
        return any(fit.is_glued for fit in self.fits)

    @property
    def joints(self) -> tuple[int, ...]:
        """Indices of the plan's joints that close here."""
        return tuple(sorted({fit.joint for fit in self.fits}))


def gather(room: Workroom) -> Group:
    """Gather the whole piece."""
    return _gather(room.joinery.assembly, room)


def groups_in(group: Group) -> Iterator[Group]:
    """All groups that are put together, smaller ones before those that hold them."""
    for member in group.members:
        yield from groups_in(member)
    if group.members:
        yield group


def _gather(node: Assembly, room: Workroom) -> Group:
    if node.moved is None or node.fixed is None:
        return Group(copies=node.copies, members=(), axis=None, fits=())
    axis = next((axis for axis in Axis if node.direction[axis]), None)
    members: list[Group] = []
    parts = [_gather(node.fixed, room), _gather(node.moved, room)]
    for part in parts:
        if _joins_in(part, axis, [*members, *parts], room):
            members += part.members
        else:
            members.append(part)
    return Group(
        copies=sort_marks(node.copies),
        members=tuple(members),
        axis=axis,
        fits=_fits_between(members, room),
    )


def _joins_in(part: Group, axis: Axis | None, others: Sequence[Group], room: Workroom) -> bool:
    """Tell whether a smaller group is closed together with what holds it."""
    if not part.members:
        return False
    if not part.fits:
        return True  # Its members only stand beside one another until now.
    rest = [other for other in others if other is not part]
    closing = _fits_between([*part.members, *rest], room)
    is_alike = part.is_glued == any(fit.is_glued for fit in closing if fit not in part.fits)
    return axis is not None and part.axis == axis and is_alike and len(closing) <= MOST_JOINTS


def _fits_between(members: Sequence[Group], room: Workroom) -> tuple[JointFit, ...]:
    holder = {mark: index for index, member in enumerate(members) for mark in member.copies}
    return tuple(
        fit
        for fit in room.joinery.fits
        if fit.contact.first in holder
        and fit.contact.second in holder
        and holder[fit.contact.first] != holder[fit.contact.second]
    )
