"""How the piece comes apart, and so how it goes together.

Takes the placed copies and the worked joints, gives a tree of assemblies. For each of the six
directions it asks which copies block which (through a joint that does not slide that way, or by
standing in the way), and takes off the smallest set that nothing else holds. Read backwards, that
is the order of assembly; the directions serve the exploded view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

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
_Blocks = Mapping[Vector, Sequence[int]]
"""For each direction, for each copy, the copies that it would push, as a bit set."""


def plan_assembly(piece: Piece, fits: Iterable[JointFit]) -> Assembly:
    """Plan in which groups and directions the copies come together.

    Args:
        piece: The placed piece.
        fits: Its worked joints.

    Returns:
        The root of the tree; a node that no straight slide can open is marked as locked.
    """
    marks = list(piece.copies)
    free = _free_directions(marks, fits)
    low = np.array([[float(v) for v in piece.copies[m].box.low] for m in marks])
    high = np.array([[float(v) for v in piece.copies[m].box.high] for m in marks])
    blocks = {direction: _blocked(direction, low, high, free=free) for direction in DIRECTIONS}
    return _take_apart((1 << len(marks)) - 1, marks, blocks)


def _free_directions(
    marks: Sequence[str], fits: Iterable[JointFit]
) -> dict[tuple[int, int], set[Vector]]:
    """For each ordered pair of jointed copies, the ways the first can leave the second."""
    index = {mark: i for i, mark in enumerate(marks)}
    free: dict[tuple[int, int], set[Vector]] = {}
    for fit in fits:
        a, b = index[fit.contact.first], index[fit.contact.second]
        ways = {fit.contact.frame.outward_direction(d) for d in fit.free_directions}
        back = {(-x, -y, -z) for x, y, z in ways}
        free[a, b] = free[a, b] & ways if (a, b) in free else ways
        free[b, a] = free[b, a] & back if (b, a) in free else back
    return free


def _blocked(
    direction: Vector,
    low: np.ndarray,
    high: np.ndarray,
    *,
    free: Mapping[tuple[int, int], set[Vector]],
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


def _take_apart(group: int, marks: Sequence[str], blocks: _Blocks) -> Assembly:
    copies = tuple(marks[i] for i in _bits(group))
    if len(copies) == 1:
        return Assembly(copies=copies, moved=None, fixed=None, direction=_NOWHERE)
    found = _smallest_free_set(group, blocks)
    if found is None:
        moved, direction = 1 << next(_bits(group)), _NOWHERE
    else:
        moved, direction = found
    return Assembly(
        copies=copies,
        moved=_take_apart(moved, marks, blocks),
        fixed=_take_apart(group & ~moved, marks, blocks),
        direction=direction,
        is_locked=found is None,
    )


def _smallest_free_set(group: int, blocks: _Blocks) -> tuple[int, Vector] | None:
    """The smallest set of copies that leaves the group together in one direction."""
    best: tuple[int, Vector] | None = None
    best_size = group.bit_count()
    for direction in DIRECTIONS:
        for start in _bits(group):
            pushed = _pushed(start, group, blocks[direction])
            if pushed.bit_count() < best_size:
                best, best_size = (pushed, direction), pushed.bit_count()
    return best


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
