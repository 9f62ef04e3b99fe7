"""Bars of one capacity brought down to the fewest there can be: by search, then by patterns.

Takes a packing of whole-number lengths, gives one that is as good or better, and the fewest bars
there could be. Loads the compiled kernels and the solver, so it is called only where simpler means
leave a gap. Must not know stock, labels or units.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

import numpy as np

from benchleaf.cutting.budget import Budget
from benchleaf.cutting.dice import new_dice
from benchleaf.cutting.length_columns import Columns, fewest_by_patterns
from benchleaf.cutting.length_kernel import Bars, Ints, refine_bars

Packing = list[tuple[int, ...]]
"""What each bar holds."""

# chosen: most sets of the literature are packed within a tenth of a second; the rest want patterns.
_SEARCHED: Final = 0.15
# chosen: of long bars in fine steps patterns take longer to find, so more is left to the search.
_FINE: Final = 20_000
_SEARCHED_IF_FINE: Final = 0.6
_MEMORY: Final = 30


def fewest_bars(
    packing: Sequence[tuple[int, ...]], capacity: int, bound: int, budget: Budget
) -> tuple[Packing, int]:
    """Pack into as few bars as can be found.

    Args:
        packing: What each bar holds.
        capacity: Of every bar.
        bound: The fewest bars known so far.
        budget: What may be spent.

    Returns:
        A packing, and the fewest bars there could be.
    """
    share = _SEARCHED if capacity <= _FINE else _SEARCHED_IF_FINE
    best = _search(list(packing), capacity, bound, budget.share(share))
    if len(best) <= bound:
        return best, bound
    counts = Counter(length for bar in best for length in bar)
    sizes = sorted(counts, reverse=True)
    place = {size: index for index, size in enumerate(sizes)}
    columns = Columns(np.array(sizes), np.array([counts[size] for size in sizes]), capacity)
    fewest, found = fewest_by_patterns(columns, [_pattern(bar, place) for bar in best], budget)
    if found is not None:
        best = [_lengths(pattern, sizes) for pattern in found]
    return best, max(bound, fewest)


def _pattern(bar: tuple[int, ...], place: dict[int, int]) -> Ints:
    pattern = np.zeros(len(place), np.int64)
    for length in bar:
        pattern[place[length]] += 1
    return pattern


def _lengths(pattern: Ints, sizes: Sequence[int]) -> tuple[int, ...]:
    return tuple(
        size for size, count in zip(sizes, pattern, strict=True) for _ in range(int(count))
    )


def _search(packing: Packing, capacity: int, bound: int, budget: Budget) -> Packing:
    """Take bar after bar away, for as long as its lengths find room in the others."""
    best = packing
    dice = new_dice()
    while len(best) > bound and not budget.is_spent:
        kept = sorted(best, key=lambda bar: (-sum(bar), bar))
        held = [(length, bar) for bar, own in enumerate(kept) for length in own]
        held.sort(key=lambda pair: (-pair[0], pair[1]))
        count = len(kept) - 1
        bars = Bars(
            np.array([length for length, _ in held]),
            np.array([bar if bar < count else -1 for _, bar in held]),
            np.zeros(_MEMORY),
            dice,
        )
        waiting = 1
        while waiting and not budget.is_spent:
            waiting, work = refine_bars(bars, count, capacity, budget.slice)
            budget.spend(work)
        if waiting:
            break
        best = _packed(bars, count)
    return best


def _packed(bars: Bars, count: int) -> Packing:
    held: list[list[int]] = [[] for _ in range(count)]
    for length, bar in zip(bars.size.tolist(), bars.owner.tolist(), strict=True):
        held[bar].append(length)
    return [tuple(own) for own in held if own]
