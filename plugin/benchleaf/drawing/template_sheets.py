"""Full-size templates: each curved line of a part, true to size, over as many sheets as it takes.

Takes a shape and its joinery, gives Scenes in the safe box that A4 and Letter both print. Lines are
true arcs and curves; every sheet has a bar to measure, and marks by which it joins the next. Must
not know pages.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.page import CAPTION_HEIGHT, NOTE_HEIGHT, SAFE_HEIGHT_MM, SAFE_WIDTH_MM
from benchleaf.drawing.scene import Area, Circle, Line, Mark, Path, Role, Scene, Text
from benchleaf.drawing.text_metrics import fit_text
from benchleaf.joinery.records import Joinery, Shape
from benchleaf.lengths import UnitName
from benchleaf.outlines import Outline, Point, flatten, limits, mapped
from benchleaf.piece.records import own_box
from benchleaf.shaping.bench import face_axes
from benchleaf.shaping.records import ShapedCut
from benchleaf.shaping.wording import describe_shaped

# chosen: what is seen of the drawing on one sheet; round it a margin is drawn again on the next, so
# that sheets overlap, and below stands the strip with the bar.
FRAME_MM: Final = (165.0, 215.0)
_LEFT_MM: Final = (SAFE_WIDTH_MM - FRAME_MM[0]) / 2
_TOP_MM: Final = _LEFT_MM
_STRIP_TOP_MM: Final = _TOP_MM + FRAME_MM[1] + 7.0
# The bars: 100 mm, and 4 in of 25.4 mm (NIST SP 811).
BARS_MM: Final = {"100 mm": 100.0, "4 in": 101.6}
_CROSS_MM: Final = 4.0
# chosen: a line of paper round the drawing keeps a curve off the edge of the first sheet.
_EDGE_MM: Final = 6.0
# chosen: a template of more sheets than this is better drawn on the wood with a trammel or batten.
MOST_SHEETS: Final = 24
# chosen: a plan from a stranger may name any size; more places than this are not even looked at.
_MOST_PLACES: Final = 20 * MOST_SHEETS
# Faces on which the second axis stands, seen from outside, with the first to the right; the others
# are seen from behind, and turned over.
_FROM_BEHIND: Final = frozenset({"back", "left", "bottom"})


@dataclass(frozen=True, slots=True)
class _Template:
    """One curved line, on paper: x to the right, y down, its first sheet's frame at (0, 0)."""

    cut: ShapedCut
    line: Outline
    wood: tuple[Point, Point]
    """Left upper and right lower corner of the face."""
    columns: int
    rows: int

    def sheets(self) -> list[tuple[int, int]]:
        """Row and column of each sheet that some of the line lies on."""
        if self.rows * self.columns > _MOST_PLACES:
            return []
        reach = _LEFT_MM
        points = flatten(self.line, sagitta_mm=0.5)
        near = []
        for row in range(self.rows):
            for column in range(self.columns):
                left, top = column * FRAME_MM[0] - reach, row * FRAME_MM[1] - reach
                right, bottom = left + FRAME_MM[0] + 2 * reach, top + FRAME_MM[1] + 2 * reach
                if any(_passes(a, b, (left, top, right, bottom)) for a, b in _sides(points)):
                    near.append((row, column))
        return near


def draw_templates(shape: Shape, joinery: Joinery) -> Iterator[tuple[str, Scene]]:
    """Draw the templates of a shape, sheet by sheet.

    Args:
        shape: The copies that are cut alike.
        joinery: The joinery that it is part of.

    Yields:
        (name, scene): `template-apron-1-2` is the second sheet of the first line.
    """
    for sheet in _sheets(shape, joinery):
        yield sheet.name, sheet.scene()


def template_names(shape: Shape, joinery: Joinery) -> tuple[str, ...]:
    """The names of a shape's sheets, in order."""
    return tuple(sheet.name for sheet in _sheets(shape, joinery))


def lines_too_large(shape: Shape, joinery: Joinery) -> tuple[str, ...]:
    """The lines of a shape that have no template, as they would take too many sheets."""
    body = own_box(joinery.piece.parts[shape.part])
    units: UnitName = joinery.piece.plan.units.value
    return tuple(
        f"{template.cut.face} face: {describe_shaped(template.cut, body, units)}"
        for _, template in _templates(shape, joinery)
        if not 0 < len(template.sheets()) <= MOST_SHEETS
    )


def _templates(shape: Shape, joinery: Joinery) -> Iterator[tuple[int, _Template]]:
    lines = [cut for cut in shape.drawn.shaping if cut.template is not None]
    for number, cut in enumerate(lines, start=1):
        yield number, _lay_out(cut, shape, joinery)


def _sheets(shape: Shape, joinery: Joinery) -> Iterator[_Sheet]:
    for number, template in _templates(shape, joinery):
        places = template.sheets()
        if len(places) > MOST_SHEETS:
            continue
        for index, place in enumerate(places, start=1):
            name = f"template-{shape.name}-{number}-{index}"
            yield _Sheet(
                name=name,
                template=template,
                shape=shape,
                joinery=joinery,
                place=place,
                number=index,
                count=len(places),
            )


def _lay_out(cut: ShapedCut, shape: Shape, joinery: Joinery) -> _Template:
    assert cut.template is not None  # noqa: S101 - the caller picks cuts with one
    body = own_box(joinery.piece.parts[shape.part])
    u, v = face_axes(cut.face)
    wide, high = float(body.size[u]), float(body.size[v])
    sign = -1 if cut.face in _FROM_BEHIND else 1
    (low_u, low_v), (high_u, high_v) = _corners(cut.template)
    left = (low_u if sign > 0 else -high_u) - _EDGE_MM
    top = -high_v - _EDGE_MM

    def on_paper(point: Point) -> Point:
        return (sign * float(point[0]) - left, -float(point[1]) - top)

    line = Outline(
        on_paper(cut.template.start),
        tuple(mapped(s, on_paper, turns_over=sign > 0) for s in cut.template.segments),
    )
    ends = (on_paper((0.0, 0.0)), on_paper((wide, high)))
    return _Template(
        cut=cut,
        line=line,
        wood=(
            (min(ends[0][0], ends[1][0]), min(ends[0][1], ends[1][1])),
            (max(ends[0][0], ends[1][0]), max(ends[0][1], ends[1][1])),
        ),
        columns=max(1, math.ceil((high_u - low_u + 2 * _EDGE_MM) / FRAME_MM[0])),
        rows=max(1, math.ceil((high_v - low_v + 2 * _EDGE_MM) / FRAME_MM[1])),
    )


def _corners(outline: Outline) -> tuple[tuple[float, float], tuple[float, float]]:
    low, high = limits(outline)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """One sheet of a template."""

    name: str
    template: _Template
    shape: Shape
    joinery: Joinery
    place: tuple[int, int]
    """Row and column, from 0."""
    number: int
    count: int

    def scene(self) -> Scene:
        """The sheet, true to size."""
        words = self._words()
        return Scene(
            id=f"{self.joinery.piece.plan.name}-{self.name}",
            width=SAFE_WIDTH_MM,
            height=SAFE_HEIGHT_MM,
            marks=(*self._drawn(), *self._frame(), *self._strip(words)),
            title=f"Template of {self.shape.name}, sheet {self.number} of {self.count}",
            description=f"{words}. True to size: the bars are 100 mm and 4 in long.",
            scale="1:1",
        )

    def _words(self) -> str:
        part = self.joinery.piece.parts[self.shape.part]
        units: UnitName = self.joinery.piece.plan.units.value
        what = describe_shaped(self.template.cut, own_box(part), units)
        return f"{self.shape.name}, {self.template.cut.face} face: {what}"

    def _shift(self, point: Point) -> tuple[float, float]:
        row, column = self.place
        return (
            float(point[0]) - column * FRAME_MM[0] + _LEFT_MM,
            float(point[1]) - row * FRAME_MM[1] + _TOP_MM,
        )

    def _drawn(self) -> Iterator[Mark]:
        """The face's edges and the line itself; what runs off the sheet is cut off by it."""
        (left, top), (right, bottom) = (self._shift(corner) for corner in self.template.wood)
        ring = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
        yield Line(points=ring, role=Role.HIDDEN)
        line = self.template.line
        moved = Outline(
            self._shift(line.start), tuple(mapped(s, self._shift) for s in line.segments)
        )
        yield Path(outline=moved, role=Role.OUTLINE)
        yield from self._middle()

    def _middle(self) -> Iterator[Mark]:
        """Centre lines through the drawing, by which it is laid on the wood."""
        low, high = limits(self.template.line)
        x, y = self._shift(((low[0] + high[0]) / 2, (low[1] + high[1]) / 2))
        yield Line(points=((x, _TOP_MM), (x, _TOP_MM + FRAME_MM[1])), role=Role.CENTRE)
        yield Line(points=((_LEFT_MM, y), (_LEFT_MM + FRAME_MM[0], y)), role=Role.CENTRE)

    def _frame(self) -> Iterator[Mark]:
        """Where sheets meet: a frame, and crosses in circles that come to lie on one another."""
        x0, y0 = _LEFT_MM, _TOP_MM
        x1, y1 = x0 + FRAME_MM[0], y0 + FRAME_MM[1]
        yield Line(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)), role=Role.FINE)
        row, column = self.place
        for x, dx in ((x0, 0), (x1, 1)):
            for y, dy in ((y0, 0), (y1, 1)):
                yield Line(points=((x - _CROSS_MM, y), (x + _CROSS_MM, y)), role=Role.FINE)
                yield Line(points=((x, y - _CROSS_MM), (x, y + _CROSS_MM)), role=Role.FINE)
                yield Circle(centre=(x, y), radius=_CROSS_MM / 2, role=Role.FINE)
                inside = (x + (4.0 if not dx else -4.0), y + (4.0 if not dy else -4.0))
                name = f"{chr(ord('A') + row + dy)}{column + dx + 1}"
                yield Text(at=inside, text=name, height=CAPTION_HEIGHT)

    def _strip(self, words: str) -> Iterator[Mark]:
        """Below the frame: what it is, how to print it, and the bars."""
        top = _STRIP_TOP_MM
        blank = ((0.0, top), (SAFE_WIDTH_MM, top), (SAFE_WIDTH_MM, SAFE_HEIGHT_MM))
        yield Area(rings=((*blank, (0.0, SAFE_HEIGHT_MM)),), role=Role.PAPER)
        for index, (label, length) in enumerate(BARS_MM.items()):
            yield from _bar(label, length, top + 4.0 + 7.0 * index)
        upper = face_axes(self.template.cut.face)[1].high_face
        marks = " ".join((*self.shape.as_drawn, *self.shape.mirrored))
        lines = (
            words,
            f"Sheet {self.number} of {self.count}, {upper} up, for {marks}",
            "Print at 100 %. Measure both bars, then",
            "lay like-named crosses on one another.",
        )
        left = _LEFT_MM + 116.0
        for index, line in enumerate(lines):
            fitted = fit_text(line, NOTE_HEIGHT * 0.8, SAFE_WIDTH_MM - left)
            at = (left, top + 2.5 + 4.2 * index)
            yield Text(at=at, text=fitted, height=NOTE_HEIGHT * 0.8, anchor="start", halo=False)


def _bar(label: str, length: float, y: float) -> Iterator[Mark]:
    x0, x1 = _LEFT_MM, _LEFT_MM + length
    # Narrow, so that its ends stand where the ticks do.
    yield Line(points=((x0, y), (x1, y)), role=Role.FINE)
    for x in (x0, x1):
        yield Line(points=((x, y - 2.0), (x, y + 2.0)), role=Role.FINE)
    at = ((x0 + x1) / 2, y - 2.2)
    yield Text(at=at, text=label, height=NOTE_HEIGHT * 0.8)


def _sides(
    points: list[tuple[float, float]],
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    yield from zip(points, [*points[1:], points[0]], strict=True)


def _passes(
    a: tuple[float, float], b: tuple[float, float], box: tuple[float, float, float, float]
) -> bool:
    """Tell whether a straight piece may lie in a box: by the rectangles round them."""
    left, top, right, bottom = box
    return (
        min(a[0], b[0]) < right
        and max(a[0], b[0]) > left
        and min(a[1], b[1]) < bottom
        and max(a[1], b[1]) > top
    )
