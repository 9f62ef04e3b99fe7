"""Several parts that come off at the same moment, each its own way, all at one speed.

Takes what stops what, gives how a locked set comes apart: the sides of a mitred frame with keys in
its corners go together only so. Two copies part if nothing stops the one in the direction in which
it moves as seen from the other; so ways are given to the copies until every two agree.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, permutations, product
from math import sqrt

from benchleaf.frames import Vector
from benchleaf.joinery.blocking import AXIS_WAYS, Blocking, Pair
from benchleaf.joinery.partings import NOWHERE, Parting, bits_from, bits_of, is_one
from benchleaf.joinery.two_slides import Tries

# chosen: ways that are tried besides the axes; five sides of a frame need ten.
_MOST_SLANTED = 12
# chosen: ways that take one another away but for this leave none between them.
_LEAST_LENGTH = 1e-6
# chosen: more copies than this that all hold one another are beyond what is closed at once.
MOST_COPIES = 24
# chosen: ways that agree to this are one; frames of turned parts are good to 1e-12.
_DIGITS = 9


def find_closing(group: int, blocking: Blocking, tries: Tries) -> Parting | None:
    """Find ways for the copies of a group that take it apart at once, or None."""
    members = list(bits_of(group))
    if len(members) > MOST_COPIES:
        return None
    # The largest is what the others come off, where it can stay.
    members.sort(key=lambda number: (-blocking.volumes_mm3[number], number))
    slanted = _slanted_ways(group, blocking)
    straight = (NOWHERE, *AXIS_WAYS)
    for ways in (straight, (*straight, *slanted)) if slanted else (straight,):
        agreeing = _Agreeing(members, ways, blocking, tries)
        found = next(agreeing.search(), None)
        if found is not None:
            return _parting({n: ways[way] for n, way in zip(members, found, strict=True)})
    return None


def _slanted_ways(group: int, blocking: Blocking) -> tuple[Vector, ...]:
    """Ways off the axes: those of joints in a group, and for each copy the way between its own.

    A side of a mitred frame comes off each neighbour square to the mitre, and so off both midway.
    """
    own: dict[int, list[Vector]] = {}
    for (a, b), holds in blocking.holds.items():
        if group >> a & 1 and group >> b & 1:
            first = [_rounded(hold.ways[0].tolist()) for hold in holds if len(hold.ways)]
            own.setdefault(a, []).extend(first)
    listed = [way for ways in own.values() for way in ways]
    listed += [way for ways in own.values() for way in _midway(ways)]
    axes = [_rounded(way) for way in AXIS_WAYS]
    return tuple(way for way in dict.fromkeys(listed) if way not in axes)[:_MOST_SLANTED]


def _midway(ways: Sequence[Vector]) -> Iterator[Vector]:
    x, y, z = (sum(float(way[axis]) for way in ways) for axis in range(3))
    length = sqrt(x * x + y * y + z * z)
    if length > _LEAST_LENGTH:
        yield _rounded((x / length, y / length, z / length))


def _rounded(way: Sequence[object]) -> Vector:
    x, y, z = (round(float(part), _DIGITS) + 0.0 for part in way)  # type: ignore[arg-type]
    return (x, y, z)


class _Agreeing:
    """Ways for copies such that every two agree; lives for one search.

    What joints say is known from the start; wood is looked at when all else agrees.
    """

    def __init__(
        self, members: Sequence[int], ways: Sequence[Vector], blocking: Blocking, tries: Tries
    ) -> None:
        self._count, self._all = len(members), (1 << len(ways)) - 1
        self._ways, self._tries = ways, tries
        self._members, self._blocking = members, blocking
        self._allowed = self._agree()

    def _agree(self) -> dict[Pair, list[int]]:
        """For two copies, by the way of the first, the ways that their joints leave the second."""
        pairs = list(permutations(range(self._count), 2))
        allowed = {pair: [self._all] * len(self._ways) for pair in pairs}
        jointed = [pair for pair in pairs if self._numbers(pair) in self._blocking.holds]
        for own, other in permutations(range(len(self._ways)), 2):
            way = _apart(self._ways[own], self._ways[other])
            for pair in jointed:
                if self._blocking.is_held(self._numbers(pair), way):
                    allowed[pair][own] &= ~(1 << other)
        return allowed

    def _numbers(self, pair: Pair) -> Pair:
        return self._members[pair[0]], self._members[pair[1]]

    def _passes(self, found: Sequence[int]) -> bool:
        """Tell whether the wood lets all go their ways; what it does not is known from then on."""
        by_way: dict[Vector, list[Pair]] = {}
        for one, other in combinations(range(self._count), 2):
            if found[one] != found[other]:
                way = _apart(self._ways[found[one]], self._ways[found[other]])
                by_way.setdefault(way, []).append((one, other))
        passes = True
        for way, pairs in by_way.items():
            if not self._tries.take(len(pairs)):
                return False
            stopped = self._blocking.stops([self._numbers(pair) for pair in pairs], way)
            for one, other in (pair for pair, stops in zip(pairs, stopped, strict=True) if stops):
                self._allowed[one, other][found[one]] &= ~(1 << found[other])
                self._allowed[other, one][found[other]] &= ~(1 << found[one])
                passes = False
        return passes

    def search(self) -> Iterator[list[int]]:
        """Give each copy a way, not all the same; those that stay put first."""
        for base in range(len(self._ways)):
            open_to = [1 << base, *[self._all] * (self._count - 1)]
            if not self._settle(open_to, [0]):
                continue
            for copy, way in product(range(1, self._count), range(len(self._ways))):
                if way != base and open_to[copy] >> way & 1 and self._tries.take():
                    tried = [*open_to]
                    tried[copy] = 1 << way
                    if self._settle(tried, [copy]):
                        yield from self._finish(tried)

    def _finish(self, open_to: list[int]) -> Iterator[list[int]]:
        """Settle what is still open, copy by copy."""
        if all(is_one(ways) for ways in open_to):
            found = [ways.bit_length() - 1 for ways in open_to]
            if self._passes(found):
                yield found
            return
        still = (copy for copy in range(self._count) if not is_one(open_to[copy]))
        copy = min(still, key=lambda number: open_to[number].bit_count())
        for way in bits_of(open_to[copy]):
            tried = [*open_to]
            tried[copy] = 1 << way
            if self._tries.take() and self._settle(tried, [copy]):
                yield from self._finish(tried)

    def _settle(self, open_to: list[int], changed: list[int]) -> bool:
        """Take away what no longer agrees with anything, as far as that goes; False if all goes."""
        while changed:
            copy = changed.pop()
            for other in range(self._count):
                if other == copy:
                    continue
                may = 0
                for way in bits_of(open_to[copy]):
                    may |= self._allowed[copy, other][way]
                left = open_to[other] & may
                if not left:
                    return False
                if left != open_to[other]:
                    open_to[other] = left
                    changed.append(other)
        return True


def _apart(one: Vector, other: Vector) -> Vector:
    """The way in which something moves as seen from something else that moves as fast."""
    x, y, z = (float(a) - float(b) for a, b in zip(one, other, strict=True))
    length = sqrt(x * x + y * y + z * z)
    return _rounded((x / length, y / length, z / length))


def _parting(moves: dict[int, Vector]) -> Parting:
    """Copies that move alike as one body; what stays, or else holds the largest, comes last."""
    largest = next(iter(moves))
    held: dict[Vector, list[int]] = {}
    for number, way in moves.items():
        held.setdefault(way, []).append(number)
    base = NOWHERE if NOWHERE in held else moves[largest]
    others = sorted(
        (way for way in held if way != base), key=lambda way: (len(held[way]), held[way])
    )
    ways = (*others, base)
    if len(ways) == 2 and base != NOWHERE:
        ways = (_apart(others[0], base), NOWHERE)
    return Parting(sets=tuple(bits_from(held[way]) for way in (*others, base)), ways=ways)
