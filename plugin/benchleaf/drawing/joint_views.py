"""The seat of a joint and the sections through it, as marks round their own origin.

Takes a close-up and rulers from wood to paper, gives marks. Must not know sizes or what stands
beside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from manifold3d import Manifold

from benchleaf.drawing.clearance import Rectangle, box_round
from benchleaf.drawing.joint_close_up import CloseUp, box_of, cropped
from benchleaf.drawing.orthographic import (
    Facing,
    Round,
    Segment,
    Sight,
    look,
    subtract_segments,
)
from benchleaf.drawing.rulers import Ruler
from benchleaf.drawing.scene import Area, Circle, Line, Mark, Point, Role
from benchleaf.frames import Box, Vector
from benchleaf.joinery.records import Bore, Hardware

# Neighbours in section are hatched in opposed directions (ISO 128-3, from memory).
_FIRST_HATCH: Final = 1
_SECOND_HATCH: Final = 2
# chosen: wood of the section lies within this of the window's edge, mm.
_ON_EDGE_MM: Final = 0.01


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Faces:
    """What the views show, in wood: worked out once for all scales."""

    shown: CloseUp
    seat: Sight
    across: tuple[shapely.Geometry, shapely.Geometry]
    """Cut wood of the first and of the second part, on the picture plane."""
    along: tuple[shapely.Geometry, shapely.Geometry]


def see_faces(shown: CloseUp) -> Faces:
    """Look at the seat and cut both sections."""
    seat = look(cropped(shown.second, shown.window), shown.seat, _rounds(shown, shown.seat))
    solids = (shown.first, shown.second)
    across, along = (
        [_slice(solid, facing, at_mm, shown.window) for solid in solids]
        for facing, at_mm in ((shown.across, shown.at_u_mm), (shown.along, shown.at_v_mm))
    )
    return Faces(shown=shown, seat=seat, across=(across[0], across[1]), along=(along[0], along[1]))


def draw_seat(faces: Faces, plane: Plane) -> Iterator[Mark]:
    """The second part seen from the first's side, and the first's foot on it, an adjacent part."""
    shown, sight = faces.shown, faces.seat
    edges = _window_edges(shown, plane.facing)
    for segments, role in ((sight.hidden, Role.HIDDEN), (sight.visible, Role.OUTLINE)):
        for segment in subtract_segments(segments, edges):
            yield from _lines(segment, plane, role)
    for segment in sight.visible:
        for part in _on_edges(segment, edges):
            yield from _lines(part, plane, Role.FINE)
    for rounds, role in (
        (sight.hidden_rounds, Role.HIDDEN),
        (sight.visible_rounds, Role.OUTLINE),
    ):
        for circle in rounds:
            radius = circle.radius * plane.upright.scale
            yield Circle(centre=plane.on_paper(circle.centre), radius=radius, role=role)
    for side in subtract_segments(_foot(shown, plane.facing), sight.visible):
        yield from _lines(side, plane, Role.GHOST)
    yield from _centre_marks(shown, plane)


def draw_section(faces: Faces, plane: Plane) -> Iterator[Mark]:
    """Both parts at home, cut by a plane square to the line of sight.

    Args:
        faces: What is cut.
        plane: The way to paper, of the section across or along.
    """
    shown = faces.shown
    is_across = plane.facing == shown.across
    first, second = faces.across if is_across else faces.along
    at_mm = shown.at_u_mm if is_across else shown.at_v_mm
    yield from _cut_wood(first, shown, plane, hatch=_FIRST_HATCH, tone=0)
    yield from _cut_wood(second, shown, plane, hatch=_SECOND_HATCH, tone=1)
    yield from _dowels(shown, plane, at_mm)
    yield from _bore_lines(shown, plane, at_mm)


def _slice(solid: Manifold, facing: Facing, at_mm: float, window: Box) -> shapely.Geometry:
    """The cut face of a solid, on the picture plane, cropped to the window."""
    rows = [[float(part) for part in axis] for axis in (facing.right, facing.up, facing.toward)]
    turned = solid.transform(np.column_stack([rows, [0.0, 0.0, 0.0]]))
    sight = next(axis for axis in range(3) if facing.toward[axis])
    rings = turned.slice(at_mm * float(facing.toward[sight])).to_polygons()
    face: shapely.Geometry = shapely.Polygon()
    for ring in rings:
        if len(ring) > 2:
            face = face.symmetric_difference(shapely.Polygon(ring).buffer(0))
    (x0, y0), (x1, y1) = facing.flat(window.low), facing.flat(window.high)
    return face.intersection(shapely.box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))


def _cut_wood(
    face: shapely.Geometry, shown: CloseUp, plane: Plane, *, hatch: int, tone: int
) -> Iterator[Mark]:
    edges = _window_edges(shown, plane.facing)
    for low, high in plane.level.kept:
        strip = face.intersection(shapely.box(low, -1e6, high, 1e6))
        for polygon in _polygons(strip):
            rings = (polygon.exterior, *polygon.interiors)
            points = tuple(tuple(plane.on_paper(p) for p in ring.coords[:-1]) for ring in rings)
            yield Area(rings=points, role=Role.PART, tone=tone, hatch=hatch)
    for polygon in _polygons(face):
        for ring in (polygon.exterior, *polygon.interiors):
            coords = list(ring.coords)
            sides = list(pairwise(coords))
            for segment in subtract_segments(sides, edges):
                yield from _lines(segment, plane, Role.OUTLINE)
            for side in sides:
                for part in _on_edges(side, edges):
                    yield from _lines(part, plane, Role.FINE)


def _polygons(geometry: shapely.Geometry) -> list[shapely.Polygon]:
    parts = shapely.get_parts(geometry)
    return [part for part in parts if isinstance(part, shapely.Polygon) and not part.is_empty]


def _window_edges(shown: CloseUp, facing: Facing) -> tuple[Segment, ...]:
    """Sides of the window beyond which the wood goes on, on the picture plane."""
    low, high = facing.flat(shown.window.low), facing.flat(shown.window.high)
    far_low, far_high = facing.flat(shown.wood.low), facing.flat(shown.wood.high)
    edges: list[Segment] = []
    for row in (0, 1):
        ends = sorted((low[row], high[row]))
        far = sorted((far_low[row], far_high[row]))
        other = sorted((low[1 - row], high[1 - row]))
        for end, limit in zip(ends, far, strict=True):
            if abs(end - limit) > _ON_EDGE_MM:
                pair = [(end, o) if row == 0 else (o, end) for o in other]
                edges.append((pair[0], pair[1]))
    return tuple(edges)


def _on_edges(segment: Segment, edges: Sequence[Segment]) -> tuple[Segment, ...]:
    """What of a segment lies on the window's edges."""
    return subtract_segments([segment], subtract_segments([segment], edges))


def _lines(segment: Segment, plane: Plane, role: Role) -> Iterator[Line]:
    for part in plane.level.clip(segment):
        yield Line(points=tuple(plane.on_paper(end) for end in part), role=role)


def _foot(shown: CloseUp, facing: Facing) -> list[Segment]:
    """The first part's foot on the second; parts that cross have none."""
    contact = shown.fit.contact
    if contact.n_mm:
        return []
    zero = contact.u_mm * 0
    (x0, y0), (x1, y1) = (
        facing.flat((zero, zero, zero)),
        facing.flat((contact.u_mm, contact.v_mm, zero)),
    )
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))
    return list(pairwise(corners))


def _bores(shown: CloseUp) -> Iterator[tuple[Bore, Box]]:
    for feature in shown.features:
        if isinstance(feature.shape, Bore):
            yield feature.shape, box_of(feature)


def _rounds(shown: CloseUp, facing: Facing) -> Iterator[Round]:
    for bore, box in _bores(shown):
        if bore.direction[2] and facing.toward[2]:
            (x0, y0), (x1, y1) = facing.flat(box.low), facing.flat(box.high)
            for diameter in {bore.diameter_mm, bore.end_diameter_mm}:
                yield Round(((x0 + x1) / 2, (y0 + y1) / 2), float(diameter) / 2)


def _centre_marks(shown: CloseUp, plane: Plane) -> Iterator[Mark]:
    for bore, box in _bores(shown):
        if bore.direction[2]:
            around = plane.box(box).grown(1.0)
            x, y = plane.point(bore.mouth)
            yield Line(points=((around.left, y), (around.right, y)), role=Role.CENTRE)
            yield Line(points=((x, around.top), (x, around.bottom)), role=Role.CENTRE)


def _bore_lines(shown: CloseUp, plane: Plane, at_mm: float) -> Iterator[Mark]:
    """Centre lines of the bores that the section runs through."""
    sight = next(axis for axis in range(3) if plane.facing.toward[axis])
    for bore, box in _bores(shown):
        if bore.direction[2] and abs(float(bore.mouth[sight]) - at_mm) < _ON_EDGE_MM:
            around = plane.box(box)
            x, y = plane.point(bore.mouth)
            if around.right - around.left > around.bottom - around.top:
                yield Line(points=((around.left - 1, y), (around.right + 1, y)), role=Role.CENTRE)
            else:
                yield Line(points=((x, around.top - 1), (x, around.bottom + 1)), role=Role.CENTRE)


def _dowels(shown: CloseUp, plane: Plane, at_mm: float) -> Iterator[Mark]:
    """Dowels in their holes, the clearance shared between both ends."""
    for item in shown.fit.hardware:
        if item.kind == "dowel":
            for box in dict.fromkeys(_dowel_boxes(shown, item)):
                sight = next(axis for axis in range(3) if plane.facing.toward[axis])
                if box.low[sight] < at_mm < box.high[sight]:
                    ring = _ring(plane.box(box))
                    yield Area(rings=(ring,), role=Role.PART, tone=3, outlined=True)


def _dowel_boxes(shown: CloseUp, item: Hardware) -> Iterator[Box]:
    holes = [box for bore, box in _bores(shown) if bore.diameter_mm == item.diameter_mm]
    for hole in holes:
        mates = [box for box in holes if box.low[:2] == hole.low[:2]]
        low, high = min(box.low[2] for box in mates), max(box.high[2] for box in mates)
        slack = max(high - low - item.length_mm, 0) / 2
        yield Box((*hole.low[:2], low + slack), (*hole.high[:2], high - slack))


def _ring(box: Rectangle) -> tuple[Point, ...]:
    return (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    )


def break_gaps(plane: Plane, outline: Rectangle) -> Iterator[Mark]:
    """Narrow zigzags on both sides of what the level ruler leaves out (ISO 128-3)."""
    top, bottom = outline.top - 1.5, outline.bottom + 1.5
    middle = (top + bottom) / 2
    for gap in plane.level.breaks:
        for x in gap:
            steps = ((0, top), (0, middle - 1.5), (-0.8, middle - 0.5), (0.8, middle + 0.5))
            points = tuple((x + dx, y) for dx, y in (*steps, (0, middle + 1.5), (0, bottom)))
            yield Line(points=points, role=Role.FINE)


def wood_points(faces: Faces, plane: Plane) -> tuple[Point | None, Point | None]:
    """A place on paper well inside the wood of each part, on the section across."""
    points = []
    for face in faces.across:
        inside = None if face.is_empty else face.representative_point()
        points.append(None if inside is None else plane.on_paper((inside.x, inside.y)))
    return points[0], points[1]
