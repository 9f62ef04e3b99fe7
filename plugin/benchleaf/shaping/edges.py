"""Edges of a part as earlier shaping left them, and profiles cut along them.

Takes an edge, the lines that faces were cut to, and a profile; gives a prism along a straight edge,
a sweep along one that bends. Knows no kind of shaping.

A profile lies in the corner of two faces: its first axis runs in from the first face, its second in
from the second, and it goes on a little way out of the wood.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from benchleaf.forms import Prism
from benchleaf.frames import FACES, Axis, Box, Frame, Number, Vector, add, scale
from benchleaf.outlines import Line, Outline, Point, Segment, flatten
from benchleaf.shaping.bench import PAST_MM
from benchleaf.shaping.drawing_out import line_outline, unit, vector
from benchleaf.shaping.records import FaceLine, ShapedForm, Station, Sweep

# chosen: an edge that moves by less than this is where it was, mm.
_SAME_MM: Final = 1e-6

Run = tuple[tuple[float, float], ...]
"""How far in a face lies along an edge: (along, inset), in order."""


class CannotFollowError(Exception):
    """An edge that no profile can be carried along; says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """Where two faces meet, after what was done to them."""

    faces: tuple[str, str]
    body: Box
    runs: tuple[Run, Run]
    """For each face, how far in it lies along the edge."""

    @property
    def along(self) -> Axis:
        """The axis that the edge runs along."""
        first, second = (FACES[face][0] for face in self.faces)
        return Axis(3 - first - second)

    @property
    def is_straight(self) -> bool:
        """Tell whether it runs straight along its axis."""
        return all(abs(inset - run[0][1]) < _SAME_MM for run in self.runs for _, inset in run)

    def inward(self, index: int) -> Vector:
        """The unit vector in from one of the two faces."""
        axis, is_high = FACES[self.faces[index]]
        return unit(axis, -1 if is_high else 1)

    def point(self, at: float, insets: tuple[Number, Number]) -> Vector:
        """A point on the edge, or inside it, in own axes."""
        base = {FACES[face][0]: self.body.face_mm(face) for face in self.faces}
        corner = vector({**base, self.along: at})
        for index, inset in enumerate(insets):
            corner = add(corner, scale(self.inward(index), inset))
        return corner


def find_edge(edge: str, body: Box, lines: Iterable[FaceLine]) -> Edge:
    """An edge as earlier shaping left it.

    Args:
        edge: Its two faces.
        body: The part, square all over, in its own axes.
        lines: The lines that faces were cut to.

    Raises:
        CannotFollowError: Where two lines of one face overlap.
    """
    first, second = edge.split()
    along = Axis(3 - FACES[first][0] - FACES[second][0])
    listed = tuple(lines)
    return Edge(
        faces=(first, second),
        body=body,
        runs=(
            _run(first, second, along, body=body, lines=listed),
            _run(second, first, along, body=body, lines=listed),
        ),
    )


def _run(face: str, other: str, along: Axis, *, body: Box, lines: Sequence[FaceLine]) -> Run:
    length = float(body.size[along])
    own = [line for line in lines if line.face == face]
    shown = sorted(
        (_corners(line) for line in own if line.along is along), key=lambda corners: corners[0]
    )
    for before, after in pairwise(shown):
        if after[0][0] < before[-1][0] - _SAME_MM:
            raise CannotFollowError(f"the {face} face is cut to two lines there")
    moved = sum(_inset_at(_corners(line), other, body) for line in own if line.along != along)
    if shown and moved:
        raise CannotFollowError(f"the {face} face is cut to lines both ways")
    run = [(0.0, moved), *(corner for corners in shown for corner in corners), (length, moved)]
    return tuple(_without_repeats(run))


def _corners(line: FaceLine) -> list[tuple[float, float]]:
    """The line as corners, in order along the face."""
    # The waste's outline ends with the two corners that lie past the face.
    corners = flatten(line_outline(line))[:-2]
    return corners if corners[0][0] <= corners[-1][0] else corners[::-1]


def _inset_at(corners: Sequence[tuple[float, float]], end: str, body: Box) -> float:
    """How far in a line lies at an end of its face; 0 where it does not reach it."""
    at = float(body.face_mm(end))
    return max((inset for along, inset in corners if abs(along - at) < _SAME_MM), default=0.0)


def _without_repeats(run: Iterable[tuple[float, float]]) -> Iterable[tuple[float, float]]:
    last: tuple[float, float] | None = None
    for corner in run:
        if last is None or math.dist(last, corner) > _SAME_MM:
            yield corner
        last = corner


def cut_along(edge: Edge, profile: Outline) -> ShapedForm:
    """The wood that a profile takes along an edge.

    Raises:
        CannotFollowError: Where the edge bends more sharply than the profile can turn.
    """
    if edge.is_straight:
        insets = (edge.runs[0][0][1], edge.runs[1][0][1])
        exact = tuple(Fraction(0) if inset == 0 else inset for inset in insets)
        origin = edge.point(0, (exact[0], exact[1]))
        start = add(origin, scale(unit(edge.along), -PAST_MM))
        frame = Frame(start, (edge.inward(0), edge.inward(1), unit(edge.along)))
        return Prism(frame, profile, Fraction(edge.body.size[edge.along]) + 2 * PAST_MM)
    bends = [any(inset != run[0][1] for _, inset in run) for run in edge.runs]
    stations = _sheared(edge) if all(bends) else _turning(edge, bends.index(True), profile)
    return Sweep(tuple(flatten(profile)), stations, is_closed=False)


def _sheared(edge: Edge) -> tuple[Station, ...]:
    """Where both faces bend: the profile stands square to the edge's axis all along."""
    places = sorted({at for run in edge.runs for at, _ in run})
    stations = [
        Station(
            edge.point(at, (_inset(edge.runs[0], at), _inset(edge.runs[1], at))),
            edge.inward(0),
            edge.inward(1),
        )
        for at in places
    ]
    return _overrun(stations)


def _inset(run: Run, at: float) -> float:
    for (x0, y0), (x1, y1) in pairwise(run):
        if x0 <= at <= x1 and x1 > x0:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return run[-1][1]


def _turning(edge: Edge, index: int, profile: Outline) -> tuple[Station, ...]:
    """Where one face bends: the profile turns with it, mitred from piece to piece."""
    run, still = edge.runs[index], edge.runs[1 - index][0][1]
    ways = [_unit_way(a, b) for a, b in pairwise(run)]
    normals = [(-way[1], way[0]) for way in ways]
    mitres = [normals[0], *(_mitre(a, b) for a, b in pairwise(normals)), normals[-1]]
    reach = max(float(corner[index]) for corner in flatten(profile))
    _need_room(run, mitres, reach)
    stations = []
    for (at, inset), mitre in zip(run, mitres, strict=True):
        insets = (inset, still) if index == 0 else (still, inset)
        turned = add(scale(unit(edge.along), mitre[0]), scale(edge.inward(index), mitre[1]))
        ways_in = (turned, edge.inward(1)) if index == 0 else (edge.inward(0), turned)
        stations.append(Station(edge.point(at, insets), *ways_in))
    return _overrun(stations)


def _unit_way(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def _mitre(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    """The way along the bisector of two pieces, long enough to keep the profile's width on both."""
    x, y = a[0] + b[0], a[1] + b[1]
    # |a + b| is 2 cos(half the turn); the mitre is 1 / cos(half) long.
    square = x * x + y * y
    if square < 1:
        # A turn of more than 120 degrees: a step in the face.
        raise CannotFollowError("the edge turns back on itself there")
    return (2 * x / square, 2 * y / square)


def _need_room(
    run: Sequence[tuple[float, float]], mitres: Sequence[tuple[float, float]], reach: float
) -> None:
    """Refuse a hollow that is tighter than the profile is wide."""
    inner = [
        (at + mitre[0] * reach, inset + mitre[1] * reach)
        for (at, inset), mitre in zip(run, mitres, strict=True)
    ]
    for (a, b), (c, d) in zip(pairwise(run), pairwise(inner), strict=True):
        if (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]) <= 0:
            raise CannotFollowError("the line bends more tightly than the profile is wide")


def _overrun(stations: Sequence[Station]) -> tuple[Station, ...]:
    """Carry both ends a little past the wood, the way that they run."""
    return (_beyond(stations[0], stations[1]), *stations, _beyond(stations[-1], stations[-2]))


def _beyond(end: Station, before: Station) -> Station:
    way = [float(a - b) for a, b in zip(end.point, before.point, strict=True)]
    length = math.hypot(*way)
    past = (way[0] / length, way[1] / length, way[2] / length)
    return Station(add(end.point, scale(past, float(PAST_MM))), end.across, end.down)


def around(
    outline: Outline, face: str, profile: Outline, body: Box, *, is_hole: bool = True
) -> Sweep:
    """Carry a profile round the rim of a hole through a face, or of what is left of the face.

    The profile's first axis runs from the rim into the wood, its second in from the face.

    Raises:
        CannotFollowError: Where the rim bends more tightly than the profile is wide.
    """
    corners = flatten(outline)
    doubled = sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*corners, corners[0]]))
    if doubled < 0:
        corners.reverse()
    ring = [corners[-1], *corners, corners[0]]
    side = 1 if is_hole else -1
    normals = [
        (side * way[1], -side * way[0]) for way in (_unit_way(a, b) for a, b in pairwise(ring))
    ]
    mitres = [_mitre(a, b) for a, b in pairwise(normals)]
    reach = max(float(corner[0]) for corner in flatten(profile))
    _need_room([*corners, corners[0]], [*mitres, mitres[0]], reach)
    axis, is_high = FACES[face]
    u, v = (other for other in Axis if other is not axis)
    down = unit(axis, -1 if is_high else 1)
    stations = tuple(
        Station(
            vector({u: corner[0], v: corner[1], axis: body.face_mm(face)}),
            vector({u: mitre[0], v: mitre[1]}),
            down,
        )
        for corner, mitre in zip(corners, mitres, strict=True)
    )
    return Sweep(tuple(flatten(profile)), stations, is_closed=True)


def corner_profile(start: Point, segments: tuple[Segment, ...]) -> Outline:
    """A profile's line with the corner that it cuts off, and a little outside the wood.

    Args:
        start: On the second face: (width, 0).
        segments: To a place on the first face: (0, width).
    """
    end = segments[-1].end
    past = -PAST_MM
    return Outline(
        start,
        (
            *segments,
            Line((past, end[1])),
            Line((past, past)),
            Line((start[0], past)),
            Line(start),
        ),
    )
