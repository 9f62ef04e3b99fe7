"""Where turned or trimmed copies meet: faces that touch over any figure, bodies that cross.

Takes two convex bodies where they stand, in the piece's axes, gives Contacts with a frame on the
true touching face. Works in floats; what comes out is rounded far below what a plan can mean.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from benchleaf.frames import Box, Frame, Vector, main_axis, tidy, tidy_point
from benchleaf.piece.bodies import (
    Array,
    Body,
    Facet,
    area_vector,
    clip_corners,
    common_body,
    extents_along,
)
from benchleaf.piece.records import Contact, ContactKind
from benchleaf.piece.turning import snap

# chosen: faces this near to one another touch, mm: less than a sheet of paper, more than an angle
# typed with three decimals leaves open over a yard.
TOUCH_MM: Final = 0.02
# chosen: two faces that lie together within this are parallel; sine of the angle between them.
_PARALLEL: Final = 1e-5
# chosen: a touch smaller than this is an edge or a corner, mm2.
_LEAST_MM2: Final = 0.5
# chosen: a frame is as good as another where its rectangle is larger by no more than this share.
_AS_GOOD: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A copy as it stands, for finding contacts."""

    mark: str
    body: Body
    """In the piece's axes."""
    axes: tuple[Vector, Vector, Vector]
    """Its own axes, in the piece's."""


def contacts_between(first: Standing, second: Standing) -> Iterator[Contact]:
    """Find where two copies touch or cross."""
    common = common_body(first.body, second.body)
    if common.facets and _thickness_mm(common) > TOUCH_MM:
        yield _crossing(first, second, common)
        return
    for facet in first.body.facets:
        for other in second.body.facets:
            touching = touching_figure(facet, other)
            if touching is not None:
                yield _face(first, second, facet=facet, figure=touching)


def _thickness_mm(body: Body) -> float:
    ways = [facet.normal for facet in body.facets]
    return min(high - low for low, high in extents_along(body.corners, ways))


def touching_figure(facet: Facet, other: Facet) -> Array | None:
    """The figure over which two faces touch, in order round it; None where they do not.

    Both must lie in one plane, back to back.
    """
    if float(facet.normal @ other.normal) > 0:
        return None
    if float(np.linalg.norm(np.cross(facet.normal, other.normal))) > _PARALLEL:
        return None
    gaps = other.corners @ facet.normal - facet.offset_mm
    if float(np.abs(gaps).max()) > TOUCH_MM:
        return None
    figure = facet.corners
    ring = other.corners - np.outer(gaps, facet.normal)
    for here, there in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        # The other face runs clockwise as seen along our normal: its inside lies to the right.
        out = np.cross(facet.normal, there - here)
        size = float(np.linalg.norm(out))
        if size == 0 or len(figure) < 3:
            continue
        figure = clip_corners(figure, (figure - here) @ (out / size))
    if len(figure) < 3 or float(area_vector(figure) @ facet.normal) < _LEAST_MM2:
        return None
    return figure


def _face(first: Standing, second: Standing, *, facet: Facet, figure: Array) -> Contact:
    normal = np.array([float(part) for part in snap(facet.normal)])
    # Where one of them shows a square face, as a seat does to its leg, it is marked out from that
    # face's edges, and the frame runs along them.
    squarely = [way for one in (first, second) if _faces(one, normal) for way in _ways(one)]
    edges = np.roll(figure, -1, axis=0) - figure
    u = _best_level(figure, normal, squarely or [*_ways(first), *_ways(second), *edges])
    frame = _frame_round(figure, [u, np.cross(normal, u)], normal)
    corners = [frame.inward((p[0], p[1], p[2])) for p in figure.tolist()]
    reach = [max(tidy(corner[axis]) for corner in corners) for axis in (0, 1)]
    outline = tuple((tidy(corner[0]), tidy(corner[1])) for corner in corners)
    area = float(area_vector(figure) @ facet.normal)
    is_whole = area >= float(reach[0] * reach[1]) * (1 - _AS_GOOD)
    return Contact(
        kind=ContactKind.FACE,
        first=first.mark,
        second=second.mark,
        frame=frame,
        u_mm=reach[0],
        v_mm=reach[1],
        n_mm=tidy(0.0),
        first_box=_box_in(frame, first.body),
        second_box=_box_in(frame, second.body),
        outline=() if is_whole else outline,
    )


def _crossing(first: Standing, second: Standing, common: Body) -> Contact:
    points = common.corners
    axes = _best_axes(points, [_ways(first), _ways(second), list(np.eye(3))])
    spans = [high - low for low, high in extents_along(points, axes)]
    order = sorted(range(3), key=lambda i: (round(spans[i], 6), -i))
    u, v, n = axes[order[2]], axes[order[1]], axes[order[0]]
    if spans[order[2]] - spans[order[1]] < _AS_GOOD and order[1] < order[2]:
        u, v = v, u
    frame = _frame_round(points, [u, v], _forward(n))
    ends = [frame.inward((p[0], p[1], p[2])) for p in points.tolist()]
    return Contact(
        kind=ContactKind.CROSSING,
        first=first.mark,
        second=second.mark,
        frame=frame,
        u_mm=max(tidy(end[0]) for end in ends),
        v_mm=max(tidy(end[1]) for end in ends),
        n_mm=max(tidy(end[2]) for end in ends),
        first_box=_box_in(frame, first.body),
        second_box=_box_in(frame, second.body),
        common_mm3=common.volume_mm3,
    )


def _faces(standing: Standing, normal: Array) -> bool:
    """Tell whether a face that looks along a normal is square to a copy's own axes."""
    return any(abs(float(way @ normal)) > 1 - _AS_GOOD for way in _ways(standing))


def _ways(standing: Standing) -> list[Array]:
    return [np.array([float(part) for part in axis]) for axis in standing.axes]


def _best_level(figure: Array, normal: Array, ways: Sequence[Array]) -> Array:
    """The direction in a figure's plane along which the rectangle round it is least.

    The copies' own axes come first, so that a rectangle that is as good runs with them.
    """
    best: tuple[float, Array] | None = None
    for way in ways:
        flat = way - normal * float(normal @ way)
        size = float(np.linalg.norm(flat))
        if size < 0.5 * float(np.linalg.norm(way)):  # stands across the face
            continue
        u = flat / size
        (a, b), (c, d) = extents_along(figure, [u, np.cross(normal, u)])
        area = (b - a) * (d - c)
        if best is None or area < best[0] * (1 - _AS_GOOD):
            best = (area, u)
    assert best is not None  # noqa: S101 - two of a copy's axes always lie that flat
    return best[1]


def _best_axes(points: Array, choices: Sequence[list[Array]]) -> list[Array]:
    """The axes along which the box round points is least; the first of those as good."""
    best: tuple[float, list[Array]] | None = None
    for axes in choices:
        spans = [high - low for low, high in extents_along(points, axes)]
        volume = float(np.prod(spans))
        if best is None or volume < best[0] * (1 - _AS_GOOD):
            best = (volume, axes)
    assert best is not None  # noqa: S101 - there are always choices
    return best[1]


def _forward(way: Array) -> Array:
    """A direction or its opposite: the one that runs with the piece's axis nearest to it."""
    return way if way[main_axis(snap(way))] > 0 else -way


def _frame_round(points: Array, flat: Sequence[Array], normal: Array) -> Frame:
    """A frame with its origin at the low corner of points; u is the longer side.

    Args:
        points: What lies in it.
        flat: Two directions, square to one another and to the normal.
        normal: Its third axis.
    """
    ways = [_forward(way) for way in flat]
    spans = [high - low for low, high in extents_along(points, ways)]
    if spans[1] > spans[0] + TOUCH_MM or (
        abs(spans[1] - spans[0]) <= TOUCH_MM and main_axis(snap(ways[1])) < main_axis(snap(ways[0]))
    ):
        ways.reverse()
    axes = [*ways, normal]
    low = [low for low, _ in extents_along(points, axes)]
    origin = sum((way * at for way, at in zip(axes, low, strict=True)), np.zeros(3))
    u, v, n = (snap(way) for way in axes)
    x, y, z = (float(part) for part in origin)
    frame = Frame((x, y, z), (u, v, n))
    return Frame(tidy_point(frame.origin), frame.axes)


def _box_in(frame: Frame, body: Body) -> Box:
    points = [tidy_point(frame.inward((p[0], p[1], p[2]))) for p in body.corners.tolist()]
    x, y, z = zip(*points, strict=True)
    return Box((min(x), min(y), min(z)), (max(x), max(y), max(z)))


def are_square_to_another(first: Frame, second: Frame) -> bool:
    """Tell whether the axes of two frames lie along one another."""
    if first.is_square and second.is_square:
        return True
    turned = [snap(second.inward_direction(axis)) for axis in first.axes]
    return all(sum(part == 0 for part in way) == 2 for way in turned)
