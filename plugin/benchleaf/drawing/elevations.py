"""The general arrangement: the whole piece from the front and from the right, and its main sizes.

Takes the joinery and the finished bodies, gives a Scene in third angle. It shows visible edges
alone; what each part measures is on its own sheet. Must not know pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import reduce
from typing import Final

from benchleaf.drawing.bodies import Body
from benchleaf.drawing.clearance import Rectangle, box_of_marks
from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.dimensions import Measure, draw_dimensions
from benchleaf.drawing.orthographic import Facing, Segment, see_edges, third_angle
from benchleaf.drawing.page import (
    CAPTION_HEIGHT,
    SAFE_WIDTH_MM,
    TITLE_HEIGHT_MM,
    Scale,
    TitleBlock,
    draw_title_block,
    layout_scales,
)
from benchleaf.drawing.part_views import axis_of
from benchleaf.drawing.running_dimensions import Place
from benchleaf.drawing.scene import Line, Mark, Role, Scene, Text
from benchleaf.drawing.shifting import shift_marks
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import UnitName, format_length

_FRONT: Final = Facing(right=(1, 0, 0), up=(0, 0, 1), toward=(0, -1, 0))
_MARGIN_MM: Final = 2.0
# chosen: twice the pitch of dimension rows, so that each dimension is seen to belong to its view.
_BETWEEN_MM: Final = 8.0
# chosen: half a page, so that a heading and the facts stand above it.
_HIGH_MM: Final = 150.0
_CAPTION_MM: Final = 4.0
# chosen: a hundredth of a millimetre is what floats lose at the most, and nobody sees.
_LEVEL_MM: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """The top of something that lies flat, from the foot of the piece."""

    at_mm: Fraction
    side: Side
    """The side of the front view that it lies nearer to."""
    reach_mm: Fraction
    """Where the part ends on that side, in the piece's axes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Whole:
    """What both views show."""

    box: Box
    """Round the piece, in its own axes."""
    edges: Mapping[str, tuple[Segment, ...]]
    """By view, on its picture plane."""
    heights: tuple[Height, ...]
    units: UnitName


def draw_arrangement(joinery: Joinery, bodies: Sequence[Body], boxes: Mapping[str, Box]) -> Scene:
    """Draw the piece put together, from the front and from the right.

    Args:
        joinery: The joinery.
        bodies: The finished copies at their seats.
        boxes: The boxes round them, by mark.
    """
    plan = joinery.piece.plan
    box = reduce(Box.join, boxes.values())
    edges = {name: see_edges(bodies, facing) for name, facing in _facings().items()}
    whole = _Whole(
        box=box,
        edges=edges,
        heights=tuple(_seen_heights(find_heights(joinery, boxes, box), edges["front"])),
        units=plan.units.value,
    )
    scale, marks = _largest(whole, layout_scales(plan.units))
    around = box_of_marks(marks) or Rectangle(0, 0, 0, 0)
    across = (SAFE_WIDTH_MM - (around.right - around.left)) / 2 - around.left
    marks = shift_marks(marks, (across, _MARGIN_MM - around.top))
    top = _MARGIN_MM + around.bottom - around.top + 2.0
    title = TitleBlock(
        plan=plan.title,
        subject="general arrangement",
        scale=scale.label,
        units=plan.units.value,
        revision=plan.revision,
        has_views=True,
    )
    return Scene(
        id=f"{plan.name}-arrangement",
        width=SAFE_WIDTH_MM,
        height=top + TITLE_HEIGHT_MM,
        marks=(*marks, *draw_title_block(title, top)),
        title="The whole piece, from the front and from the right",
        description=_describe(whole),
        scale=scale.label,
    )


def _facings() -> dict[str, Facing]:
    views = third_angle(_FRONT)
    return {name: views[name] for name in ("front", "right")}


def find_heights(joinery: Joinery, boxes: Mapping[str, Box], whole: Box) -> Iterator[Height]:
    """Find the tops of the parts that lie flat: seats, shelves, tables; not the piece's own top.

    Args:
        joinery: Tells how each part lies.
        boxes: Round the finished copies, by mark.
        whole: Round the piece.
    """
    found: dict[Fraction, list[Box]] = {}
    for mark, box in boxes.items():
        part = joinery.piece.part_of(mark)
        top = Fraction(box.high[Axis.HIGH])
        if part.thickness_axis is Axis.HIGH and top < whole.high[Axis.HIGH]:
            found.setdefault(top, []).append(box)
    middle = (whole.low[Axis.WIDE] + whole.high[Axis.WIDE]) / 2
    for top in sorted(found):
        left = min(box.low[Axis.WIDE] for box in found[top])
        is_left = left < middle
        right = max(box.high[Axis.WIDE] for box in found[top])
        yield Height(
            at_mm=top,
            side=Side.LEFT if is_left else Side.RIGHT,
            reach_mm=Fraction(left if is_left else right),
        )


def _seen_heights(heights: Iterable[Height], edges: Iterable[Segment]) -> Iterator[Height]:
    """Those at which a line is seen from the front, each reaching to that line's end.

    What lies behind a front or inside a box has no line there to point to; its part sheet and the
    steps place it.
    """
    level = [(y0, sorted((x0, x1))) for (x0, y0), (x1, y1) in edges if abs(y0 - y1) < _LEVEL_MM]
    for height in heights:
        ends = [xs for y, xs in level if abs(y - float(height.at_mm)) < _LEVEL_MM]
        if ends:
            lows, highs = [xs[0] for xs in ends], [xs[1] for xs in ends]
            reach = min(lows) if height.side is Side.LEFT else max(highs)
            yield replace(height, reach_mm=Fraction(reach))


def _largest(whole: _Whole, steps: Sequence[Scale]) -> tuple[Scale, tuple[Mark, ...]]:
    """The views at the largest scale that the sheet has room for, or else at the smallest."""
    wide, deep, high = (float(size) for size in whole.box.size)
    hopeful = [
        scale
        for scale in steps
        if scale.on_paper(wide + deep) <= SAFE_WIDTH_MM and scale.on_paper(high) <= _HIGH_MM
    ]
    for scale in hopeful or steps[-1:]:
        marks = _views(whole, 1 / scale.divisor)
        box = box_of_marks(marks) or Rectangle(0, 0, 0, 0)
        if box.right - box.left <= SAFE_WIDTH_MM - 1 and box.bottom - box.top <= _HIGH_MM:
            break
    return scale, marks


def _views(whole: _Whole, ratio: float) -> tuple[Mark, ...]:
    """Both views with their sizes, the one from the right beside the front."""
    front = _view(whole, "front", ratio)
    right = _view(whole, "right", ratio)
    edge, start = (box_of_marks(marks) or Rectangle(0, 0, 0, 0) for marks in (front, right))
    return (*front, *shift_marks(right, (edge.right + _BETWEEN_MM - start.left, 0.0)))


def _view(whole: _Whole, name: str, ratio: float) -> tuple[Mark, ...]:
    facing = _facings()[name]
    outline = _outline(whole, facing, ratio)
    lines = tuple(
        Line(points=((x0 * ratio, -y0 * ratio), (x1 * ratio, -y1 * ratio)), role=Role.OUTLINE)
        for (x0, y0), (x1, y1) in whole.edges[name]
    )
    level = axis_of(facing.right)
    length = format_length(Fraction(whole.box.size[level]), whole.units)
    measure = Measure(start=outline.left, end=outline.right, text=length)
    caption = Text(
        at=(outline.left, outline.top - _CAPTION_MM / 2),
        text={"front": "front", "right": "right side"}[name],
        height=CAPTION_HEIGHT,
        anchor="start",
        halo=False,
    )
    below = draw_dimensions(Side.BELOW, outline.bottom, [measure]).marks
    heights = _heights(whole, outline, ratio) if name == "front" else _total(whole, outline)
    return (*lines, *below, *heights, caption)


def _outline(whole: _Whole, facing: Facing, ratio: float) -> Rectangle:
    (x0, y0), (x1, y1) = facing.flat(whole.box.low), facing.flat(whole.box.high)
    left, right = sorted((x0 * ratio, x1 * ratio))
    return Rectangle(left, -max(y0, y1) * ratio, right, -min(y0, y1) * ratio)


def _heights(whole: _Whole, outline: Rectangle, ratio: float) -> tuple[Mark, ...]:
    """Heights of what lies flat, from the foot, on the side that each lies nearer to."""
    foot = Fraction(whole.box.low[Axis.HIGH])
    origin = Place(at=outline.bottom, text="")
    marks: list[Mark] = []
    for side in (Side.LEFT, Side.RIGHT):
        places = [
            Place(
                at=-float(height.at_mm) * ratio,
                text=format_length(height.at_mm - foot, whole.units),
                edge=float(height.reach_mm) * ratio,
            )
            for height in whole.heights
            if height.side is side
        ]
        line = getattr(outline, side.edge)
        marks += draw_dimensions(side, line, (), places=places, origin=origin).marks
    return tuple(marks)


def _total(whole: _Whole, outline: Rectangle) -> tuple[Mark, ...]:
    """The whole height, to the right of both views."""
    text = format_length(Fraction(whole.box.size[Axis.HIGH]), whole.units)
    total = Measure(start=outline.top, end=outline.bottom, text=text)
    return draw_dimensions(Side.RIGHT, outline.right, [total]).marks


def _describe(whole: _Whole) -> str:
    wide, deep, high = (format_length(Fraction(size), whole.units) for size in whole.box.size)
    words = f"{wide} wide, {deep} deep and {high} high, in {whole.units}."
    foot = Fraction(whole.box.low[Axis.HIGH])
    heights = [format_length(height.at_mm - foot, whole.units) for height in whole.heights]
    if heights:
        words += f" Tops of what lies flat, from the foot: {', '.join(heights)}."
    return words
