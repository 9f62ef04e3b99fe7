"""Which copies are put together at one go: frames first, then what joins them.

Takes the joinery, gives Groups. All joints whose faces look along one axis are closed together at
the end; what hangs together without them is a smaller group of its own, and so on. What only butts
between others is let in when they stand; a small part that hangs on one other alone, such as a pad
on a foot, goes onto it first. Must not know operations or words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from benchleaf.frames import Axis
from benchleaf.joinery.records import JointFit
from benchleaf.sequencing.groups import BUTTED, Group, is_hung, single
from benchleaf.sequencing.hardware_words import has_bolts
from benchleaf.sequencing.staging import put_in_stages
from benchleaf.sequencing.taking_apart import SMALL_SHARE, is_free, take_apart, unit_way
from benchleaf.sequencing.wording import sort_marks
from benchleaf.sequencing.workroom import Workroom, normal_axis

# chosen: a part that hides this share of a side closes it.
COVER_SHARE: Final = 0.6
# Joints whose parts do not find their place by themselves.
UNGUIDED: Final = BUTTED | {"carriage bolts", "rests on", "closes against"}
# Joints that are undone again, or were never done: they are closed when all else is.
_COMING_OFF: Final = frozenset({"hinges", "shelf pins", "slides on"})
# Joints that hold nothing together.
_LOOSE: Final = frozenset({"rests on", "closes against"})

_Hosts = Mapping[str, str]
"""Mark of a small part to the one that it hangs on."""


def gather(room: Workroom) -> Group:
    """Gather the whole piece."""
    hosts = dict(_find_hosts(room))
    whole = _gather(room.marks, room, hosts)
    # Where a small part on its host would be in the way, it goes on last as any other.
    return whole if not hosts or not _is_locked(whole, room) else _gather(room.marks, room, {})


def _is_locked(group: Group, room: Workroom) -> bool:
    """Tell whether some group of several does not come together by straight slides."""
    if any(_is_locked(member, room) for member in group.members):
        return True
    left, _ = take_apart(group.members, None, room) if group.members else ([], [])
    return len(left) > 1


def _find_hosts(room: Workroom) -> Iterator[tuple[str, str]]:
    """Small parts that only butt against one other part."""
    for mark in room.marks:
        fits = room.fits_of(mark)
        mates = {_mate(fit, mark) for fit in fits}
        if len(mates) == 1 and all(fit.kind == "butt" for fit in fits):
            (host,) = mates
            if room.volumes_mm3[mark] < SMALL_SHARE * room.volumes_mm3[host]:
                yield mark, host


def _mate(fit: JointFit, mark: str) -> str:
    return fit.contact.second if fit.contact.first == mark else fit.contact.first


def _gather(
    marks: Sequence[str], room: Workroom, hosts: _Hosts, *, done: frozenset[Axis] = frozenset()
) -> Group:
    if len(marks) == 1:
        return single(marks[0])
    if len({hosts.get(mark, mark) for mark in marks}) == 1:
        hosts = {}
    bolted = _parts_that_come_off(marks, room)
    if len(bolted) > 1:
        held, off = take_apart([_gather(part, room, hosts) for part in bolted], None, room)
        if len(held) == 1:
            return put_in_stages([*held, *reversed(_hung_first(held[0], off, room))], None, room)
    late, way_in = _find_slid(marks, room) or _find_late(marks, room)
    if late:
        inner = _gather([mark for mark in marks if mark not in late], room, hosts, done=done)
        return put_in_stages([inner, *map(single, late)], way_in, room)
    for axis in (own for own in _axes_last_first(marks, room) if own not in done):
        parts = _parts_without(marks, axis, room, hosts)
        if len(parts) > 1:
            members = [_gather(part, room, hosts) for part in parts]
            held, off = take_apart(members, axis, room)
            if len(held) == 1:
                return put_in_stages([*held, *reversed(off)], axis, room)
            if off:
                # What is still locked along this axis comes apart along another.
                rest = sort_marks(mark for member in held for mark in member.copies)
                inner = _gather(rest, room, hosts, done=done | {axis})
                return put_in_stages([inner, *reversed(off)], axis, room)
    return _gather_locked(marks, room, hosts)


def _gather_locked(marks: Sequence[str], room: Workroom, hosts: _Hosts) -> Group:
    """Gather what no single axis takes apart: each part comes off whichever way it can."""
    on_hosts: dict[str, list[str]] = {}
    together = _held_together(marks, room)
    for mark in marks:
        unit = together[mark]
        first = sort_marks(unit)[0] if len(unit) > 1 else hosts.get(mark, mark)
        on_hosts.setdefault(first, []).append(mark)
    members = [_gather(own, room, {}) for own in on_hosts.values()]
    held, off = take_apart(members, None, room)
    if len(held) > 1 and not _are_driven(held, room):
        held = [_gather_as_proved(held, room)]
    if len(held) > 1 or off:
        return put_in_stages([*held, *reversed(off)], None, room)
    return held[0]


def _are_driven(members: Sequence[Group], room: Workroom) -> bool:
    """Tell whether members are driven into one of them, each alone and along its own line.

    Such as the legs of a stool, which go in one after the other while the glue is open.
    """
    marks = {mark for member in members for mark in member.copies}
    fits = [
        fit
        for mark in marks
        for fit in room.fits_of(mark)
        if fit.contact.first in marks and fit.contact.second in marks
    ]
    bored = {fit.contact.second for fit in fits}
    return len(bored) == 1 and all(fit.kind == "round tenon" for fit in fits)


def _gather_as_proved(members: Sequence[Group], room: Workroom) -> Group:
    """Gather what leaves along no axis in the halves in which it was proved to come apart.

    What closes at one moment, and what is locked, is put together all at once.
    """
    node = room.joinery.assembly
    while node.moved is not None and node.fixed is not None:
        own = [
            [m for m in members if set(m.copies) <= {*h.copies}] for h in (node.moved, node.fixed)
        ]
        if len(members) in map(len, own):
            node = node.moved if len(own[0]) == len(members) else node.fixed
            continue
        is_split = sum(map(len, own)) == len(members)
        if not is_split or node.is_locked or node.is_with_fixed or any(node.shift_mm):
            break
        moved, fixed = (one[0] if len(one) == 1 else _gather_as_proved(one, room) for one in own)
        return put_in_stages([fixed, moved], None, room)
    return put_in_stages(list(members), None, room)


def _hung_first(held: Group, off: Sequence[Group], room: Workroom) -> Sequence[Group]:
    """What comes off in order, doors before all else where they can: they are hung last of all."""
    order = sorted(off, key=lambda member: not is_hung(member, room))
    for number, member in enumerate(order):
        rest = {mark for other in (held, *order[number + 1 :]) for mark in other.copies}
        ways = (unit_way(axis, sign) for axis in Axis for sign in (-1, 1))
        if not any(is_free(frozenset(member.copies), rest, way, room) for way in ways):
            return off
    return order


# Parts that only butt between others, and panels that slide in.


def _find_late(marks: Sequence[str], room: Workroom) -> tuple[tuple[str, ...], Axis | None]:
    """Parts that are let in between others which stand already, and the axis they slide along.

    They butt against two parts on opposite sides, nothing else holds them, and one axis is free of
    joints. The rest hangs together without them.
    """
    among = set(marks)
    found: dict[Axis, list[str]] = {}
    for mark in marks:
        is_held = len(room.units[mark]) > 1 and room.units[mark] < among
        axis = None if is_held else _free_axis(mark, among, room)
        if axis is not None:
            found.setdefault(axis, []).append(mark)
    for axis, late in found.items():
        rest = among - set(late)
        stands = len(rest) > 1 and len(_clusters(sort_marks(rest), room)) == 1
        if stands and all(_can_slide_in(mark, among, axis, room) for mark in late):
            return sort_marks(late), axis
    return (), None


def _find_slid(marks: Sequence[str], room: Workroom) -> tuple[tuple[str, ...], Axis] | None:
    """A panel of a group that slides into its grooves once the rest is glued: a drawer's bottom."""
    among = set(marks)
    if not among <= room.units[marks[0]]:
        return None
    for mark in marks:
        fits = [fit for fit in room.fits_of(mark) if _mate(fit, mark) in among]
        if any(fit.is_glued for fit in fits) or not any(fit.kind == "groove" for fit in fits):
            continue
        rest = sort_marks(among - {mark})
        is_glued = any(fit.is_glued for own in rest for fit in room.fits_of(own))
        if len(rest) < 2 or not is_glued or len(_clusters(rest, room)) > 1:
            continue
        for axis in (Axis.DEEP, Axis.HIGH, Axis.WIDE):
            if _can_slide_in(mark, among, axis, room):
                return (mark,), axis
    return None


def _free_axis(mark: str, among: set[str], room: Workroom) -> Axis | None:
    """The axis along which a part that butts between two others has no joint at all."""
    fits = [fit for fit in room.fits_of(mark) if _mate(fit, mark) in among]
    if any(fit.kind not in UNGUIDED for fit in fits):
        return None
    sides = {fit_side(fit, mark) for fit in fits}
    taken = {axis for axis, _ in sides}
    if not any((axis, True) in sides and (axis, False) in sides for axis in Axis):
        return None
    return next((axis for axis in (Axis.DEEP, Axis.HIGH, Axis.WIDE) if axis not in taken), None)


def fit_side(fit: JointFit, mark: str) -> tuple[Axis, bool]:
    """On which side of a copy a joint lies: axis of the piece, and whether it is the high side."""
    axis = normal_axis(fit)
    is_up = fit.contact.frame.axes[2][axis] > 0
    return axis, is_up == (fit.contact.first == mark)


def _can_slide_in(mark: str, among: set[str], axis: Axis, room: Workroom) -> bool:
    rest = among - {mark}
    return any(is_free(frozenset([mark]), rest, unit_way(axis, sign), room) for sign in (1, -1))


# Splitting.


def _parts_that_come_off(marks: Sequence[str], room: Workroom) -> tuple[tuple[str, ...], ...]:
    """What is glued together before bolts go in, doors are hung and shelves laid on their pins.

    Everything in one where nothing comes off again, or there is nothing else to glue.
    """
    among = set(marks)
    fits = [f for f in room.joinery.fits if {f.contact.first, f.contact.second} <= among]
    loose = {_pair(fit) for fit in fits if has_bolts(fit.hardware) or fit.kind in _COMING_OFF}
    tied = [fit for fit in fits if fit.kind not in _LOOSE and _pair(fit) not in loose]
    holder = _held_together(marks, room)
    for fit in tied:
        joined = holder[fit.contact.first] | holder[fit.contact.second]
        for mark in joined:
            holder[mark] = joined
    parts = tuple(sort_marks(part) for part in dict.fromkeys(holder[mark] for mark in marks))
    return parts if loose and any(fit.is_glued for fit in tied) else (tuple(marks),)


def _pair(fit: JointFit) -> frozenset[str]:
    return frozenset((fit.contact.first, fit.contact.second))


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


def _parts_without(
    marks: Sequence[str], axis: Axis, room: Workroom, hosts: _Hosts
) -> tuple[tuple[str, ...], ...]:
    """What still hangs together when all joints that look along an axis are left out."""
    return _clusters(marks, room, without=axis, hosts=hosts)


def _held_together(marks: Sequence[str], room: Workroom) -> dict[str, frozenset[str]]:
    """What moves as one among some copies: a group of the plan is together before it goes on."""
    among = set(marks)
    return {
        mark: room.units[mark] if room.units[mark] < among else frozenset([mark]) for mark in marks
    }


def _clusters(
    marks: Sequence[str],
    room: Workroom,
    *,
    without: Axis | None = None,
    hosts: _Hosts | None = None,
) -> tuple[tuple[str, ...], ...]:
    among = set(marks)
    holder = _held_together(marks, room)
    for first, second, axes in room.closings:
        on_host = hosts and (hosts.get(first) == second or hosts.get(second) == first)
        if first in among and second in among and (without not in axes or on_host):
            joined = holder[first] | holder[second]
            for mark in joined:
                holder[mark] = joined
    return tuple(sort_marks(part) for part in dict.fromkeys(holder[mark] for mark in marks))
