"""How the piece comes apart, and so how it goes together.

Takes the placed copies and the worked joints, gives a tree of assemblies. For each of the six
directions it asks which copies block which (through a joint that does not slide that way, or by
standing in the way), and takes off the smallest set that nothing else holds. Read backwards, that
is the order of assembly; the directions serve the exploded view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from benchleaf.frames import Vector
from benchleaf.joinery.records import Assembly, JointFit
from benchleaf.piece.records import Piece

# chosen: what comes off upwards goes on last; then forwards, sideways, back and down.
DIRECTIONS: tuple[Vector, ...] = (
    (0, 0, 1),
    (0, -1, 0),
    (-1, 0, 0),
    (1, 0, 0),
    (0, 1, 0),
    (0, 0, -1),
)
# Faces that touch are equal rationals; as floats they agree far below this. mm
TOUCH_MM = 1e-6
_NOWHERE: Vector = (0, 0, 0)
_Pair = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ties:
    """What holds the copies together, by their numbers; sets of copies are bit sets."""

    marks: Sequence[str]
    blocks: Mapping[Vector, Sequence[int]]
    """For each direction, for each copy, the copies that it would push."""
    drawn: Mapping[_Pair, frozenset[Vector]]
    """For each ordered pair of jointed copies, the ways in which the joint itself draws the first
    off the second: a tenon along its length, a shelf square out of its housing."""


def plan_assembly(piece: Piece, fits: Iterable[JointFit]) -> Assembly:
    """Plan in which groups and directions the copies come together.

    Args:
        piece: The placed piece.
        fits: Its worked joints.

    Returns:
        The root of the tree; a node that no straight slide can open is marked as locked.
    """
    marks = list(piece.copies)
    listed = tuple(fits)
    free, drawn = _ways_apart(marks, listed)
    low = np.array([[float(v) for v in piece.copies[m].box.low] for m in marks])
    high = np.array([[float(v) for v in piece.copies[m].box.high] for m in marks])
    blocks = {direction: _blocked(direction, low, high, free=free) for direction in DIRECTIONS}
    ties = _Ties(marks=marks, blocks=blocks, drawn=drawn)
    return _take_apart((1 << len(marks)) - 1, ties, _NOWHERE)


def _ways_apart(
    marks: Sequence[str], fits: Iterable[JointFit]
) -> tuple[dict[_Pair, frozenset[Vector]], dict[_Pair, frozenset[Vector]]]:
    """For each ordered pair of jointed copies, all ways apart, and those the joints draw in."""
    index = {mark: i for i, mark in enumerate(marks)}
    free: dict[_Pair, frozenset[Vector]] = {}
    drawn: dict[_Pair, frozenset[Vector]] = {}
    for fit in fits:
        a, b = index[fit.contact.first], index[fit.contact.second]
        ways = [fit.contact.frame.outward_direction(d) for d in fit.free_directions]
        for pair, listed in (((a, b), ways), ((b, a), [_back(way) for way in ways])):
            free[pair] = free.get(pair, frozenset(listed)) & frozenset(listed)
            drawn[pair] = drawn.get(pair, frozenset()) | frozenset(listed[:1])
    return free, drawn


def _back(way: Vector) -> Vector:
    return (-way[0], -way[1], -way[2])


def _blocked(
    direction: Vector,
    low: np.ndarray,
    high: np.ndarray,
    *,
    free: Mapping[_Pair, frozenset[Vector]],
) -> list[int]:
    """For each copy, the bit set of copies that stop it from moving in a direction."""
    axis = next(i for i in range(3) if direction[i])
    in_line = np.ones((len(low), len(low)), dtype=bool)
    for other in (i for i in range(3) if i != axis):
        in_line &= low[:, None, other] < high[None, :, other] - TOUCH_MM
        in_line &= low[None, :, other] < high[:, None, other] - TOUCH_MM
    if direction[axis] > 0:
        ahead = high[None, :, axis] > low[:, None, axis] + TOUCH_MM
    else:
        ahead = low[None, :, axis] < high[:, None, axis] - TOUCH_MM
    stops = in_line & ahead
    np.fill_diagonal(stops, val=False)
    for (a, b), ways in free.items():
        stops[a, b] = direction not in ways
    return [sum(1 << int(j) for j in np.flatnonzero(row)) for row in stops]


def _take_apart(group: int, ties: _Ties, before: Vector) -> Assembly:
    copies = tuple(ties.marks[i] for i in _bits(group))
    if len(copies) == 1:
        return Assembly(copies=copies, moved=None, fixed=None, direction=_NOWHERE)
    hung = _hung(group, ties)
    found = _easiest_removal(group, ties, hung, before=before) or _easiest_removal(
        group, ties, {}, before=before
    )
    moved, direction = found or (1 << next(_bits(group)), _NOWHERE)
    return Assembly(
        copies=copies,
        moved=_take_apart(moved, ties, direction),
        fixed=_take_apart(group & ~moved, ties, direction),
        direction=direction,
        is_locked=found is None,
    )


def _hung(group: int, ties: _Ties) -> dict[int, int]:
    """Copies that are joined to one other copy alone, with that one: lips, pads, cleats.

    They are put on their host before it goes anywhere, while it lies flat on the bench.
    """
    partners: dict[int, int] = {}
    for a, b in ties.drawn:
        if group >> a & 1 and group >> b & 1:
            partners[a] = partners.get(a, 0) | 1 << b
    hosts = {a: others.bit_length() - 1 for a, others in partners.items() if _is_one(others)}
    return {a: host for a, host in hosts.items() if host not in hosts or host < a}


def _is_one(bits: int) -> bool:
    return bits.bit_count() == 1


def _easiest_removal(
    group: int, ties: _Ties, hung: Mapping[int, int], *, before: Vector
) -> tuple[int, Vector] | None:
    """Find the set of copies that comes off the group most naturally, and its direction.

    chosen: fewest copies first (what hangs on another not counted), then fewest joints slid along
    rather than drawn apart, then going on in the direction used before.
    """
    best: tuple[int, Vector] | None = None
    best_score: tuple[int, int, bool] = (group.bit_count(), 0, False)
    for direction in DIRECTIONS:
        pushes = _with_hung(ties.blocks[direction], hung)
        for start in _bits(group):
            moved = _pushed(start, group, pushes)
            if moved == group:
                continue
            size = sum(1 for i in _bits(moved) if i not in hung)
            score = (size, _slid(moved, group, direction, ties=ties), direction != before)
            if best is None or score < best_score:
                best, best_score = (moved, direction), score
    return best


def _with_hung(blocks: Sequence[int], hung: Mapping[int, int]) -> list[int]:
    pushes = list(blocks)
    for a, host in hung.items():
        pushes[a] |= 1 << host
        pushes[host] |= 1 << a
    return pushes


def _slid(moved: int, group: int, direction: Vector, *, ties: _Ties) -> int:
    """Count the joints between a moved set and the rest that are slid along, not drawn apart."""
    rest = group & ~moved
    return sum(
        direction not in ways
        for (a, b), ways in ties.drawn.items()
        if moved >> a & 1 and rest >> b & 1
    )


def _pushed(start: int, group: int, blocks: Sequence[int]) -> int:
    """The copies that move when one is pushed: itself and all that it pushes in turn."""
    seen = 1 << start
    fresh = seen
    while fresh:
        following = 0
        for i in _bits(fresh):
            following |= blocks[i]
        fresh = following & group & ~seen
        seen |= fresh
    return seen


def _bits(value: int) -> Iterator[int]:
    while value:
        lowest = value & -value
        yield lowest.bit_length() - 1
        value ^= lowest
