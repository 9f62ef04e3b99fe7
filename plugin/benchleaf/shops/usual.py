"""Shops that need no file: the usual one, and two leaner ones.

Takes nothing, gives Shops by name. Must not know plans.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from benchleaf.shops.records import Shop

USUAL_SHOP: Final = Shop(name="usual", title="A usual small shop")
"""What a plan is worked for where nobody says more. chosen: what a shared workshop has."""
WITHOUT_TABLE_SAW: Final = replace(
    USUAL_SHOP,
    name="no-table-saw",
    title="Without a table saw",
    table_saw=None,
    band_saw=None,
    drill_press=None,
    has_router_table=False,
    has_biscuit_jointer=False,
)
"""chosen: the machines that are carried to the work, and a mitre saw on a stand."""
HAND_TOOLS: Final = replace(
    WITHOUT_TABLE_SAW,
    name="hand-tools",
    title="With hand tools",
    mitre_saw=None,
    circular_saw=None,
    has_drill=False,
    has_router=False,
    has_jigsaw=False,
    has_sander=False,
)
"""No motor at all: saws, planes, chisels, a brace."""
KNOWN_SHOPS: Final[Mapping[str, Shop]] = MappingProxyType(
    {shop.name: shop for shop in (USUAL_SHOP, WITHOUT_TABLE_SAW, HAND_TOOLS)}
)
"""Shops by name."""
