"""What things cost: a price file's rows, and a shopping list priced by them.

Takes a `ShoppingList` and a `PriceList`; gives a `Bill`. A price is found by the name that the list
gives a thing; what has none is said, never guessed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from benchleaf.buying.records import Purchase, ShoppingList


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What one of something costs, or one pack."""

    what: str
    """As the price file has it."""
    price: Fraction
    pieces: int = 1
    """How many are in a pack."""
    litres: Fraction | None = None
    """What a pack holds; None for what is sold by the piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceList:
    """A price file."""

    currency: str
    """As its author writes it: `USD`."""
    date: str
    """When the prices were asked: `2026-11-02`."""
    prices: Mapping[str, Price]
    """By name, as `plain_name` makes it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """A line of the list with what it costs."""

    purchase: Purchase
    price: Price | None
    """None where the file has none that fits."""
    packs: int
    """How many packs of that price are bought; 0 without one."""

    @property
    def cost(self) -> Fraction | None:
        """What they cost together."""
        return self.price.price * self.packs if self.price else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """A list with its prices."""

    currency: str
    date: str
    charges: tuple[Charge, ...]
    """One for each line that is bought, in order."""

    @property
    def total(self) -> Fraction:
        """What all that has a price costs."""
        costs = (charge.cost for charge in self.charges)
        return sum((cost for cost in costs if cost is not None), start=Fraction(0))

    @property
    def missing(self) -> tuple[str, ...]:
        """Names of the lines without a price."""
        return tuple(one.purchase.name for one in self.charges if one.price is None)


def plain_name(name: str) -> str:
    """A name as it is looked up: small letters, single spaces, `x` for the sign between sizes.

    >>> plain_name("Wood screw  No. 8 × 1-1/4 in")
    'wood screw no. 8 x 1-1/4 in'
    """
    return " ".join(name.casefold().replace("\u00d7", "x").split())


def price_out(shopping: ShoppingList, prices: PriceList) -> Bill:
    """Price every line that is bought."""
    bought = (one for one in shopping.purchases if not one.is_there)
    return Bill(
        currency=prices.currency,
        date=prices.date,
        charges=tuple(_charge(one, prices.prices.get(plain_name(one.name))) for one in bought),
    )


def _charge(purchase: Purchase, price: Price | None) -> Charge:
    """Price a line; a price for pieces does not fit what is sold by volume, nor the other way."""
    is_liquid = purchase.needed.unit == "l"
    if price is None or is_liquid != (price.litres is not None):
        return Charge(purchase=purchase, price=None, packs=0)
    if price.litres is not None:
        packs = ceil(Fraction(purchase.needed.value) / price.litres)
    else:
        packs = ceil(Fraction(purchase.count, price.pieces))
    return Charge(purchase=purchase, price=price, packs=packs)
