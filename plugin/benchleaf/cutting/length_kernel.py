"""Compiled loops for bars: a ruin-and-recreate search for a packing in which nothing waits.

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


class _Trial(NamedTuple):
    """A few bars filled anew, on trial."""

    chosen: Ints
    """(k,) numbers of the bars."""
    load: Ints
    """(k,) what each then holds."""
    loose: Ints
    """(m,) lengths that lay in them or waited."""
    owner: Ints
    """(m,) the bar that each then lies in, or -1."""
    left: Ints
    """Lengths that then wait."""
    work: int


@compiled
def _load_bars(bars: Bars, count: int) -> Ints:
    """Add up what each bar holds."""
    load = np.zeros(count, np.int64)
    for index in range(bars.size.shape[0]):
        if bars.owner[index] >= 0:
            load[bars.owner[index]] += bars.size[index]
    return load


@compiled
def _choose_bars(bars: Bars, count: int) -> Ints:
    """Choose the bars to fill anew; give their numbers."""
    most = min(count, 1 + int(draw(bars.dice) * _MOST_BARS))
    is_chosen = np.zeros(count, np.bool_)
    chosen = np.empty(most, np.int64)
    picked = 0
    while picked < most:
        bar = int(draw(bars.dice) * count)
        if not is_chosen[bar]:
            is_chosen[bar] = True
            chosen[picked] = bar
            picked += 1
    return chosen


@compiled
def _take_out(bars: Bars, chosen: Ints, count: int) -> Ints:
    """Find the lengths in chosen bars and those that wait, by a length that is a little off."""
    is_chosen = np.zeros(count, np.bool_)
    is_chosen[chosen] = True
    total = bars.size.shape[0]
    keys, loose = np.empty(total), np.empty(total, np.int64)
    held = 0
    for index in range(total):
        if bars.owner[index] < 0 or is_chosen[bars.owner[index]]:
            loose[held] = index
            keys[held] = -bars.size[index] * (1.0 + _NOISE * (2.0 * draw(bars.dice) - 1.0))
            held += 1
    return loose[np.argsort(keys[:held])]


@compiled
def _fill_anew(bars: Bars, count: int, capacity: int) -> _Trial:
    """Empty a few bars, and fill one after another."""
    chosen = _choose_bars(bars, count)
    loose = _take_out(bars, chosen, count)
    best, cur = np.empty_like(loose), np.empty_like(loose)
    owner, load = np.full(loose.shape[0], -1, np.int64), np.zeros(chosen.shape[0], np.int64)
    left, places = loose, np.arange(loose.shape[0])
    work = 0
    for at in range(chosen.shape[0]):
        if not left.shape[0]:
            break
        work += left.shape[0] + _WORK_OF_BAR
        held = _fill_bar(bars, left, capacity, best, cur)
        stays = np.ones(left.shape[0], np.bool_)
        for place in best[:held]:
            load[at] += bars.size[left[place]]
            owner[places[place]] = chosen[at]
            stays[place] = False
        left, places = left[stays], places[stays]
    return _Trial(chosen, load, loose, owner, left, work)


@compiled
def _square(load: int, capacity: int) -> float:
    """How full a bar is, squared: full bars beside empty ones count more than even ones."""
    return (load / capacity) ** 2


@compiled
def _squares_after(squares: float, load: Ints, trial: _Trial, capacity: int) -> float:
    """The sum of squares once a trial is taken."""
    for at in range(trial.chosen.shape[0]):
        squares -= _square(load[trial.chosen[at]], capacity)
        squares += _square(trial.load[at], capacity)
    return squares


@compiled
def _cost(waiting: Ints, capacity: int, squares: float) -> float:
    """What a packing costs: the lengths that wait, less the squares of its bars."""
    return float(waiting.sum() / capacity * _WAITING - squares)


@compiled
def refine_bars(bars: Bars, count: int, capacity: int, budget: int) -> tuple[int, int]:
    """Fill a few of `count` bars anew, again and again, until nothing waits.

    Returns:
        Lengths that wait, and the work done.
    """
    load = _load_bars(bars, count)
    squares = 0.0
    for bar in range(count):
        squares += _square(load[bar], capacity)
    waiting = int((bars.owner < 0).sum())
    cost = _cost(bars.size[bars.owner < 0], capacity, squares)
    bars.lately[:] = cost
    work = 0
    while waiting and work < budget:
        trial = _fill_anew(bars, count, capacity)
        work += trial.work
        new_squares = _squares_after(squares, load, trial, capacity)
        new_cost = _cost(bars.size[trial.left], capacity, new_squares)
        slot = int(draw(bars.dice) * bars.lately.shape[0])
        if new_cost <= max(cost, bars.lately[slot]):
            bars.owner[trial.loose] = trial.owner
            load[trial.chosen] = trial.load
            cost, squares, waiting = new_cost, new_squares, trial.left.shape[0]
        bars.lately[slot] = cost
    return waiting, work
