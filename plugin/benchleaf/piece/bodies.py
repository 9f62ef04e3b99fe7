"""Convex bodies with flat faces: what contacts between turned parts are worked out on.

Takes boxes, planes and frames, gives bodies in floats, mm. Faces keep the name of the part's face
that they are or were cut from. Knows nothing of wood.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchleaf.frames import FACES, Box, Frame, Vector

Array = NDArray[np.float64]

# chosen: a point this near to a plane lies in it, mm; floats lose a thousandth of it in a room.
FLAT_MM = 1e-7


@dataclass(frozen=True, slots=True)
class Facet:
    """One flat face of a body."""

    name: str
    """The part's own face."""
    normal: Array
    """Unit vector, outward."""
    corners: Array
    """(n, 3) float, mm, in order round the face; not closed."""

    @property
    def offset_mm(self) -> float:
        """Where its plane lies along its normal, mm."""
        return float(self.normal @ self.corners[0])


@dataclass(frozen=True, slots=True)
class Body:
    """A convex body; empty where it has no faces."""

    facets: tuple[Facet, ...]

    @property
    def corners(self) -> Array:
        """All corners, once for each face that has them."""
        if not self.facets:
            return np.zeros((0, 3))
        return np.concatenate([facet.corners for facet in self.facets])

    @property
    def volume_mm3(self) -> float:
        """Volume, by the divergence theorem: a third of each face's area times its offset."""
        middle = self.corners.mean(axis=0) if self.facets else np.zeros(3)
        return sum(
            area_of(facet) * float(facet.normal @ (facet.corners[0] - middle)) / 3
            for facet in self.facets
        )


def area_of(facet: Facet) -> float:
    """Area of a face, mm2."""
    return float(area_vector(facet.corners) @ facet.normal)


def area_vector(corners: Array) -> Array:
    """Half the sum of the cross products round a flat figure: its area, along its normal."""
    around = np.cross(corners, np.roll(corners, -1, axis=0))
    total: Array = around.sum(axis=0) / 2
    return total


def body_of_box(box: Box) -> Body:
    """A box as a body in the same axes."""
    low, high = (np.array([float(v) for v in end]) for end in (box.low, box.high))
    return Body(tuple(_side(face, low, high) for face in FACES))


def _side(face: str, low: Array, high: Array) -> Facet:
    axis, is_high = FACES[face]
    one, other = (axis + 1) % 3, (axis + 2) % 3
    corners = np.tile(high if is_high else low, (4, 1))
    corners[:, one] = [low[one], high[one], high[one], low[one]]
    corners[:, other] = [low[other], low[other], high[other], high[other]]
    normal = np.zeros(3)
    normal[axis] = 1.0 if is_high else -1.0
    return Facet(face, normal, corners if is_high else corners[::-1])


def move_body(body: Body, frame: Frame) -> Body:
    """Move a body from a frame's own axes to the outer ones; a mirrored frame mirrors it."""
    axes = np.array([[float(part) for part in axis] for axis in frame.axes])
    origin = np.array([float(part) for part in frame.origin])
    step = -1 if frame.is_mirrored else 1
    return Body(
        tuple(
            Facet(facet.name, facet.normal @ axes, (facet.corners @ axes + origin)[::step])
            for facet in body.facets
        )
    )


def cut_body(body: Body, normal: Vector | Array, offset_mm: float, *, name: str = "") -> Body:
    """Cut a body along a plane; what lies beyond it, along the normal, falls away."""
    way = np.array([float(part) for part in normal])
    kept = [_clip(facet, way, offset_mm) for facet in body.facets]
    left = [facet for facet in kept if facet is not None]
    if len(left) < 3:
        return Body(())
    if any(np.all(np.abs(facet.corners @ way - offset_mm) <= FLAT_MM) for facet in left):
        return Body(tuple(left))
    cap = _cap(left, way, offset_mm)
    return Body((*left, Facet(name, way, cap))) if cap is not None else Body(tuple(left))


def _clip(facet: Facet, way: Array, offset_mm: float) -> Facet | None:
    beyond = facet.corners @ way - offset_mm
    if np.all(beyond <= FLAT_MM):
        return facet
    corners = clip_corners(facet.corners, beyond)
    return Facet(facet.name, facet.normal, corners) if len(corners) > 2 else None


def clip_corners(corners: Array, beyond: Array) -> Array:
    """Cut a flat convex figure (Sutherland and Hodgman, 1974).

    Args:
        corners: (n, d) float, in order.
        beyond: For each corner, how far it lies beyond the cut, mm.
    """
    kept: list[Array] = []
    for i, (here, far) in enumerate(zip(corners, beyond, strict=True)):
        j = (i + 1) % len(corners)
        if far <= FLAT_MM:
            kept.append(here)
        if (far < -FLAT_MM and beyond[j] > FLAT_MM) or (far > FLAT_MM and beyond[j] < -FLAT_MM):
            kept.append(here + (corners[j] - here) * (far / (far - beyond[j])))
    return np.array(kept) if len(kept) > 2 else np.zeros((0, corners.shape[1]))


def _cap(facets: Sequence[Facet], way: Array, offset_mm: float) -> Array | None:
    """The new face that a cut opens: the corners that lie in its plane, in order round it."""
    every = np.concatenate([facet.corners for facet in facets])
    flat = every[np.abs(every @ way - offset_mm) <= 2 * FLAT_MM]
    points = _apart(flat)
    if len(points) < 3:
        return None
    u = points[1] - points[0]
    u /= np.linalg.norm(u)
    v = np.cross(way, u)
    middle = points.mean(axis=0)
    turns = np.arctan2((points - middle) @ v, (points - middle) @ u)
    ordered: Array = points[np.argsort(turns, kind="stable")]
    return ordered


def _apart(points: Array) -> Array:
    """Points without those that stand at one already there."""
    kept: list[Array] = []
    for point in points:
        if all(np.linalg.norm(point - other) > 10 * FLAT_MM for other in kept):
            kept.append(point)
    return np.array(kept)


def common_body(first: Body, second: Body) -> Body:
    """What two bodies share."""
    common = first
    for facet in second.facets:
        common = cut_body(common, facet.normal, facet.offset_mm, name=facet.name)
    return common


def extents_along(points: Array, ways: Iterable[Array]) -> list[tuple[float, float]]:
    """How far points reach along each of several directions, low and high, mm."""
    return [(float(along.min()), float(along.max())) for along in (points @ way for way in ways)]
