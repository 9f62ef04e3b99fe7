"""What is bought for a piece: each line with the sum that leads to it. Made by `list_purchases`.

A line is named in trade words, with its size in the plan's units: by that name a price file prices
it. Nothing here knows pages.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from benchleaf.checking.records import Quantity


class Shelf(StrEnum):
    """Where in a store a line stands; in the order of the list."""

    STOCK = "Stock"
    HARDWARE = "Hardware"
    SUPPLIES = "Glue, abrasives and finish"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """So many of one size."""

    count: int
    holds: Quantity | None
    """What one holds, litres; None for what is sold by the piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """One line of the list, and its sum: addends, spread or multiplied, rounded up to packs."""

    shelf: Shelf
    name: str
    """`wood screw No. 8 x 1-1/4 in`: what it is, with its size; priced by this name."""
    what: str
    """`wood screw`."""
    size: str
    """`No. 8 x 1-1/4 in`; may be empty."""
    addends: tuple[Quantity, ...]
    """What makes the amount up: counts by joint, areas by surface."""
    times: int = 1
    """Coats."""
    rate: Quantity | None = None
    """How far a unit of it goes, with its source; None for what is counted."""
    needed: Quantity
    """What the sum comes to: pieces or litres."""
    spare: int = 0
    """Pieces bought beyond the count."""
    packs: tuple[Pack, ...]
    """What is bought."""
    note: str = ""
    """What it is for, where the name does not say."""
    is_there: bool = False
    """True for what is had already: from the rack."""

    @property
    def total(self) -> Quantity:
        """What the addends come to."""
        first = self.addends[0]
        value = sum((Fraction(one.value) for one in self.addends), start=Fraction(0))
        return Quantity(symbol="", name="", value=value, unit=first.unit)

    @property
    def count(self) -> int:
        """How many are bought."""
        return sum(pack.count for pack in self.packs)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingList:
    """All that is bought for a piece."""

    purchases: tuple[Purchase, ...]
    """By shelf; stock in the plan's order."""

    def on(self, shelf: Shelf) -> tuple[Purchase, ...]:
        """The lines of one shelf."""
        return tuple(one for one in self.purchases if one.shelf is shelf)
