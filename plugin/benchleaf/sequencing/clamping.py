"""Clamps for a glue-up: how many, how far they must open, how far apart they stand.

Takes boxes in mm, gives counts and openings. Must not know operations or words.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

# Common practice, no source: clamps no further apart than 8 in along a joint, 6 in on a stack of
# layers, whose faces need more pressure.
JOINT_SPACING_MM: Final = 200
STACK_SPACING_MM: Final = 150
# Common practice, no source: one row of clamps presses a stack of up to some 4 in wide; a wider one
# takes a row along each edge.
ONE_ROW_MM: Final = 100
# chosen: a caul or pad of 3/4 in stuff at each jaw.
PAD_MM: Final = Fraction(1905, 100)


@dataclass(frozen=True, slots=True)
class Clamps:
    """Clamps to have at hand."""

    count: int
    opening_mm: Fraction
    """Least opening, pads counted in."""
    spacing_mm: int
    """Furthest apart."""


def clamp_stack(length_mm: Fraction, width_mm: Fraction, thickness_mm: Fraction) -> Clamps:
    """Clamps for one stack of layers: along both edges where it is wide."""
    rows = 1 if width_mm <= ONE_ROW_MM else 2
    each = math.ceil(length_mm / STACK_SPACING_MM) + 1
    return Clamps(rows * each, thickness_mm + 2 * PAD_MM, STACK_SPACING_MM)


Rectangle = tuple[tuple[float, float], tuple[float, float]]
"""A joint seen along the clamps: (low, high) in the two other axes, mm."""


def clamp_joints(joints: Sequence[Rectangle], span_mm: Fraction) -> Clamps:
    """Clamps across an assembly: one set for all joints that lie behind one another.

    Args:
        joints: Each joint's area, seen in the direction of the clamps.
        span_mm: Size of the assembly in that direction.
    """
    lines: list[Rectangle] = []
    for joint in sorted(joints):
        behind = next((i for i, line in enumerate(lines) if _overlap(line, joint)), None)
        if behind is None:
            lines.append(joint)
        else:
            lines[behind] = _join(lines[behind], joint)
    count = sum(max(1, math.ceil(_longest(line) / JOINT_SPACING_MM)) for line in lines)
    return Clamps(count, span_mm + 2 * PAD_MM, JOINT_SPACING_MM)


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    pairs = zip(one, other, strict=True)
    return all(a[0] < b[1] and b[0] < a[1] for a, b in pairs)


def _join(one: Rectangle, other: Rectangle) -> Rectangle:
    (a, b) = ((min(p[0], q[0]), max(p[1], q[1])) for p, q in zip(one, other, strict=True))
    return (a, b)


def _longest(line: Rectangle) -> float:
    return float(max(high - low for low, high in line))
