"""What stands among the views of a part: tags, captions and the grain arrow.

Takes views laid out on the sheet, gives marks that keep clear of them and of one another. Must not
know sizes or joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.clearance import Clearance, Rectangle, box_of_text
from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.page import CAPTION_HEIGHT
from benchleaf.drawing.part_block import Block
from benchleaf.drawing.part_features import Group
from benchleaf.drawing.part_layout import Layout
from benchleaf.drawing.scene import Line, Mark, Point, Role, Text
from benchleaf.drawing.tags import Tag, draw_tag
from benchleaf.drawing.text_metrics import text_width
from benchleaf.frames import Axis, face_name

# chosen: four leaders to one kind of feature are soon followed; of more, the first and last do.
_MOST_TAGS: Final = 4
# chosen: long enough to be no dimension, short enough to find room.
_GRAIN_ARROW_MM: Final = 14.0
_GRAIN_WORD: Final = "grain"
# Views whose sides are named: no others show which end or edge is which.
_NAMED_VIEWS: Final = ("front", "back")
# chosen: lower views have no room for names within.
_LEAST_NAMED_MM: Final = 9.0
# chosen: a name clears the line that it stands beside, closely in a narrow place; or it stands
# further in, beyond a shoulder.
_EDGE_NAMES_MM: Final = (2.0, 1.5, 4.0, 6.5)


# chosen: the face mark is as high as two lines of text.
_FACE_MARK_MM: Final = 4.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Signs:
    """What the sheet marks besides sizes."""

    grain_axis: Axis
    thickness_axis: Axis
    is_round: bool
    """True for a rod, which has no faces and edges."""
    shows_face: bool
    """True where the front view shows the face that thicknesses are measured from."""
    edge_below: bool
    """True where the front view's lower edge is the one that widths are measured from."""


def annotate_views(
    layout: Layout, groups: Sequence[Group], *, signs: Signs, within: Rectangle
) -> tuple[Mark, ...]:
    """Add tags, captions and signs to views in their places.

    Args:
        layout: The views.
        groups: The kinds of features, each with its letter.
        signs: Axes of the part.
        within: The part of the sheet to stay on.
    """
    taken = Clearance(mark for block in layout.blocks for mark in block.marks)
    marks: list[Mark] = []
    for block in layout.blocks:
        marks += _caption(block, taken, signs=signs, within=within)
    marks += _tags(groups, layout, taken, within)
    front = layout.blocks[0]
    if not signs.is_round:
        marks += _reference_marks(front.outline, taken, signs)
    marks += _grain_arrow(front.outline, taken)
    if not signs.is_round:
        for block in layout.blocks:
            marks += _edge_names(block, taken)
    return tuple(marks)


def _edge_names(block: Block, taken: Clearance) -> Iterator[Mark]:
    """Along each side of a broad view, just inside it, which side of the part it is."""
    outline = block.outline
    if block.name not in _NAMED_VIEWS or outline.bottom - outline.top < _LEAST_NAMED_MM:
        return
    for side, (axis, is_high) in block.sides.items():
        for at in _edge_places(side, outline):
            text = Text(
                at=at,
                text=face_name(axis, is_high),
                height=CAPTION_HEIGHT,
                turn_deg=-90.0 if side.is_upright else 0.0,
                halo=False,
            )
            if taken.is_free(box_of_text(text), 0.2):
                taken.take([text])
                yield text
                break


def _edge_places(side: Side, outline: Rectangle) -> Iterator[Point]:
    """Places along a side, the middle first, within the outline."""
    wide, high = outline.right - outline.left, outline.bottom - outline.top
    line: float = getattr(outline, side.edge)
    for inset in _EDGE_NAMES_MM:
        at = line - side.outward * inset
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
            if side.is_upright:
                yield at, outline.top + high * share
            else:
                yield outline.left + wide * share, at


def _tags(
    groups: Sequence[Group], layout: Layout, taken: Clearance, within: Rectangle
) -> Iterator[Mark]:
    for block in layout.blocks:
        for group in groups:
            members = {id(spot) for spot in group.spots}
            here = [(spot, box) for spot, box in block.tags if id(spot) in members]
            chosen = here if len(here) <= _MOST_TAGS else [here[0], here[-1]]
            for spot, box in chosen:
                is_round = spot.round_axis is not None
                tag = Tag(words=group.letter)
                yield from draw_tag(tag, box, taken, within=within, is_round=is_round) or ()


def _caption(block: Block, taken: Clearance, *, signs: Signs, within: Rectangle) -> Iterator[Mark]:
    """Beside each view, the face of the part that it shows, as it stands in the piece."""
    axis, is_high = block.face
    kind = {signs.grain_axis: "end", signs.thickness_axis: "face"}.get(axis, "edge")
    if signs.is_round and kind != "end":
        kind = "side"
    words = f"{face_name(axis, is_high)} {kind}"
    for at, anchor in _caption_places(block):
        text = Text(at=at, text=words, height=CAPTION_HEIGHT, anchor=anchor, halo=False)
        box = box_of_text(text)
        if within.holds(box) and taken.is_free(box, 0.3):
            taken.take([text])
            yield text
            return


def _caption_places(block: Block) -> Iterator[tuple[Point, str]]:
    """Corners just outside the outline, then along it, then outside everything."""
    outline, extent = block.outline, block.extent
    middle = (outline.left + outline.right) / 2
    above, below = outline.top - 2.2, outline.bottom + 2.4
    for y in (above, below):
        yield (outline.left + 0.8, y), "start"
        yield (outline.right - 0.8, y), "end"
    for y in (above, below):
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
            yield (outline.left + (outline.right - outline.left) * share, y), "middle"
    yield (middle, extent.top - 2.2), "middle"
    yield (middle, extent.bottom + 2.2), "middle"


def _reference_marks(outline: Rectangle, taken: Clearance, signs: Signs) -> Iterator[Mark]:
    """The joiner's face and edge marks: a loop on the face, a caret that points to the edge.

    They stand on the faces that all sizes across the grain run from (common practice, no source).
    """
    high = min(_FACE_MARK_MM, (outline.bottom - outline.top) * 0.7)
    edge, inward = (outline.bottom, -1) if signs.edge_below else (outline.top, 1)
    wide = high * 0.8
    for share in (0.12, 0.2, 0.28, 0.36, 0.44, 0.56, 0.64, 0.72, 0.8, 0.88):
        x = outline.left + (outline.right - outline.left) * share
        top, bottom = sorted((edge + inward * 0.4, edge + inward * high))
        if not taken.is_free(Rectangle(x - wide / 2, top, x + wide / 2, bottom), 0.2):
            continue
        marks = [_caret(x, edge, inward * high * 0.45)]
        if signs.shows_face:
            marks.append(_loop(x, edge + inward * high * 0.5, inward * high * 0.5))
        taken.take(marks)
        yield from marks
        return


def _caret(x: float, edge: float, high: float) -> Line:
    half = abs(high) * 0.6
    points = ((x - half, edge + high), (x, edge), (x + half, edge + high))
    return Line(points=points, role=Role.FINE)


def _loop(x: float, foot: float, high: float) -> Line:
    """A loop like a written letter, its tail towards the edge."""
    # chosen: a curve through eight points of the written sign, in the loop's own height.
    knots = (
        (-0.45, 0.0),
        (-0.1, 0.15),
        (0.2, 0.55),
        (0.4, 0.95),
        (0.1, 1.0),
        (-0.05, 0.6),
        (0.15, 0.15),
        (0.5, 0.0),
    )
    points = tuple((x + dx * abs(high), foot + dy * high) for dx, dy in _smooth(knots))
    return Line(points=points, role=Role.FINE)


def _smooth(knots: Sequence[Point]) -> Iterator[Point]:
    """A smooth run through knots (Catmull and Rom's spline), four steps between two of them."""
    ends = (knots[0], *knots, knots[-1])
    for a, b, c, d in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for step in range(4):
            t = step / 4
            yield tuple(
                (
                    2 * q
                    + (r - p) * t
                    + (2 * p - 5 * q + 4 * r - s) * t**2
                    + (3 * q - p - 3 * r + s) * t**3
                )
                / 2
                for p, q, r, s in zip(a, b, c, d, strict=True)
            )  # type: ignore[misc]
    yield knots[-1]


def _grain_arrow(outline: Rectangle, taken: Clearance) -> Iterator[Mark]:
    """A level arrow with both heads where the front view has room; else above or below it."""
    word = text_width(_GRAIN_WORD, CAPTION_HEIGHT)
    length = min(_GRAIN_ARROW_MM, (outline.right - outline.left) * 0.6)
    wide, high = max(length, word) / 2, CAPTION_HEIGHT + 1.8
    for x, y in _grid(outline):
        box = Rectangle(x - wide, y - high, x + wide, y + 0.6)
        if taken.is_free(box, 0.6):
            arrow = Line(
                points=((x - length / 2, y), (x + length / 2, y)),
                role=Role.FINE,
                start_arrow=True,
                end_arrow=True,
            )
            above = (x, y - 1.2 - CAPTION_HEIGHT / 2)
            text = Text(at=above, text=_GRAIN_WORD, height=CAPTION_HEIGHT, halo=False)
            taken.take([arrow, text])
            yield arrow
            yield text
            return


def _grid(outline: Rectangle) -> Iterator[Point]:
    """Places inside an outline, the middle first, then just outside it."""
    wide, high = outline.right - outline.left, outline.bottom - outline.top
    for share_y in (0.5, 0.35, 0.65, 0.2, 0.8):
        for share_x in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
            yield outline.left + wide * share_x, outline.top + high * share_y
    for y in (outline.top - 2.5, outline.bottom + 6.0):
        for share_x in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
            yield outline.left + wide * share_x, y
