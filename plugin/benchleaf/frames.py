"""Axes, boxes and frames: where things are, exactly as long as nothing is turned.

Takes numbers (exact rationals from the plan; floats once an angle is in play), gives frozen records
with plain arithmetic. Knows nothing of wood. Piece axes: x from left to right, y from front to
back, z from bottom to top; right-handed; millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction
from itertools import product

Number = Fraction | float
"""A coordinate in mm: exact unless an angle made it a float."""
Vector = tuple[Number, Number, Number]
"""A point or direction, (x, y, z)."""
# chosen: a hundredth of what light tells apart, and a thousand times what floats lose in a room;
# all sixty-fourths of an inch are whole at this step.
_TIDY_PER_MM = 10**7


class Axis(IntEnum):
    """One of the three axes, by the name of its extent."""

    WIDE = 0
    DEEP = 1
    HIGH = 2

    @property
    def extent(self) -> str:
        """The word for the size along this axis."""
        return ("wide", "deep", "high")[self]

    @property
    def low_face(self) -> str:
        """The word for the face at the low end."""
        return ("left", "front", "bottom")[self]

    @property
    def high_face(self) -> str:
        """The word for the face at the high end."""
        return ("right", "back", "top")[self]


FACES: dict[str, tuple[Axis, bool]] = {
    "left": (Axis.WIDE, False),
    "right": (Axis.WIDE, True),
    "front": (Axis.DEEP, False),
    "back": (Axis.DEEP, True),
    "bottom": (Axis.HIGH, False),
    "top": (Axis.HIGH, True),
}
"""Face name to its axis and whether it is the high face."""


def face_name(axis: Axis, is_high: bool) -> str:
    """Name the face of a box at one end of an axis.

    >>> face_name(Axis.DEEP, True)
    'back'
    """
    return axis.high_face if is_high else axis.low_face


def direction_name(direction: Vector) -> str:
    """Name the face towards which a direction points, or most nearly points.

    >>> direction_name((0, 0, -1)), direction_name((0.2, 0, 0.98))
    ('bottom', 'top')
    """
    axis = main_axis(direction)
    if not direction[axis]:
        raise ValueError("a zero vector has no direction")
    return face_name(axis, direction[axis] > 0)


def main_axis(direction: Vector) -> Axis:
    """The axis along which a direction runs, or most nearly runs; the earlier at a tie.

    >>> main_axis((0, -1, 0)) is Axis.DEEP
    True
    """
    return max(Axis, key=lambda axis: abs(float(direction[axis])))


def tidy(value: Number) -> Fraction:
    """A length that angles made inexact, as the rational nearby, mm.

    What is exact in the plan comes out exact again: a part turned with its neighbours keeps its
    sizes to the last sixty-fourth.

    >>> tidy(0.1 + 0.2)
    Fraction(3, 10)
    """
    if isinstance(value, Fraction):
        return value
    return Fraction(round(value * _TIDY_PER_MM), _TIDY_PER_MM)


def tidy_point(point: Vector) -> Vector:
    """A point with each coordinate made rational, mm."""
    return (tidy(point[0]), tidy(point[1]), tidy(point[2]))


def add(a: Vector, b: Vector) -> Vector:
    """Add two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def subtract(a: Vector, b: Vector) -> Vector:
    """Subtract the second vector from the first."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vector, factor: Number) -> Vector:
    """Multiply a vector by a number."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vector, b: Vector) -> Number:
    """Inner product; of a unit axis with a point it costs no arithmetic."""
    total: Number = Fraction(0)
    for one, other in zip(a, b, strict=True):
        if one == 0 or other == 0:
            continue
        product = other if one == 1 else -other if one == -1 else one * other
        total = total + product if total else product
    return total


@dataclass(frozen=True, slots=True)
class Box:
    """A box with faces square to the axes of its frame, low corner to high corner, mm."""

    low: Vector
    high: Vector

    @property
    def size(self) -> Vector:
        """Extents along the three axes, mm."""
        return subtract(self.high, self.low)

    @property
    def volume_mm3(self) -> Number:
        """Volume, mm3."""
        size = self.size
        return size[0] * size[1] * size[2]

    def is_solid(self) -> bool:
        """Tell whether every extent is positive."""
        return all(extent > 0 for extent in self.size)

    def meet(self, other: Box) -> Box:
        """The common part of two boxes; not solid if they do not overlap."""
        low = tuple(map(max, self.low, other.low))
        high = tuple(map(min, self.high, other.high))
        return Box(low, high)  # type: ignore[arg-type]

    def join(self, other: Box) -> Box:
        """The smallest box round both."""
        low = tuple(map(min, self.low, other.low))
        high = tuple(map(max, self.high, other.high))
        return Box(low, high)  # type: ignore[arg-type]

    def contains(self, other: Box) -> bool:
        """Tell whether the other box lies inside this one, faces counted in."""
        return all(a <= b for a, b in zip(self.low, other.low, strict=True)) and all(
            a >= b for a, b in zip(self.high, other.high, strict=True)
        )

    def corners(self) -> Iterator[Vector]:
        """The eight corners."""
        yield from product(*zip(self.low, self.high, strict=True))

    def in_order(self, order: tuple[int, int, int]) -> Box:
        """The same box with its axes taken in another order."""
        a, b, c = order
        return Box(
            (self.low[a], self.low[b], self.low[c]), (self.high[a], self.high[b], self.high[c])
        )

    def face_mm(self, face: str) -> Number:
        """The coordinate of a named face, mm."""
        axis, is_high = FACES[face]
        return self.high[axis] if is_high else self.low[axis]


def box_of_points(points: Iterable[Vector]) -> Box:
    """The least box round points, one at least."""
    x, y, z = zip(*points, strict=True)
    return Box((min(x), min(y), min(z)), (max(x), max(y), max(z)))


@dataclass(frozen=True, slots=True)
class Frame:
    """A set of axes inside another: where its origin lies and where its axes point.

    `axes[i]` is the unit vector of own axis i, in the outer frame's terms. A mirrored copy has a
    left-handed frame. With signed unit axes and rational origin all arithmetic stays exact.
    """

    origin: Vector
    axes: tuple[Vector, Vector, Vector]

    def outward(self, point: Vector) -> Vector:
        """Own point to the outer frame."""
        return add(self.origin, self.outward_direction(point))

    def outward_direction(self, direction: Vector) -> Vector:
        """Own direction to the outer frame."""
        u, v, w = self.axes
        x, y, z = (dot((u[i], v[i], w[i]), direction) for i in range(3))
        return (x, y, z)

    def inward(self, point: Vector) -> Vector:
        """Outer point to this frame."""
        return self.inward_direction(subtract(point, self.origin))

    def inward_direction(self, direction: Vector) -> Vector:
        """Outer direction to this frame."""
        u, v, w = (dot(axis, direction) for axis in self.axes)
        return (u, v, w)

    def box_outward(self, box: Box) -> Box:
        """Own box to the outer frame, as the box round it (exact when the axes are square)."""
        if not self.is_square:
            return box_of_points(tidy_point(self.outward(corner)) for corner in box.corners())
        a, b = self.outward(box.low), self.outward(box.high)
        return Box(tuple(map(min, a, b)), tuple(map(max, a, b)))  # type: ignore[arg-type]

    def box_inward(self, box: Box) -> Box:
        """Outer box to this frame, as the box round it (exact when the axes are square)."""
        if not self.is_square:
            return box_of_points(tidy_point(self.inward(corner)) for corner in box.corners())
        a, b = self.inward(box.low), self.inward(box.high)
        return Box(tuple(map(min, a, b)), tuple(map(max, a, b)))  # type: ignore[arg-type]

    @property
    def is_square(self) -> bool:
        """Tell whether the axes lie along the outer ones."""
        return all(axis.count(0) == 2 for axis in self.axes)

    @property
    def is_mirrored(self) -> bool:
        """Tell whether the frame is left-handed."""
        (a, b, c), (d, e, f), (g, h, i) = self.axes
        return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) < 0
