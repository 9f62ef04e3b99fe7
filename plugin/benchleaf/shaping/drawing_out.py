"""Outlines on a face drawn out into the wood, and lines along a face drawn out across it.

Takes outlines in mm, gives prisms and boxes in a part's own axes. Knows no kind of shaping.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from benchleaf.forms import Bore, Prism
from benchleaf.frames import FACES, Axis, Box, Frame, Number, Vector
from benchleaf.outlines import Line, Outline, Point, Segment, mapped
from benchleaf.shaping.bench import PAST_MM, face_axes
from benchleaf.shaping.records import FaceLine


def unit(axis: Axis, sign: int = 1) -> Vector:
    """The unit vector along an own axis."""
    x, y, z = (sign * int(other is axis) for other in Axis)
    return (x, y, z)


def vector(values: dict[Axis, Number]) -> Vector:
    """A point from its parts along own axes; 0 where there is none."""
    x, y, z = (values.get(axis, Fraction(0)) for axis in Axis)
    return (x, y, z)


def through(face: str, outline: Outline, body: Box) -> Prism:
    """Draw an outline on a face out through the whole part, and past it on both sides."""
    axis = FACES[face][0]
    u, v = face_axes(face)
    frame = Frame(vector({axis: -PAST_MM}), (unit(u), unit(v), unit(axis)))
    return Prism(frame, outline, Fraction(body.size[axis]) + 2 * PAST_MM)


def into(face: str, outline: Outline, depth_mm: Fraction, body: Box) -> Prism:
    """Draw an outline on a face out to a depth."""
    axis, is_high = FACES[face]
    u, v = face_axes(face)
    start = body.high[axis] - depth_mm if is_high else -PAST_MM
    frame = Frame(vector({axis: start}), (unit(u), unit(v), unit(axis)))
    return Prism(frame, outline, depth_mm + PAST_MM)


def bore_into(
    face: str, at: tuple[Fraction, Fraction], body: Box, *, diameter: Fraction, depth: Fraction
) -> Bore:
    """A round hole square to a face."""
    axis, is_high = FACES[face]
    u, v = face_axes(face)
    mouth = vector({u: at[0], v: at[1], axis: body.face_mm(face)})
    return Bore(mouth, unit(axis, -1 if is_high else 1), diameter, depth, diameter)


def across(line: FaceLine, body: Box) -> Prism:
    """The wood between a face and the line that it is cut to, all across the part."""
    axis, is_high = FACES[line.face]
    other = crossing_axis(line)
    origin = vector({axis: body.face_mm(line.face), other: -PAST_MM})
    frame = Frame(origin, (unit(line.along), unit(axis, -1 if is_high else 1), unit(other)))
    return Prism(frame, line_outline(line), Fraction(body.size[other]) + 2 * PAST_MM)


def crossing_axis(line: FaceLine) -> Axis:
    """The own axis that a line along a face is drawn out on."""
    return Axis(3 - line.along - FACES[line.face][0])


def line_outline(line: FaceLine) -> Outline:
    """The waste between a line and its face, a little past the face: (along, inset)."""
    end = line.segments[-1].end
    return Outline(
        line.start,
        (
            *line.segments,
            Line((end[0], -PAST_MM)),
            Line((line.start[0], -PAST_MM)),
            Line(line.start),
        ),
    )


def on_face(line: FaceLine, body: Box) -> Outline:
    """The line that a face is cut to, closed along the face, in own axes of the face that shows it.

    The first of the two is the axis that comes first among wide, deep and high.
    """
    axis, is_high = FACES[line.face]
    base = body.face_mm(line.face)
    sign = -1 if is_high else 1

    def place(point: Point) -> Point:
        along, inset = point[0], base + sign * point[1]
        return (along, inset) if line.along < axis else (inset, along)

    turns_over = (sign < 0) != (line.along > axis)
    end = line.segments[-1].end
    edge: list[Segment] = [Line(place((end[0], 0))), Line(place((line.start[0], 0)))]
    return Outline(
        place(line.start),
        (
            *(mapped(segment, place, turns_over=turns_over) for segment in line.segments),
            *edge,
            Line(place(line.start)),
        ),
    )


def corners_inside(points: Sequence[Point], sides: tuple[Number, Number]) -> bool:
    """Tell whether points lie on a face, its edges counted in."""
    return all(0 <= p[0] <= sides[0] and 0 <= p[1] <= sides[1] for p in points)
