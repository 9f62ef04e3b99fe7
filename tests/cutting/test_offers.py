"""Stock of several sizes: prices, the rack, defects. Small cases that a hand can prove."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings

from benchleaf.cutting.records import CutPlan, Measure
from benchleaf.cutting.verifying import verify_plan
from benchleaf.reading.plan import Offer, Stock
from cut_stock import blanks, board, board_jobs, lay_out, rod, sheet, sheet_jobs


def offer(
    length: int,
    width: int = 100,
    *,
    price: int | None = None,
    count: int | None = None,
    defects: tuple[tuple[int, int], ...] = (),
) -> Offer:
    """Something sold, or from the rack where there is a number of it and no price."""
    return Offer(
        length_mm=Fraction(length),
        width_mm=Fraction(width),
        price=None if price is None else Fraction(price),
        count=count,
        is_offcut=price is None and count is not None,
        defects_mm=tuple((Fraction(near), Fraction(far)) for near, far in defects),
    )


def with_offers(stock: Stock, *offers: Offer) -> Stock:
    return replace(stock, offers=offers)


def taken(cut_plan: CutPlan) -> list[tuple[int, bool]]:
    layouts = (*cut_plan.sheets, *cut_plan.lengths)
    assert verify_plan(cut_plan) == ()
    assert not cut_plan.findings
    return [(int(one.length_mm), one.is_offcut) for one in layouts]


def test_two_short_boards_are_bought_where_they_are_cheaper_than_a_long_one() -> None:
    # By hand: 4 of 30 fill a board of 120 at 20, or two of 60 at 9 each.
    stock = with_offers(board(100, 120, 60), offer(120, price=20), offer(60, price=9))
    cut_plan = lay_out(blanks([(30, 100)] * 4, stock="pine"), stock)
    assert taken(cut_plan) == [(60, False), (60, False)]
    (proof,) = cut_plan.proofs
    assert (proof.measure, proof.used, proof.is_proved) == (Measure.PRICE, 18, True)


def test_the_rack_is_used_before_anything_is_bought() -> None:
    # By hand: 50 + 40 come from what is there; only 70 is bought, and the shorter board will do.
    stock = with_offers(rod(10, 80, 200), offer(80), offer(200), offer(55, count=2))
    cut_plan = lay_out(blanks([(50, 10), (40, 10), (70, 10)], stock="peg rod"), stock)
    assert taken(cut_plan) == [(55, True), (55, True), (80, False)]
    assert cut_plan.proofs[0].used == cut_plan.proofs[0].least == 80


def test_nothing_is_cut_from_a_defect() -> None:
    # By hand: of a board of 100 with a knot from 45 to 50, 45 and 50 are clear.
    stock = with_offers(board(100, 100), offer(100, count=1, defects=((45, 50),)))
    cut_plan = lay_out(blanks([(50, 100), (45, 100)], stock="pine"), stock)
    assert taken(cut_plan) == [(100, True)]
    assert sorted(length for _, _, length in cut_plan.lengths[0].placed) == [45, 50]
    longer = lay_out(blanks([(51, 100)], stock="pine"), stock)
    assert [finding.code for finding in longer.findings] == ["C302"]


def test_a_defect_moved_onto_a_blank_is_seen() -> None:
    stock = with_offers(board(100, 100), offer(100, count=1, defects=((45, 50),)))
    cut_plan = lay_out(blanks([(50, 100)], stock="pine"), stock)
    (layout,) = cut_plan.lengths
    moved = ((Fraction(60), Fraction(61)),)
    worse = replace(cut_plan, lengths=(replace(layout, defects_mm=moved),))
    problems = verify_plan(worse)
    assert any("has a defect in it" in problem for problem in problems)
    assert any("not a length it is sold in" in problem for problem in problems)


def test_an_offcut_of_a_sheet_saves_a_sheet() -> None:
    # By hand: three of 60 x 60 want a sheet of 100 x 100 each; one fits the offcut.
    stock = with_offers(sheet(100, 100), offer(100), offer(65, 62, count=1))
    cut_plan = lay_out(blanks([(60, 60)] * 3), stock)
    assert taken(cut_plan) == [(65, True), (100, False), (100, False)]


def test_an_offcut_is_left_in_the_rack_where_it_saves_nothing() -> None:
    # By hand: a sheet holds all four of 50 x 50, and without it nothing holds the one of 90 x 9.
    stock = with_offers(sheet(100, 110), offer(110), offer(51, 51, count=1))
    cut_plan = lay_out(blanks([(50, 50)] * 3 + [(90, 9)]), stock)
    assert [is_offcut for _, is_offcut in taken(cut_plan)] == [True, False]


def test_the_grain_of_an_offcut_runs_along_its_first_side() -> None:
    # By hand: 60 along the grain does not fit an offcut of 50 x 80.
    stock = with_offers(sheet(100, 100), offer(100), offer(50, 80, count=1))
    assert taken(lay_out(blanks([(60, 40)]), stock)) == [(100, False)]
    assert taken(lay_out(blanks([(40, 60)]), stock)) == [(50, True)]


def test_more_than_there_is_in_the_rack_is_seen() -> None:
    stock = with_offers(rod(10, 80), offer(80), offer(55, count=2))
    cut_plan = lay_out(blanks([(50, 10)] * 2, stock="peg rod"), stock)
    fewer = with_offers(rod(10, 80), offer(80), offer(55, count=1))
    problems = verify_plan(replace(cut_plan, stock=(fewer,)))
    assert problems == ("2 of peg rod are taken that are 55 mm long, of 1",)


@given(board_jobs(most=8))
@settings(max_examples=15, deadline=None)
def test_boards_with_a_rack_come_out(job: object) -> None:
    given_blanks, stock, kerf = job  # type: ignore[misc]
    sold = [replace(offer(1, 140), length_mm=length) for length in stock.lengths_mm]
    rack = [offer(1000, 140, count=2, defects=((300, 320), (600, 601)))]
    cut_plan = lay_out(given_blanks, with_offers(stock, *sold, *rack), kerf=kerf)
    assert verify_plan(cut_plan) == ()
    assert cut_plan.findings == ()
    assert all(proof.least <= proof.used for proof in cut_plan.proofs)


@pytest.mark.parametrize("price", [None, 7])
@given(job=sheet_jobs(most=8))
@settings(max_examples=10, deadline=None)
def test_sheets_with_a_rack_come_out(price: int | None, job: object) -> None:
    given_blanks, stock, kerf = job  # type: ignore[misc]
    offers = (offer(1220, 610, price=price), offer(800, 500, count=1), offer(300, 610, count=2))
    cut_plan = lay_out(given_blanks, with_offers(stock, *offers), kerf=kerf)
    assert verify_plan(cut_plan) == ()
    assert cut_plan.findings == ()
    assert all(proof.least <= proof.used for proof in cut_plan.proofs)
