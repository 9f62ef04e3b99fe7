"""A set of copies that comes off by two slides: a short one, then another that goes on for ever.

Takes what stops what, gives how a locked set comes apart. How far the first slide goes is looked
for where faces come level, for only there does what stands in the way of the second change.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np

from benchleaf.frames import Vector
from benchleaf.joinery.blocking import Blocking
from benchleaf.joinery.clipping import Floats
from benchleaf.joinery.partings import NOWHERE, Parting, bits_of, reach, rows_of_bits

# chosen: what moves less than this before it is stopped has no play that one could use. mm
_LEAST_MM = 0.5
# chosen: lengths of the first slide that are tried, the longest first.
_MOST_LENGTHS = 6
# chosen: pairs of levels that are compared; 8 MB. More lie in turned or bored faces by the hundred.
_MOST_LEVELS = 1_000_000
# chosen: among more copies than this that all hold one another, none is looked for.
MOST_COPIES = 40
# chosen: two directions are across each other if they are more than 0.06 deg apart and not opposed.
_ALONG_COS = 1 - 5e-7


@dataclass(slots=True)
class Tries:
    """How many pairs may still be looked at; counts down while a plan is worked out."""

    left: int

    def take(self, count: int = 1) -> bool:
        """Take some, if as many are left."""
        self.left -= count
        return self.left >= 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Slide:
    """A first slide: what moves, which way, and how far it could go."""

    moved: int
    way: Vector
    room_mm: float


def find_two_slides(group: int, blocking: Blocking, tries: Tries) -> Parting | None:
    """Find the smallest set that comes off a group by two slides, or None."""
    firsts = [one for way in blocking.ways for one in _first_slides(group, way, blocking, tries)]
    for first in sorted(firsts, key=lambda one: one.moved.bit_count()):
        for length in _lengths(first, group, blocking):
            shift: Vector = tuple(float(part) * length for part in first.way)  # type: ignore[assignment]
            for way in blocking.ways:
                if _is_across(first.way, way) and _goes_on(
                    first, group, blocking, tries, shift=shift, way=way
                ):
                    rest = group & ~first.moved
                    return Parting(sets=(first.moved, rest), ways=(way, NOWHERE), shift_mm=shift)
    return None


def _first_slides(group: int, way: Vector, blocking: Blocking, tries: Tries) -> Iterator[_Slide]:
    """Sets that have some play along a way."""
    members = list(bits_of(group))
    pairs = list(permutations(range(len(members)), 2))
    if len(members) > MOST_COPIES or not tries.take(len(pairs)):
        return
    room = np.full((len(members), len(members)), np.inf)
    rows, columns = np.array(pairs).T
    room[rows, columns] = blocking.travels([(members[a], members[b]) for a, b in pairs], way)
    pushes = rows_of_bits(room < _LEAST_MM)
    whole = (1 << len(members)) - 1
    seen: set[int] = set()
    for start in range(len(members)):
        own = reach(1 << start, whole, pushes)
        if own is None or own == whole or own in seen:
            continue
        seen.add(own)
        inside = np.array([bool(own >> number & 1) for number in range(len(members))])
        most = float(room[np.ix_(inside, ~inside)].min())
        if np.isfinite(most):
            moved = sum(1 << members[number] for number in bits_of(own))
            yield _Slide(moved=moved, way=way, room_mm=most)


def _lengths(first: _Slide, group: int, blocking: Blocking) -> Sequence[float]:
    """Lengths of a first slide that bring faces level, the longest first, mm."""
    own = blocking.levels(bits_of(first.moved), first.way)
    others = blocking.levels(bits_of(group & ~first.moved), first.way)
    if len(own) * len(others) > _MOST_LEVELS:
        return [first.room_mm]
    apart: Floats = np.unique(np.round(others[None, :] - own[:, None], 3))
    level = apart[(apart >= _LEAST_MM) & (apart < first.room_mm - _LEAST_MM / 10)][::-1]
    return [first.room_mm, *level[: _MOST_LENGTHS - 1].tolist()]


def _goes_on(  # noqa: PLR0913 - four by position, two named
    first: _Slide, group: int, blocking: Blocking, tries: Tries, *, shift: Vector, way: Vector
) -> bool:
    pairs = [(a, b) for a in bits_of(first.moved) for b in bits_of(group & ~first.moved)]
    return tries.take(len(pairs)) and not blocking.stops(pairs, way, shift).any()


def _is_across(one: Vector, other: Vector) -> bool:
    cosine = sum(float(a) * float(b) for a, b in zip(one, other, strict=True))
    return abs(cosine) < _ALONG_COS
