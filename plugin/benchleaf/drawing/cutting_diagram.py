"""Sheets of stock as they are sawn: blanks, numbered cuts, and what is left.

Takes a layout and the cut plan that it belongs to, gives a Scene. Must not know parts or joints: a
blank carries its mark and its rough size.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

from benchleaf.cutting.records import Blank, CutDirection, CutNode, CutPlan, SheetLayout
from benchleaf.cutting.records import Rectangle as StockRectangle
from benchleaf.drawing.blank_labels import label_rectangle
from benchleaf.drawing.bond_marks import bond_lines, bond_ticks, bonds_in
from benchleaf.drawing.clearance import Clearance, Rectangle, box_of_text, box_round
from benchleaf.drawing.cut_names import name_pieces, name_sides
from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.dimensions import Measure, draw_dimensions
from benchleaf.drawing.page import (
    CAPTION_HEIGHT,
    NOTE_HEIGHT,
    SAFE_WIDTH_MM,
    TITLE_HEIGHT_MM,
    Scale,
    TitleBlock,
    choose_layout_scale,
    draw_title_block,
)
from benchleaf.drawing.scene import Area, Line, Mark, Point, Role, Scene, Text
from benchleaf.drawing.tags import Tag, draw_plain_tag, draw_tag
from benchleaf.drawing.text_metrics import fit_text, wrap_text
from benchleaf.lengths import UnitName, format_length
from benchleaf.reading.plan import Grain, Plan, Stock

# chosen: room for a row of dimensions on the left, and for cut numbers on the right.
_LEFT_MM: Final = 12.2
_RIGHT_MM: Final = 5.0
_TOP_MM: Final = 9.0
# chosen: a row of dimensions and the numbers of cuts that end below.
_BELOW_MM: Final = 14.0
LINE_MM: Final = 4.2
# chosen: a number of two figures clears the sheet's outline.
_NUMBER_OUT_MM: Final = 2.5
_OFFCUT_HATCH: Final = 1
# chosen: places tried on a line where nothing else has room.
_PLACES_ON_LINE: Final = 40
_OUT: Final = (0.0, 1.0, -1.0, 1.5, -1.5, 2.0, -2.0)
_WORD_AND_NUMBER: Final = re.compile(r"([^0-9]+)([0-9]*)")


def draw_sheet_layout(layout: SheetLayout, cut_plan: CutPlan, plan: Plan) -> Scene:
    """Draw one sheet as it is cut.

    Args:
        layout: The sheet.
        cut_plan: The plan that it is part of: it knows the blanks' sizes.
        plan: The plan as read, for units and title.
    """
    return _SheetDrawing(layout, cut_plan, plan).draw()


class _SheetDrawing:
    """One sheet being drawn; lives as long as that."""

    def __init__(self, layout: SheetLayout, cut_plan: CutPlan, plan: Plan) -> None:
        self.layout = layout
        self.plan = plan
        self.units: UnitName = plan.units.value
        self.cut_plan = cut_plan
        self.blanks = {blank.label: blank for blank in cut_plan.blanks}
        self.stock = next(line for line in cut_plan.stock if line.name == layout.stock)
        self.count = sum(sheet.stock == layout.stock for sheet in cut_plan.sheets)
        size = (float(layout.length_mm), float(layout.width_mm))
        # chosen: half a page high at most, so that two sheets print on one.
        room = (SAFE_WIDTH_MM - _LEFT_MM - _RIGHT_MM, 200.0)
        self.scale: Scale = choose_layout_scale(size, room, plan.units)
        left = (SAFE_WIDTH_MM + _LEFT_MM - _RIGHT_MM - self.scale.on_paper(size[0])) / 2
        self.outline = Rectangle(
            left,
            _TOP_MM,
            left + self.scale.on_paper(size[0]),
            _TOP_MM + self.scale.on_paper(size[1]),
        )
        self.taken = Clearance()
        self.unsaid: dict[str, list[str]] = {}

    def draw(self) -> Scene:
        areas = [*self._blank_areas(), *self._offcut_areas()]
        lines = [*self._cut_lines(), self._frame(), *self._bond_ticks()]
        dimensions = self._dimensions()
        head = [*self._head(), *name_sides(self.outline)]
        self.taken.take([*dimensions, *head])
        words = [*self._blank_labels(), *self._offcut_labels()]
        # Numbers keep off words; words may lie where no cut runs, so lines are noted after them.
        numbers = [*self._numbers(), *self._piece_names()]
        foot = self.outline.bottom + _BELOW_MM
        listed = [*text_lines(self._listed(), foot)]
        top = foot + len(listed) * LINE_MM + 1.0
        title = draw_title_block(self._title(), top)
        return Scene(
            id=f"{self.plan.name}-sheet-{self.layout.stock}-{self.layout.number}",
            width=SAFE_WIDTH_MM,
            height=top + TITLE_HEIGHT_MM,
            marks=(*areas, *lines, *dimensions, *words, *numbers, *head, *listed, *title),
            title=f"{self._subject()}: how it is cut",
            description=self._description(),
            scale=self.scale.label,
        )

    def _on_paper(self, area: StockRectangle) -> Rectangle:
        """A rectangle of the sheet of stock, on the drawing: y runs up on stock, down on paper."""
        left = self.outline.left + self.scale.on_paper(float(area.x))
        bottom = self.outline.bottom - self.scale.on_paper(float(area.y))
        return Rectangle(
            left,
            bottom - self.scale.on_paper(float(area.high)),
            left + self.scale.on_paper(float(area.wide)),
            bottom,
        )

    def _blank_areas(self) -> Iterator[Mark]:
        for _, area, _ in self.layout.placed:
            yield Area(rings=(corners(self._on_paper(area)),), role=Role.PART, tone=1)

    def _offcut_areas(self) -> Iterator[Mark]:
        for area in self.layout.offcuts:
            yield Area(rings=(corners(self._on_paper(area)),), role=Role.WASTE, hatch=_OFFCUT_HATCH)

    def _bond_ticks(self) -> Iterator[Mark]:
        places = {label: self._on_paper(area) for label, area, _ in self.layout.placed}
        return bond_ticks(bonds_in(self.layout, self.cut_plan), places)

    def _frame(self) -> Line:
        ring = corners(self.outline)
        return Line(points=(*ring, ring[0]), role=Role.OUTLINE)

    def _cut_lines(self) -> Iterator[Mark]:
        for node in cuts_of(self.layout.tree):
            yield Line(points=self._line_of(node), role=Role.CUT)

    def _line_of(self, node: CutNode) -> tuple[Point, Point]:
        """The middle of a saw cut, on the drawing."""
        area = self._on_paper(node.area)
        at = self.scale.on_paper(float(node.at_mm + self.layout.kerf_mm / 2))
        if node.direction is CutDirection.ALONG:
            y = area.bottom - at
            return (area.left, y), (area.right, y)
        x = area.left + at
        return (x, area.bottom), (x, area.top)

    def _dimensions(self) -> list[Mark]:
        box, units = self.outline, self.units
        length = Measure(
            start=box.left, end=box.right, text=format_length(self.layout.length_mm, units)
        )
        width = Measure(
            start=box.top, end=box.bottom, text=format_length(self.layout.width_mm, units)
        )
        return [
            *draw_dimensions(Side.BELOW, box.bottom, [length]).marks,
            *draw_dimensions(Side.LEFT, box.left, [width]).marks,
        ]

    def _blank_labels(self) -> Iterator[Mark]:
        crowded = []
        for label, area, _ in sorted(self.layout.placed, key=lambda item: by_number(item[0])):
            box = self._on_paper(area)
            size = size_words(self.blanks[label], self.units)
            said = label_rectangle(box, label, size, self.taken)
            if said is None:
                crowded.append((Tag(words=label), box))
            else:
                yield from said.texts
            if said is None or not said.says_size:
                self.unsaid.setdefault(size, []).append(label)
        for tag, box in crowded:
            middle = (box.left + box.right) / 2, (box.top + box.bottom) / 2
            if box.right - box.left > box.bottom - box.top:
                yield from self._led(tag, (box.left, middle[1]), (box.right, middle[1]))
            else:
                yield from self._led(tag, (middle[0], box.top), (middle[0], box.bottom))

    def _offcut_labels(self) -> Iterator[Mark]:
        for area in self.layout.offcuts:
            long, short = sorted((area.wide, area.high), reverse=True)
            words = f"{format_length(long, self.units)} × {format_length(short, self.units)}"
            said = label_rectangle(self._on_paper(area), "", words, self.taken)
            for text in said.texts if said else ():
                # A plain patch, so that hatching does not run through the figures.
                yield Area(rings=(corners(box_of_text(text).grown(0.4)),), role=Role.PAPER)
                yield text

    def _sheet(self) -> Rectangle:
        return Rectangle(0.5, 0.5, SAFE_WIDTH_MM - 0.5, self.outline.bottom + _BELOW_MM)

    def _numbers(self) -> Iterator[Mark]:
        """Numbers of the cuts: first those with room on their own lines, then with leaders."""
        crowded = []
        for node in cuts_of(self.layout.tree):
            tag = Tag(words=str(node.number), height=CAPTION_HEIGHT, role=Role.CUT)
            marks = self._number_on_line(tag, node)
            if not marks:
                crowded.append((tag, node))
            yield from marks
        for tag, node in crowded:
            yield from self._led(tag, *self._line_of(node))

    def _piece_names(self) -> Iterator[Mark]:
        waste = [self._on_paper(area) for area in self.layout.offcuts]
        outline = self.outline
        return name_pieces(
            self.layout.tree, self._line_of, self.taken, outline=outline, waste=waste
        )

    def _led(self, tag: Tag, start: Point, end: Point) -> tuple[Mark, ...]:
        """A tag whose leader ends somewhere along a line; without room for one, on the line."""
        (x0, y0), (x1, y1) = start, end
        for share in (0.5, 0.25, 0.75, 0.1, 0.9, 0.03, 0.97):
            point = (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
            target = box_round([point]).grown(0.1)
            led = draw_tag(tag, target, self.taken, within=self._sheet())
            if led:
                return led
        return self._on_line(tag, start, end)

    def _on_line(self, tag: Tag, start: Point, end: Point) -> tuple[Mark, ...]:
        """A tag anywhere on a line, or a little beside it, where it is free; else in its middle."""
        (x0, y0), (x1, y1) = start, end
        for out in (out * tag.radius for out in _OUT):
            beside = (out, 0.0) if x0 == x1 else (0.0, out)
            for step in range(1, _PLACES_ON_LINE):
                share = step / _PLACES_ON_LINE
                centre = (x0 + (x1 - x0) * share + beside[0], y0 + (y1 - y0) * share + beside[1])
                if self.taken.is_free(box_round([centre]).grown(tag.radius), 0.0):
                    marks = draw_plain_tag(tag, centre)
                    self.taken.take(marks)
                    return marks
        return draw_plain_tag(tag, ((x0 + x1) / 2, (y0 + y1) / 2))

    def _number_on_line(self, tag: Tag, node: CutNode) -> tuple[Mark, ...]:
        for centre in self._number_places(self._line_of(node)):
            if self.taken.is_free(box_round([centre]).grown(tag.radius), 0.1):
                marks = draw_plain_tag(tag, centre)
                self.taken.take(marks)
                return marks
        return ()

    def _number_places(self, line: tuple[Point, Point]) -> Iterator[Point]:
        """Where a cut's number may stand: just off the sheet where the cut runs out, else on it."""
        (x0, y0), (x1, y1) = line
        box, out = self.outline, _NUMBER_OUT_MM
        if y0 == y1:
            if x0 <= box.left + 0.5:
                yield box.left - out, y0
            if x1 >= box.right - 0.5:
                yield box.right + out, y1
        else:
            if y0 >= box.bottom - 0.5:
                yield x0, box.bottom + out
            if y1 <= box.top + 0.5:
                yield x1, box.top - out
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.06, 0.94):
            yield x0 + (x1 - x0) * share, y0 + (y1 - y0) * share

    def _head(self) -> Iterator[Mark]:
        """Above the sheet: what it is, and which way its grain runs."""
        yield Text(
            at=(self.outline.left, 2.2),
            text=fit_text(self._stock_words(), NOTE_HEIGHT, 110.0),
            anchor="start",
            halo=False,
        )
        yield from grain_marks(self.stock, (self.outline.right, 2.2))

    def _stock_words(self) -> str:
        thickness = format_length(self.stock.thickness_mm, self.units)
        kerf = format_length(self.layout.kerf_mm, self.units)
        return f"{self.stock.material}, {thickness} thick; saw cuts {kerf} wide"

    def _subject(self) -> str:
        return f"{self.layout.stock}, sheet {self.layout.number} of {self.count}"

    def _title(self) -> TitleBlock:
        return TitleBlock(
            plan=self.plan.title,
            subject=self._subject(),
            scale=self.scale.label,
            units=self.plan.units.value,
            revision=self.plan.revision,
        )

    def _listed(self) -> tuple[str, ...]:
        """Lines of the sizes that found no room in their blanks, and of what is cut together."""
        sizes = (f"{', '.join(labels)}: {size}" for size, labels in self.unsaid.items())
        width = SAFE_WIDTH_MM - 2
        notes = bond_lines(self.layout, self.cut_plan)
        together = (line for words in notes for line in wrap_text(words, NOTE_HEIGHT, width))
        return (*wrap_text(";  ".join(sizes), NOTE_HEIGHT, width), *together)

    def _description(self) -> str:
        cuts = sum(1 for _ in cuts_of(self.layout.tree))
        sizes = ", ".join(
            f"{label} {size_words(self.blanks[label], self.units)}"
            for label, _, _ in self.layout.placed
        )
        return f"{cuts} cuts give {len(self.layout.placed)} blanks: {sizes}."


def size_words(blank: Blank, units: UnitName) -> str:
    """Rough size of a blank, length along the grain first."""
    return f"{format_length(blank.length_mm, units)} × {format_length(blank.width_mm, units)}"


def by_number(label: str) -> tuple[tuple[str, int], ...]:
    """Sorts labels as people count: A2 before A10.

    >>> sorted(["A10.1", "A2.2", "A2.1"], key=by_number)
    ['A2.1', 'A2.2', 'A10.1']
    """
    return tuple((word, int(number or 0)) for word, number in _WORD_AND_NUMBER.findall(label))


def cuts_of(node: CutNode | None) -> Iterable[CutNode]:
    """All cuts of a tree, in order of their numbers."""
    found: list[CutNode] = []
    waiting = [node]
    while waiting:
        current = waiting.pop()
        if current is None:
            continue
        if current.direction is not None:
            found.append(current)
        waiting += [current.first, current.second]
    return sorted(found, key=lambda cut: cut.number)


def corners(box: Rectangle) -> tuple[Point, ...]:
    """The corners of a rectangle, in turn."""
    return (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    )


def text_lines(lines: Iterable[str], top: float) -> Iterator[Text]:
    """Lines of notes below a drawing, from a place downwards."""
    for index, words in enumerate(lines):
        yield Text(at=(1.0, top + (index + 0.5) * LINE_MM), text=words, anchor="start", halo=False)


def grain_marks(stock: Stock, right: Point) -> Iterator[Mark]:
    """An arrow along the grain, and the word, ending at a place on the right."""
    x, y = right
    if stock.grain is Grain.NONE:
        return
    # chosen: an arrow twice as long as the word, or as high as the head of the drawing allows.
    if stock.grain is Grain.LONG:
        arrow = ((x - 18.0, y), (x, y))
        word_right = x - 20.0
    else:
        arrow = ((x - 1.0, y - 2.0), (x - 1.0, y + 5.5))
        word_right = x - 3.0
    yield Line(points=arrow, role=Role.FINE, start_arrow=True, end_arrow=True)
    yield Text(at=(word_right, y), text="grain", height=NOTE_HEIGHT, anchor="end", halo=False)
