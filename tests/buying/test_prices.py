"""A price file read, and a list priced by it."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

import handmade_plan as handmade
from benchleaf.buying.codes import CODES
from benchleaf.buying.price_file import read_prices
from benchleaf.buying.prices import PriceList, price_out
from benchleaf.buying.records import ShoppingList
from benchleaf.findings import Finding

HEAD = "currency: GBP\ndate: 2026-11-02\nprices:\n"


def read(rows: str) -> tuple[PriceList | None, tuple[Finding, ...]]:
    return read_prices(HEAD + rows, "prices.yml")


def prices(rows: str) -> PriceList:
    found, findings = read(rows)
    assert found is not None, findings
    return found


def shopping() -> ShoppingList:
    worked = handmade.make_worked()
    assert worked.shopping is not None
    return worked.shopping


def test_what_is_listed_is_priced_by_its_name_whatever_its_signs_and_letters() -> None:
    # The frame takes one sheet; 4 dowels and 1 spare, in packs of 2: 3; glue of 18 ml: one bottle.
    bill = price_out(
        shopping(),
        prices(
            "  - {what: 'Sheet of birch plywood, 1220 × 2440  × 18 mm', price: 64.50}\n"
            "  - {what: dowel 10 x 50 mm, price: 0.40, holds: 2}\n"
            "  - {what: PVA glue, price: 5, holds: 250 ml}\n"
        ),
    )
    costs = {one.purchase.name: one.cost for one in bill.charges if one.price}
    assert costs == {
        "sheet of birch plywood, 1220 x 2440 x 18 mm": Fraction(129, 2),
        "dowel 10 x 50 mm": Fraction(6, 5),
        "PVA glue": 5,
    }
    assert (bill.currency, bill.date, bill.total) == ("GBP", "2026-11-02", Fraction(707, 10))


def test_what_has_no_price_is_named_and_never_guessed() -> None:
    bill = price_out(shopping(), prices("  - {what: PVA glue, price: 5, holds: 250 ml}\n"))
    assert "dowel 10 x 50 mm" in bill.missing
    assert len(bill.missing) == len(bill.charges) - 1
    assert bill.total == 5


@pytest.mark.parametrize(
    "row", ["{what: PVA glue, price: 5}", "{what: PVA glue, price: 5, holds: 3}"]
)
def test_a_liquid_is_not_priced_by_the_piece(row: str) -> None:
    assert "PVA glue" in price_out(shopping(), prices(f"  - {row}\n")).missing


# 1 US gallon is 3.785412 l (NIST SP 811, appendix B.8).
@pytest.mark.parametrize(
    ("holds", "litres"),
    [("500 ml", 0.5), ("1.5 l", 1.5), ("16 fl oz", 0.473176), ("1 gal", 3.785412)],
)
def test_a_pack_is_sold_by_the_units_of_its_label(holds: str, litres: float) -> None:
    found = prices(f"  - {{what: PVA glue, price: 5, holds: {holds}}}\n")
    (price,) = found.prices.values()
    assert price.litres is not None
    assert float(price.litres) == pytest.approx(litres, rel=1e-6)


FAULTS = {
    "R991": ("currency: GBP\ndate: 2026-02-30\nprices: []\n", "`2026-02-30` is not a day"),
    "R992": (
        HEAD + "  - {what: glue, price: 5, holds: a jar}\n",
        "`a jar` does not say what a pack",
    ),
    "R993": (
        HEAD + "  - {what: glue, price: 5}\n  - {what: Glue, price: 6}\n",
        "`Glue` has a price above",
    ),
    "R050": (HEAD + "  - {what: glue, price: £5}\n", "is not a price"),
    "R010": ("currency: GBP\nprices: []\n", "date"),
    "R011": (HEAD + "  - {what: glue, price: 5, per: tin}\n", "per"),
}


@pytest.mark.parametrize("code", FAULTS)
def test_every_fault_says_what_is_needed(code: str) -> None:
    text, words = FAULTS[code]
    found, findings = read_prices(text, "prices.yml")
    assert found is None
    (finding,) = (one for one in findings if one.code == code)
    assert words in finding.message
    assert finding.place.file == "prices.yml"
    assert finding.remedy


def test_every_code_has_its_case() -> None:
    assert set(CODES) <= set(FAULTS)


@pytest.mark.parametrize(
    "text",
    ["", "[]", "prices: *a", "currency: [x]\n", "\x00", HEAD + "  - {what: a, price: 1e9}\n",
     HEAD + "  - {what: a, price: 1, holds: 0}\n", HEAD + "".join(
         f"  - {{what: a{n}, price: 1}}\n" for n in range(501))],
)  # fmt: skip
def test_a_stranger_s_price_file_is_refused_in_words(text: str) -> None:
    found, findings = read_prices(text, "prices.yml")
    assert found is None
    assert findings


def test_the_page_for_those_who_keep_a_site_lists_every_code_and_its_example_is_read() -> None:
    page = (Path(__file__).parents[2] / "docs" / "your-site.md").read_text("utf-8")
    for code, meaning in CODES.items():
        assert f"| {code} | {meaning} |" in page
    example = re.search(r'```yaml title="prices.yml"\n(.*?)```', page, re.DOTALL)
    assert example
    found, findings = read_prices(example[1], "prices.yml")
    assert found is not None, findings
