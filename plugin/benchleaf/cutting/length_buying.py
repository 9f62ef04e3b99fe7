"""The cheapest bars of several lengths that hold all lengths wanted.

Takes whole-number lengths and kinds of bars with price and number, gives what is cut from which.
Where all patterns can be listed, the choice among them is exact and proved; else what there is of
limited number is filled up and the rest goes on one kind. Must not know stock or labels.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from math import ceil
from typing import Final

import highspy
import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.solver import new_solver
from benchleaf.cutting.subset_sum import fullest

# chosen: of more patterns the choice would take seconds.
_MOST_PATTERNS: Final = 4_000
_MOST_CHOICES: Final = 8_000
_MOST_NODES: Final = 500
_FINE: Final = 1e-6

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class BarKind:
    """One length of bar that can be had."""

    capacity: int
    """Room, grown by one kerf."""
    cost: int
    """Of one; 0 or more."""
    most: int | None
    """How many there are; None for as many as are wanted."""


Held = tuple[int, tuple[int, ...]]
"""Place of the kind of a bar, and the lengths it holds, longest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtBars:
    """Bars taken, and what is cut from each."""

    bars: tuple[Held, ...]
    cost: int
    bound: int
    """The least that any packing could cost."""


def buy_bars(lengths: Sequence[int], kinds: Sequence[BarKind]) -> BoughtBars | None:
    """Look for the cheapest bars that hold all lengths.

    Args:
        lengths: Each fits some kind.
        kinds: Those there are.

    Returns:
        The bars, of equal cost the least in all; None where there are too few.
    """
    best = min(_simple(lengths, kinds), key=lambda bars: _cost(bars, kinds), default=None)
    chosen, bound = _choose(lengths, kinds)
    if chosen is not None and (best is None or _cost(chosen, kinds) <= _cost(best, kinds)):
        best = chosen
    if best is None:
        return None
    cost = _cost(best, kinds)[0]
    ordered = sorted(best, key=lambda bar: (bar[0], [-length for length in bar[1]]))
    return BoughtBars(bars=tuple(ordered), cost=cost, bound=min(bound, cost))


def _cost(bars: Sequence[Held], kinds: Sequence[BarKind]) -> tuple[int, int, int]:
    """What bars cost; of equal cost the least length in all, then the fewest bars."""
    places = [place for place, _ in bars]
    return (
        sum(kinds[place].cost for place in places),
        sum(kinds[place].capacity for place in places),
        len(bars),
    )


def _simple(lengths: Sequence[int], kinds: Sequence[BarKind]) -> Iterator[list[Held]]:
    """Bars of limited number first, or not at all; then the rest on each kind that is endless."""
    limited = [place for place, kind in enumerate(kinds) for _ in range(kind.most or 0)]
    limited.sort(key=lambda place: (kinds[place].cost, -kinds[place].capacity, place))
    endless = [place for place, kind in enumerate(kinds) if kind.most is None]
    for rack in (limited, []):
        left, taken = Counter(lengths), list[Held]()
        for place in rack:
            _fill(left, taken, place, kinds[place].capacity)
        if not left:
            yield taken
        for place in endless:
            if left and max(left) <= kinds[place].capacity:
                rest, bars = Counter(left), list(taken)
                while rest:
                    _fill(rest, bars, place, kinds[place].capacity)
                yield bars


def _fill(left: Counter[int], taken: list[Held], place: int, capacity: int) -> None:
    """Fill one bar as full as can be, with the longest length that fits to begin with."""
    fitting = [length for length in left if length <= capacity]
    if not fitting:
        return
    longest = max(fitting)
    left[longest] -= 1
    held = (longest, *fullest(left, capacity - longest))
    left.subtract(Counter(held[1:]))
    for length in [length for length, count in left.items() if count <= 0]:
        del left[length]
    taken.append((place, tuple(sorted(held, reverse=True))))


def _choose(lengths: Sequence[int], kinds: Sequence[BarKind]) -> tuple[list[Held] | None, int]:
    """Choose among all patterns: bars or None, and a bound on their cost."""
    counts = Counter(lengths)
    sizes = sorted(counts, reverse=True)
    demand = np.array([counts[size] for size in sizes])
    choices = _choices(np.array(sizes), demand, kinds)
    if choices is None:
        return None, _bound_by_length(sum(lengths), kinds)
    solver = _programme(choices, demand, kinds, sum(lengths))
    solver.run()
    least = solver.getInfo().mip_dual_bound
    status = solver.getModelStatus()
    bound = ceil(least - 0.5 - _FINE) if abs(least) < highspy.kHighsInf else 0
    if status not in {highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kSolutionLimit}:
        return None, max(0, bound)
    used = np.rint(np.array(solver.getSolution().col_value)).astype(int).tolist()
    return _held(choices, used, sizes, demand), max(0, bound)


def _bound_by_length(total: int, kinds: Sequence[BarKind]) -> int:
    """What the whole length costs at the best rate there is."""
    rates = [Fraction(kind.cost, kind.capacity) for kind in kinds if kind.capacity > 0]
    return ceil(total * min(rates, default=Fraction(0)))


Choice = tuple[int, Ints]
"""Place of a kind, and a pattern that it holds."""


def _choices(sizes: Ints, demand: Ints, kinds: Sequence[BarKind]) -> list[Choice] | None:
    """Every pattern with every kind worth thinking of for it; None where they are many."""
    capacity = max(kind.capacity for kind in kinds)
    most = np.minimum(demand, capacity // sizes)
    found = list(islice(_patterns(sizes.tolist(), most.tolist(), capacity), _MOST_PATTERNS + 1))
    if len(found) > _MOST_PATTERNS:
        return None
    choices = [
        (place, pattern)
        for pattern in map(np.array, found)
        for place in _kinds_for(int(pattern @ sizes), kinds)
    ]
    return choices if len(choices) <= _MOST_CHOICES else None


def _patterns(
    sizes: Sequence[int], most: Sequence[int], capacity: int
) -> Iterator[tuple[int, ...]]:
    """Every way to fill a bar with at least one length: how many of each."""
    waiting: list[tuple[tuple[int, ...], int]] = [((), capacity)]
    while waiting:
        taken, room = waiting.pop()
        if len(taken) == len(sizes):
            if any(taken):
                yield taken
            continue
        size, there = sizes[len(taken)], most[len(taken)]
        numbers = range(min(there, room // size) + 1)
        waiting += [((*taken, number), room - number * size) for number in numbers]


def _kinds_for(length: int, kinds: Sequence[BarKind]) -> list[int]:
    """Kinds that hold a length, but for endless ones that another beats."""
    fits = [place for place, kind in enumerate(kinds) if kind.capacity >= length]
    endless = [place for place in fits if kinds[place].most is None]
    best = min(endless, key=lambda at: (kinds[at].cost, kinds[at].capacity), default=None)
    return [at for at in fits if kinds[at].most is not None or at == best]


def _programme(
    choices: Sequence[Choice], demand: Ints, kinds: Sequence[BarKind], total: int
) -> highspy.Highs:
    solver = new_solver()
    nothing = np.array([], np.int32), np.array([], np.float64)
    for wanted in demand:
        solver.addRow(float(wanted), highspy.kHighsInf, 0, *nothing)
    limited = [place for place, kind in enumerate(kinds) if kind.most is not None]
    for place in limited:
        solver.addRow(0.0, float(kinds[place].most or 0), 0, *nothing)
    # Of equal cost the least length: all lengths together weigh less than one step of cost.
    share = 0.5 / (len(demand) + int(demand.sum()) * max(kind.capacity for kind in kinds) + total)
    for place, pattern in choices:
        rows = np.nonzero(pattern)[0].tolist()
        values = pattern[rows].astype(float).tolist()
        if place in limited:
            rows.append(len(demand) + limited.index(place))
            values.append(1.0)
        cost = kinds[place].cost + share * (kinds[place].capacity + 1)
        solver.addCol(
            cost,
            0.0,
            highspy.kHighsInf,
            len(rows),
            np.array(rows, np.int32),
            np.array(values),
        )
    every = np.arange(len(choices), dtype=np.int32)
    solver.changeColsIntegrality(len(choices), every, np.full(len(choices), 1, np.uint8))
    for name, option in (("mip_rel_gap", 0.0), ("mip_max_nodes", _MOST_NODES)):
        solver.setOptionValue(name, option)
    return solver


def _held(
    choices: Sequence[Choice], used: Sequence[int], sizes: Sequence[int], demand: Ints
) -> list[Held] | None:
    """The bars chosen, without what they hold too much; None where something is lacking."""
    left, bars = demand.copy(), list[Held]()
    for (place, pattern), count in zip(choices, used, strict=False):
        for _ in range(count):
            kept = np.minimum(pattern, left)
            left = left - kept
            lengths = (
                size for size, own in zip(sizes, kept.tolist(), strict=True) for _ in range(own)
            )
            bars.append((place, tuple(lengths)))
    return None if left.any() else [bar for bar in bars if bar[1]]
