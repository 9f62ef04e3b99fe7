"""The layout of one stock's sheets: several are made, the one that is best to cut is kept.

Takes items and the sheet, gives drafts of its sheets and the fewest there could be. Fewer sheets
win; then few fence settings and cuts, and one large offcut. Must not know labels or units.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from benchleaf.cutting.blocks import Block, Item, Size
from benchleaf.cutting.bounds import fewest_sheets
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.bundles import tie, untie
from benchleaf.cutting.drafts import Bed, draft_quickly, draft_sheet, weigh, work_of
from benchleaf.cutting.parting import Draft
from benchleaf.cutting.sheet_filling import RANKS, Manner, by_area, fill_sheets
from benchleaf.cutting.sheet_orders import ORDERS, Order
from benchleaf.cutting.strips import lay_in_columns, lay_in_strips

# chosen: strips, pieces, and a piece of a piece: a small shop loses its way among more stages.
_SIMPLE: Final = 3
# chosen: deeper still where that saves a sheet; beyond 5 hardly any sheet is saved.
_DEEP: Final = 5
# chosen: of few items deep layouts are made in no time, and often save the search for better ones.
_DEEP_AT_ONCE: Final = 30
# chosen: what the search finds at all it mostly finds in this share of the budget.
_SHARE_AT_FIRST: Final = 0.35
# chosen: most bounds are proved with much less of what is left.
_SHARE_OF_BOUND: Final = 0.15
_SHARE_OF_PATTERNS: Final = 0.2
# Areas of such a side still fit a machine word.
_GREATEST: Final = 2**30
# chosen: above these numbers of items fewer layouts are tried, so that the time stays in bounds.
_MANY: Final = 300
_VERY_MANY: Final = 600
# chosen: of many items four layouts are looked at closely, of few all.
_LOOKED_AT: Final = 4
_FEW: Final = 100

Layout = list[Block]
"""One block for each sheet."""


def lay_out_sheets(items: Sequence[Item], bed: Bed, budget: Budget) -> tuple[list[Draft], int]:
    """Lay items out on as few sheets as can be found, and in a way that is good to cut.

    Args:
        items: Each fits the bed in all its ways.
        bed: The sheet.
        budget: What may be spent on saving sheets.

    Returns:
        Sheets, fullest first; and the fewest that any layout could need.
    """
    ways = [[way[:2] for way in one.ways] for item in items for one in _free_items(item)]
    bound = fewest_sheets(ways, bed.room)
    layouts: list[Layout] = list(_first_layouts(items, bed.room))
    is_large = max(bed.room) >= _GREATEST
    if min(map(len, layouts)) > bound and (is_large or len(items) <= _DEEP_AT_ONCE):
        layouts += _deep_layouts(items, bed.room)
    if min(map(len, layouts)) > bound and not is_large:
        bound = _close_gap(layouts, items, bed.room, (bound, budget))
    fewest = min(map(len, layouts))
    looked_at = len(layouts) if len(items) <= _FEW else _LOOKED_AT
    best = _easiest([layout for layout in layouts if len(layout) == fewest], bed, looked_at)
    return sorted(best, key=_order), bound


def _close_gap(
    layouts: list[Layout], items: Sequence[Item], size: Size, aim: tuple[int, Budget]
) -> int:
    """Search for fewer sheets and prove more, each for its share, until the two meet.

    Args:
        layouts: Those made so far; what is found is added.
        items: Numbered from 0 in order.
        size: Of every sheet.
        aim: The fewest sheets proved so far, and what may be spent.

    Returns:
        The fewest sheets that any layout could need, as far as proved.
    """
    # Loaded where it is needed: most plans are done by now, and it takes some tenths of a second.
    from benchleaf.cutting.sheet_bounds import fewest_by_shares  # noqa: PLC0415
    from benchleaf.cutting.sheet_patterns import pattern_layouts  # noqa: PLC0415

    bound, budget = aim
    share = budget.share(_SHARE_AT_FIRST)
    layouts.append(_save_sheets(layouts, items, size, (bound, share), evenness=0.0))
    budget.take_back(share)
    if min(map(len, layouts)) > bound:
        ways = [[way[:2] for way in one.ways] for item in items for one in _free_items(item)]
        share = budget.share(_SHARE_OF_BOUND)
        bound = max(bound, fewest_by_shares(ways, size, min(map(len, layouts)), share))
        budget.take_back(share)
    if min(map(len, layouts)) > bound:
        share = budget.share(_SHARE_OF_PATTERNS)
        layouts += pattern_layouts(items, size, share)
        budget.take_back(share)
    if min(map(len, layouts)) > bound:
        layouts.append(_save_sheets(layouts, items, size, (bound, budget), evenness=1.0))
    return bound


def _free_items(item: Item) -> list[Item]:
    """What a bound may reckon with: a run is one piece, others that share a sheet lie anyhow."""
    if item.held is None:
        return [item]
    own = list(item.held.items())
    is_rigid = item.held.is_run and all(len(one.ways) == 1 for one in own)
    return [item] if is_rigid else own


def _easiest(layouts: Sequence[Layout], bed: Bed, looked_at: int) -> list[Draft]:
    """The layout that is best to cut of so many as are looked at closely, likeliest first."""
    quick = sorted(
        layouts,
        key=lambda layout: _cost([draft_quickly(block, bed) for block in layout], bed),
    )
    drafts = ([draft_sheet(block, bed) for block in layout] for layout in quick[:looked_at])
    return min(drafts, key=lambda sheets: _cost(sheets, bed))


def _first_layouts(items: Sequence[Item], size: Size) -> Iterator[Layout]:
    """Simple layouts, item by item and with equal items tied in rows."""
    yield from _simple_layouts(items, size)
    tied, bundles = tie(items, size) if len(items) <= _MANY else ([], {})
    if bundles:
        for layout in _simple_layouts(tied, size):
            yield [untie(block, bundles) for block in layout]


def _simple_layouts(items: Sequence[Item], size: Size) -> Iterator[Layout]:
    """Strips, and a few layouts of few stages."""
    simple = Manner(rank=by_area, deepest=_SIMPLE)
    finishes = (None, simple) if len(items) <= _MANY else (simple,)
    for finish in finishes:
        yield lay_in_strips(items, size, finish)
        yield lay_in_columns(items, size, finish)
    for order in ORDERS[:2]:
        yield _fill(items, size, order, simple)


def _deep_layouts(items: Sequence[Item], size: Size) -> Iterator[Layout]:
    """Layouts of more stages, in many orders."""
    orders = ORDERS if len(items) <= _MANY else ORDERS[:1]
    ranks = RANKS if len(items) <= _VERY_MANY else RANKS[:1]
    for order in orders:
        for rank in ranks:
            yield _fill(items, size, order, Manner(rank=rank, deepest=_DEEP))


def _fill(items: Sequence[Item], size: Size, order: Order, manner: Manner) -> Layout:
    ordered = sorted(items, key=lambda item: (-order(item), item.index))
    return [sheet.root for sheet in fill_sheets(ordered, size, manner).sheets]


def _save_sheets(
    layouts: Sequence[Layout],
    items: Sequence[Item],
    size: Size,
    aim: tuple[int, Budget],
    *,
    evenness: float,
) -> Layout:
    from benchleaf.cutting.sheet_search import save_sheets  # noqa: PLC0415

    places = {item.index: place for place, item in enumerate(items)}
    if any(index != place for index, place in places.items()):
        raise ValueError("items are not numbered from 0 in order")
    return save_sheets(min(layouts, key=len), items, size, aim, evenness=evenness)


def _cost(sheets: Sequence[Draft], bed: Bed) -> int:
    return work_of([weigh(sheet, bed) for sheet in sheets], bed)


def _order(sheet: Draft) -> tuple[int, ...]:
    used = sum(piece.item.area for piece in sheet.walk() if piece.item is not None)
    return (-used, *sorted(-piece.item.area for piece in sheet.walk() if piece.item))
