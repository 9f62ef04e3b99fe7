"""The layout of one sheet that is worth most, by the search that saves sheets.

Takes items with what each is worth, gives one block. Items may be left out. Must not know stock or
labels.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from benchleaf.cutting.blocks import Block, Item, Size
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.dice import new_dice
from benchleaf.cutting.sheet_kernel import OPEN_SHEETS
from benchleaf.cutting.sheet_search import WAITING, new_search, read_all, refine_sheets

# chosen: a third of a second without a gain.
_PATIENCE: Final = 3_000_000


def most_worth(
    items: Sequence[Item], worth: Sequence[int], size: Size, *, most: int, budget: Budget
) -> Block | None:
    """Look for the layout of one sheet that is worth most; items may be left out.

    Args:
        items: Numbered from 0.
        worth: Of each, above 0.
        size: Of the sheet.
        most: No layout is worth more: where it is reached, the search ends.
        budget: What may be spent.
    """
    dice, total = new_dice(), sum(worth)
    best, goal = None, total
    while goal > total - most and not budget.is_spent:
        search = new_search(items, [size] * OPEN_SHEETS, worth, dice=dice)
        search.lately[:] = total * WAITING
        waiting, patience = len(items), _PATIENCE
        # After a while without a gain another start leads on.
        while patience > 0 and goal > total - most and not budget.is_spent:
            waiting, work = refine_sheets(search, 1, waiting, (goal, budget.slice))
            budget.spend(work)
            patience -= work
            left = int(search.bench.items.worth[search.waiting[:waiting]].sum())
            if left < goal:
                best, goal, patience = read_all(search, items, 1)[0], left, _PATIENCE
    return best
