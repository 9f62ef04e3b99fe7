"""Shops: what a workshop has, from a file or from the shops that need none.

Takes the text of a shop file, gives a `Shop` and findings. Must not know plans or operations.
"""

from __future__ import annotations

from benchleaf.shops.codes import CODES
from benchleaf.shops.reader import SHOP_FILE, needed_shop, read_shop, shop_name
from benchleaf.shops.records import Shop
from benchleaf.shops.table import schema
from benchleaf.shops.usual import HAND_TOOLS, KNOWN_SHOPS, USUAL_SHOP, WITHOUT_TABLE_SAW

__all__ = [
    "CODES",
    "HAND_TOOLS",
    "KNOWN_SHOPS",
    "SHOP_FILE",
    "USUAL_SHOP",
    "WITHOUT_TABLE_SAW",
    "Shop",
    "needed_shop",
    "read_shop",
    "schema",
    "shop_name",
]
