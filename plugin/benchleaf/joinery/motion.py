"""Proof by motion: what stands in the way when one solid moves straight off, and how soon.

Takes solids in their places as triangles, gives for pairs of them whether the first runs into the
second. Two solids share no volume where they stand. On a line along the motion each is a row of
stretches of wood, so the first is stopped if and only if, somewhere over the area that both cover
as seen along the motion, the far side of the second lies ahead of the near side of the first. That
is looked at face by face, so it is exact for plane faces. Must not know joints or wood.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from manifold3d import Manifold
from numpy.typing import NDArray

from benchleaf.frames import Vector
from benchleaf.joinery.clipping import (
    Floats,
    Ints,
    areas,
    depth_between,
    overlap_where_deeper,
    ragged_product,
    widths,
)
from benchleaf.piece.solids import axes_along

Flags = NDArray[np.bool_]

# chosen: less than a shaving (0.1 mm) and far above what rounding leaves (1e-9 mm); a face that
# slides along another may stand proud by this. mm
DEPTH_MM = 0.05
# chosen: a strip of wood that is thinner than this stops nothing; it is also more than a round
# drawn with 32 sides strays from a round drawn with them turned, up to 80 mm across. mm
WIDTH_MM = 0.2
# chosen: a face leans towards the motion if its normal does by more than this; frames of turned
# parts are good to 1e-12.
EDGE_ON = 1e-9
# chosen: pairs of triangles looked at together; some 100 MB at the most.
_CHUNK = 400_000
# chosen: of each body, as many of its largest triangles are tried first; they stop most of what is
# stopped.
_TRIED_FIRST = 4
# chosen: closes the seams between strips that were cut apart; far below the width that counts. mm
_SEAM_MM = 1e-4
# chosen: relative places that agree to this are the same place. mm
_SAME_PLACE_DIGITS = 6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bodies:
    """Solids in their places, as triangles."""

    corners: Floats
    """(t, 3, 3) corners of all triangles, counter-clockwise from outside, mm."""
    starts: Ints
    """(n + 1,) where each body's triangles start."""
    low: Floats
    """(n, 3) low corners of the boxes round them, mm."""
    high: Floats
    """(n, 3) high corners."""
    forms: Ints
    """(n,) bodies of equal number are the same but for a shift."""


def bodies_of(solids: Iterable[Manifold]) -> Bodies:
    """Make solids ready for motion."""
    each = [_triangles_of(solid) for solid in solids]
    low = np.array([own.min(axis=(0, 1)) for own in each]).reshape(-1, 3)
    high = np.array([own.max(axis=(0, 1)) for own in each]).reshape(-1, 3)
    forms: dict[bytes, int] = {}
    keys = (np.round(own - at, _SAME_PLACE_DIGITS) for own, at in zip(each, low, strict=True))
    return Bodies(
        corners=np.concatenate([np.zeros((0, 3, 3)), *each]),
        starts=np.cumsum([0, *map(len, each)]),
        low=low,
        high=high,
        # Adding nothing turns -0.0 into 0.0, which has other bytes.
        forms=np.array([forms.setdefault((k + 0.0).tobytes(), len(forms)) for k in keys], int),
    )


def _triangles_of(solid: Manifold) -> Floats:
    mesh = solid.to_mesh64()
    vertices = np.array(mesh.vert_properties, dtype=np.float64)[:, :3]
    triangles = vertices[np.array(mesh.tri_verts, dtype=np.intp)]
    # A part that its joints eat up whole stands nowhere and stops nothing.
    return triangles if len(triangles) else np.zeros((1, 3, 3))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Held:
    """Some triangles of each of several bodies: members[starts[i] : starts[i] + counts[i]]."""

    members: Ints
    starts: Ints
    counts: Ints

    def first(self, most: int) -> _Held:
        """No more than some of each."""
        counts = np.minimum(self.counts, most)
        return _Held(members=self.members, starts=self.starts, counts=counts)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Cases:
    """Pairs of bodies, and how far the first of each has been moved, in a sight's axes."""

    first: Ints
    second: Ints
    shift: Floats

    def some(self, chosen: Ints | slice) -> _Cases:
        """Those chosen."""
        return _Cases(
            first=self.first[chosen], second=self.second[chosen], shift=self.shift[chosen]
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Common:
    """Areas that a triangle of the first body and one of the second have in common."""

    case: Ints
    """(n,) number of the pair of bodies."""
    area: Floats
    """(n, k, 2) corners, see `overlap_where_deeper`."""
    below: Floats
    """(n, 3, 3) the triangle of the first body."""
    above: Floats
    """(n, 3, 3) that of the second."""


class Sight:
    """Bodies as seen along one direction: two coordinates across it, then depth along it."""

    def __init__(self, bodies: Bodies, direction: Vector) -> None:
        """Look along a direction, a unit vector."""
        self._bodies = bodies
        self._axes = axes_along(np.array([float(part) for part in direction]))
        self._corners = bodies.corners @ self._axes.T
        self._boxes = np.stack([self._corners.min(axis=1), self._corners.max(axis=1)])
        starts = bodies.starts[:-1]
        self._low = np.minimum.reduceat(self._boxes[0], starts, axis=0)
        self._high = np.maximum.reduceat(self._boxes[1], starts, axis=0)
        leaning, sizes = _leaning(self._corners)
        owners = np.repeat(np.arange(len(starts)), np.diff(bodies.starts))
        self._near = _largest_first(leaning < 0, owners, sizes)
        self._far = _largest_first(leaning > 0, owners, sizes)

    def stops(self, pairs: Ints, shift_mm: Vector = (0, 0, 0)) -> Flags:
        """Tell for pairs of bodies whether the first runs into the second on its way to infinity.

        Args:
            pairs: (k, 2) numbers of bodies.
            shift_mm: How far the first of each has been moved from its place.
        """
        cases, which, place = self._distinct(pairs, shift_mm)
        found = np.zeros(len(cases.first), dtype=bool)
        for near, far in (
            (self._near.first(_TRIED_FIRST), self._far.first(_TRIED_FIRST)),
            (self._near, self._far),
        ):
            fresh = np.flatnonzero(~found)
            found[fresh] = self._meets(cases.some(fresh), near, far)
        result = np.zeros(len(pairs), dtype=bool)
        result[place] = found[which]
        return result

    def travels(self, pairs: Ints, shift_mm: Vector = (0, 0, 0)) -> Floats:
        """How far the first of each pair goes before it meets the second, (k,), mm or infinite.

        Args:
            pairs: (k, 2) numbers of bodies.
            shift_mm: As in `stops`.
        """
        cases, which, place = self._distinct(pairs, shift_mm)
        found = np.full(len(cases.first), np.inf)
        thin: dict[int, list[tuple[float, Floats]]] = {}
        for common in self._commons(cases, self._far, self._near, by_mm=-DEPTH_MM):
            gaps = depth_between(common.below, common.above, common.area).min(axis=1)
            gaps, wide = np.maximum(gaps, 0.0), widths(common.area) > WIDTH_MM
            np.minimum.at(found, common.case[wide], gaps[wide])
            for index in np.flatnonzero(~wide):
                strip = (float(gaps[index]), common.area[index])
                thin.setdefault(int(common.case[index]), []).append(strip)
        for case, strips in thin.items():
            soonest = min(gap for gap, _ in strips)
            if soonest < found[case] and _is_wide_together([area for _, area in strips]):
                found[case] = soonest
        result = np.full(len(pairs), np.inf)
        result[place] = found[which]
        return result

    def levels(self, numbers: Iterable[int]) -> Floats:
        """The depths at which corners of bodies lie, each once, from least to most, mm."""
        starts = self._bodies.starts
        held = [self._corners[starts[n] : starts[n + 1], :, 2].ravel() for n in numbers]
        return np.unique(np.round(np.concatenate(held), _SAME_PLACE_DIGITS))

    def _distinct(self, pairs: Ints, shift_mm: Vector) -> tuple[_Cases, Ints, Ints]:
        """Pairs that may meet, those in the same place to each other once.

        Returns:
            The cases; for each pair that may meet, its case; and which pairs those are.
        """
        shift = np.array([float(part) for part in shift_mm])
        across = shift @ self._axes.T
        first, second = pairs[:, 0], pairs[:, 1]
        low = np.maximum(self._low[first] + across, self._low[second])
        high = np.minimum(self._high[first] + across, self._high[second])
        is_near = (high - low > WIDTH_MM / 2)[:, :2].all(axis=1)
        is_near &= self._high[second, 2] > self._low[first, 2] + across[2] + DEPTH_MM
        place = np.flatnonzero(is_near)
        first, second = first[place], second[place]
        bodies = self._bodies
        apart = np.round(bodies.low[second] - bodies.low[first] - shift, _SAME_PLACE_DIGITS)
        keys = np.column_stack([bodies.forms[first], bodies.forms[second], apart + 0.0])
        _, at, which = np.unique(keys, axis=0, return_index=True, return_inverse=True)
        cases = _Cases(
            first=first[at], second=second[at], shift=np.broadcast_to(across, (len(at), 3))
        )
        return cases, which.reshape(-1), place

    def _meets(self, cases: _Cases, near: _Held, far: _Held) -> Flags:
        """Tell for each case whether a far face of the second lies ahead of a near one's."""
        found = np.zeros(len(cases.first), dtype=bool)
        thin: dict[int, list[Floats]] = {}
        for common in self._commons(cases, near, far, by_mm=DEPTH_MM):
            wide = widths(common.area) > WIDTH_MM
            found[common.case[wide]] = True
            for index in np.flatnonzero(~wide & ~found[common.case]):
                thin.setdefault(int(common.case[index]), []).append(common.area[index])
        for case, pieces in thin.items():
            found[case] = found[case] or _is_wide_together(pieces)
        return found

    def _commons(
        self, cases: _Cases, lower: _Held, upper: _Held, *, by_mm: float
    ) -> Iterator[_Common]:
        """Areas in which a face of the second lies deeper than one of the first, by a depth."""
        ones = self._in_shadow(cases, lower, by_mm=by_mm, is_first=True)
        others = self._in_shadow(cases, upper, by_mm=by_mm, is_first=False)
        for case, one, other in ragged_product(ones.counts, others.counts, _CHUNK):
            first = ones.members[ones.starts[case] + one]
            second = others.members[others.starts[case] + other]
            meets = _boxes_meet(
                self._boxes[:, first] + cases.shift[case], self._boxes[:, second], by_mm
            )
            held = case[meets]
            below = self._corners[first[meets]] + cases.shift[held][:, None]
            above = self._corners[second[meets]]
            area = overlap_where_deeper(below, above, by_mm)
            there = areas(area) > 0
            yield _Common(
                case=held[there], area=area[there], below=below[there], above=above[there]
            )

    def _in_shadow(self, cases: _Cases, faces: _Held, *, by_mm: float, is_first: bool) -> _Held:
        """Of one body of each case, the triangles that the other may meet."""
        own = cases.first if is_first else cases.second
        round_first = np.stack([self._low[cases.first], self._high[cases.first]]) + cases.shift
        round_second = np.stack([self._low[cases.second], self._high[cases.second]])
        kept_members, kept_cases = [], []
        for case, _, member in ragged_product(np.ones_like(own), faces.counts[own], _CHUNK):
            triangle = faces.members[faces.starts[own[case]] + member]
            boxes = self._boxes[:, triangle]
            if is_first:
                meets = _boxes_meet(boxes + cases.shift[case], round_second[:, case], by_mm)
            else:
                meets = _boxes_meet(round_first[:, case], boxes, by_mm)
            kept_members.append(triangle[meets])
            kept_cases.append(case[meets])
        none = np.zeros(0, dtype=np.intp)
        counts = np.bincount(np.concatenate([none, *kept_cases]), minlength=len(own))
        return _Held(
            members=np.concatenate([none, *kept_members]),
            starts=np.cumsum(counts) - counts,
            counts=counts,
        )


def _boxes_meet(first: Floats, second: Floats, by_mm: float) -> Flags:
    """Tell whether boxes overlap across, with the second's far end deeper than the first's near.

    Args:
        first: (2, k, 3) low and high corners.
        second: (2, k, 3) those of the others.
        by_mm: By how much deeper.
    """
    low, high = np.maximum(first[0], second[0]), np.minimum(first[1], second[1])
    across = (low[:, 0] < high[:, 0]) & (low[:, 1] < high[:, 1])
    return np.asarray(across & (second[1, :, 2] - first[0, :, 2] > by_mm))


def _leaning(corners: Floats) -> tuple[Floats, Floats]:
    """Which way triangles lean along the depth, -1, 0 or 1; and their areas seen along it, mm2."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    normals = np.cross(b - a, c - a)
    tilt = normals[:, 2]
    leans = np.abs(tilt) > EDGE_ON * np.linalg.norm(normals, axis=1)
    return np.where(leans, np.sign(tilt), 0.0), np.abs(tilt) / 2


def _largest_first(chosen: Flags, owners: Ints, sizes: Floats) -> _Held:
    """The chosen triangles of each body, the largest first."""
    members = np.flatnonzero(chosen)
    order = np.lexsort((-sizes[members], owners[members]))
    counts = np.bincount(owners[members], minlength=int(owners[-1]) + 1)
    return _Held(members=members[order], starts=np.cumsum(counts) - counts, counts=counts)


def _is_wide_together(pieces: Sequence[Floats]) -> bool:
    """Tell whether strips that are thin each by itself stop something side by side."""
    # chosen: a round spot as wide as the width that counts is the least that could.
    if float(areas(np.array(pieces)).sum()) < np.pi / 4 * WIDTH_MM**2:
        return False
    whole = shapely.union_all(shapely.buffer(shapely.polygons(np.array(pieces)), _SEAM_MM))
    return not shapely.buffer(whole, -WIDTH_MM / 2 - _SEAM_MM).is_empty
