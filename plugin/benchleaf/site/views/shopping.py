"""The shopping list: what is bought, how much of it, and the sum behind each amount.

Takes a `SoundPlan`, and prices where the site has any; gives its page. Amounts and costs are worked
out in `buying`: here they are put into words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.buying.prices import Bill, Charge, PriceList, price_out
from benchleaf.buying.records import Pack, Purchase, Shelf
from benchleaf.checking.records import Quantity
from benchleaf.checking.showing import show_quantity
from benchleaf.handbook.supplies import LITRES_PER_FL_OZ
from benchleaf.site.records import Page, Section
from benchleaf.site.show import show_count, show_list
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingView:
    """Context of `shopping.html`."""

    shelves: tuple[Table, ...]
    """One for each shelf of the store that something stands on."""
    total: str
    """`In all USD 214.30, by prices of 2026-11-02.`; empty without prices."""
    missing: tuple[str, ...]
    """What has no price, by the name that a price file would give it."""
    sources: tuple[str, ...]
    """What the rates rest on."""


def view_shopping(sound: SoundPlan, prices: PriceList | None = None) -> Page:
    """Make the page to take to the store."""
    bill = price_out(sound.shopping, prices) if prices else None
    shelves = (_list_shelf(sound, shelf, bill) for shelf in Shelf)
    view = ShoppingView(
        shelves=tuple(table for table in shelves if table.rows),
        total=_say_total(bill) if bill else "",
        missing=bill.missing if bill else (),
        sources=tuple(_list_sources(sound)),
    )
    return Page(
        key="shopping",
        title="Shopping list",
        short_title="Shopping list",
        description=f"What to buy for {sound.plan.title}, and the sum behind each amount.",
        sections=(Section(heading="", anchor="list", template="shopping.html", view=view),),
        parent="index",
        place=sound.place("stock"),
    )


def _list_shelf(sound: SoundPlan, shelf: Shelf, bill: Bill | None) -> Table:
    charges = {one.purchase.name: one for one in bill.charges} if bill else {}
    columns = [
        Column("Got it", "tick"),
        Column("Buy", "number"),
        Column("What"),
        Column("Size"),
        Column("Reckoned from"),
    ]
    if bill:
        columns += [Column("Price", "number"), Column("Cost", "number")]
    rows = []
    for one in sound.shopping.on(shelf):
        row = [
            Cell(""),
            Cell(_say_amount(sound, one)),
            Cell(one.what, note=one.note),
            Cell(one.size.replace(" x ", " × ")),
            Cell(_say_sum(sound, one)),
        ]
        rows.append((*row, *_price(charges.get(one.name))) if bill else tuple(row))
    caption = f"{shelf.value}; prices in {bill.currency}" if bill else shelf.value
    table = Table(caption=caption, columns=tuple(columns), rows=tuple(rows))
    return table.without_empty_columns()


def _say_amount(sound: SoundPlan, purchase: Purchase) -> str:
    """How many, or how much."""
    if purchase.is_there:
        return "0"
    return " + ".join(_say_pack(sound, pack) for pack in purchase.packs)


def _say_pack(sound: SoundPlan, pack: Pack) -> str:
    if pack.holds is None:
        return str(pack.count)
    holds = _say_volume(sound, Fraction(pack.holds.value))
    return holds if pack.count == 1 else f"{pack.count} × {holds}"


def _say_volume(sound: SoundPlan, litres: Fraction) -> str:
    """What a pack holds, which is a round number."""
    if sound.show.unit == "in":
        return f"{float(litres / LITRES_PER_FL_OZ):g} fl oz"
    return f"{float(litres):g} l" if litres >= 1 else f"{float(litres * 1000):g} ml"


def _price(charge: Charge | None) -> tuple[Cell, Cell]:
    """The price of one or of a pack, and what comes of it."""
    if charge is None:
        return Cell(""), Cell("")
    if charge.price is None or charge.cost is None:
        return Cell("not known"), Cell("")
    each = _say_money(charge.price.price)
    note = f"for {charge.price.pieces}" if charge.price.pieces > 1 else ""
    return Cell(f"{charge.packs} × {each}", note=note), Cell(_say_money(charge.cost))


def _say_money(amount: Fraction) -> str:
    return f"{float(amount):.2f}"


def _say_total(bill: Bill) -> str:
    return f"In all {bill.currency} {_say_money(bill.total)}, by prices of {bill.date}."


def _say_sum(sound: SoundPlan, purchase: Purchase) -> str:
    """The sum in words: what makes the amount up, and how it was rounded."""
    if purchase.is_there or len(purchase.addends) == 1 and purchase.rate is None:
        return _say_count(sound, purchase)
    units = sound.plan.units
    words = _say_addends(sound, purchase)
    if purchase.rate is None:
        return f"{words}{_say_spare(purchase)}"
    total = show_quantity(purchase.total, units)
    words = f"{words} = {total}" if len(purchase.addends) > 1 else words
    if purchase.times > 1:
        words = f"{words}; {purchase.times} times"
    rate = show_quantity(purchase.rate, units)
    if purchase.needed.unit == "sheets":
        needed = f"{float(purchase.needed.value):.1f} sheets of {rate}"
        return f"{words}: {needed}"
    return f"{words}, at {rate}: {_say_needed(sound, purchase)}"


def _say_needed(sound: SoundPlan, purchase: Purchase) -> str:
    """What the sum comes to; less than a litre in millilitres."""
    litres = Fraction(purchase.needed.value)
    if sound.show.unit == "mm" and litres < 1:
        # chosen: no closer than 5 ml, and upward
        return f"{-(-litres * 200 // 1) * 5} ml"
    return show_quantity(purchase.needed, sound.plan.units)


def _say_addends(sound: SoundPlan, purchase: Purchase) -> str:
    words = ""
    for one in purchase.addends:
        sign = " − " if one.value < 0 else " + "
        words += f"{sign if words else ''}{_say_addend(sound, one)}"
    return words


def _say_addend(sound: SoundPlan, addend: Quantity) -> str:
    size = Quantity(symbol="", name="", value=abs(Fraction(addend.value)), unit=addend.unit)
    return f"{show_quantity(size, sound.plan.units)} {addend.name}".strip()


def _say_count(sound: SoundPlan, purchase: Purchase) -> str:
    if purchase.shelf is Shelf.STOCK:
        words = f"{show_count(int(purchase.needed.value), 'piece')} laid out"
        return f"{words}, from the rack" if purchase.is_there else words
    words = _say_addends(sound, purchase)
    return f"{words}{_say_spare(purchase)}{f'; {purchase.times} times' * (purchase.times > 1)}"


def _say_spare(purchase: Purchase) -> str:
    return f" + {purchase.spare} spare" if purchase.spare else ""


def _list_sources(sound: SoundPlan) -> Iterator[str]:
    """The sources of the rates, each once, with what they are for."""
    users: dict[str, list[str]] = {}
    for one in sound.shopping.purchases:
        if one.rate:
            users.setdefault(one.rate.source, []).append(one.what)
    for source, names in users.items():
        name = "Abrasive" if names[0].startswith("abrasive") else show_list(names)
        yield f"{name}: {source}."
