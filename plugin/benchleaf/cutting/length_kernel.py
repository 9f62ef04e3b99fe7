"""Compiled loops for bars: a ruin-and-recreate search, and the pattern that is worth most.

Takes arrays of whole numbers, changes them in place. Must not know stock or labels. Filling bar by
bar to the least slack: Fleszar and Hindi 2002, Computers & Operations Research 29, pages 821-839
(from memory); late acceptance: Burke and Bykov 2017, European Journal of Operational Research 258,
pages 70-78 (from memory).
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.dice import draw

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

# chosen: measured on the sets of the literature; triplets want many bars at once.
_MOST_BARS: Final = 8
_NOISE: Final = 0.2
_SKIPPED: Final = 0.02
_NODES: Final = 200
_WORK_OF_BAR: Final = 20
# chosen: a length that waits outweighs any evenness of the bars.
_WAITING: Final = 4.0
_LEAST: Final = 1e-9
# chosen: looks at a fifth of a second's worth of patterns.
_MOST_NODES: Final = 20_000_000


class Bars(NamedTuple):
    """Lengths and the bars they lie in, during a search."""

    size: Ints
    """(n,) lengths, longest first."""
    owner: Ints
    """(n,) number of the bar that holds each, or -1 while it waits."""
    lately: Floats
    """(k,) costs that were accepted lately."""
    dice: NDArray[np.uint64]


@compiled
def _fill_bar(bars: Bars, left: Ints, capacity: int, best: Ints, cur: Ints) -> int:
    """Fill a bar from `left`, its first always taken; `best` gets the places; give their number."""
    size, nodes, count = bars.size, 0, left.shape[0]
    best[0] = cur[0] = 0
    best_count = held = 1
    load = best_load = size[left[0]]
    smallest = size[left].min()
    place = 1
    while best_load < capacity and nodes < _NODES:
        while place < count and nodes < _NODES:
            nodes += 1
            long = size[left[place]]
            if load + long <= capacity and draw(bars.dice) >= _SKIPPED:
                cur[held] = place
                held += 1
                load += long
                if load > best_load:
                    best_load, best_count = load, held
                    best[:held] = cur[:held]
                if load + smallest > capacity:
                    break
            place += 1
        if held == 1:
            break
        held -= 1
        long = size[left[cur[held]]]
        load -= long
        place = cur[held] + 1
        while place < count and size[left[place]] == long:
            place += 1
    return best_count


@compiled
def refine_bars(bars: Bars, count: int, capacity: int, budget: int) -> tuple[int, int]:
    """Fill a few of `count` bars anew, again and again, until nothing waits.

    Returns:
        Lengths that wait, and the work done.
    """
    size, owner, dice = bars.size, bars.owner, bars.dice
    total = size.shape[0]
    load = np.zeros(count, np.int64)
    for index in range(total):
        if owner[index] >= 0:
            load[owner[index]] += size[index]
    waiting = int((owner < 0).sum())
    squares = 0.0
    for bar in range(count):
        squares += (load[bar] / capacity) ** 2
    cost = size[owner < 0].sum() / capacity * _WAITING - squares
    bars.lately[:] = cost
    keys, found = np.empty(total), np.empty(total, np.int64)
    best, cur = np.empty(total, np.int64), np.empty(total, np.int64)
    is_chosen, loads = np.zeros(count, np.bool_), np.empty(count, np.int64)
    work = 0
    while waiting and work < budget:
        most = min(count, 1 + int(draw(dice) * _MOST_BARS))
        chosen = np.empty(most, np.int64)
        picked = 0
        while picked < most:
            bar = int(draw(dice) * count)
            if not is_chosen[bar]:
                is_chosen[bar] = True
                chosen[picked] = bar
                picked += 1
        loose = 0
        for index in range(total):
            if owner[index] < 0 or is_chosen[owner[index]]:
                found[loose] = index
                keys[loose] = -size[index] * (1.0 + _NOISE * (2.0 * draw(dice) - 1.0))
                loose += 1
        left = found[:loose][np.argsort(keys[:loose])]
        fresh = np.full(loose, -1, np.int64)
        places = np.argsort(keys[:loose])
        new_squares = squares
        for at in range(most):
            new_squares -= (load[chosen[at]] / capacity) ** 2
            loads[at] = 0
            if left.shape[0]:
                work += left.shape[0] + _WORK_OF_BAR
                held = _fill_bar(bars, left, capacity, best, cur)
                stays = np.ones(left.shape[0], np.bool_)
                for place in best[:held]:
                    loads[at] += size[left[place]]
                    fresh[places[place]] = chosen[at]
                    stays[place] = False
                left, places = left[stays], places[stays]
                new_squares += (loads[at] / capacity) ** 2
        new_cost = size[left].sum() / capacity * _WAITING - new_squares
        slot = int(draw(dice) * bars.lately.shape[0])
        if new_cost <= max(cost, bars.lately[slot]):
            owner[found[:loose]] = fresh
            load[chosen] = loads[:most]
            cost, squares, waiting = new_cost, new_squares, left.shape[0]
        bars.lately[slot] = cost
        is_chosen[chosen] = False
    return waiting, work


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


@compiled
def worth_most(sack: Sack, capacity: int, floor: float, pool: Pool, counts: Ints) -> float:
    """Find the pattern that is worth most and more than `floor`; `counts` gets it.

    States that take more room for no more value are dropped, and states that cannot reach the best
    even if the rest were filled at the best rate left. Exact; where the pool runs out, minus the
    value that might have been.
    """
    size, value, parent, item = pool.size, pool.value, pool.parent, pool.item
    front, merged = pool.front, pool.merged
    counts[:] = 0
    size[0], value[0], parent[0], item[0] = 0, 0.0, -1, -1
    front[0] = 0
    used, held, best, found = 1, 1, floor, -1
    is_cut = False
    kinds = sack.order.shape[0]
    for kind in range(kinds):
        index = sack.order[kind]
        long, gain = sack.size[index], sack.value[index]
        for copy in range(sack.most[index]):
            rate = 0.0
            if copy + 1 < sack.most[index]:
                rate = gain / long
            elif kind + 1 < kinds:
                after = sack.order[kind + 1]
                rate = sack.value[after] / sack.size[after]
            old, new, kept, top, grew = 0, 0, 0, -1.0, False
            while old < held or new < held:
                if new < held and size[front[new]] + long > capacity:
                    new = held
                if new >= held and old >= held:
                    break
                if kept >= merged.shape[0] or used >= size.shape[0]:
                    is_cut = True
                    break
                takes = new < held
                if takes and old < held:
                    small, large = size[front[old]], size[front[new]] + long
                    takes = large < small or (
                        large == small and value[front[new]] + gain > value[front[old]]
                    )
                source = front[new] if takes else front[old]
                state_size = size[source] + (long if takes else 0)
                state_value = value[source] + (gain if takes else 0.0)
                if takes:
                    new += 1
                else:
                    old += 1
                if state_value <= top + _LEAST:
                    continue
                top = state_value
                beats = takes and state_value > best + _LEAST
                if beats or state_value + (capacity - state_size) * rate > best + _LEAST:
                    if takes:
                        size[used], value[used] = state_size, state_value
                        parent[used], item[used] = source, index
                        if beats:
                            best, found = state_value, used
                        source = used
                        used += 1
                        grew = True
                    merged[kept] = source
                    kept += 1
            for place in range(kept):
                front[place] = merged[place]
            held = kept
            if not grew:
                break
        if not held:
            break
    while found > 0:
        counts[item[found]] += 1
        found = parent[found]
    return -best if is_cut else best


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
        rate = 0.0
        if at + 1 < kinds:
            after = sack.order[at + 1]
            rate = sack.value[after] / sack.size[after]
        if value[at + 1] + room[at + 1] * rate >= need:
            at += 1
    return count
