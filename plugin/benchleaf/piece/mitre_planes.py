"""The plane of a mitre between two boards that stand at any angle to one another.

Takes the boards' frames and sizes, gives the plane in the piece's axes. Must not know plans.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from benchleaf.frames import Axis, Frame, Number, Vector, dot, face_name, scale, subtract

# chosen: faces that turn less than this from one line make no corner; sine of an angle.
_LEAST_TURN = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class BroadFace:
    """One of the two broad faces of a board, in the piece's axes."""

    name: str
    """By the board's own axes: `front`."""
    point: Vector
    normal: Vector
    """Unit vector out of the wood."""
    thickness_mm: Number
    """Of the board behind it."""


def broad_faces(frame: Frame, size: Vector, thickness: Axis) -> tuple[BroadFace, BroadFace]:
    """The two broad faces of a board."""
    way = frame.axes[thickness]
    top = tuple(size[axis] if axis is thickness else 0 for axis in Axis)
    return (
        BroadFace(
            name=face_name(thickness, False),
            point=frame.origin,
            normal=scale(way, -1),
            thickness_mm=size[thickness],
        ),
        BroadFace(
            name=face_name(thickness, True),
            point=frame.outward((top[0], top[1], top[2])),
            normal=way,
            thickness_mm=size[thickness],
        ),
    )


def middle_of(frame: Frame, size: Vector) -> Vector:
    """The middle of a board."""
    return frame.outward((size[0] / 2, size[1] / 2, size[2] / 2))


def outer_face(faces: Sequence[BroadFace], mate: Vector) -> BroadFace:
    """The face that looks away from the middle of the board at the other side of the corner."""
    return min(faces, key=lambda face: float(dot(subtract(mate, face.point), face.normal)))


def mitre_plane(one: BroadFace, other: BroadFace) -> tuple[Vector, Vector] | None:
    """A point and the unit normal of the plane through the outer and the inner corner.

    Every point of it lies as many thicknesses behind the one outer face as behind the other. None
    where the faces make no corner.
    """
    n, m = ([float(part) for part in face.normal] for face in (one, other))
    cosine = sum(a * b for a, b in zip(n, m, strict=True))
    if 1 - cosine * cosine < _LEAST_TURN**2:
        return None
    d, e = (float(dot(face.normal, face.point)) for face in (one, other))
    a, b = ((x - y * cosine) / (1 - cosine * cosine) for x, y in ((d, e), (e, d)))
    point = [a * p + b * q for p, q in zip(n, m, strict=True)]
    s, t = float(one.thickness_mm), float(other.thickness_mm)
    way = [p / s - q / t for p, q in zip(n, m, strict=True)]
    length = math.hypot(*way)
    return (point[0], point[1], point[2]), (way[0] / length, way[1] / length, way[2] / length)
