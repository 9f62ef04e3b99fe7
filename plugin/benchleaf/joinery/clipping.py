"""Common areas of many pairs of triangles at once.

Takes triangles in a plane with a depth at each corner, gives how much of each pair overlaps where
the one lies deeper. Must not know solids or wood.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

# chosen: far below any width that counts, far above what rounding makes of a point. mm
_LEAST_GIRTH_MM = 1e-3


def overlap_where_deeper(below: Floats, above: Floats, by_mm: float) -> Floats:
    """Cut each triangle to its partner's, where the partner lies deeper by more than a depth.

    Args:
        below: (n, 3, 3) corners of triangles: two coordinates in the plane, then depth, mm.
        above: (n, 3, 3) corners of their partners.
        by_mm: How much greater the partner's depth is to be; may be negative.

    Returns:
        (n, k, 2) corners of the common areas, corners repeated where there are fewer; those of an
        empty area all lie in one point.

    >>> low = np.array([[[0.0, 0, 0], [2, 0, 0], [0, 2, 0]]])
    >>> high = low + [1.0, 0, 5]
    >>> areas(overlap_where_deeper(low, high, 4.0)).tolist()
    [0.5]
    >>> areas(overlap_where_deeper(low, high, 6.0)).tolist()
    [0.0]
    """
    flat = _wound(above[:, :, :2])
    common = below[:, :, :2]
    for corner in range(3):
        common = _cut(common, _left_of(common, flat[:, corner], flat[:, (corner + 1) % 3]))
    slope_a, slope_b = _plane(below), _plane(above)
    slope = slope_b - slope_a
    above_by = np.einsum("nkc,nc->nk", common, slope[:, :2]) + slope[:, None, 2] - by_mm
    return _cut(common, above_by)


def depth_between(below: Floats, above: Floats, at: Floats) -> Floats:
    """How much deeper the partner's plane lies at points, (n, k), mm.

    Args:
        below: (n, 3, 3) corners of triangles, as in `overlap_where_deeper`.
        above: (n, 3, 3) corners of their partners.
        at: (n, k, 2) points.
    """
    slope = _plane(above) - _plane(below)
    return np.asarray(np.einsum("nkc,nc->nk", at, slope[:, :2]) + slope[:, None, 2])


def areas(corners: Floats) -> Floats:
    """Areas of polygons, (n,), mm2, whichever way round they go."""
    # Taken from a corner, small ones far out lose nothing to rounding.
    spokes = corners - corners[:, :1]
    return np.asarray(np.abs(_cross(spokes[:, :-1], spokes[:, 1:]).sum(axis=1)) / 2)


def widths(corners: Floats) -> Floats:
    """Twice the area over the girth: what a long strip is wide, (n,), mm.

    >>> widths(np.array([[[0.0, 0], [100, 0], [100, 0.5], [0, 0.5]]])).round(2).tolist()
    [0.5]
    """
    edges = np.roll(corners, -1, axis=1) - corners
    girth = np.sqrt((edges**2).sum(axis=2)).sum(axis=1)
    twice = 2 * areas(corners)
    counts = girth > _LEAST_GIRTH_MM
    return np.asarray(np.divide(twice, girth, out=np.zeros_like(girth), where=counts))


def _wound(flat: Floats) -> Floats:
    """The same triangles, counter-clockwise."""
    a, b, c = flat[:, 0], flat[:, 1], flat[:, 2]
    turned = _cross(b - a, c - a) < 0
    return np.where(turned[:, None, None], flat[:, ::-1], flat)


def _cross(u: Floats, v: Floats) -> Floats:
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])


def _left_of(points: Floats, start: Floats, end: Floats) -> Floats:
    """How far points lie to the left of lines, (n, k), mm."""
    along = end - start
    length = np.sqrt((along**2).sum(axis=1))[:, None]
    aside = _cross(along[:, None], points - start[:, None])
    return np.asarray(np.divide(aside, length, out=np.zeros_like(aside), where=length > 0))


def _plane(corners: Floats) -> Floats:
    """Depth as a linear function over the plane: two slopes and the depth at the origin, (n, 3)."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    u, v = b - a, c - a
    twice = _cross(u, v)
    safe = np.where(twice == 0, 1.0, twice)
    slope_x = (u[:, 2] * v[:, 1] - v[:, 2] * u[:, 1]) / safe
    slope_y = (v[:, 2] * u[:, 0] - u[:, 2] * v[:, 0]) / safe
    return np.stack([slope_x, slope_y, a[:, 2] - slope_x * a[:, 0] - slope_y * a[:, 1]], axis=1)


def _cut(corners: Floats, side: Floats) -> Floats:
    """Keep of convex polygons what lies where a linear function is not negative.

    Args:
        corners: (n, k, 2) corners, in order.
        side: (n, k) the function at the corners.

    Returns:
        (n, k + 1, 2) corners of what is kept, the first one repeated at the end.
    """
    count, most = side.shape
    following = np.roll(side, -1, axis=1)
    inside = side >= 0
    crosses = inside != (following >= 0)
    share = np.divide(side, side - following, out=np.zeros_like(side), where=crosses)
    between = corners + share[..., None] * (np.roll(corners, -1, axis=1) - corners)
    offered = np.stack([corners, between], axis=2).reshape(count, 2 * most, 2)
    kept = np.stack([inside, crosses], axis=2).reshape(count, 2 * most)
    order = np.argsort(~kept, axis=1, kind="stable")[:, : most + 1]
    held = np.take_along_axis(offered, order[..., None], axis=1)
    is_there = np.take_along_axis(kept, order, axis=1)
    return np.where(is_there[..., None], held, held[:, :1])


def ragged_product(first: Ints, second: Ints, most: int) -> Iterator[tuple[Ints, Ints, Ints]]:
    """Number all pairs of members of two groups, for many groups at once.

    Args:
        first: Sizes of the one group of each case.
        second: Sizes of the other.
        most: How many pairs to give at a time.

    Yields:
        Case, member of the one, member of the other, each (k,) with k at most `most`.

    >>> for part in ragged_product(np.array([2, 0, 1]), np.array([1, 5, 2]), 3):
    ...     print([numbers.tolist() for numbers in part])
    [[0, 0, 2], [0, 1, 0], [0, 0, 0]]
    [[2], [0], [1]]
    """
    ends = np.cumsum(first * second)
    total = int(ends[-1]) if len(ends) else 0
    for start in range(0, total, most):
        number = np.arange(start, min(start + most, total))
        case = np.searchsorted(ends, number, side="right")
        within = number - (ends - first * second)[case]
        yield case, within // second[case], within % second[case]
