"""Where a part's own axes point: turned about a point, splayed, mirrored, copied along a row.

Takes a part as placed and the angles that the plan gives, gives a Frame: the part's own axes in the
piece's. Exact where nothing is turned, or turned by right angles.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from benchleaf.frames import FACES, Axis, Box, Frame, Number, Vector, tidy_point
from benchleaf.reading.turned import PlanSplay, PlanTurn

Matrix = NDArray[np.float64]

# chosen: a cosine this near to 0, 1 or -1 is one; floats lose a thousandth of it in a few turns.
_SQUARE = 1e-12
_UNITS: tuple[Vector, Vector, Vector] = ((1, 0, 0), (0, 1, 0), (0, 0, 1))


def square_frame(box: Box) -> Frame:
    """The frame of a part that stands as it is placed."""
    return Frame(box.low, _UNITS)


def turned_frame(box: Box, turns: Sequence[PlanTurn]) -> Frame:
    """The frame of a part that is turned, one turn after the other.

    Each turn is about an axis of the piece through a point of the part, which the turns before it
    have carried along.
    """
    frame = square_frame(box)
    for turn in turns:
        turning = _about(turn.about, math.radians(turn.angle_deg))
        own = _pivot(box, turn.pivot)
        frame = turn_frame(frame, turning, frame.outward(own))
    return frame


def splayed_frame(box: Box, splay: PlanSplay, outward: tuple[int, int]) -> Frame:
    """The frame of a leg whose foot goes out; the middle of its top stays where it is.

    It leans by the shortest way from upright, so that it is not twisted about its own axis.

    Args:
        box: The leg as placed.
        splay: The angles.
        outward: Which way out is, along wide and along deep: -1 or 1.
    """
    slopes = [math.tan(math.radians(a)) for a in (splay.side_deg, splay.front_deg)]
    up = np.array([-outward[0] * slopes[0], -outward[1] * slopes[1], 1.0])
    up /= np.linalg.norm(up)
    top = tuple(Fraction(extent) / 2 for extent in box.size[:2])
    pivot = square_frame(box).outward((top[0], top[1], box.size[2]))
    return turn_frame(square_frame(box), _shortest_to(up), pivot)


def _shortest_to(up: Matrix) -> Matrix:
    """The least turn that brings upright to a direction (Rodrigues' formula)."""
    across = np.cross([0.0, 0.0, 1.0], up)
    skew = np.cross(across, np.eye(3)).T
    turning: Matrix = np.eye(3) + skew + skew @ skew / (1 + up[2])
    return turning


def resultant_rad(side_rad: float, front_rad: float) -> tuple[float, float]:
    """How far a splayed leg leans in all, and along which line.

    Returns:
        Resultant angle from upright; sight line from the piece's wide axis. Source: rectangular
        components of a direction, tan of the whole squared is the sum of both tans squared.

    >>> [round(math.degrees(a), 4) for a in resultant_rad(math.radians(12), math.radians(7))]
    [13.7918, 30.0131]
    """
    side, front = math.tan(side_rad), math.tan(front_rad)
    return math.atan(math.hypot(side, front)), math.atan2(front, side)


def _about(axis: Axis, angle_rad: float) -> Matrix:
    """The matrix of a turn about an axis by the right-hand rule."""
    turning = np.eye(3)
    one, other = (axis + 1) % 3, (axis + 2) % 3
    turning[one, one] = turning[other, other] = math.cos(angle_rad)
    turning[other, one] = math.sin(angle_rad)
    turning[one, other] = -math.sin(angle_rad)
    return turning


def _pivot(box: Box, faces: Iterable[str]) -> Vector:
    """A point of a part in its own axes: the middle, or where faces meet."""
    point = [Fraction(extent) / 2 for extent in box.size]
    for face in faces:
        axis, is_high = FACES[face]
        point[axis] = Fraction(box.size[axis]) if is_high else Fraction(0)
    return (point[0], point[1], point[2])


def turn_frame(frame: Frame, turning: Matrix, pivot: Vector) -> Frame:
    """Turn a frame about a point of the outer axes."""
    u, v, n = (snap(turning @ _floats(axis)) for axis in frame.axes)
    arm = _floats(frame.origin) - _floats(pivot)
    moved = _floats(pivot) + turning @ arm
    return settle(Frame((float(moved[0]), float(moved[1]), float(moved[2])), (u, v, n)))


def settle(frame: Frame) -> Frame:
    """A frame that came out square again has an exact origin."""
    return Frame(tidy_point(frame.origin), frame.axes) if frame.is_square else frame


def snap(way: Vector | Matrix) -> Vector:
    """A unit vector whose parts are exact where they are 0, 1 or -1."""
    x, y, z = (_snap(part) for part in way)
    return (x, y, z)


def _snap(part: Number) -> Number:
    near = float(part)
    return round(near) if abs(near - round(near)) < _SQUARE else near


def _floats(vector: Vector) -> Matrix:
    return np.array([float(part) for part in vector])


def copied_frame(frame: Frame, overall: Box, *, slid: Vector, flipped: frozenset[Axis]) -> Frame:
    """The frame of a copy: slid along its row first, then mirrored across centre planes.

    Args:
        frame: The first copy's.
        overall: The box whose centre planes mirror.
        slid: How far along the row, mm.
        flipped: Axes that are mirrored.
    """
    origin = [a + b for a, b in zip(frame.origin, slid, strict=True)]
    for axis in flipped:
        origin[axis] = overall.low[axis] + overall.high[axis] - origin[axis]
    u, v, n = (_flip(way, flipped) for way in frame.axes)
    return Frame((origin[0], origin[1], origin[2]), (u, v, n))


def _flip(way: Vector, flipped: frozenset[Axis]) -> Vector:
    x, y, z = (-part if part and axis in flipped else part for axis, part in enumerate(way))
    return (x, y, z)
