"""Which copies are put together at one go: frames first, then what joins them.

Takes the joinery, gives Groups. All joints whose faces look along one axis are closed together at
the end; what hangs together without them is a smaller group of its own, and so on. Within a group
the order is found by taking it apart: a member can leave if its joints slide that way and nothing
stands before it. Must not know operations or words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from benchleaf.frames import Axis, Box, Vector
from benchleaf.joinery.records import JointFit
from benchleaf.sequencing.wording import order_of_mark, sort_marks
from benchleaf.sequencing.workroom import Workroom

# chosen: what two hands spread and close within the 10 minutes that usual glue stays open.
MOST_JOINTS: Final = 10

# chosen: a part that hides this share of a side closes it.
COVER_SHARE: Final = 0.6
# chosen: less than this share of the largest may be put on from below, with the work turned over.
SMALL_SHARE: Final = 0.1


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
        return any(fit.is_glued and fit.kind != "butt" for fit in self.fits)

    @property
    def joints(self) -> tuple[int, ...]:
        """Indices of the plan's joints that close here."""
        return tuple(sorted({fit.joint for fit in self.fits}))


def gather(room: Workroom) -> Group:
    """Gather the whole piece."""
    return _gather(room.marks, room)


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


def _single(mark: str) -> Group:
    return Group(copies=(mark,), members=(), axis=None, fits=())


def _gather(marks: Sequence[str], room: Workroom, *, done: frozenset[Axis] = frozenset()) -> Group:
    if len(marks) == 1:
        return _single(marks[0])
    for axis in (own for own in _axes_last_first(marks, room) if own not in done):
        parts = _parts_without(marks, axis, room)
        if len(parts) > 1:
            members = [_gather(part, room) for part in parts]
            held, off = _take_apart(members, axis, room)
            if len(held) == 1:
                return _staged([*held, *reversed(off)], axis, room)
            if off:
                # What is still locked along this axis comes apart along another.
                rest = sort_marks(mark for member in held for mark in member.copies)
                inner = _gather(rest, room, done=done | {axis})
                return _staged([inner, *reversed(off)], axis, room)
    held, off = _take_apart([_single(mark) for mark in marks], None, room)
    return _staged([*held, *reversed(off)], None, room)


def _axes_last_first(marks: Sequence[str], room: Workroom) -> list[Axis]:
    """Axes in the order in which they are tried for what goes on last.

    What closes a whole side, such as a back or a seat, goes on last, across the shallowest way
    first; then what comes from above; then the long way, so that end frames are made before.
    """
    size = room.box_round(marks).size
    level = sorted((Axis.WIDE, Axis.DEEP), key=lambda axis: (-size[axis], axis))
    usual = [Axis.HIGH, *level]
    covered = [axis for axis in usual if _has_cover(marks, axis, room)]
    covered.sort(key=lambda axis: size[axis])
    return [*covered, *(axis for axis in usual if axis not in covered)]


def _has_cover(marks: Sequence[str], axis: Axis, room: Workroom) -> bool:
    whole = room.box_round(marks).size
    face = math.prod(whole[other] for other in Axis if other is not axis)
    boxes = (room.joinery.piece.copies[mark].box.size for mark in marks)
    return any(
        math.prod(size[other] for other in Axis if other is not axis) >= COVER_SHARE * face
        for size in boxes
    )


def _parts_without(marks: Sequence[str], axis: Axis, room: Workroom) -> tuple[tuple[str, ...], ...]:
    """What still hangs together when all joints that look along an axis are left out."""
    among = set(marks)
    holder = {mark: frozenset([mark]) for mark in marks}
    for first, second, axes in room.closings:
        if first in among and second in among and axis not in axes:
            joined = holder[first] | holder[second]
            for mark in joined:
                holder[mark] = joined
    return tuple(sort_marks(part) for part in dict.fromkeys(holder[mark] for mark in marks))


# The order within a group.


def _take_apart(
    members: Sequence[Group], axis: Axis | None, room: Workroom
) -> tuple[list[Group], list[Group]]:
    """Take off member after member; gives what is left in the end, and what came off, in order.

    Of those that can leave, one like the last leaves first, then the smallest, so that the work
    grows from its largest.
    """
    left = sorted(members, key=lambda member: _rank_of_leaving(member, room))
    off: list[Group] = []
    while len(left) > 1:
        last = _part_of(off[-1], room) if off else ()
        ranked = sorted(left, key=lambda member: _part_of(member, room) != last)
        leaving = next((m for m in ranked if _can_leave(m, left, axis, room)), None)
        if leaving is None:
            break
        left.remove(leaving)
        off.append(leaving)
    return left, off


def _volume_mm3(member: Group, room: Workroom) -> float:
    return sum(room.volumes_mm3[mark] for mark in member.copies)


def _rank_of_leaving(member: Group, room: Workroom) -> tuple[float, tuple[int, ...]]:
    length, letters, number, _ = order_of_mark(member.copies[0])
    last_first = tuple(-ord(letter) for letter in letters)
    return (round(_volume_mm3(member, room)), (-length, *last_first, -number))


def _can_leave(member: Group, left: Sequence[Group], axis: Axis | None, room: Workroom) -> bool:
    rest = {mark for other in left if other is not member for mark in other.copies}
    axes = [axis] if axis is not None else list(Axis)
    return any(
        _is_free(frozenset(member.copies), rest, way, room)
        for own in axes
        for way in _ways(own, member, left, room)
    )


def _ways(axis: Axis, member: Group, left: Sequence[Group], room: Workroom) -> Iterator[Vector]:
    """Both ways along an axis; but only small things leave downwards."""
    yield _unit(axis, 1)
    largest = max(_volume_mm3(other, room) for other in left)
    if axis is not Axis.HIGH or _volume_mm3(member, room) < SMALL_SHARE * largest:
        yield _unit(axis, -1)


def _unit(axis: Axis, sign: int) -> Vector:
    return (sign * (axis == 0), sign * (axis == 1), sign * (axis == 2))


def _is_free(copies: frozenset[str], rest: set[str], way: Vector, room: Workroom) -> bool:
    jointed: set[frozenset[str]] = set()
    back: Vector = (-way[0], -way[1], -way[2])
    for first, second, ways in room.slides:
        if first in copies and second in rest:
            wanted = way
        elif second in copies and first in rest:
            wanted = back
        else:
            continue
        if wanted not in ways:
            return False
        jointed.add(frozenset((first, second)))
    boxes = room.joinery.piece.copies
    return not any(
        frozenset((mark, other)) not in jointed
        and _stands_before(boxes[mark].box, boxes[other].box, way)
        for mark in copies
        for other in rest
    )


def _stands_before(mover: Box, other: Box, way: Vector) -> bool:
    """Tell whether a box would run into another when it moves off."""
    along = next(axis for axis in Axis if way[axis])
    for axis in Axis:
        if axis is not along and not (
            mover.low[axis] < other.high[axis] and other.low[axis] < mover.high[axis]
        ):
            return False
    if way[along] > 0:
        return other.high[along] > mover.low[along]
    return other.low[along] < mover.high[along]


# Stages: what is closed before more is put on.


def _staged(order: Sequence[Group], axis: Axis | None, room: Workroom) -> Group:
    """Put members together in as many stages as glue and screws ask for.

    Copies of one part that follow one another are put on in one stage.
    """
    current = order[0]
    waiting: list[Group] = []
    for _, run in groupby(order[1:], key=lambda member: _part_of(member, room)):
        alike = list(run)
        if waiting and not _fits_stage(current, waiting, alike, room):
            current = _close(current, waiting, axis, room)
            waiting = []
        waiting += alike
    return _close(current, waiting, axis, room) if waiting else current


def _fits_stage(current: Group, waiting: list[Group], alike: list[Group], room: Workroom) -> bool:
    before = _fits_between([current, *waiting], room)
    after = _fits_between([current, *waiting, *alike], room)
    added = [fit for fit in after if fit not in before]
    if not before or not added:
        return True  # They only stand beside one another until now.
    is_glued = any(fit.is_glued for fit in before)
    if is_glued != any(fit.is_glued for fit in added):
        return False
    # Without glue there is no hurry: each part's copies are a stage of their own.
    return is_glued and len(after) <= MOST_JOINTS


def _part_of(member: Group, room: Workroom) -> tuple[str, ...]:
    return tuple(part.name for part, _ in room.parts_among(member.copies))


def _close(current: Group, waiting: Sequence[Group], axis: Axis | None, room: Workroom) -> Group:
    members = (current, *waiting)
    return Group(
        copies=sort_marks(mark for member in members for mark in member.copies),
        members=members,
        axis=axis,
        fits=_fits_between(members, room),
    )


def _fits_between(members: Iterable[Group], room: Workroom) -> tuple[JointFit, ...]:
    holder = {mark: index for index, member in enumerate(members) for mark in member.copies}
    return tuple(
        fit
        for fit in room.joinery.fits
        if fit.contact.first in holder
        and fit.contact.second in holder
        and holder[fit.contact.first] != holder[fit.contact.second]
    )
