"""The cheapest sheets of several sizes that hold all items.

Takes items and kinds of sheets, gives a block for each sheet taken. A simple layout comes first:
what there is of limited number is filled up, the rest goes on one size that can be had. Then sets
of sheets that are cheaper are tried from the cheapest. Must not know stock or labels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

from benchleaf.cutting.blocks import Block, Item, Size
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.sheet_filling import Manner, by_area, fill_sheets
from benchleaf.cutting.sheet_search import fit_on, most_worth
from benchleaf.cutting.sheet_sets import Counts, SheetKind, sets_by_cost

# chosen: sets looked at, so that time stays in bounds where there are many sizes.
_MOST_SETS: Final = 300
# chosen: shares of what is left of the budget: for filling one offcut, and for trying one set.
_SHARE_OF_OFFCUT: Final = 0.02
_SHARE_OF_SET: Final = 0.1
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
    sets = list(islice(sets_by_cost(kinds, area), _MOST_SETS))
    best = min(_simple(items, kinds, budget), key=lambda one: one.cost, default=None)
    if not sets:
        return best, best.cost if best else 0
    for cost, counts in sets:
        if (best is not None and cost >= best.cost) or budget.is_spent:
            break
        found = _try(items, kinds, counts, budget.share(_SHARE_OF_SET))
        if found is not None and (best is None or found.cost < best.cost):
            best = found
    return best, sets[0][0]


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
            _with_items(sheet.root, {item.index: item for item in items}) for sheet in filled.sheets
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
            block = _with_items(
                block, {item.index: whole[own[item.index].index] for item in numbered}
            )
            taken.append((place, block))
            used = {item.index for item in block.items()}
            left = [item for item in left if item.index not in used]
    return taken, left


def _fitting(item: Item, size: Size) -> Item:
    ways = tuple(way for way in item.ways if way.wide <= size[0] and way.high <= size[1])
    return replace(item, ways=ways)


def _with_items(block: Block, items: dict[int, Item]) -> Block:
    """Put the items as they are in the place of those with other numbers or fewer ways."""
    if block.item is not None:
        block.item = items[block.item.index]
    for inner in block.inner:
        _with_items(inner, items)
    return block


def _bought(sheets: Sequence[tuple[int, Block]], kinds: Sequence[SheetKind]) -> Bought:
    return Bought(sheets=tuple(sheets), cost=sum(kinds[place].cost for place, _ in sheets))


def _try(
    items: Sequence[Item], kinds: Sequence[SheetKind], counts: Counts, budget: Budget
) -> Bought | None:
    """Look for a layout on one set of sheets."""
    places = [place for place, count in enumerate(counts) for _ in range(count)]
    found = fit_on(items, [kinds[place].size for place in places], [], budget)
    if found is None:
        return None
    held = [(place, block) for place, block in zip(places, found, strict=True) if block]
    return _bought(held, kinds)
