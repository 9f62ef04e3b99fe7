"""How tight a line turns: what decides the blade that follows it.

Takes an outline, gives the radius of its tightest bend. Must not know operations.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from benchleaf.outlines import Arc, Curve, Outline, Point

# chosen: a cubic is looked at in this many places; its bends are broad, for it goes through points.
_LOOKS: Final = 32


def tightest_radius_mm(outline: Outline) -> float | None:
    """The radius of the tightest bend of an outline; None where all of it is straight.

    >>> circle = Arc((-20, 0), (0, 0), (20, 20), False), Arc((20, 0), (0, 0), (20, 20), False)
    >>> tightest_radius_mm(Outline((20, 0), circle))
    20.0
    """
    return min(_radii(outline), default=None)


def _radii(outline: Outline) -> Iterator[float]:
    for start, segment in outline.steps():
        if isinstance(segment, Arc):
            # An ellipse bends tightest at the ends of its longer axis: b^2 / a.
            short, long = sorted(float(radius) for radius in segment.radii)
            yield short * short / long
        elif isinstance(segment, Curve):
            yield from _radii_of(start, segment)


def _radii_of(start: Point, curve: Curve) -> Iterator[float]:
    """Radii of curvature along a cubic: speed cubed over speed crossed with acceleration."""
    points = [
        (float(point[0]), float(point[1]))
        for point in (start, curve.control_1, curve.control_2, curve.end)
    ]
    for step in range(_LOOKS + 1):
        (du, dv), (ddu, ddv) = _derivatives(points, step / _LOOKS)
        turn = abs(du * ddv - dv * ddu)
        if turn > 0:
            yield math.hypot(du, dv) ** 3 / turn


def _derivatives(points: list[tuple[float, float]], t: float) -> tuple[tuple[float, ...], ...]:
    a, b, c, d = points
    first = tuple(
        3 * ((1 - t) ** 2 * (b[n] - a[n]) + 2 * (1 - t) * t * (c[n] - b[n]) + t * t * (d[n] - c[n]))
        for n in (0, 1)
    )
    second = tuple(
        6 * ((1 - t) * (c[n] - 2 * b[n] + a[n]) + t * (d[n] - 2 * c[n] + b[n])) for n in (0, 1)
    )
    return first, second
