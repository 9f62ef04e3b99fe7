"""Which copies stop which, direction by direction: by their wood, or by what their joints say.

Takes the solids in their places and the worked joints, answers for pairs of copies and any
direction. Must not know orders of assembly.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from manifold3d import Manifold

from benchleaf.frames import Vector
from benchleaf.joinery.clipping import Floats, Ints
from benchleaf.joinery.motion import DEPTH_MM, Flags, Sight, bodies_of
from benchleaf.joinery.records import JointFit

# chosen: what comes off upwards goes on last; then forwards, sideways, back and down.
AXIS_WAYS: tuple[Vector, ...] = (
    (0, 0, 1),
    (0, -1, 0),
    (-1, 0, 0),
    (1, 0, 0),
    (0, 1, 0),
    (0, 0, -1),
)
# chosen: directions of joints that are looked at besides the axes; eight splayed legs need 16.
MOST_SLANTED = 40
# chosen: directions that differ by less than 0.003 deg are one; frames are good to far less.
SAME_COS = 1 - 1e-9
# chosen: a cone of directions is taken to end this far beyond its edge, for rounding.
_CONE_SLACK = 1e-9
# Driven or put in once the parts are together; all other hardware sits in one part while it moves.
_DRIVEN_AFTER = ("screw", "bolt", "nail", "peg", "wedge")

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hold:
    """One joint between two copies, as it lets the first move off the second."""

    fit: JointFit
    ways: Floats
    """(k, 3) unit directions in the piece's axes; others lie between them."""
    is_pegged: bool
    """True where hardware stands in the joint while it closes, so that the wood does not tell."""

    def allows(self, way: Floats) -> bool:
        """Tell whether a unit direction is one of the joint's, or lies between them."""
        return len(self.ways) > 0 and (
            float((self.ways @ way).max()) > SAME_COS or _is_between(way, self.ways)
        )


class Blocking:
    """Who stops whom; keeps what it has looked at, for one planning."""

    def __init__(self, solids: Mapping[str, Manifold], fits: Iterable[JointFit]) -> None:
        """Take the finished solids where they stand, by mark, and the joints between them."""
        self.marks = tuple(solids)
        self.holds = _holds(self.marks, fits)
        self.ways = _ways(hold.ways for holds in self.holds.values() for hold in holds)
        self.volumes_mm3 = tuple(solid.volume() for solid in solids.values())
        self._solids = tuple(solids.values())
        self._bodies = bodies_of(self._solids)
        self._sights: dict[Vector, Sight] = {}
        self._allowed: dict[tuple[bytes, Vector], bool] = {}
        self._passing: set[frozenset[int]] = set()

    def pass_through(self, pairs: Iterable[Pair]) -> None:
        """Let the wood of pairs pass through one another: it does already where they stand."""
        self._passing |= {frozenset(pair) for pair in pairs}

    def close_pairs(self) -> list[Pair]:
        """Pairs of copies round which the boxes overlap, each once."""
        low, high = self._bodies.low, self._bodies.high
        apart = np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])
        close = np.triu((apart > DEPTH_MM).all(axis=2), k=1)
        return [(int(a), int(b)) for a, b in np.argwhere(close)]

    def shared_mm3(self, pair: Pair) -> float:
        """Volume that two copies share where they stand, mm3."""
        first, second = (self._solids[number] for number in pair)
        return float((first ^ second).volume())

    def stops(
        self, pairs: Sequence[Pair] | Ints, way: Vector, shift_mm: Vector = (0, 0, 0)
    ) -> Flags:
        """Tell for pairs whether the second copy stops the first from moving off along a way.

        Args:
            pairs: (k, 2) numbers of copies, in the order of the marks.
            way: Unit direction in the piece's axes.
            shift_mm: How far the first has been moved before; then joints without hardware no
                longer guide it, and its wood alone tells.
        """
        listed = np.asarray(pairs, dtype=np.intp).reshape(-1, 2)
        stopped = self._sight(way).stops(listed, shift_mm)
        is_shifted = any(shift_mm)
        for index, hold in self._held(listed):
            if hold is None:
                stopped[index] = False
            elif (hold.is_pegged or not is_shifted) and not self._allows(hold, way):
                stopped[index] = True
        return stopped

    def travels(self, pairs: Sequence[Pair] | Ints, way: Vector) -> Floats:
        """How far the first of each pair moves along a way before its wood meets the second, mm."""
        listed = np.asarray(pairs, dtype=np.intp).reshape(-1, 2)
        room = self._sight(way).travels(listed)
        for index, hold in self._held(listed):
            if hold is None:
                room[index] = np.inf
            elif hold.is_pegged and not self._allows(hold, way):
                room[index] = 0.0
        return room

    def levels(self, numbers: Iterable[int], way: Vector) -> Floats:
        """The depths of all corners of copies along a way, each once, mm."""
        return self._sight(way).levels(numbers)

    def matrix(self, way: Vector) -> Flags:
        """Tell for all copies whether the second, by column, stops the first from moving off."""
        count = len(self.marks)
        pairs = np.argwhere(~np.eye(count, dtype=bool))
        stopped = np.zeros((count, count), dtype=bool)
        stopped[pairs[:, 0], pairs[:, 1]] = self.stops(pairs, way)
        return stopped

    def _allows(self, hold: Hold, way: Vector) -> bool:
        key = (hold.ways.tobytes(), way)
        if key not in self._allowed:
            self._allowed[key] = hold.allows(_floats(way))
        return self._allowed[key]

    def _held(self, pairs: Ints) -> Iterator[tuple[int, Hold | None]]:
        """Joints among listed pairs, by place in the list; None for a pair that may pass."""
        places = dict(zip(map(tuple, pairs.tolist()), range(len(pairs)), strict=True))
        for both in self._passing:
            a, b = sorted(both)
            yield from ((places[p], None) for p in ((a, b), (b, a)) if p in places)
        for pair in self.holds.keys() & places.keys():
            yield from ((places[pair], hold) for hold in self.holds[pair])

    def _sight(self, way: Vector) -> Sight:
        x, y, z = (round(float(part), 12) for part in way)
        if (x, y, z) not in self._sights:
            self._sights[x, y, z] = Sight(self._bodies, way)
        return self._sights[x, y, z]


def back(way: Vector) -> Vector:
    """The opposite direction."""
    return (-way[0], -way[1], -way[2])


def is_same_way(one: Vector, other: Vector) -> bool:
    """Tell whether two unit directions are one but for rounding."""
    return float(_floats(one) @ _floats(other)) > SAME_COS


def _floats(way: Vector) -> Floats:
    return np.array([float(part) for part in way])


def _holds(marks: Sequence[str], fits: Iterable[JointFit]) -> dict[Pair, list[Hold]]:
    """For each ordered pair of jointed copies, its joints."""
    index = {mark: i for i, mark in enumerate(marks)}
    found: dict[Pair, list[Hold]] = {}
    for fit in fits:
        a, b = index[fit.contact.first], index[fit.contact.second]
        listed = [_floats(fit.contact.frame.outward_direction(d)) for d in fit.free_directions]
        ways = np.array(listed).reshape(-1, 3)
        is_pegged = any(
            not any(word in item.kind for word in _DRIVEN_AFTER) for item in fit.hardware
        )
        found.setdefault((a, b), []).append(Hold(fit=fit, ways=ways, is_pegged=is_pegged))
        found.setdefault((b, a), []).append(Hold(fit=fit, ways=-ways, is_pegged=is_pegged))
    return found


def _ways(listed: Iterable[Floats]) -> tuple[Vector, ...]:
    """The axes, then the other directions of joints, each once."""
    ways = list(AXIS_WAYS)
    known = np.array([_floats(way) for way in ways])
    for own in listed:
        for way in own:
            if len(ways) == len(AXIS_WAYS) + MOST_SLANTED:
                return tuple(ways)
            if float((known @ way).max()) <= SAME_COS:
                x, y, z = (float(part) for part in way)
                ways.append((x, y, z))
                known = np.vstack([known, way])
    return tuple(ways)


def _is_between(way: Floats, cone: Floats) -> bool:
    """Tell whether a direction is a sum of parts, none negative, of two or three others."""
    for count in (2, 3):
        for chosen in combinations(range(len(cone)), count):
            some = cone[list(chosen)].T
            shares, _, rank, _ = np.linalg.lstsq(some, way, rcond=None)
            left = np.abs(some @ shares - way).max()
            if rank == count and left < _CONE_SLACK and (shares > -_CONE_SLACK).all():
                return True
    return False
