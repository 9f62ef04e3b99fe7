"""One view of a part on paper: its lines, its centre lines, its dimensions.

Takes what the view shows, the sizes that fall to it, and rulers from wood to paper; gives marks
round the view's own origin. Must not know what else stands on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.drawing.break_lines import break_line
from benchleaf.drawing.clearance import (
    Clearance,
    Rectangle,
    box_of_marks,
    box_of_text,
    box_round,
)
from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.dimensions import Measure, draw_dimensions, fits_parallel
from benchleaf.drawing.orthographic import Facing, Segment, Sight
from benchleaf.drawing.part_angles import angle_marks
from benchleaf.drawing.part_features import Face, Spot, centre_of
from benchleaf.drawing.part_sizes import Extent, Location, Sizes
from benchleaf.drawing.part_views import axis_of, face_of
from benchleaf.drawing.rulers import Ruler
from benchleaf.drawing.running_dimensions import Place
from benchleaf.drawing.scene import Circle, Line, Mark, Point, Role, Text
from benchleaf.frames import Axis, Box, Vector
from benchleaf.piece.records import Trim

# Where level and upright dimensions of each view stand: away from the views beside it.
_SIDES: Final = {
    "front": (Side.BELOW, Side.LEFT),
    "top": (Side.ABOVE, Side.LEFT),
    "right": (Side.BELOW, Side.RIGHT),
    "left": (Side.BELOW, Side.LEFT),
    "bottom": (Side.BELOW, Side.LEFT),
    "back": (Side.BELOW, Side.LEFT),
}
# chosen: up to two places are soonest read as plain dimensions; more go in one running row.
_MOST_PARALLEL: Final = 2
# chosen: a wide line fills a circle under three times its width.
_SMALL_RADIUS_MM: Final = 1.5
# ISO 128 practice: centre lines pass what they mark; chosen: by 1 mm.
_CENTRE_OVERRUN_MM: Final = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One view, drawn round its own origin."""

    name: str
    face: Face
    """The part's face that it shows."""
    sides: Mapping[Side, Face]
    """The part's faces that its four sides are the edges of."""
    marks: tuple[Mark, ...]
    outline: Rectangle
    """The wood, with what joints add."""
    extent: Rectangle
    """Everything, dimensions counted in."""
    tags: tuple[tuple[Spot, Rectangle], ...]
    """The spots that this view shows open, and where they lie on paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frontage:
    """All that a block is drawn from."""

    name: str
    facing: Facing
    sight: Sight
    spots: tuple[Spot, ...]
    """Shown open in this view."""
    passing: tuple[Spot, ...]
    """All others of the part: their bores get centre lines."""
    body: Box
    blank: Box
    level: Ruler
    upright: Ruler
    trims: tuple[Trim, ...] = ()
    """Ends cut at an angle."""

    def on_paper(self, point: Vector) -> Point:
        """A point of the part's own axes, on paper."""
        return self.flat_on_paper(self.facing.flat(point))

    def flat_on_paper(self, flat: Point) -> Point:
        """A point of the picture plane, on paper, where y runs down."""
        return self.level.at(flat[0]), -self.upright.at(flat[1])

    def box_on_paper(self, box: Box) -> Rectangle:
        """A box of the part's own axes, on paper."""
        return box_round([self.on_paper(box.low), self.on_paper(box.high)])

    def along(self, axis: Axis, at: Fraction) -> float:
        """A place along one axis, on paper: x or y, as the axis lies in the view."""
        point = tuple(at if other is axis else Fraction(0) for other in Axis)
        x, y = self.on_paper(point)  # type: ignore[arg-type]
        return x if axis_of(self.facing.right) is axis else y


def draw_block(view: Frontage, sizes: Sizes) -> Block:
    """Draw one view with the dimensions that fall to it."""
    outline = view.box_on_paper(view.blank)
    marks: list[Mark] = [*_edges(view), *_centre_lines(view), *_break_lines(view, outline)]
    for trim in view.trims:
        marks += angle_marks(trim, view.body, view.facing, view.on_paper)
    marks += _dimensions(view, sizes)
    extent = box_of_marks(marks)
    return Block(
        name=view.name,
        face=face_of(view.facing),
        sides=_sides(view.facing),
        marks=tuple(marks),
        outline=outline,
        extent=extent or outline,
        tags=tuple((spot, view.box_on_paper(spot.box)) for spot in view.spots if spot.is_tagged),
    )


def _sides(facing: Facing) -> dict[Side, Face]:
    level, upright = axis_of(facing.right), axis_of(facing.up)
    is_right, is_up = facing.right[level] > 0, facing.up[upright] > 0
    return {
        Side.ABOVE: (upright, is_up),
        Side.BELOW: (upright, not is_up),
        Side.LEFT: (level, not is_right),
        Side.RIGHT: (level, is_right),
    }


def _edges(view: Frontage) -> Iterator[Mark]:
    for segments, role in (
        (view.sight.hidden, Role.HIDDEN),
        (view.sight.visible, Role.OUTLINE),
    ):
        for segment in segments:
            yield from (_drawn(view, part, role) for part in view.level.clip(segment))
    for rounds, role in (
        (view.sight.hidden_rounds, Role.HIDDEN),
        (view.sight.visible_rounds, Role.OUTLINE),
    ):
        for circle in rounds:
            radius = circle.radius * view.upright.scale
            is_small = radius < _SMALL_RADIUS_MM and role is Role.OUTLINE
            weight = Role.FINE if is_small else role
            yield Circle(centre=view.flat_on_paper(circle.centre), radius=radius, role=weight)


def _drawn(view: Frontage, segment: Segment, role: Role) -> Line:
    return Line(points=tuple(view.flat_on_paper(end) for end in segment), role=role)


def _centre_lines(view: Frontage) -> Iterator[Mark]:
    """A cross on each bore seen from its end, a line along each seen from its side."""
    sight = axis_of(view.facing.toward)
    for spot in view.spots:
        if spot.round_axis is sight:
            box = view.box_on_paper(spot.box).grown(_CENTRE_OVERRUN_MM)
            x, y = view.on_paper(centre_of(spot.box))
            yield Line(points=((box.left, y), (box.right, y)), role=Role.CENTRE)
            yield Line(points=((x, box.top), (x, box.bottom)), role=Role.CENTRE)
    for spot in (*view.spots, *view.passing):
        if spot.round_axis is not None and spot.round_axis is not sight:
            yield _side_line(view, spot)


def _side_line(view: Frontage, spot: Spot) -> Line:
    box = view.box_on_paper(spot.box)
    x, y = view.on_paper(centre_of(spot.box))
    over = _CENTRE_OVERRUN_MM
    if spot.round_axis is axis_of(view.facing.right):
        return Line(points=((box.left - over, y), (box.right + over, y)), role=Role.CENTRE)
    return Line(points=((x, box.top - over), (x, box.bottom + over)), role=Role.CENTRE)


def _break_lines(view: Frontage, outline: Rectangle) -> Iterator[Mark]:
    """Break lines on both sides of what is left out."""
    for gap in view.level.breaks:
        for x in gap:
            yield break_line((x, outline.top - 2.0), (x, outline.bottom + 2.0))


def _dimensions(view: Frontage, sizes: Sizes) -> tuple[Mark, ...]:
    """Dimensions on the sides of a view; single ones unless their texts meet at a corner."""
    rows = list(_rows(view, sizes, may_be_parallel=True))
    if _meet(rows):
        rows = list(_rows(view, sizes, may_be_parallel=False))
    return tuple(mark for row in rows for mark in row)


def _meet(rows: Sequence[Sequence[Mark]]) -> bool:
    """Tell whether a text of one row lies on marks of another."""
    for row in rows:
        taken = Clearance(mark for other in rows if other is not row for mark in other)
        texts = (mark for mark in row if isinstance(mark, Text))
        if not all(taken.is_free(box_of_text(text)) for text in texts):
            return True
    return False


def _rows(view: Frontage, sizes: Sizes, *, may_be_parallel: bool) -> Iterator[tuple[Mark, ...]]:
    """Rows on the usual sides; what is measured from the other end stands opposite."""
    for side in _SIDES[view.name]:
        axis = axis_of(view.facing.up if side.is_upright else view.facing.right)
        locations = sizes.locations.get((view.name, axis), ())
        rows = [
            tuple(place for place in locations if place.from_high == from_high)
            for from_high in _by_number(locations, usual=sizes.datums.usual[axis])
        ]
        extents = sizes.extents.get((view.name, axis), ())
        for where, listed in zip((side, _OPPOSITE[side]), rows, strict=False):
            whole = extents if where is side else ()
            row = _Row(view=view, sizes=sizes, side=where, locations=listed, extents=whole)
            yield row.draw(may_be_parallel=may_be_parallel)


def _by_number(locations: Sequence[Location], *, usual: bool) -> list[bool]:
    """The ends that places are measured from, that of most first; the usual one where none are."""
    counts = [sum(place.from_high == end for place in locations) for end in (usual, not usual)]
    ends = [usual, not usual]
    if counts[1] > counts[0]:
        return ends[::-1] if counts[0] else [not usual]
    return ends if counts[1] else [usual]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """The dimensions on one side of a view: places from one end, and whole sizes outside them."""

    view: Frontage
    sizes: Sizes
    side: Side
    locations: tuple[Location, ...]
    """All measured from one end."""
    extents: tuple[Extent, ...]

    def draw(self, *, may_be_parallel: bool) -> tuple[Mark, ...]:
        view, side = self.view, self.side
        axis = axis_of(view.facing.up if side.is_upright else view.facing.right)
        edge = getattr(view.box_on_paper(view.blank), side.edge)
        whole = [_extent_measure(view, side, axis, extent) for extent in self.extents]
        if not self.locations:
            return draw_dimensions(side, edge, whole).marks
        datum = self.sizes.datums.end_mm(axis, is_high=self.locations[0].from_high)
        origin = Place(at=view.along(axis, datum), text="", edge=_foot(view, side, axis, datum))
        places = [_place(view, side, axis, location) for location in self.locations]
        parallel = [_from_origin(origin, place) for place in places]
        is_few = may_be_parallel and len(places) <= _MOST_PARALLEL
        if is_few and fits_parallel([*parallel, *whole]):
            return draw_dimensions(side, edge, [*parallel, *whole]).marks
        return draw_dimensions(side, edge, whole, places=places, origin=origin).marks


_OPPOSITE: Final = {
    Side.ABOVE: Side.BELOW,
    Side.BELOW: Side.ABOVE,
    Side.LEFT: Side.RIGHT,
    Side.RIGHT: Side.LEFT,
}


def _place(view: Frontage, side: Side, axis: Axis, location: Location) -> Place:
    """The extension line starts at the feature, on the side where the dimension stands."""
    boxes = [view.box_on_paper(spot.box) for spot in location.spots]
    return Place(
        at=view.along(axis, location.at_mm),
        text=location.text,
        edge=_outermost(boxes, side),
    )


def _outermost(boxes: Iterable[Rectangle], side: Side) -> float:
    """The edge that lies outermost on a side."""
    edges: list[float] = [getattr(box, side.edge) for box in boxes]
    return max(edges) if side.outward > 0 else min(edges)


def _from_origin(origin: Place, place: Place) -> Measure:
    near, far = sorted((origin, place), key=lambda p: p.at)
    return Measure(
        start=near.at, end=far.at, text=place.text, start_edge=near.edge, end_edge=far.edge
    )


def _extent_measure(view: Frontage, side: Side, axis: Axis, extent: Extent) -> Measure:
    ends = sorted(
        (view.along(axis, at), _foot(view, side, axis, at))
        for at in (extent.low_mm, extent.high_mm)
    )
    (start, start_edge), (end, end_edge) = ends
    return Measure(start=start, end=end, text=extent.text, start_edge=start_edge, end_edge=end_edge)


def _foot(view: Frontage, side: Side, axis: Axis, at: Fraction) -> float:
    """Where the wood that ends at a place lies outermost on a side."""
    boxes = [view.body, *(s.box for s in (*view.spots, *view.passing) if s.adds)]
    there = [box for box in boxes if at in (box.low[axis], box.high[axis])] or [view.blank]
    return _outermost((view.box_on_paper(box) for box in there), side)
