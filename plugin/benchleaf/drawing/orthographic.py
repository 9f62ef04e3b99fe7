"""Orthographic views of one solid: visible and hidden edges, circles as circles.

Takes a body and the way it is looked at, gives lines on the picture plane, x to the
right and y up, mm of the wood. Must not know sheets, scales or what the solid is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from benchleaf.drawing.bodies import Body, Flags, Floats, Soup, gather
from benchleaf.drawing.projection import View
from benchleaf.drawing.scene import Point
from benchleaf.drawing.visibility import (
    drawn_edges,
    faces_eye,
    occluders_of,
    visible,
)
from benchleaf.frames import Vector, scale

Segment = tuple[Point, Point]

# chosen: two lines of the picture are one where they run within 0.01 mm of wood of one another,
# a fortieth of the finest mark of a rule.
_SAME_LINE_MM = 0.01
# chosen: shorter pieces than this do not show at any scale of the sheet.
_SHORTEST_MM = 0.1
# chosen: the corners of a bore drawn with 20 sides, as the least are, stand 0.8 % outside its
# circle and its sides 0.4 % inside; it is that circle still.
_ROUND_RATIO = 0.01
# A side of a figure of 20 is 0.31 radii long; chosen: a little more.
_LONGEST_SIDE = 0.35

_LOOK = View(name="orthographic", right=(1.0, 0.0, 0.0), up=(0.0, 1.0, 0.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Facing:
    """How a solid is looked at: three of its own signed axes, as unit vectors."""

    right: Vector
    up: Vector
    toward: Vector
    """Towards the eye."""

    def flat(self, point: Vector) -> tuple[float, float]:
        """A point on the picture plane, mm of the wood."""
        return _along(self.right, point), _along(self.up, point)


def _along(axis: Vector, point: Vector) -> float:
    """How far along a signed axis a point lies: exact arithmetic is left to one number."""
    index = 0 if axis[0] else 1 if axis[1] else 2
    return float(point[index]) * float(axis[index])


def third_angle(front: Facing) -> dict[str, Facing]:
    """The six views that belong to a front view; each stands on the side that it is seen from.

    The back is turned over the lower edge, as if hinged to the bottom view, and stands below.
    """
    right, up, toward = front.right, front.up, front.toward
    back, down, left = scale(toward, -1), scale(up, -1), scale(right, -1)
    return {
        "front": front,
        "top": Facing(right=right, up=back, toward=up),
        "right": Facing(right=back, up=up, toward=right),
        "left": Facing(right=toward, up=up, toward=left),
        "bottom": Facing(right=right, up=toward, toward=down),
        "back": Facing(right=right, up=down, toward=back),
    }


@dataclass(frozen=True, slots=True)
class Round:
    """A circle on the picture plane, mm of the wood."""

    centre: Point
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """What a view shows."""

    visible: tuple[Segment, ...]
    hidden: tuple[Segment, ...]
    """Edges behind wood, where no visible line covers them."""
    visible_rounds: tuple[Round, ...]
    hidden_rounds: tuple[Round, ...]


def look(body: Body, facing: Facing, rounds: Iterable[Round] = ()) -> Sight:
    """Find the edges that a view shows, and those that lie hidden.

    Args:
        body: A solid made ready, in its own axes, mm.
        facing: How it is looked at.
        rounds: Circles that the view may hold: where edges lie all round one of them, they are
            given as that circle.
    """
    rows = [[float(part) for part in axis] for axis in (facing.right, facing.up, facing.toward)]
    soup = gather([body.turned(rows, (0.0, 0.0, 0.0))])
    seen = visible(drawn_edges(soup, _LOOK), occluders_of(soup, _LOOK), _LOOK)
    circles = tuple(dict.fromkeys(rounds))
    shown, shown_rounds = _take_rounds(_flat(seen.starts, seen.ends), circles)
    others = [circle for circle in circles if circle not in shown_rounds]
    # Sides of circles that are seen are not hidden edges as well.
    every, _ = _take_rounds(_all_edges(soup), shown_rounds)
    rest, hidden_rounds = _take_rounds(every, others)
    lines = merge_segments(_as_segments(shown))
    return Sight(
        visible=lines,
        hidden=subtract_segments(_as_segments(rest), lines),
        visible_rounds=shown_rounds,
        hidden_rounds=hidden_rounds,
    )


def see_edges(bodies: Iterable[Body], facing: Facing) -> tuple[Segment, ...]:
    """Find the edges that a view of several bodies shows.

    Args:
        bodies: Solids made ready, in axes that they share.
        facing: How they are looked at.
    """
    rows = [[float(part) for part in axis] for axis in (facing.right, facing.up, facing.toward)]
    soup = gather([body.turned(rows, (0.0, 0.0, 0.0)) for body in bodies])
    seen = visible(drawn_edges(soup, _LOOK), occluders_of(soup, _LOOK), _LOOK)
    return merge_segments(_as_segments(_flat(seen.starts, seen.ends)))


def _all_edges(soup: Soup) -> Floats:
    """Every sharp edge and every outline of a smooth surface, seen or not."""
    front = faces_eye(soup, _LOOK)[soup.sides]
    kept = soup.creases | (front[:, 0] != front[:, 1])
    ends = soup.vertices[soup.edges[kept]]
    return _flat(ends[:, 0], ends[:, 1])


def _flat(starts: Floats, ends: Floats) -> Floats:
    """Drop the depth, and what is then a point: (n, 2, 2), start and end of each."""
    flat = np.stack([starts[:, :2], ends[:, :2]], axis=1)
    return np.asarray(flat[np.hypot(*(flat[:, 1] - flat[:, 0]).T) > _SHORTEST_MM])


def _as_segments(flat: Floats) -> list[Segment]:
    return [((x0, y0), (x1, y1)) for (x0, y0), (x1, y1) in flat.tolist()]


def _take_rounds(flat: Floats, rounds: Sequence[Round]) -> tuple[Floats, tuple[Round, ...]]:
    """Give the circles that segments go all the way round, and the segments that are left."""
    found = []
    for circle in rounds:
        on = _is_on(flat, circle)
        # chosen: a side or two may be cut short by an edge that just touches the circle.
        if _turn_covered(flat[on], circle) >= 0.9:
            found.append(circle)
            flat = flat[~on]
    return flat, tuple(found)


def _is_on(flat: Floats, circle: Round) -> Flags:
    """Tell which segments are sides of the many-sided figure that stands for a circle."""
    slack = circle.radius * _ROUND_RATIO + _SAME_LINE_MM
    off = np.hypot(*np.moveaxis(flat - circle.centre, 2, 0)) - circle.radius
    short = np.hypot(*(flat[:, 1] - flat[:, 0]).T) < circle.radius * _LONGEST_SIDE
    return np.asarray(short & (np.abs(off) < slack).all(axis=1))


def _turn_covered(chords: Floats, circle: Round) -> float:
    """How much of a whole turn chords cover, each place once."""
    if not len(chords):
        return 0.0
    x, y = np.moveaxis(chords - circle.centre, 2, 0)
    turns = np.arctan2(y, x) / math.tau
    # The short way round, whichever way a chord runs.
    spans = (turns[:, 1] - turns[:, 0] + 0.5) % 1.0 - 0.5
    middles = np.round((turns[:, 0] + spans / 2) % 1.0, 3)
    return float(np.abs(spans)[np.unique(middles, return_index=True)[1]].sum())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Track:
    """A straight line that segments lie on, and the span of one of them along it."""

    slope: int
    """Direction, in steps of a ten-thousandth of a turn, 0 to 4999."""
    offset: float
    low: float
    high: float


def merge_segments(segments: Iterable[Segment]) -> tuple[Segment, ...]:
    """Join segments that lie on one line and touch or overlap.

    >>> merge_segments([((0, 0), (2, 0)), ((5, 0), (2, 0)), ((1, 1), (1, 4))])
    (((0.0, 0.0), (5.0, 0.0)), ((1.0, 1.0), (1.0, 4.0)))
    """
    return tuple(
        _segment(slope, offset, low, high)
        for slope, offset, spans in _lines_of(segments)
        for low, high in _union(spans)
    )


def subtract_segments(segments: Iterable[Segment], taken: Iterable[Segment]) -> tuple[Segment, ...]:
    """Merge segments and leave out what lies on others.

    >>> subtract_segments([((0, 0), (5, 0))], [((1, 0), (2, 0))])
    (((0.0, 0.0), (1.0, 0.0)), ((2.0, 0.0), (5.0, 0.0)))
    """
    lines = [(slope, offset, _union(spans)) for slope, offset, spans in _lines_of(taken)]
    left = []
    for slope, offset, spans in _lines_of(segments):
        covers = [
            span
            for other, place, covered in lines
            if other == slope and abs(place - offset) < _SAME_LINE_MM
            for span in covered
        ]
        for low, high in _union(spans):
            left += [_segment(slope, offset, *gap) for gap in _gaps(low, high, sorted(covers))]
    return tuple(left)


def _lines_of(segments: Iterable[Segment]) -> Iterator[tuple[int, float, list[Point]]]:
    """Group segments by the line they lie on: direction, offset and spans along it."""
    tracks = sorted((_track(s) for s in segments), key=lambda t: (t.slope, t.offset, t.low))
    for slope, alike in groupby(tracks, key=lambda track: track.slope):
        line: list[_Track] = []
        for track in alike:
            if line and track.offset - line[-1].offset > _SAME_LINE_MM:
                yield slope, line[0].offset, [(t.low, t.high) for t in line]
                line = []
            line.append(track)
        yield slope, line[0].offset, [(t.low, t.high) for t in line]


def _track(segment: Segment) -> _Track:
    (x0, y0), (x1, y1) = segment
    slope = round(math.atan2(y1 - y0, x1 - x0) / math.tau * 10000) % 5000
    along, across = _directions(slope)
    ends = sorted((x0 * along[0] + y0 * along[1], x1 * along[0] + y1 * along[1]))
    offset = (x0 * across[0] + y0 * across[1] + x1 * across[0] + y1 * across[1]) / 2
    return _Track(slope=slope, offset=offset, low=ends[0], high=ends[1])


def _directions(slope: int) -> tuple[Point, Point]:
    if slope == 0:
        return (1.0, 0.0), (0.0, 1.0)
    if slope == 2500:
        return (0.0, 1.0), (1.0, 0.0)
    angle = slope / 10000 * math.tau
    return (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))


def _segment(slope: int, offset: float, low: float, high: float) -> Segment:
    along, across = _directions(slope)
    x, y = across[0] * offset, across[1] * offset
    return (
        (x + along[0] * low, y + along[1] * low),
        (x + along[0] * high, y + along[1] * high),
    )


def _union(spans: Iterable[Point]) -> list[Point]:
    merged: list[Point] = []
    for low, high in sorted(spans):
        if merged and low <= merged[-1][1] + _SAME_LINE_MM:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    return merged


def _gaps(low: float, high: float, covers: Sequence[Point]) -> Iterator[Point]:
    for start, end in covers:
        if start - low > _SHORTEST_MM and low < high:
            yield low, min(start, high)
        low = max(low, end)
    if high - low > _SHORTEST_MM:
        yield low, high
