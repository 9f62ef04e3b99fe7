"""Forms of wood added or taken away: boxes, bores and prisms; carried, mirrored, measured round.

Takes and gives frozen records in mm, in one frame or another. Exact as long as the frames are
square.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from benchleaf.frames import Axis, Box, Frame, Number, Vector, box_of_points, tidy_point
from benchleaf.outlines import Outline, flatten, limits, polygon


@dataclass(frozen=True, slots=True)
class Bore:
    """A round hole (or a round pin, where it is added): mouth, direction, diameter, depth, mm."""

    mouth: Vector
    """Centre of the mouth."""
    direction: Vector
    """Unit vector from the mouth into the wood."""
    diameter_mm: Fraction
    depth_mm: Fraction
    end_diameter_mm: Fraction
    """Diameter at the far end: equal for a plain hole, smaller for a countersink."""


@dataclass(frozen=True, slots=True)
class Prism:
    """An outline drawn out to a depth: a tail, a pin, a spline's slot, the waste of a bevel."""

    frame: Frame
    """In the holder's frame: the outline lies in its first two axes, the third draws it out."""
    outline: Outline
    depth_mm: Number
    """From the outline's plane along the frame's third axis."""


Form = Box | Bore | Prism


def is_square(frame: Frame) -> bool:
    """Tell whether a frame's axes lie along the outer ones."""
    return frame.is_square


def carry_form(shape: Form, source: Frame, target: Frame) -> Form:
    """Carry a shape from one frame to another, both given in the same outer frame.

    A box that is turned on the way becomes the prism that it is.
    """
    if isinstance(shape, Bore):
        mouth = target.inward(source.outward(shape.mouth))
        is_exact = source.is_square and target.is_square
        way = target.inward_direction(source.outward_direction(shape.direction))
        return Bore(
            mouth if is_exact else tidy_point(mouth),
            way if is_exact else _straightened(way),
            shape.diameter_mm,
            shape.depth_mm,
            shape.end_diameter_mm,
        )
    if isinstance(shape, Prism):
        return Prism(_carry_frame(shape.frame, source, target), shape.outline, shape.depth_mm)
    if source.is_square and target.is_square:
        return target.box_inward(source.box_outward(shape))
    if _is_square_between(source, target):
        ends = [tidy_point(target.inward(source.outward(end))) for end in (shape.low, shape.high)]
        return box_of_points(ends)
    return carry_form(prism_of_box(shape), source, target)


def _straightened(way: Vector) -> Vector:
    """A direction that turning there and back has blurred: exact again where it lies on an axis."""
    nearest = [round(float(part)) for part in way]
    off = max(abs(float(part) - near) for part, near in zip(way, nearest, strict=True))
    if off >= _SQUARE or sum(map(abs, nearest)) != 1:
        return way
    return (Fraction(nearest[0]), Fraction(nearest[1]), Fraction(nearest[2]))


def prism_of_box(box: Box) -> Prism:
    """The same box as an outline drawn out along its third axis."""
    (x, y, _), zero = box.size, Fraction(0)
    units: tuple[Vector, Vector, Vector] = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    corners: list[tuple[Number, Number]] = [(zero, zero), (x, zero), (x, y), (zero, y)]
    return Prism(Frame(box.low, units), polygon(corners), box.size[2])


def _is_square_between(source: Frame, target: Frame) -> bool:
    if source.axes == target.axes:
        return True
    turned = tuple(target.inward_direction(axis) for axis in source.axes)
    return all(sum(abs(float(part)) > _SQUARE for part in axis) == 1 for axis in turned)


# chosen: far less than any angle that a plan can mean, far more than floats lose. Sine of an angle.
_SQUARE = 1e-9


def _carry_frame(frame: Frame, source: Frame, target: Frame) -> Frame:
    x, y, n = (target.inward_direction(source.outward_direction(axis)) for axis in frame.axes)
    return Frame(target.inward(source.outward(frame.origin)), (x, y, n))


def mirror_form(shape: Form, axis: Axis, total_mm: Number) -> Form:
    """The mirror image of a shape across the plane at half of a total along an axis."""

    def flip(point: Vector, value: Number) -> Vector:
        x, y, z = (value if index == axis else part for index, part in enumerate(point))
        return (x, y, z)

    if isinstance(shape, Box):
        return Box(
            flip(shape.low, total_mm - shape.high[axis]),
            flip(shape.high, total_mm - shape.low[axis]),
        )
    if isinstance(shape, Prism):
        u, v, n = (flip(way, -way[axis]) for way in shape.frame.axes)
        origin = flip(shape.frame.origin, total_mm - shape.frame.origin[axis])
        return Prism(Frame(origin, (u, v, n)), shape.outline, shape.depth_mm)
    return Bore(
        flip(shape.mouth, total_mm - shape.mouth[axis]),
        flip(shape.direction, -shape.direction[axis]),
        shape.diameter_mm,
        shape.depth_mm,
        shape.end_diameter_mm,
    )


def box_round(shape: Form) -> Box:
    """The least box round a shape in its own frame; exact where the shape is square to it."""
    if isinstance(shape, Box):
        return shape
    if isinstance(shape, Prism):
        return _box_of(_corners_round(shape))
    radius = max(shape.diameter_mm, shape.end_diameter_mm) / 2
    ends = [
        (mouth, mouth + way * shape.depth_mm, _across(way, radius))
        for mouth, way in zip(shape.mouth, shape.direction, strict=True)
    ]
    low = [min(a, b) - grow for a, b, grow in ends]
    high = [max(a, b) + grow for a, b, grow in ends]
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _across(way: Number, radius: Fraction) -> Number:
    """How far a disc of a radius reaches along an axis that its own axis leans on by a cosine."""
    if way == 0:
        return radius
    if abs(way) == 1:
        return Fraction(0)
    return float(radius) * math.sqrt(max(1 - float(way) ** 2, 0.0))


def _corners_round(shape: Prism) -> Iterator[Vector]:
    if is_square(shape.frame):
        low, high = limits(shape.outline)
        flat: list[tuple[Number, Number]] = [low, high]
    else:
        flat = list(flatten(shape.outline))
    for (u, v), n in product(flat, (Fraction(0), shape.depth_mm)):
        yield shape.frame.outward((u, v, n))


def _box_of(corners: Iterator[Vector]) -> Box:
    x, y, z = zip(*corners, strict=True)
    return Box((min(x), min(y), min(z)), (max(x), max(y), max(z)))


def entry_axis(bore: Bore) -> Axis:
    """The axis of the face that a bore starts from: a slanting one starts where it runs flattest.

    >>> bore = Bore((0, 0, 0), (0, -0.26, 0.97), Fraction(9), Fraction(60), Fraction(9))
    >>> entry_axis(bore) is Axis.DEEP
    True
    """
    # chosen: a turned part's square holes lean by rounding alone, a slant by far more.
    leaning = [axis for axis in Axis if abs(float(bore.direction[axis])) > _LEAST_LEAN]
    return min(leaning, key=lambda axis: abs(float(bore.direction[axis])))


_LEAST_LEAN = 1e-6


def form_key(shape: Form) -> tuple[float, ...]:
    """Numbers to sort shapes by."""
    if isinstance(shape, Box):
        ends: tuple[Number, ...] = (*shape.low, *shape.high)
    elif isinstance(shape, Prism):
        ends = (*shape.frame.origin, *shape.frame.axes[2], shape.depth_mm)
    else:
        ends = (*shape.mouth, *shape.direction)
    return tuple(float(part) for part in ends)


def form_cut(shape: Form) -> tuple[object, ...]:
    """What tells two shapes apart: equal for shapes that take the same wood away.

    A prism is told by its corners in the holder's frame, so that it is the same whichever way its
    outline is drawn; they are rounded, and so is a bore, since a mirror image reaches its own by
    another sum.
    """
    if isinstance(shape, Box):
        return (shape.low, shape.high)
    if isinstance(shape, Prism):
        return (frozenset(_rounded_corners(shape, shape.outline)),)
    return (
        _rounded(shape.mouth),
        _rounded(shape.direction),
        shape.diameter_mm,
        shape.depth_mm,
        shape.end_diameter_mm,
    )


def _rounded(point: Vector) -> Vector:
    x, y, z = (round(float(part), 5) + 0.0 for part in point)
    return (x, y, z)


def _rounded_corners(shape: Prism, outline: Outline) -> Iterator[Vector]:
    for (u, v), n in product(flatten(outline), (0.0, float(shape.depth_mm))):
        yield _rounded(shape.frame.outward((u, v, n)))
