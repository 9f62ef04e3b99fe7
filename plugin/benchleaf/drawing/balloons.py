"""Balloons: the marks of parts in rows and columns round a picture, each led to its part.

Takes the visible shapes of parts on the sheet, gives circles, texts and leaders that neither cross
nor overlap. Knows nothing of space. ISO 6433: references in rows or columns, circles alike,
figures about twice the height of the dimensions.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from benchleaf.drawing.bodies import Floats, Ints
from benchleaf.drawing.leaders import settle
from benchleaf.drawing.scene import Circle, Line, Mark, Role, Text
from benchleaf.drawing.text_metrics import text_width

# Height of the marks and whether there are rows too, from the best. ISO 3098-1 heights; ISO 6433:
# about twice the dimension text, 2.5 mm; chosen: smaller ones rather than rows that squeeze the
# picture.
LAYOUTS = ((5.0, False), (3.5, False), (3.5, True), (2.5, True))
# chosen: clear room between balloons and round them, mm.
GAP = 1.5
# chosen: a leader that is shorter than this shows no slope, mm.
LEAD = 5.0
# chosen: radius of the dot at the end of a leader, mm: two narrow lines.
DOT = 0.5
# chosen: a dot is to lie this far inside its part, mm, or as far as the part lets it.
INSIDE = (2.0, 1.0, 0.6, 0.3, 0.0)
# chosen: a dot of radius 0.5 mm that lies so far inside keeps off the lines.
CLEAR_INSIDE = 0.6
# chosen: areas of a part in which a dot may lie; the smaller ones are scraps.
LARGEST = 3
# chosen: areas of less than this share of the largest are edges and ends: no place for a dot.
WORTHY = 0.4
# chosen: with more balloons than these a picture is all balloons: then copies of a part share one.
MOST = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """The room for balloons round a picture."""

    width: float
    height: float
    """Of the sheet, mm."""
    text_mm: float
    """Height of the marks."""
    radius: float
    """Of the circles."""
    has_rows: bool
    """Whether there are rows above and below too, besides columns left and right."""

    @property
    def pitch(self) -> float:
        """Least distance between centres in a row or column."""
        return 2 * self.radius + GAP

    @property
    def room(self) -> int:
        """How many balloons it takes."""
        return sum(side.room(self.pitch) for side in self.sides())

    @property
    def inner(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Low and high corner of the room that is left for the picture."""
        side = 2 * self.radius + LEAD
        foot = side if self.has_rows else 1.0
        return (side, foot), (self.width - side, self.height - foot)

    def sides(self) -> tuple[Side, ...]:
        """Its rows and columns."""
        r, w, h = self.radius + 0.5, self.width, self.height
        columns = (
            Side(across=0, at=r, low=r, high=h - r),
            Side(across=0, at=w - r, low=r, high=h - r),
        )
        if not self.has_rows:
            return columns
        low, high = 2 * r + GAP, w - 2 * r - GAP
        low, high = low + r, high - r
        return (
            *columns,
            Side(across=1, at=r, low=low, high=high),
            Side(across=1, at=h - r, low=low, high=high),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One row or column: a straight line for the centres of balloons."""

    across: int
    """The coordinate that all its balloons share: 0 for a column, 1 for a row."""
    at: float
    low: float
    high: float
    """Where the first and the last may stand along it."""

    def room(self, pitch: float) -> int:
        """How many balloons it takes."""
        return max(0, math.floor((self.high - self.low) / pitch) + 1)


def ring_for(marks: Sequence[str], size: tuple[float, float]) -> Ring:
    """Choose the largest balloons for which there is room, columns alone before columns and rows.

    Args:
        marks: What will stand in them.
        size: Width and height of the sheet, mm.
    """
    rings = [_ring(marks, size, height, has_rows=rows) for height, rows in LAYOUTS]
    fitting = (ring for ring in rings if ring.room >= len(marks))
    return next(fitting, rings[-1])


def least_height(count: int, ring: Ring) -> float:
    """How high a sheet has to be for a ring to take as many balloons, mm, to a whole one."""
    in_rows = sum(side.room(ring.pitch) for side in ring.sides() if side.across)
    each = math.ceil(max(count - in_rows, 0) / 2)
    return math.ceil(max(each - 1, 0) * ring.pitch + 2 * ring.radius + 1)


def _ring(
    marks: Sequence[str], size: tuple[float, float], height: float, *, has_rows: bool
) -> Ring:
    return Ring(
        width=size[0],
        height=size[1],
        text_mm=height,
        radius=_radius(marks, height),
        has_rows=has_rows,
    )


def share_balloons(marks: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """Give each mark a balloon, or where those are too many, one to all copies of a part.

    The part with the most copies shares first.

    Returns:
        What each balloon says, to the marks that it stands for.

    >>> share_balloons(["A1", "A2", "B"])
    {'A1': ('A1',), 'A2': ('A2',), 'B': ('B',)}
    >>> list(share_balloons(["A1", "A2", *(f"B{i}" for i in range(1, 90)), "C"]))
    ['A1', 'A2', 'B', 'C']
    """
    copies: dict[str, list[str]] = {}
    for mark in marks:
        copies.setdefault(mark.rstrip("0123456789"), []).append(mark)
    shared: set[str] = set()
    count = len(marks)
    for part in sorted(copies, key=lambda part: -len(copies[part])):
        if count > MOST and len(copies[part]) > 1:
            shared.add(part)
            count -= len(copies[part]) - 1
    balloons: dict[str, tuple[str, ...]] = {}
    for part, found in copies.items():
        balloons |= {part: tuple(found)} if part in shared else {mark: (mark,) for mark in found}
    return balloons


def _radius(marks: Sequence[str], height: float) -> float:
    """Radius of circles that hold the widest mark with a little room at its corners."""
    widest = max((text_width(mark, height) for mark in marks), default=0.0)
    return max(math.hypot(widest, height) / 2 + height * 0.15, height)


def place_balloons(shapes: Mapping[str, Sequence[shapely.Polygon]], ring: Ring) -> tuple[Mark, ...]:
    """Set balloons round a picture and lead each to a dot on its part.

    Args:
        shapes: For each mark the areas, mm on the sheet, where its part is seen; a mark that is
            seen nowhere gets no balloon.
        ring: The room for them.

    Returns:
        Leaders first, then circles and texts, in the order of the marks.
    """
    seen = [mark for mark, areas in shapes.items() if len(areas)]
    if not seen:
        return ()
    spots = [_spots(shapes[mark]) for mark in seen]
    dots, seats = settle(spots, _seats(spots, ring), ring.radius)
    leaders = [
        mark
        for dot, seat in zip(dots.tolist(), seats.tolist(), strict=True)
        for mark in _leader((dot[0], dot[1]), (seat[0], seat[1]), ring)
    ]
    balloons = [
        mark
        for name, seat in zip(seen, seats.tolist(), strict=True)
        for mark in _balloon(name, (seat[0], seat[1]), ring)
    ]
    return (*leaders, *balloons)


def _leader(dot: tuple[float, float], seat: tuple[float, float], ring: Ring) -> tuple[Mark, ...]:
    length = math.dist(dot, seat)
    share = max(0.0, 1 - ring.radius / length) if length else 0.0
    rim = (dot[0] + (seat[0] - dot[0]) * share, dot[1] + (seat[1] - dot[1]) * share)
    return (
        Line(points=(dot, rim), role=Role.LEADER),
        Circle(centre=dot, radius=DOT, role=Role.LEADER, filled=True),
    )


def _balloon(mark: str, seat: tuple[float, float], ring: Ring) -> tuple[Mark, ...]:
    return (
        Circle(centre=seat, radius=ring.radius, role=Role.MARK, filled=True, id=f"balloon-{mark}"),
        Text(at=seat, text=mark, height=ring.text_mm, role=Role.MARK, halo=False),
    )


def _spots(areas: Sequence[shapely.Polygon]) -> Floats:
    """Places for a dot, (n, 2), well inside the largest areas and spread along each."""
    ranked = sorted(areas, key=lambda area: -area.area)[:LARGEST]
    insides = [_inside(area) for area in ranked if area.area >= WORTHY * ranked[0].area]
    wanted = min(CLEAR_INSIDE, max(depth for depth, _ in insides))
    found = [spot for depth, rest in insides if depth >= wanted for spot in _spread(rest)]
    return np.array(found)


def _inside(area: shapely.Polygon) -> tuple[float, shapely.Geometry]:
    """How wide a rim can be taken off an area, mm, and what is left then."""
    for depth in INSIDE:
        rest = area.buffer(-depth, join_style="mitre")
        if not rest.is_empty:
            return depth, rest
    return 0.0, area


def _spread(area: shapely.Geometry) -> list[tuple[float, float]]:
    """A point in each third of an area, along the longer side of the box round it."""
    left, top, right, foot = area.bounds
    if right - left > foot - top:
        cuts = np.linspace(left, right, 4).tolist()
        thirds = [shapely.box(a, top, b, foot) for a, b in pairwise(cuts)]
    else:
        cuts = np.linspace(top, foot, 4).tolist()
        thirds = [shapely.box(left, a, right, b) for a, b in pairwise(cuts)]
    pieces = [piece for piece in shapely.intersection(area, thirds) if piece.area > 0] or [area]
    return [(point.x, point.y) for point in shapely.point_on_surface(pieces)]


def _seats(spots: Sequence[Floats], ring: Ring) -> Floats:
    """Centres of balloons, (n, 2): in the nearest side with room, each level with its part."""
    sides = ring.sides()
    away = np.array([[_away(spot, side) for side in sides] for spot in spots])
    side_of = _shared_out(away, [side.room(ring.pitch) for side in sides])
    seats = np.zeros((len(spots), 2))
    for number, side in enumerate(sides):
        members = np.flatnonzero(side_of == number)
        level = np.array([_level(spots[i], side) for i in members.tolist()])
        order = np.argsort(level, kind="stable")
        seats[members[order], 1 - side.across] = _spaced(level[order], side, ring.pitch)
        seats[members, side.across] = side.at
    return seats


def _away(spots: Floats, side: Side) -> float:
    """How far the nearest spot is from a row or column."""
    return float(np.abs(spots[:, side.across] - side.at).min())


def _level(spots: Floats, side: Side) -> float:
    """Where along a row or column the nearest spot lies."""
    nearest = np.abs(spots[:, side.across] - side.at).argmin()
    return float(spots[nearest, 1 - side.across])


def _shared_out(away: Floats, rooms: Sequence[int]) -> Ints:
    """Give each balloon the nearest side that has room; those with most to lose choose first.

    Room is shared so that no side takes much more than its part while others stand empty.
    """
    count = len(away)
    # chosen: a fifth more than its part still looks even.
    left = [min(room, math.ceil(1.2 * count * room / sum(rooms))) for room in rooms]
    ranked = np.sort(away, axis=1)
    result = np.zeros(count, dtype=np.intp)
    for i in np.argsort(ranked[:, 0] - ranked[:, 1], kind="stable").tolist():
        free = [side for side in np.argsort(away[i], kind="stable").tolist() if left[side] > 0]
        result[i] = free[0] if free else int(np.argmax(rooms))
        left[result[i]] -= 1
    return result


def _spaced(levels: Floats, side: Side, pitch: float) -> Floats:
    """Move sorted levels apart to a pitch with the least sum of squares of moves, within a side."""
    if not len(levels):
        return levels
    steps = pitch * np.arange(len(levels))
    # Pool adjacent violators: what is left after the pitch is taken off must not fall.
    pools: list[tuple[float, int]] = []
    for value in (levels - steps).tolist():
        pools.append((value, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, n) = pools[-2:]
            pools[-2:] = [((a * m + b * n) / (m + n), m + n)]
    rising = np.repeat([value for value, _ in pools], [size for _, size in pools])
    top = max(side.low, side.high - steps[-1])
    return np.asarray(np.clip(rising, side.low, top) + steps)
