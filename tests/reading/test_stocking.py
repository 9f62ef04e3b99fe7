"""Stock as it can be had: sizes, prices and the rack, read into offers."""

from fractions import Fraction

from benchleaf.reading.plan import Offer
from plan_texts import change, read

INCH = Fraction(254, 10)
SHEET = "ply: {sheet: 96 x 48, "
BOARD = "board: 3/4 x 5-1/2, lengths: [96, 72]"


def offers(old: str, new: str, name: str) -> tuple[Offer, ...]:
    plan, findings = read(change(old, new))
    assert findings == ()
    return plan.stock[name].offers


def test_one_size_without_a_price_makes_no_offers() -> None:
    assert offers("trim: 1/4", "trim: 1/2", "ply") == ()


def test_prices_go_with_sizes_in_the_order_written() -> None:
    found = offers("96 x 48", "[48 x 96, 60 x 60], price: [82, 64.50]", "ply")
    assert found == (
        Offer(length_mm=96 * INCH, width_mm=48 * INCH, price=Fraction(82)),
        Offer(length_mm=60 * INCH, width_mm=60 * INCH, price=Fraction(129, 2)),
    )


def test_prices_of_boards_go_with_lengths_in_the_order_written() -> None:
    found = offers(BOARD, f"{BOARD}, price: [44, 31]", "pine")
    assert [(one.length_mm / INCH, one.price) for one in found] == [(96, 44), (72, 31)]


def test_an_offcut_of_a_sheet_lies_as_it_is_written() -> None:
    *_, offcut = offers("trim: 1/4", "rack: {piece: 20 x 30, count: 2}", "ply")
    assert offcut == Offer(
        length_mm=20 * INCH, width_mm=30 * INCH, count=2, price=Fraction(0), is_offcut=True
    )


def test_a_board_of_the_rack_has_its_defects_in_order() -> None:
    text = f"{BOARD}, rack: [{{piece: 50, defects: [30 to 31, 14 to 17]}}]"
    *_, offcut = offers(BOARD, text, "pine")
    assert (offcut.length_mm, offcut.width_mm) == (50 * INCH, Fraction(11, 2) * INCH)
    assert offcut.defects_mm == ((14 * INCH, 17 * INCH), (30 * INCH, 31 * INCH))
