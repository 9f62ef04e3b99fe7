"""Buying: what the cut plan, the joints and the finish ask for, rounded up to what is sold.

Takes Joinery and CutPlan; gives a `ShoppingList`. `price_out` prices it, from a file that knows no
plan. Must not know pages.
"""

from __future__ import annotations

from benchleaf.buying.hardware import list_hardware
from benchleaf.buying.records import ShoppingList
from benchleaf.buying.stock import list_stock
from benchleaf.buying.supplies import list_supplies
from benchleaf.cutting.records import CutPlan
from benchleaf.joinery.records import Joinery


def list_purchases(joinery: Joinery, cut_plan: CutPlan) -> ShoppingList:
    """List what is bought for a piece, each line with its sum."""
    plan = joinery.piece.plan
    return ShoppingList(
        purchases=(
            *list_stock(plan, cut_plan),
            *list_hardware(joinery, cut_plan),
            *list_supplies(joinery, cut_plan),
        )
    )
