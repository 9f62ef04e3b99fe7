"""Views of a part put together on a sheet: the scale, breaks, and third-angle places.

Takes views with their sights, gives blocks that stand on the sheet. Must not know the list and the
title block below them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from benchleaf.drawing.clearance import join
from benchleaf.drawing.orthographic import Facing, Sight
from benchleaf.drawing.page import SAFE_WIDTH_MM, Scale, scales
from benchleaf.drawing.part_block import Block, Frontage, draw_block
from benchleaf.drawing.part_features import Spot
from benchleaf.drawing.part_sizes import Sizes
from benchleaf.drawing.part_views import ChosenViews, axis_of
from benchleaf.drawing.rulers import Ruler, broken_ruler, plain_ruler
from benchleaf.drawing.scene import Point
from benchleaf.drawing.shifting import shift_marks
from benchleaf.frames import Box
from benchleaf.piece.records import Trim
from benchleaf.reading.plan import Units

# chosen: twice the pitch of dimension rows, so that each dimension is seen to belong to its view.
_BETWEEN_VIEWS_MM: Final = 6.0
# chosen: half a millimetre at each side keeps lines whole at the sheet's edge.
_ROOM_MM: Final = SAFE_WIDTH_MM - 1.0
# chosen: a broad face under 12 mm, or an edge under 4 mm, crowds its features and their sizes.
_LEAST_BROAD_MM: Final = 12.0
_LEAST_NARROW_MM: Final = 4.0
# chosen: shorter parts gain little by a break.
_LONG_RATIO: Final = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Showing:
    """What is to be laid out."""

    views: ChosenViews
    sights: Mapping[str, Sight]
    sizes: Sizes
    spots: tuple[Spot, ...]
    body: Box
    blank: Box
    trims: tuple[Trim, ...] = ()

    def extent(self, facing: Facing, *, upright: bool) -> Point:
        """The span of the wood along one axis of a view, mm of wood."""
        row = 1 if upright else 0
        ends = (facing.flat(self.blank.low)[row], facing.flat(self.blank.high)[row])
        return min(ends), max(ends)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Views in their places, from (0, 0) to the size."""

    blocks: tuple[Block, ...]
    scale: Scale
    size: Point
    is_broken: bool


def lay_out_views(showing: Showing, units: Units, height: float) -> Layout:
    """Lay the views out at the scale that shows most within the sheet's width and a height.

    A part that would be drawn too thin is broken, and drawn larger.
    """
    plain = _largest_plain(showing, units, height)
    if _is_legible(showing, plain.scale) or not _is_long(showing):
        return plain
    best = plain
    for scale in reversed(scales(units)):
        if scale.divisor >= plain.scale.divisor:
            continue
        broken = _broken(showing, scale)
        if broken is None or not _fits(broken, height):
            break
        best = broken
        if _is_legible(showing, scale):
            break
    return best


def _largest_plain(showing: Showing, units: Units, height: float) -> Layout:
    """The largest layout that fits, or else the smallest that there is."""
    steps = scales(units)
    # Scales at which the bare front is too long need no drawing to be ruled out.
    hopeful = [scale for scale in steps if _length(showing, scale) <= _ROOM_MM] or [steps[-1]]
    for scale in hopeful:
        plain = _arrange(showing, scale, _plain(showing, scale))
        if _fits(plain, height):
            break
    return plain


def _fits(layout: Layout, height: float) -> bool:
    return layout.size[0] <= _ROOM_MM + 1e-6 and layout.size[1] <= height


def _is_long(showing: Showing) -> bool:
    front = showing.views.facings["front"]
    size = showing.blank.size
    return size[axis_of(front.right)] >= _LONG_RATIO * size[axis_of(front.up)]


def _is_legible(showing: Showing, scale: Scale) -> bool:
    front = showing.views.facings["front"]
    size = showing.blank.size
    broad = scale.on_paper(float(size[axis_of(front.up)]))
    narrow = scale.on_paper(float(size[axis_of(front.toward)]))
    shows_edge = "top" in showing.views.facings or "bottom" in showing.views.facings
    return broad >= _LEAST_BROAD_MM and (narrow >= _LEAST_NARROW_MM or not shows_edge)


def _length(showing: Showing, scale: Scale) -> float:
    """Length of the front view on paper, unbroken, mm."""
    low, high = showing.extent(showing.views.facings["front"], upright=False)
    return scale.on_paper(high - low)


def _plain(showing: Showing, scale: Scale) -> Ruler:
    front = showing.views.facings["front"]
    return plain_ruler(*showing.extent(front, upright=False), 1 / scale.divisor)


def _broken(showing: Showing, scale: Scale) -> Layout | None:
    """The layout with the length broken to fit the sheet, if it can be."""
    plain = _plain(showing, scale)
    full = _arrange(showing, scale, plain)
    room = plain.high - plain.low - (full.size[0] - _ROOM_MM)
    front = showing.views.facings["front"]
    boxes = [showing.body, showing.blank, *(spot.box for spot in showing.spots)]
    stations = [front.flat(end)[0] for box in boxes for end in (box.low, box.high)]
    ruler = broken_ruler(stations, plain.scale, room) if room > 0 else None
    return _arrange(showing, scale, ruler) if ruler else None


def _arrange(showing: Showing, scale: Scale, level: Ruler) -> Layout:
    """Draw every view at a scale and put it in its place."""
    blocks = {
        name: draw_block(_frontage(showing, name, level), showing.sizes)
        for name in showing.views.facings
    }
    across, down = dict(_columns(blocks)), dict(_rows(blocks))
    placed = [_moved(block, (across[name], down[name])) for name, block in blocks.items()]
    whole = join(block.extent for block in placed)
    placed = [_moved(block, (-whole.left, -whole.top)) for block in placed]
    return Layout(
        blocks=tuple(placed),
        scale=scale,
        size=(whole.right - whole.left, whole.bottom - whole.top),
        is_broken=bool(level.breaks),
    )


def _frontage(showing: Showing, name: str, level: Ruler) -> Frontage:
    facing = showing.views.facings[name]
    front = showing.views.facings["front"]
    if axis_of(facing.right) is not axis_of(front.right):
        level = plain_ruler(*showing.extent(facing, upright=False), level.scale)
    shown = showing.views.spots[name]
    own = {id(spot) for spot in shown}
    return Frontage(
        name=name,
        facing=facing,
        sight=showing.sights[name],
        spots=shown,
        passing=tuple(spot for spot in showing.spots if id(spot) not in own),
        body=showing.body,
        blank=showing.blank,
        trims=showing.trims,
        level=level,
        upright=plain_ruler(*showing.extent(facing, upright=True), level.scale),
    )


def _columns(blocks: Mapping[str, Block]) -> Iterator[tuple[str, float]]:
    """How far each view is moved to the right: columns left, front, right."""
    edge = 0.0
    for column in (("left",), ("front", "top", "bottom", "back"), ("right",)):
        found = [name for name in column if name in blocks]
        if not found:
            continue
        # The views of one column share their ruler, and so move alike.
        whole = join(blocks[name].extent for name in found)
        for name in found:
            yield name, edge - whole.left
        edge += whole.right - whole.left + _BETWEEN_VIEWS_MM


def _rows(blocks: Mapping[str, Block]) -> Iterator[tuple[str, float]]:
    """How far each view is moved down: rows top, front with its ends, bottom, back."""
    edge = 0.0
    for row in (("top",), ("front", "left", "right"), ("bottom",), ("back",)):
        found = [name for name in row if name in blocks]
        if not found:
            continue
        whole = join(blocks[name].extent for name in found)
        for name in found:
            yield name, edge - whole.top
        edge += whole.bottom - whole.top + _BETWEEN_VIEWS_MM


def _moved(block: Block, by: Point) -> Block:
    return replace(
        block,
        marks=shift_marks(block.marks, by),
        outline=block.outline.moved(by),
        extent=block.extent.moved(by),
        tags=tuple((spot, box.moved(by)) for spot, box in block.tags),
    )


def centre_layout(layout: Layout, top: float) -> Layout:
    """Move a layout to the middle of the sheet's width, and down."""
    by = (max((SAFE_WIDTH_MM - layout.size[0]) / 2, 0.0), top)
    return replace(layout, blocks=tuple(_moved(block, by) for block in layout.blocks))
