"""The sheet of one part: third-angle views, its sizes, and a list of what joints put on it.

Takes a Shape and the joinery, gives a Scene in the sheet's safe box. Must not know files or pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from benchleaf.drawing.bodies import Body, body_of
from benchleaf.drawing.clearance import Rectangle
from benchleaf.drawing.orthographic import Facing, Round, look
from benchleaf.drawing.page import (
    SAFE_HEIGHT_MM,
    SAFE_WIDTH_MM,
    TITLE_HEIGHT_MM,
    TitleBlock,
    draw_title_block,
)
from benchleaf.drawing.part_annotations import Signs, annotate_views
from benchleaf.drawing.part_datums import read_datums
from benchleaf.drawing.part_features import Group, Spot, group_spots, read_spots
from benchleaf.drawing.part_layout import Layout, Showing, centre_layout, lay_out_views
from benchleaf.drawing.part_list import MOST_KINDS, describe_part, draw_list, read_list
from benchleaf.drawing.part_sections import group_sections
from benchleaf.drawing.part_sizes import Basis, plan_sizes
from benchleaf.drawing.part_views import axis_of, choose_views
from benchleaf.drawing.scene import Mark, Scene
from benchleaf.drawing.shaped_spots import list_points, read_shaped_spots
from benchleaf.frames import Box, Vector
from benchleaf.joinery.records import Joinery, Shape
from benchleaf.joinery.solids import placed_solid
from benchleaf.lengths import UnitName
from benchleaf.piece.records import Part
from benchleaf.reading.plan import StockKind

_MARGIN_MM: Final = 2.0
# chosen: room for captions below the lowest view.
_CAPTION_ROOM_MM: Final = 4.0
_LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def draw_part_sheet(shape: Shape, joinery: Joinery, placed: Body | None = None) -> Scene:
    """Draw the sheet of one shape.

    Args:
        shape: The copies that are cut alike.
        joinery: The joinery that it is part of.
        placed: The copy drawn, at its seat, where that is made ready already.

    Returns:
        A scene 180 mm wide and as high as it needs, at most 250 mm where any scale allows.
    """
    part = joinery.piece.parts[shape.part]
    showing, groups = _showing(shape, joinery, placed)
    listed = read_list(shape, joinery, groups, showing.sizes.steps)
    # Two lines more than listed, for notes on the length and on places; and those of points.
    points = tuple(list_points(shape.drawn, groups, joinery.piece.plan.units.value))
    below = (
        listed.height + 5 * len(points) + 10 + TITLE_HEIGHT_MM + 3 * _MARGIN_MM + _CAPTION_ROOM_MM
    )
    layout = lay_out_views(showing, joinery.piece.plan.units, SAFE_HEIGHT_MM - below)
    layout = centre_layout(layout, _MARGIN_MM + _CAPTION_ROOM_MM)
    if showing.sizes.leaves_out:
        listed = replace(listed, notes=(*listed.notes, "Places too many to draw: see setting out"))
    listed = replace(listed, notes=(*listed.notes, *points))
    if layout.is_broken:
        listed = replace(listed, notes=(*listed.notes, "The length is broken, not to scale"))
    views_end = 2 * _CAPTION_ROOM_MM + _MARGIN_MM + layout.size[1]
    within = Rectangle(0.5, 0.5, SAFE_WIDTH_MM - 0.5, views_end)
    title_top = views_end + listed.height + _MARGIN_MM
    marks: list[Mark] = [mark for block in layout.blocks for mark in block.marks]
    marks += annotate_views(layout, groups[:MOST_KINDS], signs=_signs(part, showing), within=within)
    marks += draw_list(listed, views_end)
    marks += draw_title_block(_title(shape, joinery, layout), title_top)
    return Scene(
        id=f"{joinery.piece.plan.name}-part-{shape.name}",
        width=SAFE_WIDTH_MM,
        height=title_top + TITLE_HEIGHT_MM,
        marks=tuple(marks),
        title=f"{shape.name}: views and sizes",
        description=describe_part(shape, joinery, listed),
        scale=layout.scale.label,
    )


def _showing(
    shape: Shape, joinery: Joinery, placed: Body | None
) -> tuple[Showing, tuple[Group, ...]]:
    units: UnitName = joinery.piece.plan.units.value
    part = joinery.piece.parts[shape.part]
    size = part.box.size
    body = Box((size[0] * 0, size[1] * 0, size[2] * 0), size)
    mark = shape.drawn.mark
    spots = read_spots(shape.drawn, body, units)
    spots = (*spots, *read_shaped_spots(shape.drawn, body, units))
    groups = group_spots(spots)
    sections = group_sections(spots, body, part.grain_axis, units=units, before=len(groups))
    groups = (*groups, *sections)
    spots = (*spots, *(spot for group in sections for spot in group.spots))
    frame = joinery.piece.copies[mark].frame
    views = choose_views(part, spots, is_mirrored=frame.is_mirrored)
    placed = placed or body_of(placed_solid(joinery, mark), mark)
    wood = placed.turned(_floats(frame.axes), _floats([frame.origin])[0])
    basis = Basis(
        body=body,
        datums=read_datums(joinery, mark, shape.drawn.blank),
        along=part.grain_axis,
        is_round=_is_round(part),
        units=units,
    )
    sights = {
        name: look(wood, facing, _rounds(part, spots, facing, body))
        for name, facing in views.facings.items()
    }
    showing = Showing(
        views=views,
        sights=sights,
        sizes=plan_sizes(views, groups, basis),
        spots=spots,
        body=body,
        blank=shape.drawn.blank,
        trims=part.trims,
    )
    return showing, groups


def _floats(vectors: Iterable[Vector]) -> list[list[float]]:
    return [[float(value) for value in vector] for vector in vectors]


def _is_round(part: Part) -> bool:
    return part.stock.kind is StockKind.ROD


def _rounds(part: Part, spots: Iterable[Spot], facing: Facing, body: Box) -> Iterator[Round]:
    """Circles that a view may hold: bores seen from their ends, and a rod's own."""
    sight = axis_of(facing.toward)
    for spot in spots:
        if spot.round_axis is sight:
            for diameter in spot.diameters_mm:
                yield Round(_middle(facing, spot.box), float(diameter) / 2)
    if _is_round(part) and sight is part.grain_axis:
        yield Round(_middle(facing, body), float(part.stock.thickness_mm) / 2)


def _middle(facing: Facing, box: Box) -> tuple[float, float]:
    (x0, y0), (x1, y1) = facing.flat(box.low), facing.flat(box.high)
    return (x0 + x1) / 2, (y0 + y1) / 2


def _signs(part: Part, showing: Showing) -> Signs:
    front = showing.views.facings["front"]
    deep, upright = axis_of(front.toward), axis_of(front.up)
    return Signs(
        grain_axis=part.grain_axis,
        thickness_axis=part.thickness_axis,
        is_round=_is_round(part),
        shows_face=showing.sizes.datums.usual[deep] == (front.toward[deep] > 0),
        edge_below=showing.sizes.datums.usual[upright] != (front.up[upright] > 0),
    )


def _title(shape: Shape, joinery: Joinery, layout: Layout) -> TitleBlock:
    plan = joinery.piece.plan
    count = f"{len(shape.as_drawn)}"
    if shape.mirrored:
        count += f" + {len(shape.mirrored)} mirrored"
    return TitleBlock(
        plan=plan.title,
        subject=shape.name,
        mark=_mark_words(shape),
        quantity=count,
        scale=layout.scale.label,
        units=plan.units.value,
        revision=plan.revision,
        has_views=True,
    )


def _mark_words(shape: Shape) -> str:
    """Marks of all copies, in a few characters."""
    marks = sorted((*shape.as_drawn, *shape.mirrored), key=lambda mark: (len(mark), mark))
    numbers = [int(mark.lstrip(_LETTERS) or 0) for mark in marks]
    if len(marks) > 3 and numbers == list(range(numbers[0], numbers[0] + len(marks))):
        return f"{marks[0]} to {marks[-1]}"
    return ", ".join(marks)
