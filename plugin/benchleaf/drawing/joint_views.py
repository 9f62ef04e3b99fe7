"""The seat of a joint and the sections through it, worked out in wood once for all scales.

Takes a close-up, gives sketches: lines, areas and circles on the picture plane, mm of wood. Must
not know paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from manifold3d import Manifold

from benchleaf.drawing.bodies import body_of
from benchleaf.drawing.joint_close_up import CloseUp, cropped
from benchleaf.drawing.orthographic import (
    Facing,
    Round,
    Segment,
    look,
    merge_segments,
    subtract_segments,
)
from benchleaf.drawing.scene import Point, Role
from benchleaf.forms import Bore
from benchleaf.frames import Box
from benchleaf.joinery.records import (
    Hardware,
)

# Neighbours in section are hatched in opposed directions (ISO 128-3, from memory).
_FIRST_HATCH: Final = 1
_SECOND_HATCH: Final = 2
# chosen: wood of the section lies within this of the window's edge, mm.
_ON_EDGE_MM: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wood:
    """Cut wood of one part in a section."""

    shape: shapely.Polygon
    hatch: int
    tone: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sketch:
    """One view on its picture plane, mm of wood, y up."""

    facing: Facing
    woods: tuple[Wood, ...]
    lines: tuple[tuple[Segment, Role], ...]
    cut_offs: tuple[Segment, ...]
    """Where the view ends and the stock goes on."""
    circles: tuple[tuple[Round, Role], ...]
    pins: tuple[tuple[Point, Point], ...]
    """Two corners of each dowel cut along its length."""
    crosses: tuple[tuple[Point, Point], ...]
    """Two corners of the box round each bore seen from its end."""
    axes: tuple[tuple[Point, Point], ...]
    """Two corners of the box round each bore that a section runs along."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Faces:
    """What the views of a joint show."""

    shown: CloseUp
    across: tuple[shapely.Geometry, shapely.Geometry]
    """Cut wood of the first and of the second part, on the picture plane."""
    along: tuple[shapely.Geometry, shapely.Geometry]
    seat_sketch: Sketch
    across_sketch: Sketch
    along_sketch: Sketch


def see_faces(shown: CloseUp) -> Faces:
    """Look at the seat and cut both sections."""
    solids = (shown.first, shown.second)
    across, along = (
        tuple(_slice(solid, facing, at_mm, shown.window) for solid in solids)
        for facing, at_mm in ((shown.across, shown.at_u_mm), (shown.along, shown.at_v_mm))
    )
    return Faces(
        shown=shown,
        across=(across[0], across[1]),
        along=(along[0], along[1]),
        seat_sketch=_sketch_seat(shown),
        across_sketch=_sketch_section(shown, shown.across, shown.at_u_mm, across),
        along_sketch=_sketch_section(shown, shown.along, shown.at_v_mm, along),
    )


def _sketch_seat(shown: CloseUp) -> Sketch:
    """The second part seen from the first's side, and the first's foot on it, an adjacent part."""
    facing = shown.seat
    seat = body_of(cropped(shown.second, shown.window), "")
    sight = look(seat, facing, _rounds(shown, facing))
    edges = _window_edges(shown, facing)
    hidden, _ = _parted(sight.hidden, edges)
    visible, cut_offs = _parted(sight.visible, edges)
    foot = subtract_segments(_foot(shown, facing), sight.visible)
    return Sketch(
        facing=facing,
        woods=(),
        lines=(
            *((segment, Role.HIDDEN) for segment in hidden),
            *((segment, Role.OUTLINE) for segment in visible),
            *((segment, Role.GHOST) for segment in foot),
        ),
        cut_offs=tuple(cut_offs),
        circles=(
            *((circle, Role.HIDDEN) for circle in sight.hidden_rounds),
            *((circle, Role.OUTLINE) for circle in sight.visible_rounds),
        ),
        pins=(),
        crosses=tuple(_flat(facing, box) for _, box in _square_bores(shown)),
        axes=(),
    )


def _sketch_section(
    shown: CloseUp, facing: Facing, at_mm: float, cut: Sequence[shapely.Geometry]
) -> Sketch:
    """Both parts at home, cut by a plane square to the line of sight."""
    edges = _window_edges(shown, facing)
    woods: list[Wood] = []
    lines: list[tuple[Segment, Role]] = []
    cut_offs: list[Segment] = []
    for face, hatch, tone in zip(cut, (_FIRST_HATCH, _SECOND_HATCH), (0, 1), strict=True):
        for polygon in _polygons(face):
            woods.append(Wood(shape=polygon, hatch=hatch, tone=tone))
            rings = (polygon.exterior, *polygon.interiors)
            sides = [side for ring in rings for side in pairwise(ring.coords)]
            kept, off = _parted(sides, edges)
            lines += [(segment, Role.OUTLINE) for segment in merge_segments(kept)]
            cut_offs += merge_segments(off)
    return Sketch(
        facing=facing,
        woods=tuple(woods),
        lines=tuple(lines),
        cut_offs=tuple(cut_offs),
        circles=(),
        pins=tuple(_pins(shown, facing, at_mm)),
        crosses=(),
        axes=tuple(_bores_cut(shown, facing, at_mm)),
    )


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


def _parted(
    segments: Iterable[Segment], edges: Sequence[Segment]
) -> tuple[list[Segment], list[Segment]]:
    """Tell segments within the window from those that lie on its edges."""
    parted: tuple[list[Segment], list[Segment]] = ([], [])
    for segment in segments:
        parted[any(_is_on(segment, edge) for edge in edges)].append(segment)
    return parted


def _is_on(segment: Segment, edge: Segment) -> bool:
    """Tell whether a segment of the window lies on one of its edges, which is level or upright."""
    row = 0 if edge[0][0] == edge[1][0] else 1
    return all(abs(end[row] - edge[0][row]) < _ON_EDGE_MM for end in segment)


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


def _flat(facing: Facing, box: Box) -> tuple[Point, Point]:
    return facing.flat(box.low), facing.flat(box.high)


def _bores(shown: CloseUp) -> Iterator[tuple[Bore, Box]]:
    for feature, box in shown.features:
        if isinstance(feature.shape, Bore):
            yield feature.shape, box


def _square_bores(shown: CloseUp) -> Iterator[tuple[Bore, Box]]:
    """Bores square to the seat: a slanting one is told by its edges alone."""
    # chosen: frames of turned parts are good to far less; a slant is far more.
    yield from (own for own in _bores(shown) if abs(float(own[0].direction[2])) > 1 - 1e-6)


def _rounds(shown: CloseUp, facing: Facing) -> Iterator[Round]:
    for bore, box in _square_bores(shown):
        if facing.toward[2]:
            (x0, y0), (x1, y1) = _flat(facing, box)
            for diameter in {bore.diameter_mm, bore.end_diameter_mm}:
                yield Round(((x0 + x1) / 2, (y0 + y1) / 2), float(diameter) / 2)


def _sight(facing: Facing) -> int:
    return next(axis for axis in range(3) if facing.toward[axis])


def _bores_cut(shown: CloseUp, facing: Facing, at_mm: float) -> Iterator[tuple[Point, Point]]:
    """Bores that a section runs through along their length."""
    for bore, box in _square_bores(shown):
        if abs(float(bore.mouth[_sight(facing)]) - at_mm) < _ON_EDGE_MM:
            yield _flat(facing, box)


def _pins(shown: CloseUp, facing: Facing, at_mm: float) -> Iterator[tuple[Point, Point]]:
    """Dowels in their holes, the clearance shared between both ends."""
    sight = _sight(facing)
    for item in shown.fit.hardware:
        if item.kind == "dowel":
            for box in dict.fromkeys(_dowel_boxes(shown, item)):
                if box.low[sight] < at_mm < box.high[sight]:
                    yield _flat(facing, box)


def _dowel_boxes(shown: CloseUp, item: Hardware) -> Iterator[Box]:
    holes = [box for bore, box in _square_bores(shown) if bore.diameter_mm == item.diameter_mm]
    for hole in holes:
        mates = [box for box in holes if box.low[:2] == hole.low[:2]]
        low, high = min(box.low[2] for box in mates), max(box.high[2] for box in mates)
        slack = max(high - low - item.length_mm, 0) / 2
        yield Box((*hole.low[:2], low + slack), (*hole.high[:2], high - slack))
