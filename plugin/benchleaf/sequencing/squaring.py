"""Diagonals to measure on an assembly: which corners, how far apart.

Takes the boxes of copies where they stand, gives the two corners and the distance. Must not know
operations or words.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from typing import Final

from benchleaf.frames import Axis, Box, face_name

# chosen: on a side more than four times as long as wide, diagonals show little that edges do not.
_LEAST_SHARE: Final = 0.25
# chosen: a panel that fills this share of a side keeps it square.
_FILLING_SHARE: Final = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonals:
    """Two equal diagonals of one side of an assembly."""

    side: str
    """Face of the assembly that is measured: `front`."""
    length_mm: float
    corners: tuple[str, str, str, str]
    """Marks at the low-low, high-high, low-high and high-low corners."""


def find_diagonals(boxes: Mapping[str, Box], holders: Mapping[str, int]) -> tuple[Diagonals, ...]:
    """Find the sides of an assembly that its closing can put out of square, largest first.

    Their four corners belong to two members or more, and no one copy keeps them square by filling
    most of the side. Of two opposite sides alike only the first is given.

    Args:
        boxes: Each copy where it stands, by mark.
        holders: Mark to the number of the member that it is part of.
    """
    found: list[Diagonals] = []
    for axis, is_high in product(Axis, (False, True)):
        side = _diagonals_of(boxes, holders, axis, is_high=is_high)
        if side is not None and not any(
            other.length_mm == side.length_mm and _axis_of(other) is axis for other in found
        ):
            found.append(side)
    return tuple(sorted(found, key=lambda side: (-side.length_mm, side.side)))


def _axis_of(side: Diagonals) -> Axis:
    return next(axis for axis in Axis if side.side in {axis.low_face, axis.high_face})


def _diagonals_of(
    boxes: Mapping[str, Box], holders: Mapping[str, int], axis: Axis, *, is_high: bool
) -> Diagonals | None:
    ends = [box.high[axis] if is_high else box.low[axis] for box in boxes.values()]
    edge = max(ends) if is_high else min(ends)
    near = {mark: box for (mark, box), end in zip(boxes.items(), ends, strict=True) if end == edge}
    one, two = (other for other in Axis if other is not axis)
    spans = {
        other: (min(b.low[other] for b in near.values()), max(b.high[other] for b in near.values()))
        for other in (one, two)
    }
    corners = []
    for high_one, high_two in ((False, False), (True, True), (False, True), (True, False)):
        mark = _mark_at(near, {one: (high_one, spans[one]), two: (high_two, spans[two])})
        if mark is None:
            return None
        corners.append(mark)
    if len({holders[mark] for mark in corners}) < 2:
        return None
    whole = math.prod(float(high - low) for low, high in spans.values())
    fills = (float(box.size[one]) * float(box.size[two]) for box in boxes.values())
    if max(fills) >= _FILLING_SHARE * whole:
        return None
    sides = [float(spans[other][1] - spans[other][0]) for other in (one, two)]
    if min(sides) < _LEAST_SHARE * max(sides):
        return None
    low_low, high_high, low_high, high_low = corners
    return Diagonals(
        side=face_name(axis, is_high),
        length_mm=math.hypot(*sides),
        corners=(low_low, high_high, low_high, high_low),
    )


def _mark_at(near: Mapping[str, Box], corner: Mapping[Axis, tuple[bool, tuple]]) -> str | None:  # type: ignore[type-arg]
    for mark, box in near.items():
        if all(
            (box.high[axis] if is_high else box.low[axis]) == span[1 if is_high else 0]
            for axis, (is_high, span) in corner.items()
        ):
            return mark
    return None
