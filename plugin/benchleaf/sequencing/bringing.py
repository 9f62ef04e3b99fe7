"""How the members of a group come together, in words: started with, set, laid beside, pushed on.

Takes a Group, gives sentences. Must not know glue or operations.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from benchleaf.frames import Axis
from benchleaf.sequencing.closing import count_of, hardware_of, name_member
from benchleaf.sequencing.gathering import Group
from benchleaf.sequencing.placing_words import Laid, row_words
from benchleaf.sequencing.wording import join_marks, join_words
from benchleaf.sequencing.workroom import Workroom, normal_axis

# Joints whose parts do not find their place by themselves.
_UNGUIDED: Final = frozenset({"butt", "rests on"})
_SET, _BESIDE, _PUSHED = "set", "beside", "pushed"


@dataclass(frozen=True, slots=True)
class _Put:
    """How a member comes to what is there."""

    member: Group
    how: str
    laid: Laid | None


def bring_words(group: Group, room: Workroom, *, is_dry: bool) -> Iterator[str]:
    """How the members come together, in their order."""
    base, *rest = group.members
    without = ", without glue" if is_dry else ""
    yield f"Start with {name_member(base)} on a flat bench{without}."
    for pin in (item for item in hardware_of(group) if item.kind == "dowel"):
        verb = "Put" if is_dry else "Drive"
        yield f"{verb} {count_of(pin.count, 'dowel')} ({pin.size}) into the holes on one side."
    there = set(base.copies)
    laid: list[_Put] = []
    for member in rest:
        laid.append(_put(member, there, room))
        there |= set(member.copies)
    for (how, _), run in groupby(laid, key=lambda put: (put.how, _part_names(put, room))):
        alike = list(run)
        if how == _SET:
            yield from row_words([put.laid for put in alike if put.laid], room.say)
        elif how == _BESIDE:
            yield f"Lay {join_words([name_member(put.member) for put in alike])} beside it."
    yield from _push_words([put.member for put in laid if put.how == _PUSHED], group.axis)


def _part_names(put: _Put, room: Workroom) -> tuple[str, ...]:
    return tuple(part.name for part, _ in room.parts_among(put.member.copies))


def _put(member: Group, there: set[str], room: Workroom) -> _Put:
    """Set where only glue, screws or weight hold it; pushed where a joint leads it."""
    touching = [
        fit
        for fit in room.joinery.fits
        if (fit.contact.first in member.copies and fit.contact.second in there)
        or (fit.contact.second in member.copies and fit.contact.first in there)
    ]
    if not touching:
        return _Put(member, _BESIDE, None)
    if any(fit.kind not in _UNGUIDED for fit in touching):
        return _Put(member, _PUSHED, None)
    fit = max(touching, key=lambda one: (one.contact.u_mm * one.contact.v_mm, one.kind == "butt"))
    own, other = fit.contact.first, fit.contact.second
    if other in member.copies:
        own, other = other, own
    laid = Laid(
        mark=own,
        base=other,
        box=room.stood_box(own),
        on=room.stood_box(other),
        normal=normal_axis(fit),
    )
    return _Put(member, _SET, laid)


def _push_words(members: Sequence[Group], axis: Axis | None) -> Iterator[str]:
    order: list[str] = []
    for letter, run in groupby(members, key=_letter_of):
        alike = list(run)
        if letter:
            order.append(join_marks([member.copies[0] for member in alike]))
        else:
            order += map(name_member, alike)
    verb = "Put on" if axis is Axis.HIGH else "Push on"
    # chosen: four names in a sentence keep it short.
    for start in range(0, len(order), 4):
        yield f"{verb} {join_words(order[start : start + 4], ', then')}."


def _letter_of(member: Group) -> str:
    """The letter of a single copy's mark; empty for an assembly."""
    return member.copies[0].rstrip("0123456789") if len(member.copies) == 1 else ""
