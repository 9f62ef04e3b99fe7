"""Reading: the text of a price file to a `PriceList`, with everything that is wrong found at once.

Takes text and the file's name; gives a `PriceList` or None, and findings. Pure. A price file is
taken apart as a plan is, and is as little trusted.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Final

from benchleaf.buying.prices import Price, PriceList, plain_name
from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.handbook.supplies import LITRES_PER_FL_OZ, LITRES_PER_GALLON
from benchleaf.reading.containers import Key, ListOf, Record
from benchleaf.reading.desk import Desk, FileKind
from benchleaf.reading.nodes import TextNode, compose_nodes
from benchleaf.reading.shapes import JsonSchema, Prose, TextShape
from benchleaf.reading.showing import quote
from benchleaf.reading.stocking import Money

PRICE_FILE: Final = FileKind(
    whole="the price list",
    keys="the keys of a price list: `currency:`, `date:` and `prices:`",
    too_much="Leave out what is not bought.",
)
# chosen: several times what one workshop buys.
_MOST_PRICES: Final = 500
# chosen: a material, a shape and three sizes fit.
_LONGEST_NAME: Final = 120
_LITRES: Final = {
    "ml": Fraction(1, 1000),
    "l": Fraction(1),
    "fl oz": LITRES_PER_FL_OZ,
    "pt": LITRES_PER_GALLON / 8,
    "qt": LITRES_PER_GALLON / 4,
    "gal": LITRES_PER_GALLON,
}
_HOLDS: Final = re.compile(r"([0-9]{1,5}(?:[.][0-9]{1,3})?) *(fl oz|ml|l|pt|qt|gal)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class DateShape(TextShape):
    """A day, as year, month and day."""

    needed: str = "year, month and day, such as 2026-11-02"
    code: str = "R991"

    def read_text(self, node: TextNode, desk: Desk) -> str | None:
        """Give the day as it is written."""
        text = node.text.strip()
        try:
            is_day = bool(re.fullmatch(r"[0-9]{4}(?:-[0-9]{2}){2}", text, re.ASCII))
            day = date.fromisoformat(text) if is_day else None
        except ValueError:
            day = None
        if day:
            return text
        desk.report(
            self.code, node, f"{quote(text)} is not a day", remedy=f"Needed: {self.needed}."
        )
        return None

    def schema(self) -> JsonSchema:
        """Digits with hyphens."""
        return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}


@dataclass(frozen=True, slots=True)
class HoldsShape(TextShape):
    """What a pack holds: a number of pieces, or a volume."""

    needed: str = "a number of pieces, such as 100, or a volume, such as 16 fl oz or 500 ml"
    code: str = "R992"

    def read_text(self, node: TextNode, desk: Desk) -> tuple[int, Fraction | None] | None:
        """Give pieces and litres."""
        text = " ".join(node.text.lower().split())
        found = _HOLDS.fullmatch(text)
        amount = Fraction(found[1]) if found else Fraction(0)
        if found and found[2] and amount:
            return 1, amount * _LITRES[found[2]]
        if found and amount >= 1 and amount.denominator == 1:
            return int(amount), None
        message = f"{quote(node.text)} does not say what a pack holds"
        desk.report(self.code, node, message, remedy=f"Needed: {self.needed}.")
        return None

    def schema(self) -> JsonSchema:
        """A number, or one with its unit."""
        return {"type": ["integer", "string"]}


PRICES: Final = Record(
    (
        Key("currency", Prose(12, is_line=True), "Of all prices: `USD`, `GBP`.", required=True),
        Key("date", DateShape(), "When the prices were asked.", required=True),
        Key("prices", ListOf(
            Record(
                (
                    Key("what", Prose(_LONGEST_NAME, is_line=True),
                        "What it is, named as the shopping list names it.", required=True),
                    Key("price", Money(), "Of one, or of one pack.", required=True),
                    Key("holds", HoldsShape(), "What a pack holds: pieces, or a volume.",
                        default="one piece"),
                ),
                "a price",
            ),
            most=_MOST_PRICES, what="prices",
        ), "One for each thing.", required=True),
    ),
    "a price list",
)  # fmt: skip


def read_prices(text: str, file: str) -> tuple[PriceList | None, tuple[Finding, ...]]:
    """Read a price file.

    Args:
        text: The whole text of the file.
        file: Its path as findings show it.

    Returns:
        The prices, or None where an error was found; and all findings, sorted by place.
    """
    desk = Desk(file, PRICE_FILE)
    root = compose_nodes(text, desk)
    values = PRICES.read(root, desk) if root is not None else None
    if values is None or has_errors(desk.findings):
        return None, sort_findings(desk.findings)
    prices = _build(values["prices"], desk)
    findings = sort_findings(desk.findings)
    if has_errors(findings):
        return None, findings
    return PriceList(currency=values["currency"], date=values["date"], prices=prices), findings


def _build(rows: tuple[Mapping[str, Any], ...], desk: Desk) -> Mapping[str, Price]:
    prices: dict[str, Price] = {}
    for index, row in enumerate(rows):
        name = plain_name(row["what"])
        if name in prices:
            spot = desk.spot(f"prices[{index}].what")
            message = f"{quote(row['what'])} has a price above"
            desk.report("R993", spot, message, remedy="Leave one of the two out.")
        pieces, litres = row.get("holds", (1, None))
        prices[name] = Price(what=row["what"], price=row["price"], pieces=pieces, litres=litres)
    return MappingProxyType(prices)
