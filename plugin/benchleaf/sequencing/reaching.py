"""Faces that are hard to get at once the piece stands: those that look at another part close by.

Takes the workroom, gives own faces by part. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import Final

from benchleaf.frames import FACES, Axis, direction_name
from benchleaf.sequencing.workroom import Workroom

# chosen: a face is looked at in this many places each way.
_PLACES: Final = 5
# chosen: nearer than an arm's reach, 600 mm, another part is in a sander's way.
_REACH_MM: Final = 600.0
# chosen: what a joint covers to more than nine tenths is not seen again.
_LEAST_SEEN: Final = 0.1

_Span = tuple[float, float]
_Sides = tuple[_Span, _Span, _Span]
"""A box as its spans along the three axes, mm."""


def inner_faces(room: Workroom) -> Mapping[str, frozenset[str]]:
    """Own faces, by part, that look at another part for the most of what is seen of them."""
    copies = room.joinery.piece.copies
    sides = {mark: _sides_of(room, mark) for mark in copies}
    found: dict[str, set[str]] = {}
    for mark, copy in copies.items():
        for axis, is_high in FACES.values():
            if _is_inner(sides[mark], axis, _before(sides, mark, axis, is_high=is_high)):
                sign = 1 if is_high else -1
                way = (sign * (axis == 0), sign * (axis == 1), sign * (axis == 2))
                face = direction_name(copy.frame.inward_direction(way))
                found.setdefault(copy.part, set()).add(face)
    return {part: frozenset(found[part]) for part in room.joinery.piece.parts if part in found}


def _sides_of(room: Workroom, mark: str) -> _Sides:
    box = room.joinery.piece.copies[mark].box
    a, b, c = ((float(low), float(high)) for low, high in zip(box.low, box.high, strict=True))
    return (a, b, c)


def _before(
    sides: Mapping[str, _Sides], mark: str, axis: Axis, *, is_high: bool
) -> list[tuple[float, _Sides]]:
    """What stands before a face, with its distance: 0 for what touches it."""
    own = sides[mark]
    across = [other for other in Axis if other is not axis]
    found = []
    for name, other in sides.items():
        if name == mark or not all(_overlap(own[a], other[a]) for a in across):
            continue
        gap = other[axis][0] - own[axis][1] if is_high else own[axis][0] - other[axis][1]
        reaches = other[axis][1] > own[axis][1] if is_high else other[axis][0] < own[axis][0]
        if reaches and gap <= _REACH_MM:
            found.append((max(gap, 0.0), other))
    return found


def _overlap(one: _Span, other: _Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _is_inner(own: _Sides, axis: Axis, before: Sequence[tuple[float, _Sides]]) -> bool:
    covered = facing = 0
    for place in _places(own, axis):
        gaps = [gap for gap, other in before if _holds(other, place, axis)]
        covered += 0.0 in gaps
        facing += bool(gaps) and 0.0 not in gaps
    seen = _PLACES**2 - covered
    return seen > _LEAST_SEEN * _PLACES**2 and 2 * facing >= seen


def _places(own: _Sides, axis: Axis) -> Iterator[tuple[float, float]]:
    """Places spread over a face, by the two other axes in order."""
    one, two = (own[other] for other in Axis if other is not axis)
    steps = [(2 * k + 1) / (2 * _PLACES) for k in range(_PLACES)]
    for s, t in product(steps, steps):
        yield one[0] + s * (one[1] - one[0]), two[0] + t * (two[1] - two[0])


def _holds(other: _Sides, place: tuple[float, float], axis: Axis) -> bool:
    across = (other[a] for a in Axis if a is not axis)
    return all(low < at < high for (low, high), at in zip(across, place, strict=True))
