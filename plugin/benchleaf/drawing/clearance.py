"""Room on the sheet: what is taken, and whether a text still fits a place.

Takes rectangles and lines in mm on the sheet, answers questions. Must not know what they stand for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import floor
from typing import Final, NamedTuple

from benchleaf.drawing.scene import Area, Circle, Line, Mark, Path, Point, Text
from benchleaf.drawing.text_metrics import text_corners
from benchleaf.outlines import flatten, limits


class Rectangle(NamedTuple):
    """A rectangle on the sheet, mm; y runs down."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by: float) -> Rectangle:
        """The rectangle with a margin round it."""
        return Rectangle(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def moved(self, by: Point) -> Rectangle:
        """The rectangle, shifted."""
        x, y = by
        return Rectangle(self.left + x, self.top + y, self.right + x, self.bottom + y)

    def overlaps(self, other: Rectangle) -> bool:
        """Tell whether two rectangles share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: Rectangle) -> bool:
        """Tell whether the other lies within this one, edges counted in."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )

    def is_crossed_by(self, start: Point, end: Point) -> bool:
        """Tell whether a straight line passes through the inside of the rectangle."""
        first, last = 0.0, 1.0
        spans = ((self.left, self.right), (self.top, self.bottom))
        for (low, high), a, b in zip(spans, start, end, strict=True):
            if a == b:
                if not low < a < high:
                    return False
                continue
            enters, leaves = sorted(((low - a) / (b - a), (high - a) / (b - a)))
            first, last = max(first, enters), min(last, leaves)
        return first < last


def box_round(points: Iterable[Point]) -> Rectangle:
    """The rectangle round points, at least one."""
    xs, ys = zip(*points, strict=True)
    return Rectangle(min(xs), min(ys), max(xs), max(ys))


def box_of_text(text: Text) -> Rectangle:
    """The rectangle round a text as set, descenders included."""
    return box_round(text_corners(text))


def box_of_marks(marks: Iterable[Mark]) -> Rectangle | None:
    """The rectangle round marks, line widths not counted; None where there are none."""
    boxes = [box for mark in marks if (box := _box_of_mark(mark))]
    return join(boxes) if boxes else None


def _box_of_mark(mark: Mark) -> Rectangle | None:
    match mark:
        case Line(points=points):
            return box_round(points) if points else None
        case Area(rings=rings):
            return box_round(point for ring in rings for point in ring) if rings else None
        case Circle(centre=(x, y), radius=r):
            return Rectangle(x - r, y - r, x + r, y + r)
        case Text():
            return box_of_text(mark)
        case Path(outline=outline):
            (left, top), (right, bottom) = limits(outline)
            return Rectangle(float(left), float(top), float(right), float(bottom))


def join(boxes: Iterable[Rectangle]) -> Rectangle:
    """The rectangle round rectangles, at least one."""
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return Rectangle(min(lefts), min(tops), max(rights), max(bottoms))


# chosen: about the size of a text; a sheet has some five hundred such cells.
_CELL_MM = 10.0


# chosen: words find room inside a circle larger than this, mm on the sheet.
_LARGE_RADIUS_MM: Final = 8.0
# chosen: sides of a figure that stands for a large circle.
_ROUND_SIDES: Final = 72


class Clearance:
    """What is taken on one sheet; lives while the sheet is being laid out.

    Things are kept by the cells of a grid that they reach into, so that a question about a small
    place costs the same however full the sheet is.
    """

    def __init__(self, marks: Iterable[Mark] = ()) -> None:
        self._boxes: dict[tuple[int, int], list[Rectangle]] = {}
        self._lines: dict[tuple[int, int], list[tuple[Point, Point]]] = {}
        self.take(marks)

    def take(self, marks: Iterable[Mark]) -> None:
        """Note marks as taken: texts by their boxes, lines and circles by their strokes."""
        for mark in marks:
            match mark:
                case Text():
                    self._take_box(box_of_text(mark))
                case Line(points=points):
                    self._take_lines(pairwise(points))
                case Circle(centre=(x, y), radius=r, filled=filled):
                    box = Rectangle(x - r, y - r, x + r, y + r)
                    if filled:
                        self._take_box(box)
                    else:
                        large = r > _LARGE_RADIUS_MM
                        self._take_lines(_round_sides(x, y, r) if large else _sides(box))
                case Path(outline=outline):
                    corners = flatten(outline)
                    self._take_lines(pairwise([*corners, corners[0]]))
                case Area():
                    pass

    def _take_box(self, box: Rectangle) -> None:
        for cell in _cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def _take_lines(self, lines: Iterable[tuple[Point, Point]]) -> None:
        for line in lines:
            for cell in _cells(box_round(line)):
                self._lines.setdefault(cell, []).append(line)

    def is_free(self, box: Rectangle, margin: float = 0.0) -> bool:
        """Tell whether a rectangle, with a margin round it, meets nothing taken."""
        box = box.grown(margin)
        return not any(
            any(box.overlaps(taken) for taken in self._boxes.get(cell, ()))
            or any(box.is_crossed_by(*line) for line in self._lines.get(cell, ()))
            for cell in _cells(box)
        )

    def has_text_on(self, start: Point, end: Point) -> bool:
        """Tell whether a straight line would run through a text or a filled circle."""
        return any(
            box.is_crossed_by(start, end)
            for cell in _cells(box_round((start, end)))
            for box in self._boxes.get(cell, ())
        )


def _round_sides(x: float, y: float, radius: float) -> Iterator[tuple[Point, Point]]:
    """A circle as many short lines."""
    turns = [math.tau * i / _ROUND_SIDES for i in range(_ROUND_SIDES + 1)]
    yield from pairwise((x + radius * math.cos(a), y + radius * math.sin(a)) for a in turns)


def _cells(box: Rectangle) -> Iterator[tuple[int, int]]:
    """Cells of the grid that a rectangle reaches into."""
    for column in range(floor(box.left / _CELL_MM), floor(box.right / _CELL_MM) + 1):
        for row in range(floor(box.top / _CELL_MM), floor(box.bottom / _CELL_MM) + 1):
            yield column, row


def _sides(box: Rectangle) -> list[tuple[Point, Point]]:
    corners = [
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    ]
    return list(pairwise([*corners, corners[0]]))
