"""The cheapest sheets of several sizes that hold all items.

Takes items and kinds of sheets, gives a block for each sheet taken. A simple layout comes first:
what there is of limited number is filled up, the rest goes on one size that can be had. Then sets
of sheets that are cheaper are tried, by halving. Must not know stock or labels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

from benchleaf.cutting.blocks import Block, Item, Size, with_items
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.dice import new_dice
from benchleaf.cutting.sheet_filling import Manner, by_area, fill_sheets
from benchleaf.cutting.sheet_search import Drift, fit_on
from benchleaf.cutting.sheet_sets import Counts, SheetKind, sets_by_cost
from benchleaf.cutting.sheet_value import most_worth

# chosen: sets looked at, so that time stays in bounds where there are many sizes; and how many of
# one cost, those of the fewest sheets, as large sheets leave the least waste.
_MOST_SETS: Final = 20_000
_SETS_OF_LEVEL: Final = 3
# chosen: shares of what is left of the budget: for filling one offcut, and for trying one set.
_SHARE_OF_OFFCUT: Final = 0.02
_SHARE_OF_SET: Final = 0.06
_SHARE_OF_LAST: Final = 0.2
_DEEPEST: Final = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Sheets taken, and what is cut from each."""

    sheets: tuple[tuple[int, Block], ...]
    """(place of its kind, what is cut from it); sheets that stayed whole are left out."""
    cost: int


def buy_sheets(
    items: Sequence[Item], kinds: Sequence[SheetKind], budget: Budget
) -> tuple[Bought | None, int]:
    """Look for the cheapest sheets that hold all items.

    Args:
        items: Numbered from 0; each fits some kind in each of its ways.
        kinds: Those there are.
        budget: What may be spent.

    Returns:
        The sheets, or None where there are too few; and the least that any could cost.
    """
    area = sum(item.area for item in items)
    best = min(_simple(items, kinds, budget), key=lambda one: one.cost, default=None)
    levels = _levels(kinds, area, best.cost if best else None)
    if not levels:
        return best, best.cost if best else 0
    bound = levels[0][0]
    buyer = _Buyer(items, kinds, budget, Drift(new_dice()))
    low, high = 0, len(levels)
    # Halving finds in a few trials how cheap it gets; then the next cheaper cost is tried again.
    while not budget.is_spent and high > 0:
        middle = (low + high) // 2 if low < high else high - 1
        share = _SHARE_OF_SET if low < high else _SHARE_OF_LAST
        found = buyer.try_sets(levels[middle][1], share)
        if found is not None:
            best, high = found, middle
            low = min(low, high)
        elif low < high:
            low = middle + 1
    return best, min(bound, best.cost) if best else bound


Level = tuple[int, list[Counts]]
"""A cost, and sets of sheets that cost so much, the fewest sheets first."""


def _levels(kinds: Sequence[SheetKind], area: int, below: int | None) -> list[Level]:
    """The costs below one that is reached already, with a few sets each."""
    levels: dict[int, list[Counts]] = {}
    for cost, counts in islice(sets_by_cost(kinds, area), _MOST_SETS):
        if below is not None and cost >= below:
            break
        own = levels.setdefault(cost, [])
        if len(own) < _SETS_OF_LEVEL:
            own.append(counts)
    return list(levels.items())


@dataclass(frozen=True, slots=True)
class _Buyer:
    """Tries sets of sheets, each time anew."""

    items: Sequence[Item]
    kinds: Sequence[SheetKind]
    budget: Budget
    drift: Drift

    def try_sets(self, sets: Sequence[Counts], share: float) -> Bought | None:
        """Look for a layout on any of some sets, each with a share of the budget."""
        tries = (self._try(counts, self.budget.share(share)) for counts in sets)
        return next((found for found in tries if found is not None), None)

    def _try(self, counts: Counts, budget: Budget) -> Bought | None:
        places = [place for place, count in enumerate(counts) for _ in range(count)]
        sizes = [self.kinds[place].size for place in places]
        found = fit_on(self.items, sizes, [], budget, drift=self.drift)
        if found is None:
            return None
        held = [(place, block) for place, block in zip(places, found, strict=True) if block]
        return _bought(held, self.kinds)


def _simple(items: Sequence[Item], kinds: Sequence[SheetKind], budget: Budget) -> Iterator[Bought]:
    endless = [place for place, kind in enumerate(kinds) if kind.most is None]
    rack = [place for place, kind in enumerate(kinds) for _ in range(kind.most or 0)]
    rack.sort(key=lambda place: (kinds[place].cost, -kinds[place].area, place))
    for place in endless:
        yield from _on_one_kind(items, kinds, place, [])
    taken, left = _fill_rack(items, kinds, rack, budget)
    if taken and not left:
        yield _bought(taken, kinds)
    elif taken:
        for place in endless:
            yield from _on_one_kind(left, kinds, place, taken)
    if not endless:
        yield from _all_there_is(items, kinds, rack, budget)


def _all_there_is(
    items: Sequence[Item], kinds: Sequence[SheetKind], rack: Sequence[int], budget: Budget
) -> Iterator[Bought]:
    found = fit_on(items, [kinds[place].size for place in rack], [], budget.share(_SHARE_OF_SET))
    if found is not None:
        held = [(place, block) for place, block in zip(rack, found, strict=True) if block]
        yield _bought(held, kinds)


def _on_one_kind(
    items: Sequence[Item],
    kinds: Sequence[SheetKind],
    place: int,
    taken: Sequence[tuple[int, Block]],
) -> Iterator[Bought]:
    """Lay items out on sheets of one kind; nothing where some do not fit it."""
    fitting = [_fitting(item, kinds[place].size) for item in items]
    if all(item.ways for item in fitting):
        ordered = sorted(fitting, key=lambda item: (-item.area, item.index))
        filled = fill_sheets(ordered, kinds[place].size, Manner(rank=by_area, deepest=_DEEPEST))
        blocks = [
            with_items(sheet.root, {item.index: item for item in items}) for sheet in filled.sheets
        ]
        yield _bought([*taken, *((place, block) for block in blocks)], kinds)


def _fill_rack(
    items: Sequence[Item], kinds: Sequence[SheetKind], rack: Sequence[int], budget: Budget
) -> tuple[list[tuple[int, Block]], list[Item]]:
    """Fill sheet after sheet of those there are, as full as can be."""
    left, taken = list(items), list[tuple[int, Block]]()
    for place in rack:
        size = kinds[place].size
        own = [_fitting(item, size) for item in left]
        own = [item for item in own if item.ways]
        if not own:
            continue
        numbered = [replace(item, index=number) for number, item in enumerate(own)]
        worth = [item.area for item in numbered]
        share = budget.share(_SHARE_OF_OFFCUT)
        block = most_worth(numbered, worth, size, most=size[0] * size[1], budget=share)
        if block is not None:
            whole = {item.index: item for item in items}
            block = with_items(
                block, {item.index: whole[own[item.index].index] for item in numbered}
            )
            taken.append((place, block))
            used = {item.index for item in block.items()}
            left = [item for item in left if item.index not in used]
    return taken, left


def _fitting(item: Item, size: Size) -> Item:
    ways = tuple(way for way in item.ways if way.wide <= size[0] and way.high <= size[1])
    return replace(item, ways=ways)


def _bought(sheets: Sequence[tuple[int, Block]], kinds: Sequence[SheetKind]) -> Bought:
    return Bought(sheets=tuple(sheets), cost=sum(kinds[place].cost for place, _ in sheets))
