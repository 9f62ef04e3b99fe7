"""Compiled loops for the patterns of a bar: the one that is worth most, and all worth enough.

Takes a knapsack in arrays, changes the arrays that get the answer. Must not know stock or labels.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.length_kernel import Floats, Ints

# chosen: values closer than this are alike.
_LEAST: Final = 1e-9
# chosen: looks at a fifth of a second's worth of patterns.
_MOST_NODES: Final = 20_000_000


class Pool(NamedTuple):
    """Room for the states of one knapsack: the same arrays serve again and again."""

    size: Ints
    value: Floats
    parent: Ints
    item: Ints
    front: Ints
    """Places of the states that matter, by size."""
    merged: Ints


def new_pool() -> Pool:
    """Make the room."""
    # chosen: states beyond so many are dropped; the bound is then not proved, and not claimed.
    states, front = 1_000_000, 100_000
    return Pool(
        np.zeros(states, np.int64),
        np.zeros(states),
        np.zeros(states, np.int64),
        np.zeros(states, np.int64),
        np.zeros(front, np.int64),
        np.zeros(front, np.int64),
    )


class Sack(NamedTuple):
    """One knapsack: what may be packed, and how often."""

    order: Ints
    """Items that are worth anything, most value for their size first."""
    size: Ints
    most: Ints
    value: Floats


class _Copy(NamedTuple):
    """One more copy of an item, about to be packed."""

    item: int
    long: int
    gain: float
    capacity: int
    """Of the knapsack."""
    rate: float
    """Value for size of the best that may be packed after it."""


class _Reached(NamedTuple):
    """How far a knapsack is packed."""

    used: int
    """States in the pool."""
    held: int
    """Those that matter."""
    best: float
    found: int
    """The state that is worth most, or -1."""
    is_cut: bool
    """True where the pool ran out."""


@compiled
def _rate_from(sack: Sack, kind: int) -> float:
    """The best value for size among items from a place of the order on."""
    if kind >= sack.order.shape[0]:
        return 0.0
    item = sack.order[kind]
    return float(sack.value[item] / sack.size[item])


@compiled
def _count_up_to(pool: Pool, held: int, most: int) -> int:
    """Count the states that matter whose size is at most so much."""
    low, high = 0, held
    while low < high:
        middle = (low + high) // 2
        if pool.size[pool.front[middle]] <= most:
            low = middle + 1
        else:
            high = middle
    return low


@compiled
def _comes_first(pool: Pool, copy: _Copy, old: int, new: int) -> bool:
    """Tell whether a state with one copy more takes less room than another, or is worth more."""
    small, large = pool.size[old], pool.size[new] + copy.long
    if large == small:
        return bool(pool.value[new] + copy.gain > pool.value[old])
    return bool(large < small)


@compiled
def _add_state(pool: Pool, copy: _Copy, source: int, used: int) -> None:
    """Put down the state that a copy more makes of another."""
    pool.size[used] = pool.size[source] + copy.long
    pool.value[used] = pool.value[source] + copy.gain
    pool.parent[used], pool.item[used] = source, copy.item


@compiled
def _pack_copy(pool: Pool, copy: _Copy, reached: _Reached) -> _Reached:
    """Merge the states that matter with those of one copy more; drop what cannot be the best."""
    front, merged = pool.front, pool.merged
    used, held, best, found, is_cut = reached
    fitting = _count_up_to(pool, held, copy.capacity - copy.long)
    old, new, kept, top = 0, 0, 0, -1.0
    while old < held or new < fitting:
        if kept >= merged.shape[0] or used >= pool.size.shape[0]:
            is_cut = True
            break
        takes = new < fitting and (old >= held or _comes_first(pool, copy, front[old], front[new]))
        source = front[new] if takes else front[old]
        size = pool.size[source] + (copy.long if takes else 0)
        value = pool.value[source] + (copy.gain if takes else 0.0)
        if takes:
            new += 1
        else:
            old += 1
        if value <= top + _LEAST:
            continue
        top = value
        beats = takes and value > best + _LEAST
        if not beats and value + (copy.capacity - size) * copy.rate <= best + _LEAST:
            continue
        if beats:
            best, found = value, used
        if takes:
            _add_state(pool, copy, source, used)
            source = used
            used += 1
        merged[kept] = source
        kept += 1
    front[:kept] = merged[:kept]
    return _Reached(used, kept, best, found, is_cut)


@compiled
def worth_most(sack: Sack, capacity: int, floor: float, pool: Pool, counts: Ints) -> float:
    """Find the pattern that is worth most and more than `floor`; `counts` gets it.

    States that take more room for no more value are dropped, and states that cannot reach the best
    even if the rest were filled at the best rate left. Exact; where the pool runs out, minus the
    value that might have been.
    """
    counts[:] = 0
    pool.size[0], pool.value[0], pool.parent[0], pool.item[0] = 0, 0.0, -1, -1
    pool.front[0] = 0
    reached = _Reached(1, 1, floor, -1, False)
    for kind in range(sack.order.shape[0]):
        item = sack.order[kind]
        for number in range(1, sack.most[item] + 1):
            rate = _rate_from(sack, kind if number < sack.most[item] else kind + 1)
            before = reached.used
            copy = _Copy(item, sack.size[item], sack.value[item], capacity, rate)
            reached = _pack_copy(pool, copy, reached)
            if reached.used == before:
                break
        if not reached.held:
            break
    found = reached.found
    while found > 0:
        counts[pool.item[found]] += 1
        found = pool.parent[found]
    return -reached.best if reached.is_cut else reached.best


@compiled
def worth_enough(sack: Sack, capacity: int, need: float, found: Ints) -> int:
    """List every pattern worth at least `need`; give their number, or -1 where `found` is full.

    Args:
        sack: All items, most value for their size first.
        capacity: Of a bar.
        need: Least value.
        found: (p, n) gets the patterns.
    """
    kinds = sack.order.shape[0]
    taken = np.full(kinds, -1, np.int64)
    room = np.zeros(kinds + 1, np.int64)
    value = np.zeros(kinds + 1)
    room[0] = capacity
    at, count, nodes = 0, 0, 0
    while at >= 0:
        nodes += 1
        if count == found.shape[0] or nodes > _MOST_NODES:
            return -1
        if at == kinds:
            for kind in range(kinds):
                found[count, sack.order[kind]] = taken[kind]
            count += 1
            at -= 1
            continue
        index = sack.order[at]
        if taken[at] == 0:
            taken[at] = -1
            at -= 1
            continue
        if taken[at] < 0:
            taken[at] = min(sack.most[index], room[at] // sack.size[index])
        else:
            taken[at] -= 1
        room[at + 1] = room[at] - taken[at] * sack.size[index]
        value[at + 1] = value[at] + taken[at] * sack.value[index]
        if value[at + 1] + room[at + 1] * _rate_from(sack, at + 1) >= need:
            at += 1
    return count
