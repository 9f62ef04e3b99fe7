"""Break lines: where a drawing leaves stock out, or ends before the stock does.

Takes two points on the sheet, gives a narrow line with a zigzag in its middle (ISO 128-3). Must not
know what is cut off.
"""

from __future__ import annotations

import math
from typing import Final

from benchleaf.drawing.scene import Line, Point, Role

# chosen: a zigzag 3 mm long and 0.8 mm to each side is seen at a narrow line's width.
_HALF_MM: Final = 1.5
_SIDE_MM: Final = 0.8


def break_line(start: Point, end: Point) -> Line:
    """A narrow line from one point to another, with a zigzag in its middle.

    A line that is short for a whole zigzag has a smaller one.
    """
    length = math.dist(start, end)
    if not length:
        return Line(points=(start, end), role=Role.FINE)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    # chosen: straight thirds at both ends, so that the line is seen to be straight.
    size = min(1.0, length / (6 * _HALF_MM))
    middle = length / 2
    steps = (
        (0.0, 0.0),
        (middle - _HALF_MM * size, 0.0),
        (middle - _HALF_MM / 3 * size, -_SIDE_MM * size),
        (middle + _HALF_MM / 3 * size, _SIDE_MM * size),
        (middle + _HALF_MM * size, 0.0),
        (length, 0.0),
    )
    points = tuple(
        (
            start[0] + along[0] * run + along[1] * side,
            start[1] + along[1] * run - along[0] * side,
        )
        for run, side in steps
    )
    return Line(points=points, role=Role.FINE)
