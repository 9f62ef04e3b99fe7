"""What stock can be had: several sizes, their prices, and offcuts already in the rack.

Takes the typed values of one line of stock, gives its offers; and the shapes and keys of both. A
sheet's offcut is written as the sheet lies: the side along the sheet's long side first.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from benchleaf.reading.containers import Key, ListOf, Record
from benchleaf.reading.desk import Desk
from benchleaf.reading.nodes import TextNode
from benchleaf.reading.plan import Offer
from benchleaf.reading.shapes import (
    JsonSchema,
    PlainLength,
    PlainPair,
    TextShape,
    Whole,
    read_length,
)
from benchleaf.reading.showing import quote, show

Values = Mapping[str, Any]

# chosen: more sizes or offcuts than any yard or rack holds of one stock.
MOST_SIZES: Final = 20
_MOST_OFFCUTS: Final = 40
_MOST_OF_ONE: Final = 100
_MOST_DEFECTS: Final = 20


@dataclass(frozen=True, slots=True)
class Money(TextShape):
    """An amount in the author's own money, without its sign."""

    needed: str = "an amount without its sign, such as 64.50"

    def read_text(self, node: TextNode, desk: Desk) -> Fraction | None:
        """Give the amount."""
        text = node.text.strip()
        # chosen: seven digits and two decimals are past every price of a board.
        if re.fullmatch(r"[0-9]{1,7}(?:\.[0-9]{1,2})?", text):
            return Fraction(text)
        desk.report("R050", node, f"{quote(text)} is not a price", remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """A number."""
        return {"type": ["number", "string"]}


@dataclass(frozen=True, slots=True)
class Stretch(TextShape):
    """A stretch along a board: `14 to 17`."""

    needed: str = "from and to, measured from the left end, such as 14 to 17"

    def read_text(self, node: TextNode, desk: Desk) -> tuple[Fraction, Fraction] | None:
        """Give from and to, mm."""
        halves = re.split(r"\s+to\s+", node.text.strip())
        if len(halves) == 2:
            start = read_length(halves[0], node, desk, may_be_zero=True)
            end = read_length(halves[1], node, desk)
            if start is None or end is None:
                return None
            if start < end:
                return start, end
        message = f"{quote(node.text)} is not a stretch of a board"
        desk.report("R051", node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """Text with a `to` in it."""
        return {"type": "string", "pattern": " to "}


_COUNT: Final = Key("count", Whole(1, _MOST_OF_ONE), "How many there are.", default="1")
PRICE: Final = Key(
    "price",
    ListOf(Money(), most=MOST_SIZES, what="prices", lone=True, least=1),
    "What one costs, in your own money; for several sizes a list in their order. The cheapest "
    "stock is looked for, not the least.",
    default="the least stock is looked for",
)
SHEET_RACK: Final = Key(
    "rack",
    ListOf(
        Record(
            (
                Key(
                    "piece",
                    PlainPair(),
                    "Its sides, as trimmed square: first the one along the sheet's long side.",
                    required=True,
                ),
                _COUNT,
            ),
            "an offcut",
        ),
        most=_MOST_OFFCUTS,
        what="offcuts",
        lone=True,
    ),
    "Offcuts that are there already; they are used before anything is bought.",
    default="none",
)
LENGTH_RACK: Final = Key(
    "rack",
    ListOf(
        Record(
            (
                Key("piece", PlainLength(), "How long it is.", required=True),
                _COUNT,
                Key(
                    "defects",
                    ListOf(Stretch(), most=_MOST_DEFECTS, what="stretches", lone=True),
                    "Knots, splits and the like to keep out of, measured from the left end.",
                    default="none",
                ),
            ),
            "an offcut",
        ),
        most=_MOST_OFFCUTS,
        what="offcuts",
        lone=True,
    ),
    "Pieces that are there already; they are used before anything is bought.",
    default="none",
)


def build_offers(
    sizes: Sequence[tuple[Fraction, Fraction]], width_mm: Fraction, values: Values
) -> tuple[Offer, ...]:
    """Make the offers of one line of stock: none where it is one size without a price.

    Args:
        sizes: (length, width) that are sold, in the order written.
        width_mm: Of a board or rod from the rack.
        values: Of the line of stock.
    """
    prices = values.get("price") or ()
    rack = values.get("rack") or ()
    if len(sizes) == 1 and not prices and not rack:
        return ()
    asked = (*prices, *[None] * len(sizes))
    sold = tuple(
        Offer(length_mm=length, width_mm=width, price=price)
        for (length, width), price in zip(sizes, asked, strict=False)
    )
    return (*sold, *(_offcut(own, width_mm) for own in rack))


def _offcut(values: Values, width_mm: Fraction) -> Offer:
    piece = values["piece"]
    length, width = piece if isinstance(piece, tuple) else (piece, width_mm)
    return Offer(
        length_mm=length,
        width_mm=width,
        count=values.get("count") or 1,
        price=Fraction(0),
        is_offcut=True,
        defects_mm=tuple(sorted(values.get("defects") or ())),
    )


def check_prices(stock: Mapping[str, Any], desk: Desk) -> None:
    """Check that there are as many prices as sizes, and that defects lie on their boards."""
    for name, values in stock.items():
        if values is None:
            continue
        listed = (values.get(key) for key in ("sheet", "lengths", "length"))
        sold = next(filter(None, listed), ())
        prices = values.get("price") or ()
        if prices and len(prices) != len(sold):
            message = f"prices: {len(prices)}; sizes: {len(sold)}"
            remedy = "Needed: a price for each size, in the same order."
            desk.report("R052", desk.spot(f"stock.{show(name)}.price"), message, remedy=remedy)
        for index, own in enumerate(values.get("rack") or ()):
            _check_defects(f"stock.{show(name)}.rack[{index}]", own, desk)


def _check_defects(path: str, offcut: Values | None, desk: Desk) -> None:
    piece = (offcut or {}).get("piece")
    for stretch in (offcut or {}).get("defects") or ():
        if isinstance(piece, Fraction) and stretch is not None and stretch[1] > piece:
            message = "a defect lies beyond the end of its board"
            remedy = "Needed: stretches of the board, measured from its left end."
            desk.report("R051", desk.spot(path), message, remedy=remedy)
