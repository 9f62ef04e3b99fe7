"""Orders in which items are placed: by which size, largest first.

Takes items, gives sizes. Must not know sheets.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from benchleaf.cutting.blocks import Item

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
