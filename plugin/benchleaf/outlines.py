"""Outlines: closed plane figures of lines, arcs and curves, true until drawn or made solid.

Takes points in mm (exact as long as the plan's numbers are), gives frozen records and plain
geometry on them. Knows nothing of wood, and never makes a curve into corners unless asked.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from benchleaf.frames import Number

Point = tuple[Number, Number]
"""A point in the outline's own plane, (u, v) in mm."""
Moves = Callable[[Point], Point]
"""Where a point goes."""

# chosen: an arc or curve made into corners strays no farther than this from the true line, mm: a
# twentieth of what a sharp pencil draws.
SAGITTA_MM: Final = 0.02
# chosen: no corner turns by more than this, so that facets draw as one smooth surface.
MOST_TURN_RAD: Final = math.radians(15)
# A cubic is looked at in this many pieces to learn how much it bends. chosen: an S-curve has two
# bends and shows them in sixteen.
_LOOKS: Final = 16


@dataclass(frozen=True, slots=True)
class Line:
    """A straight side to a point."""

    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, or of an ellipse that lies square to the axes, to a point."""

    end: Point
    centre: Point
    radii: Point
    """Half-axes along u and v, mm; equal for a circle."""
    is_clockwise: bool


@dataclass(frozen=True, slots=True)
class Curve:
    """A cubic curve (Bézier) to a point, drawn towards its two control points."""

    control_1: Point
    control_2: Point
    end: Point


Segment = Line | Arc | Curve


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed figure that does not cross itself: the last segment ends where the first starts."""

    start: Point
    segments: tuple[Segment, ...]

    def steps(self) -> Iterator[tuple[Point, Segment]]:
        """Each segment with the point that it starts from."""
        at = self.start
        for segment in self.segments:
            yield at, segment
            at = segment.end


def polygon(points: Sequence[Point]) -> Outline:
    """Join points with straight sides, the last to the first.

    Raises:
        ValueError: If there are fewer than three points.
    """
    if len(points) < 3:
        raise ValueError("an outline needs three points or more")
    return Outline(points[0], tuple(Line(point) for point in (*points[1:], points[0])))


def ellipse(centre: Point, radii: Point) -> Outline:
    """A whole ellipse, counter-clockwise; a circle where the radii are equal."""
    (x, y), (a, _) = centre, radii
    right: Point = (x + a, y)
    left: Point = (x - a, y)
    return Outline(
        right, tuple(Arc(end, centre, radii, is_clockwise=False) for end in (left, right))
    )


def arc_over(start: Point, end: Point, rise_mm: Number) -> Arc:
    """The arc of a circle over a chord; it rises to the left of the way from start to end.

    Args:
        start: Where it starts.
        end: Where it ends.
        rise_mm: Height above the chord's middle; negative rises to the right; not 0.

    Raises:
        ValueError: If the rise or the chord is nothing.

    Source: the circle through three points; R = (c^2/4 + h^2) / 2h (Euclid III.35).
    """
    (x0, y0), (x1, y1) = start, end
    across, up = x1 - x0, y1 - y0
    chord_squared = across * across + up * up
    if rise_mm == 0 or chord_squared == 0:
        raise ValueError("an arc needs a chord and a rise")
    radius = (chord_squared / 4 + rise_mm * rise_mm) / (2 * rise_mm)
    # From the chord's middle, on the far side of the rise by radius - rise.
    back = (rise_mm - radius) / _root(chord_squared)
    centre = ((x0 + x1) / 2 - up * back, (y0 + y1) / 2 + across * back)
    return Arc(end, centre, (abs(radius), abs(radius)), is_clockwise=rise_mm > 0)


def curve_through(points: Sequence[Point], *, is_closed: bool = False) -> tuple[Curve, ...]:
    """A smooth curve through points, as cubic pieces from the first to the last.

    The tangent at each point runs along the chord between its neighbours; at the open ends, along
    the first and last chords. Handles are a third of the piece's chord long.

    Args:
        points: Two or more, no two in a row the same.
        is_closed: Whether a last piece leads from the last point to the first.

    Source: Catmull and Rom, A class of local interpolating splines, 1974 (from memory), with
    handles scaled to each piece's chord so that close points do not overshoot.
    """
    count = len(points)
    tangents = [_tangent(points, i, is_closed=is_closed) for i in range(count)]
    pieces = []
    for i in range(count if is_closed else count - 1):
        j = (i + 1) % count
        p, q = points[i], points[j]
        reach = math.dist(_floats(p), _floats(q)) / 3
        one = (float(p[0]) + tangents[i][0] * reach, float(p[1]) + tangents[i][1] * reach)
        two = (float(q[0]) - tangents[j][0] * reach, float(q[1]) - tangents[j][1] * reach)
        pieces.append(Curve(one, two, q))
    return tuple(pieces)


def _tangent(points: Sequence[Point], i: int, *, is_closed: bool) -> tuple[float, float]:
    count = len(points)
    before = points[(i - 1) % count] if is_closed or i > 0 else points[i]
    after = points[(i + 1) % count] if is_closed or i < count - 1 else points[i]
    x, y = float(after[0] - before[0]), float(after[1] - before[1])
    length = math.hypot(x, y) or 1.0
    return x / length, y / length


def corners_of(outline: Outline) -> list[Point]:
    """Corners of an outline in its own order, not closed; exact where all sides are straight."""
    if all(isinstance(segment, Line) for segment in outline.segments):
        return [start for start, _ in outline.steps()]
    return list(flatten(outline))


def flatten(outline: Outline, sagitta_mm: float = SAGITTA_MM) -> list[tuple[float, float]]:
    """Corners of an outline, as floats, in its own order; not closed.

    Corners lie on the true line. Between two of them the line strays from the straight by at most
    the sagitta and turns by at most `MOST_TURN_RAD`.
    """
    corners = [_floats(outline.start)]
    for start, segment in outline.steps():
        corners += _corners_along(start, segment, sagitta_mm)
    return corners[:-1]


def _corners_along(start: Point, segment: Segment, sagitta_mm: float) -> list[tuple[float, float]]:
    """Corners after the start of a segment, up to and with its end."""
    if isinstance(segment, Line):
        return [_floats(segment.end)]
    if isinstance(segment, Arc):
        return _corners_of_arc(start, segment, sagitta_mm)
    return _corners_of_curve(start, segment, sagitta_mm)


def sweep_rad(start: Point, arc: Arc) -> tuple[float, float]:
    """Where an arc starts and how far it goes round, radians; positive counter-clockwise.

    An arc that ends where it starts goes all the way round.
    """
    angles = []
    for x, y in (start, arc.end):
        along = float(x - arc.centre[0]) / float(arc.radii[0])
        up = float(y - arc.centre[1]) / float(arc.radii[1])
        angles.append(math.atan2(up, along))
    turn = (angles[1] - angles[0]) % math.tau
    if arc.is_clockwise:
        turn -= math.tau
    return angles[0], turn or math.tau


def _corners_of_arc(start: Point, arc: Arc, sagitta_mm: float) -> list[tuple[float, float]]:
    begin, turn = sweep_rad(start, arc)
    radii, centre = _floats(arc.radii), _floats(arc.centre)
    # The sagitta of a step s on a circle is r (1 - cos s/2).
    step = 2 * math.acos(max(1 - sagitta_mm / max(radii), 0.0))
    count = max(math.ceil(abs(turn) / min(step, MOST_TURN_RAD)), 1)
    inner = [begin + turn * i / count for i in range(1, count)]
    corners = [
        (centre[0] + radii[0] * math.cos(a), centre[1] + radii[1] * math.sin(a)) for a in inner
    ]
    return [*corners, _floats(arc.end)]


def point_on(start: Point, curve: Curve, t: float) -> tuple[float, float]:
    """The point of a curve at t, 0 at its start and 1 at its end."""
    weights = ((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3)
    held = [_floats(p) for p in (start, curve.control_1, curve.control_2, curve.end)]
    x, y = (sum(w * p[k] for w, p in zip(weights, held, strict=True)) for k in (0, 1))
    return x, y


def _corners_of_curve(start: Point, curve: Curve, sagitta_mm: float) -> list[tuple[float, float]]:
    looked = [point_on(start, curve, i / _LOOKS) for i in range(_LOOKS + 1)]
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(looked) if a != b]
    turn = sum(abs(math.remainder(b - a, math.tau)) for a, b in pairwise(ways))
    chords = [math.dist(a, b) for a, b in pairwise(looked)]
    # The sagitta of a piece l long that turns by a is l a / 8.
    by_sagitta = math.sqrt(sum(chords) * turn / 8 / sagitta_mm)
    count = max(math.ceil(by_sagitta), math.ceil(turn / MOST_TURN_RAD), 1)
    # Pieces are even in t, not in bend: twice as many keep the worst of them within.
    count = 2 * count if turn else 1
    inner = [point_on(start, curve, i / count) for i in range(1, count)]
    return [*inner, _floats(curve.end)]


def area_mm2(outline: Outline) -> float:
    """The true area inside, mm2; negative where the outline runs clockwise.

    Source: Green's theorem, 1/2 the integral of u dv - v du, in closed form for each segment.
    """
    return sum(_swept_mm2(start, segment) for start, segment in outline.steps())


def _swept_mm2(start: Point, segment: Segment) -> float:
    p, q = _floats(start), _floats(segment.end)
    if isinstance(segment, Line):
        return _half_cross(p, q)
    if isinstance(segment, Arc):
        turn = sweep_rad(start, segment)[1]
        c, (a, b) = _floats(segment.centre), _floats(segment.radii)
        return (a * b * turn + c[0] * (q[1] - p[1]) - c[1] * (q[0] - p[0])) / 2
    one, two = _floats(segment.control_1), _floats(segment.control_2)
    # Integral of the Bernstein products: 1/10 of 6 p0xp1 + 3 p0xp2 + p0xp3 + 3 p1xp2 + ...
    return (
        6 * _half_cross(p, one)
        + 3 * _half_cross(p, two)
        + _half_cross(p, q)
        + 3 * _half_cross(one, two)
        + 3 * _half_cross(one, q)
        + 6 * _half_cross(two, q)
    ) / 10


def _half_cross(p: tuple[float, float], q: tuple[float, float]) -> float:
    return (p[0] * q[1] - p[1] * q[0]) / 2


def limits(outline: Outline) -> tuple[Point, Point]:
    """Low and high corner of the rectangle round an outline; exact where it is straight."""
    points: list[Point] = [outline.start]
    for start, segment in outline.steps():
        points.append(segment.end)
        if isinstance(segment, Arc):
            points += _turning_points(start, segment)
        elif isinstance(segment, Curve):
            points += _corners_of_curve(start, segment, SAGITTA_MM)
    low: Point = (min(p[0] for p in points), min(p[1] for p in points))
    high: Point = (max(p[0] for p in points), max(p[1] for p in points))
    return low, high


def _turning_points(start: Point, arc: Arc) -> Iterator[Point]:
    """The farthest points of an arc along the axes, where it passes them; exact."""
    begin, turn = sweep_rad(start, arc)
    (x, y), (a, b) = arc.centre, arc.radii
    for quarter, point in enumerate(((x + a, y), (x, y + b), (x - a, y), (x, y - b))):
        ahead = (quarter * math.pi / 2 - begin) % math.tau
        passed = ahead if turn > 0 else math.tau - ahead
        if passed < abs(turn):
            yield point


def moved(outline: Outline, by: Point) -> Outline:
    """The same figure, shifted."""

    def shift(point: Point) -> Point:
        return (point[0] + by[0], point[1] + by[1])

    return Outline(shift(outline.start), tuple(mapped(s, shift) for s in outline.segments))


def mirrored(outline: Outline) -> Outline:
    """The mirror image: u runs the other way."""

    def flip(point: Point) -> Point:
        return (-point[0], point[1])

    return Outline(
        flip(outline.start),
        tuple(mapped(s, flip, turns_over=True) for s in outline.segments),
    )


def mapped(segment: Segment, move: Moves, *, turns_over: bool = False) -> Segment:
    """The same segment with its points moved.

    Args:
        segment: A line, an arc, or a curve.
        move: Where points go: a shift, a mirror image, or for circles and curves a turn too.
        turns_over: Whether left becomes right, so that arcs run the other way round.
    """
    if isinstance(segment, Line):
        return Line(move(segment.end))
    if isinstance(segment, Curve):
        return Curve(move(segment.control_1), move(segment.control_2), move(segment.end))
    return Arc(
        move(segment.end),
        move(segment.centre),
        segment.radii,
        is_clockwise=segment.is_clockwise != turns_over,
    )


def _floats(point: Point) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _root(value: Number) -> Number:
    """The square root; exact where it is rational, so that level chords keep exact centres."""
    exact = Fraction(value)
    top, bottom = math.isqrt(exact.numerator), math.isqrt(exact.denominator)
    if top * top == exact.numerator and bottom * bottom == exact.denominator:
        return Fraction(top, bottom)
    return math.sqrt(exact)
