"""Blanks of a sheet that are cut together, as one item each while layouts are looked for.

Takes items and the bonds among them, gives items of which some hold others: a run in its row, or
parts laid out as tightly as can be, so that they share a sheet. Must not know labels or units.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

from benchleaf.cutting.blocks import ABOVE, BESIDE, Block, Item, Size, Way, single, with_items
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.records import Run
from benchleaf.cutting.sheet_filling import RANKS, Manner, fill_sheets
from benchleaf.cutting.sheet_orders import ORDERS

# chosen: rooms tried for parts that share a sheet, in shares of its sides.
_SHARES: Final = 16
_DEEPEST: Final = 5
# chosen: share of the budget for one search for a layout on one sheet.
_SHARE_OF_SEARCH: Final = 0.1

Tied = tuple[tuple[int, ...], Run | None]
"""Indices of items that are cut together, and how they run."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """Items to lay out."""

    items: tuple[Item, ...]
    """Numbered from 0."""
    places: tuple[int, ...]
    """Index of each item that was given, by the index that it has now: those laid out by
    themselves or in another alike."""
    unmet: tuple[int, ...]
    """Places of the bonds that no sheet yields; their items are laid out by themselves."""


def gather(
    items: Sequence[Item], tied: Sequence[Tied], sizes: Sequence[Size], budget: Budget
) -> Gathered:
    """Let one item stand for those that are cut together.

    Args:
        items: Numbered from 0.
        tied: What is cut together; no item twice.
        sizes: Of the sheets, grown by one kerf as items are.
        budget: What may be spent.
    """
    blocks: list[Block] = []
    unmet: list[int] = []
    for place, (indices, run) in enumerate(tied):
        own = [replace(items[index], is_bound=True) for index in indices]
        block = _row(own, run) if run else _on_one_sheet(own, sizes, budget)
        if block is not None and any(_fits(block, size) for size in sizes):
            blocks.append(block)
        else:
            unmet.append(place)
    bound = {item.index for block in blocks for item in block.items()}
    loose = [item for item in items if item.index not in bound]
    places = [item.index for item in loose] + [-1] * len(blocks)
    made = [replace(item, index=index) for index, item in enumerate(loose)]
    for block in blocks:
        held = _renumbered(block, places)
        way = Way(block.wide, block.high, is_turned=False)
        made.append(Item(len(made), (way,), block.wide * block.high, held=held, is_bound=True))
    return Gathered(tuple(made), tuple(places), tuple(unmet))


def _fits(block: Block, size: Size) -> bool:
    return block.wide <= size[0] and block.high <= size[1]


def _row(own: Sequence[Item], run: Run) -> Block:
    """A run in one row, in its order."""
    along_x = not own[0].ways[0].is_turned
    join = BESIDE if (run is Run.END) is along_x else ABOVE
    row = Block(0, 0, join, [single(item, item.ways[0]) for item in own], is_run=True)
    row.measure()
    return row


def _on_one_sheet(own: Sequence[Item], sizes: Sequence[Size], budget: Budget) -> Block | None:
    """Parts on one sheet, as tightly as is found; None where no layout is found."""
    found = list(_tight_layouts(own, sizes))
    if not found:
        found = list(_searched(own, sizes, budget))
    return min(found, key=lambda block: (block.wide * block.high, block.wide), default=None)


def _tight_layouts(own: Sequence[Item], sizes: Sequence[Size]) -> Iterator[Block]:
    for size, by, rank in product(sizes, ORDERS, RANKS):
        fitting = [item for item in own if _lies_on(item, size)]
        if len(fitting) < len(own):
            continue
        sides = [(-by(item), item.index, item) for item in own]
        ordered = [item for _, _, item in sorted(sides, key=lambda side: side[:2])]
        for room in _rooms(size):
            if not all(_lies_on(item, room) for item in own):
                continue
            filled = fill_sheets(ordered, room, Manner(rank=rank, deepest=_DEEPEST), limit=1)
            if not filled.left:
                yield filled.sheets[0].root
                break


def _lies_on(item: Item, size: Size) -> bool:
    return all(way.wide <= size[0] and way.high <= size[1] for way in item.ways)


def _rooms(size: Size) -> Iterator[Size]:
    """Parts of a sheet, from little of its length to all of it."""
    for share in range(1, _SHARES + 1):
        yield size[0] * share // _SHARES, size[1]


def _searched(own: Sequence[Item], sizes: Sequence[Size], budget: Budget) -> Iterator[Block]:
    # Loaded where it is needed: hardly ever.
    from benchleaf.cutting.sheet_search import fit_on  # noqa: PLC0415

    numbered = [replace(item, index=index) for index, item in enumerate(own)]
    for size in sizes:
        if sum(item.area for item in own) > size[0] * size[1]:
            continue
        if not all(_lies_on(item, size) for item in own):
            continue
        found = fit_on(numbered, [size], [], budget.share(_SHARE_OF_SEARCH))
        if found is not None and found[0] is not None:
            yield with_items(found[0], dict(enumerate(own)))


def _renumbered(block: Block, places: list[int]) -> Block:
    """A block whose items are numbered on from what there is; `places` gets where they stood."""
    item = None
    if block.item is not None:
        item = replace(block.item, index=len(places))
        places.append(block.item.index)
    return Block(
        block.wide,
        block.high,
        block.join,
        [_renumbered(inner, places) for inner in block.inner],
        item,
        block.is_turned,
        block.is_run,
    )
