"""Groups: copies and smaller groups that are put together in one go.

Takes nothing, gives the record and ways to walk it. Must not know how groups are found.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.frames import Axis
from benchleaf.joinery.moving import HANGS
from benchleaf.joinery.records import JointFit
from benchleaf.sequencing.wording import sort_marks
from benchleaf.sequencing.workroom import Workroom

BUTTED: Final = frozenset({"butt", "pocket screws"})
"""Joints in which nothing goes in: there is nothing to try dry."""


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
    def needs_dry_fit(self) -> bool:
        """Tell whether something that was cut must go into something else, under glue."""
        return any(fit.is_glued and fit.kind not in BUTTED for fit in self.fits)

    @property
    def joints(self) -> tuple[int, ...]:
        """Indices of the plan's joints that close here."""
        return tuple(sorted({fit.joint for fit in self.fits}))


def is_hung(member: Group, room: Workroom) -> bool:
    """Tell whether a member hangs on hinges, as a door does."""
    return any(
        fit.kind == HANGS
        and fit.contact.first in member.copies
        and fit.contact.second not in member.copies
        for mark in member.copies
        for fit in room.fits_of(mark)
    )


def single(mark: str) -> Group:
    """A copy alone."""
    return Group(copies=(mark,), members=(), axis=None, fits=())


def groups_in(group: Group) -> Iterator[Group]:
    """All groups that are put together, smaller ones before those that hold them."""
    for member in group.members:
        yield from groups_in(member)
    if group.members:
        yield group


def joined_below(group: Group) -> Iterator[Group]:
    """The groups that must be together before this one is put together."""
    for member in group.members:
        if member.fits:
            yield member
        else:
            yield from joined_below(member)


def marks_of_members(group: Group) -> tuple[tuple[str, ...], ...]:
    """The marks of what comes together in a group: smaller groups whole, all else copy by copy."""

    def parts(member: Group) -> Iterator[tuple[str, ...]]:
        if member.fits or not member.members:
            yield member.copies
        else:
            for own in member.members:
                yield from parts(own)

    return tuple(marks for member in group.members for marks in parts(member))


def part_names(member: Group, room: Workroom) -> tuple[str, ...]:
    """Names of the parts that a group holds, in the plan's order."""
    return tuple(part.name for part, _ in room.parts_among(member.copies))


def put_together(members: Sequence[Group], axis: Axis | None, room: Workroom) -> Group:
    """Make one group of several, with the joints that close between them."""
    return Group(
        copies=sort_marks(mark for member in members for mark in member.copies),
        members=tuple(members),
        axis=axis,
        fits=fits_between(members, room),
    )


def fits_between(members: Sequence[Group], room: Workroom) -> tuple[JointFit, ...]:
    """The joints that lie between different groups of some."""
    holder = {mark: index for index, member in enumerate(members) for mark in member.copies}
    return tuple(
        fit
        for fit in room.joinery.fits
        if fit.contact.first in holder
        and fit.contact.second in holder
        and holder[fit.contact.first] != holder[fit.contact.second]
    )
