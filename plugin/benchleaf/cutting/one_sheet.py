"""One sheet cut for the most value: what to make of an offcut, or of the last sheet there is.

Takes blanks with their values and one sheet, gives its layout; blanks may be left out. Must not
know parts or joints.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

import numpy as np

from benchleaf.cutting.blocks import Item, Size
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.drafts import draft_sheet
from benchleaf.cutting.fitting import fits, offers_of
from benchleaf.cutting.records import Blank, SheetLayout
from benchleaf.cutting.sheet_layouts import bed_of, grid_of, item_of
from benchleaf.cutting.sheet_value import most_worth
from benchleaf.cutting.sheet_writing import Drawn, write_sheets
from benchleaf.cutting.value_kernel import reachable, unlimited_worth
from benchleaf.reading.plan import Stock

# chosen: steps of the bound's table, about half a second.
_MOST_STEPS: Final = 2 * 10**8


def cut_for_value(
    blanks: Sequence[Blank],
    worth: Sequence[int],
    stock: Stock,
    *,
    kerf_mm: Fraction,
    budget: Budget,
) -> tuple[SheetLayout, int]:
    """Cut one sheet for the most value.

    Args:
        blanks: At least one of them fits the stock.
        worth: Of each blank, above 0.
        stock: A sheet of one size.
        kerf_mm: Width of every cut.
        budget: What may be spent.

    Returns:
        The layout; and a value that no layout is worth more than.

    Raises:
        ValueError: No blank fits the stock.
    """
    own = [index for index, blank in enumerate(blanks) if fits(blank, stock)]
    if not own:
        raise ValueError("no blank fits the sheet")
    kept, values = [blanks[index] for index in own], [worth[index] for index in own]
    grid, offer = grid_of(kept, stock, kerf_mm), offers_of(stock)[0]
    bed = bed_of(offer, stock, (grid, grid.count(kerf_mm)))
    items = [item_of(index, blank, stock, (grid, kerf_mm)) for index, blank in enumerate(kept)]
    bound = min(sum(values), _unlimited(items, values, bed.room))
    block = most_worth(items, values, bed.room, most=bound, budget=budget)
    if block is None:
        raise ValueError("nothing was laid out within the budget")
    drawn = [Drawn(offer, draft_sheet(block, bed))]
    return write_sheets(drawn, kept, stock, (grid, kerf_mm))[0], bound


def _unlimited(items: Sequence[Item], worth: Sequence[int], size: Size) -> int:
    """A bound: what the sheet is worth if every blank may be cut as often as one likes."""
    lying = {
        (way.wide, way.high, value)
        for item, value in zip(items, worth, strict=True)
        for way in item.ways
    }
    listed = sorted(lying)
    wide, high, value = (np.array([one[axis] for one in listed]) for axis in range(3))
    across, upright = reachable(np.unique(wide), size[0]), reachable(np.unique(high), size[1])
    if len(across) * len(upright) * (len(across) + len(upright)) // 2 > _MOST_STEPS:
        return sum(worth)
    return unlimited_worth((wide, high, value), across, upright)
