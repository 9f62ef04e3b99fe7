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


Span = tuple[float | Fraction, float | Fraction]
"""From low to high along one axis, mm."""
# chosen: a clamp that opens a third further than it must is as good as one that fits.
_SPARE_SHARE: Final = 0.75


@dataclass(frozen=True, slots=True)
class Pressed:
    """A joint that clamps close, seen along them."""

    across: tuple[Span, Span]
    """Its area, in the two other axes."""
    along: Span
    """From the outer face of one mate to that of the other."""


def clamp_joints(joints: Sequence[Pressed]) -> tuple[Clamps, ...]:
    """Clamps across an assembly: one set for all joints that lie behind one another.

    Returns:
        Clamps by their opening, smallest first; those that open nearly as far are counted together.
    """
    lines: list[Pressed] = []
    for joint in sorted(joints, key=lambda one: (one.across, one.along)):
        behind = next((i for i, line in enumerate(lines) if _overlap(line, joint)), None)
        if behind is None:
            lines.append(joint)
        else:
            lines[behind] = _join(lines[behind], joint)
    counts: dict[Fraction, int] = {}
    for line in sorted(lines, key=_opening_mm, reverse=True):
        opening = _opening_mm(line)
        longer = next((own for own in counts if opening >= _SPARE_SHARE * own), opening)
        count = max(1, math.ceil(_longest(line) / JOINT_SPACING_MM))
        counts[longer] = counts.get(longer, 0) + count
    return tuple(
        Clamps(count, opening, JOINT_SPACING_MM) for opening, count in sorted(counts.items())
    )


def _opening_mm(line: Pressed) -> Fraction:
    return Fraction(line.along[1]) - Fraction(line.along[0]) + 2 * PAD_MM


def _overlap(one: Pressed, other: Pressed) -> bool:
    pairs = zip(one.across, other.across, strict=True)
    return all(a[0] < b[1] and b[0] < a[1] for a, b in pairs)


def _join(one: Pressed, other: Pressed) -> Pressed:
    a, b = (_round(p, q) for p, q in zip(one.across, other.across, strict=True))
    return Pressed((a, b), _round(one.along, other.along))


def _round(one: Span, other: Span) -> Span:
    return (min(one[0], other[0]), max(one[1], other[1]))


def _longest(line: Pressed) -> float:
    return float(max(high - low for low, high in line.across))
