"""Which copies stop which, direction by direction: by their wood, or by what their joints say.

Takes the solids in their places and the worked joints, answers for pairs of copies and any
direction. Must not know orders of assembly.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from manifold3d import Manifold
from numpy.typing import NDArray

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
        self._held: dict[tuple[Vector, bool], Flags] = {}
        self._wood: dict[Vector, NDArray[np.int8]] = {}
        self._rooms: dict[Vector, Floats] = {}
        self._passing = np.zeros((len(self.marks), len(self.marks)), dtype=bool)

    def pass_through(self, pairs: Iterable[Pair]) -> None:
        """Let the wood of pairs pass through one another: it does already where they stand."""
        for first, second in pairs:
            self._passing[first, second] = self._passing[second, first] = True

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
        first, second = np.asarray(pairs, dtype=np.intp).reshape(-1, 2).T
        is_shifted = any(shift_mm)
        stopped = self._holds_back(way, pegs_alone=is_shifted)[first, second]
        open_to = np.flatnonzero(~stopped & ~self._passing[first, second])
        looked = np.column_stack([first[open_to], second[open_to]])
        if is_shifted:
            stopped[open_to] = self._sight(way).stops(looked, shift_mm)
        else:
            stopped[open_to] = self._stopped_by_wood(looked, way)
        return stopped

    def travels(self, pairs: Sequence[Pair] | Ints, way: Vector) -> Floats:
        """How far the first of each pair moves along a way before its wood meets the second, mm.

        Where hardware holds the two another way, they do not move at all.
        """
        first, second = np.asarray(pairs, dtype=np.intp).reshape(-1, 2).T
        known = self._rooms.setdefault(_key(way), np.full(self._passing.shape, np.nan))
        held = self._holds_back(way, pegs_alone=True)[first, second]
        fresh = np.flatnonzero(np.isnan(known[first, second]) & ~held)
        looked = np.column_stack([first[fresh], second[fresh]])
        known[first[fresh], second[fresh]] = self._sight(way).travels(looked)
        room = np.where(self._passing[first, second], np.inf, known[first, second])
        return np.where(held, 0.0, room)

    def _stopped_by_wood(self, pairs: Ints, way: Vector) -> Flags:
        """As `stops` without joints; what was looked at before, or the other way, is known."""
        if _key(back(way)) in self._wood:
            return self._stopped_by_wood(pairs[:, ::-1], back(way))
        known = self._wood.setdefault(_key(way), np.full(self._passing.shape, -1, dtype=np.int8))
        first, second = pairs.T
        fresh = np.flatnonzero(known[first, second] < 0)
        known[first[fresh], second[fresh]] = self._sight(way).stops(pairs[fresh])
        return np.asarray(known[first, second] == 1)

    def _holds_back(self, way: Vector, *, pegs_alone: bool) -> Flags:
        """For all pairs, whether a joint does not let the first off the second along a way."""
        key = (_key(way), pegs_alone)
        if key not in self._held:
            held = np.zeros(self._passing.shape, dtype=bool)
            for pair, holds in self.holds.items():
                binding = (hold for hold in holds if hold.is_pegged or not pegs_alone)
                held[pair] = any(not self._allows(hold, way) for hold in binding)
            self._held[key] = held
        return self._held[key]

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

    def is_held(self, pair: Pair, way: Vector) -> bool:
        """Tell whether a joint does not let the first of two copies off the second along a way."""
        return any(not self._allows(hold, way) for hold in self.holds.get(pair, ()))

    def _allows(self, hold: Hold, way: Vector) -> bool:
        key = (hold.ways.tobytes(), way)
        if key not in self._allowed:
            self._allowed[key] = hold.allows(_floats(way))
        return self._allowed[key]

    def _sight(self, way: Vector) -> Sight:
        key = _key(way)
        if key not in self._sights:
            self._sights[key] = Sight(self._bodies, way)
        return self._sights[key]


def _key(way: Vector) -> Vector:
    """The same direction, whatever numbers it is written with."""
    x, y, z = (round(float(part), 12) for part in way)
    return (x, y, z)


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
