"""Prisms in words: what an outline drawn out takes away or adds, by the sizes a maker sets.

Takes a prism in a part's own axes, gives words in the plan's units, and the axis that shows its
outline. Must not know views or paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

import shapely

from benchleaf.forms import Prism
from benchleaf.frames import Axis, Box, Number
from benchleaf.lengths import UnitName, format_degrees, format_length
from benchleaf.outlines import Arc, Line, flatten, limits

# chosen: far less than a plan can mean, far more than floats lose; sine of an angle.
_SQUARE: Final = 1e-6
# chosen: a sliver thinner than a hair does not show.
_SAME_MM: Final = 0.01
# chosen: what tells an exact number of the plan from a float that an angle left, parts of 1 mm.
_FINEST: Final = 1_000_000

Flat = tuple[float, float]


def exact_mm(value: Number) -> Fraction:
    """A length to write or compare: exact, or the nearest short fraction of a float.

    >>> exact_mm(19.049999999999997)
    Fraction(381, 20)
    """
    return value if isinstance(value, Fraction) else Fraction(value).limit_denominator(_FINEST)


def exact_box(box: Box) -> Box:
    """A box with exact corners."""
    low, high = (tuple(exact_mm(part) for part in end) for end in (box.low, box.high))
    return Box(low, high)  # type: ignore[arg-type]


def outline_axis(prism: Prism) -> Axis | None:
    """The own axis along which a prism is drawn out; None where it leans."""
    way = prism.frame.axes[2]
    return next((axis for axis in Axis if abs(abs(float(way[axis])) - 1) < _SQUARE), None)


def profile_axis(prism: Prism) -> Axis | None:
    """The own axis that shows a prism in profile: its outline, or of one that leans its slant."""
    turned = prism.frame.axes
    for way in (turned[2], turned[0], turned[1]):
        for axis in Axis:
            if abs(abs(float(way[axis])) - 1) < _SQUARE:
                return axis
    return None


def round_of(prism: Prism) -> tuple[Axis, Fraction] | None:
    """The axis and the diameter of a prism that is a round hole or pin along an own axis."""
    axis, arcs = outline_axis(prism), prism.outline.segments
    if axis is None or not all(isinstance(arc, Arc) for arc in arcs):
        return None
    kinds = {(arc.centre, arc.radii) for arc in arcs if isinstance(arc, Arc)}
    if len(kinds) != 1:
        return None
    ((_, (a, b)),) = kinds
    return (axis, 2 * exact_mm(a)) if a == b else None


def describe_prism(prism: Prism, body: Box, blank: Box, *, adds: bool, units: UnitName) -> str:
    """Write a prism's sizes: its outline across, then how deep it goes.

    Args:
        prism: In the part's own axes.
        body: The part as placed, shoulder to shoulder.
        blank: The part with what joints add: beyond it no prism is measured.
        adds: Whether it is wood added.
        units: Unit that sizes are written in.
    """
    axis = outline_axis(prism)
    if axis is None:
        return _describe_leaning(prism, units)
    found = round_of(prism)
    if found:
        across = f"{format_length(found[1], units)} dia"
    else:
        across = _describe_outline(prism, axis, blank, units)
    low, high = _span(prism, axis)
    if not adds and low <= body.low[axis] and high >= body.high[axis]:
        return f"{across}, through"
    depth = exact_mm(min(high, blank.high[axis]) - max(low, blank.low[axis]))
    return f"{across}, {format_length(depth, units)} {'thick' if adds else 'deep'}"


def _span(prism: Prism, axis: Axis) -> tuple[Number, Number]:
    start = prism.frame.origin[axis]
    end = start + prism.depth_mm * prism.frame.axes[2][axis]
    return (exact_mm(min(start, end)), exact_mm(max(start, end)))


def _describe_leaning(prism: Prism, units: UnitName) -> str:
    """Sizes in the prism's own plane, and how far it leans from the nearest own axis."""
    low, high = limits(prism.outline)
    sides = sorted(exact_mm(b - a) for a, b in zip(low, high, strict=True))
    cosine = max(abs(float(part)) for part in prism.frame.axes[2])
    angle = math.degrees(math.acos(min(cosine, 1.0)))
    sizes = " × ".join(format_length(side, units) for side in (*sides, exact_mm(prism.depth_mm)))
    return f"{sizes}, leaning {format_degrees(angle)}"


def _describe_outline(prism: Prism, axis: Axis, blank: Box, units: UnitName) -> str:
    corners = _corners(prism, axis, blank)
    curved = any(not isinstance(segment, Line) for segment in prism.outline.segments)
    if curved or len(corners) < 3:
        return " × ".join(format_length(side, units) for side in sorted(_extents(corners)))
    sides = list(_sides(corners))
    sizes = _trapezoid(corners, units) or " × ".join(
        format_length(side, units) for side in sorted(_extents(corners))
    )
    leans = sorted({round(_off_square(side), 1) for side in sides} - {0.0})
    return f"{sizes}, sides at {' and '.join(map(format_degrees, leans))}" if leans else sizes


def _corners(prism: Prism, axis: Axis, blank: Box) -> list[Flat]:
    """Corners of the outline on the two other own axes, cut off where the wood ends."""
    u, v = (other for other in Axis if other is not axis)
    own = [prism.frame.outward((x, y, 0.0)) for x, y in flatten(prism.outline)]
    figure = shapely.Polygon([(float(point[u]), float(point[v])) for point in own])
    wood = shapely.box(*(float(end[way]) for end in (blank.low, blank.high) for way in (u, v)))
    left = figure.intersection(wood)
    if not isinstance(left, shapely.Polygon) or left.is_empty:
        left = figure
    return list(left.simplify(_SAME_MM).exterior.coords)[:-1]


def _extents(corners: Sequence[Flat]) -> Iterator[Fraction]:
    for row in (0, 1):
        places = [corner[row] for corner in corners]
        yield exact_mm(round(max(places) - min(places), 6)) if places else Fraction(0)


def _sides(corners: Sequence[Flat]) -> Iterator[Flat]:
    for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]]):
        yield (x1 - x0, y1 - y0)


def _off_square(side: Flat) -> float:
    """How far a side is from the nearer of the two axes, degrees."""
    angle = math.degrees(math.atan2(abs(side[1]), abs(side[0])))
    return min(angle, 90 - angle)


def _trapezoid(corners: Sequence[Flat], units: UnitName) -> str:
    """`3/8 to 5/8 × 3/4` where two of four sides are parallel and of two lengths; else nothing."""
    if len(corners) != 4:
        return ""
    a, b, c, d = _sides(corners)
    for one, other in ((a, c), (b, d)):
        lengths = sorted((math.hypot(*one), math.hypot(*other)))
        is_parallel = abs(one[0] * other[1] - one[1] * other[0]) < _SQUARE * lengths[0] * lengths[1]
        if is_parallel and lengths[1] - lengths[0] > _SAME_MM:
            # The area of a trapezoid is its height times half the sum of its parallel sides.
            high = 2 * shapely.Polygon(corners).area / sum(lengths)
            narrow, wide, height = (
                format_length(exact_mm(round(size, 6)), units) for size in (*lengths, high)
            )
            return f"{narrow} to {wide} × {height}"
    return ""
