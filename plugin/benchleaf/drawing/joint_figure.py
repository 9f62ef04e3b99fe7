"""A close-up of one joint: the seat, and sections through it with both parts at home.

Takes a JointFit and the finished solids, gives a Scene. The seat is seen from the first part's
side; the sections stand beside and below it in third angle. Must not know joint families.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from manifold3d import Manifold

from benchleaf.drawing.clearance import Clearance, Rectangle, box_of_marks, box_round, join
from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.joint_close_up import CloseUp, close_up
from benchleaf.drawing.joint_paper import Plane, draw_gaps, draw_sketch, wood_points
from benchleaf.drawing.joint_sizes import (
    depth_dimensions,
    inner_of_row,
    seat_dimensions,
    section_dimensions,
)
from benchleaf.drawing.joint_views import Faces, see_faces
from benchleaf.drawing.orthographic import Facing
from benchleaf.drawing.page import (
    CAPTION_HEIGHT,
    SAFE_WIDTH_MM,
    TITLE_HEIGHT_MM,
    Scale,
    TitleBlock,
    draw_title_block,
    scales,
)
from benchleaf.drawing.rulers import Ruler, broken_ruler, plain_ruler
from benchleaf.drawing.scene import Mark, Point, Scene, Text
from benchleaf.drawing.shifting import shift_marks
from benchleaf.drawing.tags import Tag, draw_tag
from benchleaf.frames import Box
from benchleaf.joinery.records import Joinery, JointFit, JointSize
from benchleaf.lengths import UnitName, format_degrees, format_length

_MARGIN_MM: Final = 2.0
_BETWEEN_MM: Final = 6.0
# chosen: room for a tag on its leader at either side.
_TAG_ROOM_MM: Final = 8.0
# chosen: half a page high at most.
_WIDE_MM: Final = SAFE_WIDTH_MM - 1.0
_HIGH_MM: Final = 130.0
# chosen: of a figure without a title, on a page that a telephone shows at two thirds of its size.
_NARROW_MM: Final = 114.0
# chosen: the seat takes three fifths of the width, the section across and sizes the rest.
_SEAT_SHARE: Final = 0.6
# chosen: a seat narrower than this on paper is drawn larger, its length broken.
_LEAST_WIDE_MM: Final = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """What a figure has to keep to."""

    scales: tuple[Scale, ...]
    """Largest first."""
    units: UnitName
    wide_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """One view in its place, round the seat's origin."""

    caption: str
    plane: Plane
    marks: tuple[Mark, ...]
    box: Rectangle
    """Round the marks."""
    shift: Point = (0.0, 0.0)

    def moved(self, by: Point) -> _View:
        return replace(
            self,
            marks=shift_marks(self.marks, by),
            box=self.box.moved(by),
            shift=(self.shift[0] + by[0], self.shift[1] + by[1]),
        )


def _view(caption: str, plane: Plane, marks: tuple[Mark, ...]) -> _View:
    box = box_of_marks(marks) or Rectangle(0, 0, 0, 0)
    return _View(caption=caption, plane=plane, marks=marks, box=box)


def draw_joint(
    fit: JointFit, joinery: Joinery, solids: Mapping[str, Manifold], *, is_titled: bool = True
) -> Scene:
    """Draw one joint at one contact.

    Args:
        fit: The joint, worked out.
        joinery: The joinery that it is part of.
        solids: The finished copies at their seats, by mark.
        is_titled: Whether it is a sheet with its title block. Without, it is no wider than it
            needs to be, so that it stays large on a narrow page.
    """
    faces = see_faces(close_up(fit, solids))
    room = _Room(
        scales=scales(joinery.piece.plan.units),
        units=joinery.piece.plan.units.value,
        wide_mm=_WIDE_MM if is_titled else _NARROW_MM,
    )
    scale, views = _largest_figure(faces, room)
    whole = join(view.box for view in views)
    least = min(whole.right - whole.left + 2 * _TAG_ROOM_MM, SAFE_WIDTH_MM)
    width = SAFE_WIDTH_MM if is_titled else least
    across = (width - (whole.right - whole.left)) / 2 - whole.left
    views = [view.moved((across, _MARGIN_MM - whole.top)) for view in views]
    end = _MARGIN_MM + whole.bottom - whole.top + 4.0
    marks: list[Mark] = [mark for view in views for mark in view.marks]
    marks += _annotations(faces, views, Rectangle(0.5, 0.5, width - 0.5, end))
    top = end + 1.0
    if is_titled:
        marks += draw_title_block(_title(fit, joinery, scale), top)
    contact = fit.contact
    name = f"joint-{fit.joint + 1}-{contact.first}-{contact.second}"
    return Scene(
        id=f"{joinery.piece.plan.name}-{name}",
        width=width,
        height=top + (TITLE_HEIGHT_MM if is_titled else 0.0),
        marks=tuple(marks),
        title=f"{fit.kind}, {contact.first} to {contact.second}: seat and sections",
        description=" ".join(f"{line}." for line in _size_lines(fit, joinery)),
        scale=scale.label,
    )


def _largest_figure(faces: Faces, room: _Room) -> tuple[Scale, list[_View]]:
    """The figure at its largest; its length broken where it would else be too narrow to read."""
    narrowest = float(faces.shown.fit.contact.v_mm)
    found: tuple[Scale, list[_View]] | None = None
    for must_show in _ways_to_break(faces.shown):
        figure = _figure_that_fits(faces, room, must_show)
        if figure and (found is None or figure[0].divisor < found[0].divisor):
            found = figure
        if found and found[0].on_paper(narrowest) >= _LEAST_WIDE_MM:
            return found
    return found or _smallest_figure(faces, room)


def _figure_that_fits(
    faces: Faces, room: _Room, must_show: frozenset[float] | None
) -> tuple[Scale, list[_View]] | None:
    """The figure at the largest scale with room for it, if any."""
    for scale in room.scales:
        ratio = 1 / scale.divisor
        level = _level_ruler(faces.shown, ratio, must_show, wide_mm=room.wide_mm * _SEAT_SHARE)
        if level is not None and _may_fit(faces.shown, level, room.wide_mm):
            views = _figure(faces, level, room.units)
            if _fits(views, room.wide_mm):
                return scale, views
    return None


def _smallest_figure(faces: Faces, room: _Room) -> tuple[Scale, list[_View]]:
    scale = room.scales[-1]
    ruler = _ruler(faces.shown, faces.shown.seat.right, 1 / scale.divisor)
    return scale, _figure(faces, ruler, room.units)


def _may_fit(shown: CloseUp, level: Ruler, wide_mm: float) -> bool:
    """Tell whether the bare wood has room: only then is it worth while to draw the sizes."""
    beside = _ruler(shown, shown.across.right, level.scale)
    upright = _ruler(shown, shown.seat.up, level.scale)
    wide = level.high - level.low + _BETWEEN_MM + beside.high - beside.low
    return wide <= wide_mm and upright.high - upright.low <= _HIGH_MM


def _fits(views: Iterable[_View], wide_mm: float) -> bool:
    whole = join(view.box for view in views)
    return whole.right - whole.left <= wide_mm and whole.bottom - whole.top <= _HIGH_MM


def _figure(faces: Faces, level: Ruler, units: UnitName) -> list[_View]:
    """The views, by the ruler along the seat."""
    shown = faces.shown
    seat = _seat_view(faces, _plane(shown, shown.seat, level), units)
    across = _ruler(shown, shown.across.right, level.scale)
    beside = _across_view(faces, _plane(shown, shown.across, across), units)
    left = [seat]
    if _has_places_along(shown):
        below = _along_view(faces, _plane(shown, shown.along, level))
        left.append(below.moved((0.0, seat.box.bottom + _BETWEEN_MM - below.box.top)))
    edge = max(view.box.right for view in left) + _BETWEEN_MM
    return [seat, beside.moved((edge - beside.box.left, 0.0)), *left[1:]]


def _seat_view(faces: Faces, plane: Plane, units: UnitName) -> _View:
    shown = faces.shown
    lines = tuple(draw_sketch(faces.seat_sketch, plane))
    outline = box_of_marks(lines) or plane.box(shown.window)
    marks = (
        *lines,
        *draw_gaps(plane, outline),
        *seat_dimensions(shown, plane, Side.ABOVE, outline=outline, units=units).marks,
        *seat_dimensions(shown, plane, Side.LEFT, outline=outline, units=units).marks,
    )
    centres = {float(centre) for centre, _ in inner_of_row(shown)}
    left_out = [centre for centre in centres if not plane.level.shows(centre)]
    more = f"; {len(left_out)} more between, evenly spaced" if left_out else ""
    return _view(f"seat on {shown.fit.contact.second}{more}", plane, marks)


def _across_view(faces: Faces, plane: Plane, units: UnitName) -> _View:
    marks = (
        *draw_sketch(faces.across_sketch, plane),
        *depth_dimensions(faces.shown, plane, units).marks,
        *section_dimensions(faces.shown, plane, units).marks,
    )
    return _view("section across", plane, marks)


def _along_view(faces: Faces, plane: Plane) -> _View:
    lines = tuple(draw_sketch(faces.along_sketch, plane))
    outline = box_of_marks(lines) or plane.box(faces.shown.window)
    marks = (*lines, *draw_gaps(plane, outline))
    return _view("section along", plane, marks)


def _has_places_along(shown: CloseUp) -> bool:
    """Tell whether the joint differs from place to place along its length."""
    whole = (0, shown.fit.contact.u_mm)
    return any((box.low[0], box.high[0]) != whole for _, box in shown.features)


def _plane(shown: CloseUp, facing: Facing, level: Ruler) -> Plane:
    upright = _ruler(shown, facing.up, level.scale)
    return Plane(facing=facing, level=level, upright=upright)


def _ruler(shown: CloseUp, direction: Sequence[object], ratio: float) -> Ruler:
    axis = next(index for index in range(3) if direction[index])
    sign = 1 if direction[axis] == 1 else -1
    ends = sorted(sign * float(end[axis]) for end in (shown.window.low, shown.window.high))
    return plain_ruler(ends[0], ends[1], ratio)


def _level_ruler(
    shown: CloseUp, ratio: float, must_show: frozenset[float] | None, *, wide_mm: float
) -> Ruler | None:
    """Along the joint: whole, or where it may be and has to be, broken between some places."""
    whole = _ruler(shown, shown.seat.right, ratio)
    if must_show is None or whole.high - whole.low <= wide_mm:
        return whole
    return broken_ruler(must_show, ratio, wide_mm)


def _ways_to_break(shown: CloseUp) -> Iterator[frozenset[float] | None]:
    """What a broken length must show: not broken; every feature; of an even row only the ends."""
    yield None
    yield _stations(shown, [box for _, box in shown.features])
    inner = [box for _, box in inner_of_row(shown)]
    if inner:
        yield _stations(shown, [box for _, box in shown.features if box not in inner])


def _stations(shown: CloseUp, boxes: Iterable[Box]) -> frozenset[float]:
    low, high = float(shown.window.low[0]), float(shown.window.high[0])
    places = {low, high, 0.0, float(shown.fit.contact.u_mm)}
    for box in boxes:
        places |= {float(box.low[0]), float(box.high[0])}
    return frozenset(place for place in places if low <= place <= high)


def _annotations(faces: Faces, views: Sequence[_View], within: Rectangle) -> Iterator[Mark]:
    """Captions, and the marks of both parts on the section across."""
    captions = [_caption(view) for view in views]
    yield from captions
    contact, beside = faces.shown.fit.contact, views[1]
    points = zip((contact.first, contact.second), wood_points(faces, beside.plane), strict=True)
    places = [
        (mark, (at[0] + beside.shift[0], at[1] + beside.shift[1])) for mark, at in points if at
    ]
    tags: list[tuple[Mark, ...] | None] = []
    # Where the first tag leaves no room for the second, the second goes first.
    for order in (places, places[::-1]):
        taken = Clearance(mark for view in views for mark in view.marks)
        taken.take(captions)
        tags = [
            draw_tag(Tag(words=mark), box_round([at]), taken, within=within) for mark, at in order
        ]
        if all(tags):
            break
    yield from (mark for tag in tags for mark in tag or ())


def _caption(view: _View) -> Text:
    at = (view.box.left, view.box.bottom + 2.0)
    return Text(at=at, text=view.caption, height=CAPTION_HEIGHT, anchor="start", halo=False)


def _size_lines(fit: JointFit, joinery: Joinery) -> Iterator[str]:
    """Each size with its rule."""
    units: UnitName = joinery.piece.plan.units.value
    yield from (_size_words(size, units) for size in fit.sizes)


def _size_words(size: JointSize, units: UnitName) -> str:
    if size.is_area:
        # An area of 1 in2 is 645.16 mm2 exactly, by the inch of NIST SP 811.
        area = float(size.value_mm) / (645.16 if units == "in" else 100)
        return f"{size.name} {area:.1f} {'sq in' if units == 'in' else 'cm²'}: {size.rule}"
    if size.is_angle:
        return f"{size.name} {format_degrees(float(size.value_mm))}: {size.rule}"
    return f"{size.name} {format_length(size.value_mm, units)}: {size.rule}"


def _title(fit: JointFit, joinery: Joinery, scale: Scale) -> TitleBlock:
    plan = joinery.piece.plan
    return TitleBlock(
        plan=plan.title,
        subject=f"{fit.kind}, {fit.contact.first} to {fit.contact.second}",
        scale=scale.label,
        units=plan.units.value,
        revision=plan.revision,
        has_views=True,
    )
