"""Fewer sheets by emptying a few and filling them anew, again and again.

Takes filled sheets, gives filled sheets: never more of them. The emptiest sheet is taken away and
its items wait; then a few sheets at a time are filled anew with their own items and those waiting,
in a shuffled order, and kept where less area waits than before (or lately). After the
ruin-and-recreate search of Gardeyn and Wauters 2022, European Journal of Operational Research (from
memory). Must not know stock, labels or the clock: effort is counted in work, so that the same plan
gives the same layout on every machine.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

from benchleaf.cutting.blocks import Item, Size
from benchleaf.cutting.sheet_filling import RANKS, Filled, Manner, Sheet, fill_sheets

# chosen: measured on the 250 standard instances in benchmarks; near these figures all do alike.
_RUINED: Final = (1, 2, 2, 3)
_NOISE: Final = 250  # of 1000
_SKIPPED: Final = 0.02
_MEMORY: Final = 20
_SEED: Final = 1
# chosen: one round costs this much even where there is next to nothing to fill.
_WORK_OF_ROUND: Final = 50

Order = Callable[[Item], int]


def item_area(item: Item) -> int:
    """Area."""
    return item.area


def half_girth(item: Item) -> int:
    """Width and height together."""
    return item.ways[0].wide + item.ways[0].high


def item_wide(item: Item) -> int:
    """Extent along x, as the item lies first."""
    return item.ways[0].wide


def item_high(item: Item) -> int:
    """Extent along y, as the item lies first."""
    return item.ways[0].high


ORDERS: Final[tuple[Order, ...]] = (item_area, half_girth, item_high, item_wide)
# chosen: area and girth order best, so they come up more often.
_CHANCES: Final = (0.45, 0.75, 0.85, 1.0)


@dataclass(slots=True, eq=False)
class _Search:
    """State of one search; lives as long as `improve` runs."""

    size: Size
    deepest: int
    budget: int
    most: int = 0
    """Sheets that may be filled."""
    work: int = 0
    sheets: list[Sheet] = field(default_factory=list)
    waiting: list[Item] = field(default_factory=list)
    lately: list[int] = field(default_factory=list)
    # No secret is kept: the same numbers in every run are just what is wanted.
    random: Callable[[], float] = field(
        default_factory=lambda: random.Random(_SEED).random  # noqa: S311
    )


def improve(
    sheets: Sequence[Sheet], size: Size, *, fewest: int, deepest: int, budget: int
) -> list[Sheet]:
    """Look for a layout on fewer sheets.

    Args:
        sheets: A layout of all items.
        size: Of every sheet.
        fewest: Number of sheets at which to stop.
        deepest: How deep blocks may lie in blocks.
        budget: Most work to spend.

    Returns:
        A layout of the same items, on as many sheets or fewer.
    """
    search = _Search(size, deepest, budget)
    best = list(sheets)
    while len(best) > fewest and search.work < budget:
        _take_emptiest(search, best)
        while search.waiting and search.work < budget:
            _refill(search)
        if search.waiting:
            return _with_the_rest(search, best)
        best = search.sheets
    return best


def _take_emptiest(search: _Search, sheets: Sequence[Sheet]) -> None:
    ordered = sorted(sheets, key=lambda sheet: sheet.free)
    search.waiting = list(ordered.pop().items)
    search.sheets = ordered
    search.most = len(ordered)
    search.lately = [_area(search.waiting)] * _MEMORY


def _refill(search: _Search) -> None:
    if not search.sheets:
        search.work = search.budget
        return
    chosen = _choose(search)
    items = [item for index in chosen for item in search.sheets[index].items]
    limit = search.most - len(search.sheets) + len(chosen)
    filled = _fill(search, [*search.waiting, *items], limit)
    search.work += filled.work + _WORK_OF_ROUND
    before, after = _area(search.waiting), _area(filled.left)
    slot = int(search.random() * _MEMORY)
    if after <= max(before, search.lately[slot]):
        kept = [sheet for index, sheet in enumerate(search.sheets) if index not in chosen]
        search.sheets = [*kept, *filled.sheets]
        search.waiting = filled.left
        search.lately[slot] = after
    else:
        search.lately[slot] = before


def _choose(search: _Search) -> list[int]:
    count = min(_RUINED[int(search.random() * len(_RUINED))], len(search.sheets))
    chosen: list[int] = []
    while len(chosen) < count:
        index = int(search.random() * len(search.sheets))
        if index not in chosen:
            chosen.append(index)
    return chosen


def _fill(search: _Search, items: list[Item], limit: int) -> Filled:
    chance = search.random
    drawn = chance()
    order = ORDERS[next(index for index, most in enumerate(_CHANCES) if drawn < most)]
    # In whole numbers, which never overflow.
    noisy = [(-order(item) * (1000 + int(_NOISE * (2 * chance() - 1))), item) for item in items]
    noisy.sort(key=lambda pair: (pair[0], pair[1].index))
    manner = Manner(
        rank=RANKS[int(chance() * len(RANKS))],
        deepest=search.deepest,
        skip=lambda: chance() < _SKIPPED,
    )
    return fill_sheets([item for _, item in noisy], search.size, manner, limit=limit)


def _with_the_rest(search: _Search, best: list[Sheet]) -> list[Sheet]:
    """What was found, with the waiting items on a last sheet: it leaves the larger offcut."""
    manner = Manner(rank=RANKS[0], deepest=search.deepest)
    last = fill_sheets(sorted(search.waiting, key=lambda item: -item.area), search.size, manner)
    found = [*search.sheets, *last.sheets]
    return found if len(found) <= len(best) else best


def _area(items: Sequence[Item]) -> int:
    return sum(item.area for item in items)
