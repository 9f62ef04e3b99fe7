"""Hatches as lines: they print as sharp as every other line, in black and white.

Takes the rings of an area and the number of a hatch, gives straight lines clipped to the area.
Patterns of SVG would be shorter, but browsers print them as coarse pictures. Must not know SVG.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from benchleaf.drawing.scene import Point

# chosen: 2 mm between hatch lines stays open on a screen and close enough to fill a 6 mm strip.
STEP_MM: Final = 2.0
# chosen: a dot is as long as the line is wide, nearly.
_DOT_MM: Final = 0.2

# Direction of the lines of hatches 1 to 6, degrees on the sheet, where y runs down.
_DIRECTIONS: Final = ((-45.0,), (45.0,), (-45.0, 45.0), (0.0,), (90.0,), (0.0,))
_DOTS: Final = 4

Segment = tuple[Point, Point]


def hatch_lines(rings: Sequence[Sequence[Point]], hatch: int) -> Iterator[Segment]:
    """Hatch an area.

    Args:
        rings: Outer ring and holes, mm on the sheet, not closed by repetition.
        hatch: 1 to 6, as `Area.hatch` counts them.

    Yields:
        Lines from edge to edge, in order across the area.
    """
    for direction in _DIRECTIONS[hatch - 1]:
        for start, end in _parallels(rings, direction):
            if hatch == _DOTS:
                yield from _dots(start, end)
            else:
                yield start, end


def _parallels(rings: Sequence[Sequence[Point]], direction_deg: float) -> Iterator[Segment]:
    """Parallel lines through an area, clipped to it by the even-odd rule."""
    turn = math.radians(direction_deg)
    along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    edges = [
        (_turned(a, along, across), _turned(b, along, across))
        for ring in rings
        if len(ring) > 2
        for a, b in pairwise([*ring, ring[0]])
    ]
    if not edges:
        return
    offsets = [end[1] for edge in edges for end in edge]
    # Lines stand at whole steps of the sheet, so that areas side by side are hatched alike.
    for index in range(math.ceil(min(offsets) / STEP_MM), math.floor(max(offsets) / STEP_MM) + 1):
        offset = index * STEP_MM
        crossings = sorted(_crossings(edges, offset))
        for low, high in zip(crossings[::2], crossings[1::2], strict=False):
            yield _point(low, offset, along, across), _point(high, offset, along, across)


def _turned(point: Point, along: Point, across: Point) -> Point:
    return (
        point[0] * along[0] + point[1] * along[1],
        point[0] * across[0] + point[1] * across[1],
    )


def _crossings(edges: Sequence[Segment], offset: float) -> Iterator[float]:
    """Where edges cross a line; an end on the line counts for one of the edges that meet there."""
    for (x0, y0), (x1, y1) in edges:
        if (y0 <= offset) != (y1 <= offset):
            yield x0 + (offset - y0) / (y1 - y0) * (x1 - x0)


def _point(run: float, offset: float, along: Point, across: Point) -> Point:
    return run * along[0] + offset * across[0], run * along[1] + offset * across[1]


def _dots(start: Point, end: Point) -> Iterator[Segment]:
    """Dots along a level line, every other row set off by half a step."""
    row = round(start[1] / STEP_MM)
    shift = STEP_MM / 2 if row % 2 else 0.0
    first = math.ceil((start[0] - shift) / STEP_MM)
    for index in range(first, math.floor((end[0] - shift) / STEP_MM) + 1):
        x = index * STEP_MM + shift
        yield (x, start[1]), (x + _DOT_MM, start[1])
