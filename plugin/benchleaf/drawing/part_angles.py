"""Angles on a part's views: the line that a slanting end leaves, against one square to the part.

Takes a trim and a way from wood to paper, gives marks. Must not know joints or other sizes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Final

from benchleaf.drawing.orthographic import Facing
from benchleaf.drawing.part_views import axis_of
from benchleaf.drawing.scene import Line, Mark, Point, Role, Text
from benchleaf.frames import FACES, Box, Vector
from benchleaf.lengths import format_degrees
from benchleaf.piece.records import Trim

# chosen: an end that runs back by less than this on paper is drawn as if it were square.
_LEAST_MM: Final = 0.25
# chosen: the square line passes the wood, and the text clears it.
_OVERRUN_MM: Final = 1.5
_TEXT_OFF_MM: Final = 3.4
_TEXT_HEIGHT_MM: Final = 2.5
# chosen: the arc is drawn at the far edge of the part, or this far from the corner on a wide one.
_MOST_RADIUS_MM: Final = 16.0
_ARC_STEPS: Final = 8


def angle_marks(
    trim: Trim, body: Box, facing: Facing, on_paper: Callable[[Vector], Point]
) -> Iterator[Mark]:
    """Dimension the angle of one trim where a view shows it in true size or nearly.

    Args:
        trim: The slanting end, in the part's own axes.
        body: The part, shoulder to shoulder, in the same axes.
        facing: How the view looks at it.
        on_paper: From a point of the part's own axes to the view.
    """
    along, sight = FACES[trim.face][0], axis_of(facing.toward)
    if along is sight:
        return
    side = next(axis for axis in (0, 1, 2) if axis not in {along, sight})
    if not trim.normal[side]:
        return
    ends = (body.low[side], body.high[side])
    # The wood reaches farthest where the normal points least.
    far, near = ends if (trim.normal[side] > 0) else ends[::-1]
    seen = body.high[sight] if facing.toward[sight] > 0 else body.low[sight]

    def on_cut(at: object) -> Vector:
        point: list[float] = [0.0, 0.0, 0.0]
        point[side], point[sight] = float(at), float(seen)  # type: ignore[arg-type]
        rest = sum(float(trim.normal[axis]) * point[axis] for axis in (side, sight))
        point[along] = (float(trim.offset_mm) - rest) / float(trim.normal[along])
        return (point[0], point[1], point[2])

    corner, end = on_paper(on_cut(far)), on_paper(on_cut(near))
    yield from _drawn(corner, end, abs(float(trim.normal[side] / trim.normal[along])))


def _drawn(corner: Point, end: Point, slope: float) -> Iterator[Mark]:
    back, across = end[0] - corner[0], end[1] - corner[1]
    is_level = abs(across) > abs(back)  # the part runs level, and its end is upright
    run, width = (back, across) if is_level else (across, back)
    if abs(run) < _LEAST_MM or not width:
        return

    def at(out: float, over: float) -> Point:
        """A point out of the wood and over the end, from the corner."""
        step = (-out * math.copysign(1, run), over * math.copysign(1, width))
        return (
            (corner[0] + step[0], corner[1] + step[1])
            if is_level
            else (corner[0] + step[1], corner[1] + step[0])
        )

    radius = min(abs(width), _MOST_RADIUS_MM)
    turn = math.atan2(abs(run), abs(width))
    yield Line(points=(corner, at(0, abs(width) + _OVERRUN_MM)), role=Role.DIMENSION)
    steps = (turn * i / _ARC_STEPS for i in range(_ARC_STEPS + 1))
    arc = tuple(at(-radius * math.sin(a), radius * math.cos(a)) for a in steps)
    yield Line(points=arc, role=Role.DIMENSION)
    yield Text(
        at=at(_TEXT_OFF_MM, radius * 0.8),
        text=format_degrees(math.degrees(math.atan(slope))),
        height=_TEXT_HEIGHT_MM,
        role=Role.DIMENSION,
    )
