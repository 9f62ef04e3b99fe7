"""Marks moved about the sheet.

Takes marks and a distance in mm, gives the same marks elsewhere. Must not know what they show.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from benchleaf.drawing.scene import Area, Circle, Line, Mark, Point, Text


def shift_marks(marks: Iterable[Mark], by: Point) -> tuple[Mark, ...]:
    """Move marks by (x, y) mm."""
    return tuple(_shifted(mark, by) for mark in marks)


def _shifted(mark: Mark, by: Point) -> Mark:
    match mark:
        case Line(points=points):
            return replace(mark, points=tuple(_moved(point, by) for point in points))
        case Area(rings=rings):
            moved = tuple(tuple(_moved(point, by) for point in ring) for ring in rings)
            return replace(mark, rings=moved)
        case Circle(centre=centre):
            return replace(mark, centre=_moved(centre, by))
        case Text(at=at):
            return replace(mark, at=_moved(at, by))


def _moved(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]
