"""The order within a group, found by taking it apart: what comes off last goes on first.

Takes members, gives what is left in the end and what came off, in order. A member can leave if its
joints slide that way and nothing stands before it. Must not know operations or words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from benchleaf.frames import Axis, Vector
from benchleaf.sequencing.groups import Group, part_names
from benchleaf.sequencing.wording import order_of_mark
from benchleaf.sequencing.workroom import Workroom

# chosen: less than this share of the largest may be put on from below, with the work turned over.
SMALL_SHARE: Final = 0.1


def take_apart(
    members: Sequence[Group], axis: Axis | None, room: Workroom
) -> tuple[list[Group], list[Group]]:
    """Take off member after member; gives what is left in the end, and what came off, in order.

    The largest stays as long as anything else can leave, so that the work grows from it. The rest
    leave the same way as the last as long as any can, so that one end of the work is finished
    before the other is begun; of those one like the last first, then the smallest.
    """
    left = sorted(members, key=lambda member: _rank_of_leaving(member, room))
    off: list[Group] = []
    last_way: Vector | None = None
    while len(left) > 1:
        like = part_names(off[-1], room) if off else ()
        leaving = _choose(left, axis, room, like=like, last_way=last_way)
        if leaving is None:
            break
        member, last_way = leaving
        left.remove(member)
        off.append(member)
    return left, off


def _choose(
    left: Sequence[Group],
    axis: Axis | None,
    room: Workroom,
    *,
    like: tuple[str, ...],
    last_way: Vector | None,
) -> tuple[Group, Vector] | None:
    """Who leaves next, and which way."""
    by_likeness = sorted(left, key=lambda member: part_names(member, room) != like)
    free = [(one, ways) for one in by_likeness if (ways := _ways_out(one, left, axis, room))]
    for member, ways in free:
        is_spared = member is left[-1] and part_names(member, room) != like
        if last_way in ways and not is_spared:
            return member, last_way
    others = [one for one in free if one[0] is not left[-1]] or free
    return (others[0][0], others[0][1][0]) if others else None


def _volume_mm3(member: Group, room: Workroom) -> float:
    return sum(room.volumes_mm3[mark] for mark in member.copies)


def _rank_of_leaving(member: Group, room: Workroom) -> tuple[float, tuple[int, ...]]:
    length, letters, number, _ = order_of_mark(member.copies[0])
    last_first = tuple(-ord(letter) for letter in letters)
    return (round(_volume_mm3(member, room)), (-length, *last_first, -number))


def _ways_out(
    member: Group, left: Sequence[Group], axis: Axis | None, room: Workroom
) -> list[Vector]:
    """The ways in which a member can leave the others, if any."""
    rest = {mark for other in left if other is not member for mark in other.copies}
    axes = [axis] if axis is not None else list(Axis)
    ways = (way for own in axes for way in _ways(own, member, left, room))
    return [way for way in ways if is_free(frozenset(member.copies), rest, way, room)]


def _ways(axis: Axis, member: Group, left: Sequence[Group], room: Workroom) -> Iterator[Vector]:
    """Both ways along an axis; but only small things leave downwards."""
    yield unit_way(axis, 1)
    largest = max(_volume_mm3(other, room) for other in left)
    if axis is not Axis.HIGH or _volume_mm3(member, room) < SMALL_SHARE * largest:
        yield unit_way(axis, -1)


def unit_way(axis: Axis, sign: int) -> Vector:
    """One way along an axis of the piece."""
    return (sign * (axis == 0), sign * (axis == 1), sign * (axis == 2))


def is_free(copies: frozenset[str], rest: set[str], way: Vector, room: Workroom) -> bool:
    """Tell whether copies can be drawn off others one way."""
    return room.stops.is_free(copies, rest, way)
