"""A joint's sketch on paper: its marks round their own origin.

Takes a sketch in wood and rulers from wood to paper, gives marks. Must not know sizes or what
stands beside.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely

from benchleaf.drawing.break_lines import break_line
from benchleaf.drawing.clearance import Rectangle, box_round
from benchleaf.drawing.joint_views import Faces, Sketch, Wood
from benchleaf.drawing.orthographic import Facing, Segment
from benchleaf.drawing.rulers import Ruler
from benchleaf.drawing.scene import Area, Circle, Line, Mark, Point, Role
from benchleaf.frames import Box, Vector

# chosen: a break line passes the outline by 1.5 mm, so that it is seen to cut it.
_OVERRUN_MM = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """One view's way from the contact's frame to paper."""

    facing: Facing
    level: Ruler
    upright: Ruler

    def on_paper(self, flat: Point) -> Point:
        """A point of the picture plane, on paper, where y runs down."""
        return self.level.at(flat[0]), -self.upright.at(flat[1])

    def point(self, place: Vector) -> Point:
        """A point of the contact's frame, on paper."""
        return self.on_paper(self.facing.flat(place))

    def box(self, box: Box) -> Rectangle:
        """A box of the contact's frame, on paper."""
        return box_round([self.point(box.low), self.point(box.high)])

    def span(self, corners: tuple[Point, Point]) -> Rectangle:
        """A rectangle of the picture plane, on paper."""
        return box_round([self.on_paper(corner) for corner in corners])


def draw_sketch(sketch: Sketch, plane: Plane) -> Iterator[Mark]:
    """Draw a seat or a section."""
    for wood in sketch.woods:
        yield from _wood(wood, plane)
    for segment, role in sketch.lines:
        for part in plane.level.clip(segment):
            yield Line(points=_ends(part, plane), role=role)
    for segment in sketch.cut_offs:
        for part in plane.level.clip(segment):
            yield break_line(*_ends(part, plane))
    for circle, role in sketch.circles:
        if plane.level.shows(circle.centre[0]):
            radius = circle.radius * plane.upright.scale
            yield Circle(centre=plane.on_paper(circle.centre), radius=radius, role=role)
    for pin in _shown_of(sketch.pins, plane):
        yield Area(rings=(_ring(plane.span(pin)),), role=Role.PART, tone=3, outlined=True)
    yield from _centre_lines(sketch, plane)


def _ends(segment: Segment, plane: Plane) -> tuple[Point, Point]:
    return plane.on_paper(segment[0]), plane.on_paper(segment[1])


def _wood(wood: Wood, plane: Plane) -> Iterator[Area]:
    for shape in _shown(wood.shape, plane.level):
        rings = (shape.exterior, *shape.interiors)
        points = tuple(tuple(plane.on_paper(p) for p in ring.coords[:-1]) for ring in rings)
        yield Area(rings=points, role=Role.PART, tone=wood.tone, hatch=wood.hatch)


def _shown(shape: shapely.Polygon, level: Ruler) -> Iterator[shapely.Polygon]:
    """What a ruler with breaks leaves of an area."""
    left, foot, right, head = shape.bounds
    for low, high in level.kept:
        if low <= left and right <= high:
            yield shape
        elif low < right and left < high:
            strip = shapely.clip_by_rect(shape, low, foot - 1, high, head + 1)
            parts = shapely.get_parts(strip)
            yield from (part for part in parts if isinstance(part, shapely.Polygon))


def _centre_lines(sketch: Sketch, plane: Plane) -> Iterator[Line]:
    """A cross on each bore seen from its end, a line along each that is cut."""
    for corners in _shown_of(sketch.crosses, plane):
        around = plane.span(corners).grown(1.0)
        x, y = (around.left + around.right) / 2, (around.top + around.bottom) / 2
        yield Line(points=((around.left, y), (around.right, y)), role=Role.CENTRE)
        yield Line(points=((x, around.top), (x, around.bottom)), role=Role.CENTRE)
    for corners in _shown_of(sketch.axes, plane):
        around = plane.span(corners)
        x, y = (around.left + around.right) / 2, (around.top + around.bottom) / 2
        if around.right - around.left > around.bottom - around.top:
            yield Line(points=((around.left - 1, y), (around.right + 1, y)), role=Role.CENTRE)
        else:
            yield Line(points=((x, around.top - 1), (x, around.bottom + 1)), role=Role.CENTRE)


def _shown_of(spans: Iterable[tuple[Point, Point]], plane: Plane) -> Iterator[tuple[Point, Point]]:
    """Rectangles of the picture plane whose middle is not left out."""
    return (span for span in spans if plane.level.shows((span[0][0] + span[1][0]) / 2))


def _ring(box: Rectangle) -> tuple[Point, ...]:
    return (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    )


def draw_gaps(plane: Plane, outline: Rectangle) -> Iterator[Line]:
    """Break lines on both sides of what the level ruler leaves out."""
    top, bottom = outline.top - _OVERRUN_MM, outline.bottom + _OVERRUN_MM
    for gap in plane.level.breaks:
        for x in gap:
            yield break_line((x, top), (x, bottom))


def wood_points(faces: Faces, plane: Plane) -> tuple[Point | None, Point | None]:
    """A place on paper well inside the wood of each part, on the section across."""
    points = []
    for face in faces.across:
        inside = None if face.is_empty else face.representative_point()
        points.append(None if inside is None else plane.on_paper((inside.x, inside.y)))
    return points[0], points[1]
