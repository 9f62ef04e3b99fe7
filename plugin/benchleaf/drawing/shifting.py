"""Marks moved about the sheet.

Takes marks and a distance in mm, gives the same marks elsewhere. Must not know what they show.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from benchleaf.drawing.scene import Area, Circle, Line, Mark, Path, Point, Text
from benchleaf.outlines import moved


def shift_marks(marks: Iterable[Mark], by: Point) -> tuple[Mark, ...]:
    """Move marks by (x, y) mm."""
    return tuple(_shifted(mark, by) for mark in marks)


def _shifted(mark: Mark, by: Point) -> Mark:
    # The records are made outright: `replace` takes twice the time, and there are thousands.
    match mark:
        case Line():
            return Line(
                points=tuple(_moved(point, by) for point in mark.points),
                role=mark.role,
                id=mark.id,
                start_arrow=mark.start_arrow,
                end_arrow=mark.end_arrow,
            )
        case Area():
            rings = tuple(tuple(_moved(point, by) for point in ring) for ring in mark.rings)
            return replace(mark, rings=rings)
        case Circle():
            return Circle(
                centre=_moved(mark.centre, by),
                radius=mark.radius,
                role=mark.role,
                filled=mark.filled,
                id=mark.id,
            )
        case Text():
            return replace(mark, at=_moved(mark.at, by))
        case Path():
            return replace(mark, outline=moved(mark.outline, by))


def _moved(point: Point, by: Point) -> Point:
    return point[0] + by[0], point[1] + by[1]
