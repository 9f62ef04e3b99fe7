"""The searches behind the layouts: compiled kernels, patterns, and the cheapest sets of sheets."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.blocks import Item, Way
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.length_refining import fewest_bars
from benchleaf.cutting.one_sheet import cut_for_value
from benchleaf.cutting.pattern_kernel import Sack, new_pool, worth_enough, worth_most
from benchleaf.cutting.sheet_buying import buy_sheets
from benchleaf.cutting.sheet_patterns import pattern_layouts
from benchleaf.cutting.sheet_search import fit_on
from benchleaf.cutting.sheet_sets import SheetKind, sets_by_cost
from benchleaf.cutting.strips import lay_in_columns
from benchleaf.cutting.verifying import verify_layout, verify_plan
from cut_stock import blanks, fewest_by_trying, lay_out, sheet

STEPS = 2_000_000


def items_of(sizes: list[tuple[int, int]]) -> list[Item]:
    return [
        Item(index, (Way(wide, high, False),), wide * high)
        for index, (wide, high) in enumerate(sizes)
    ]


def sack_of(sizes: list[int], most: list[int], value: list[float]) -> Sack:
    order = sorted(range(len(sizes)), key=lambda at: -value[at] / sizes[at])
    return Sack(np.array(order), np.array(sizes), np.array(most), np.array(value))


@given(
    st.lists(
        st.tuples(st.integers(1, 12), st.integers(1, 3), st.integers(1, 9)), min_size=1, max_size=4
    ),
    st.integers(12, 30),
)
@settings(max_examples=40, deadline=None)
def test_the_pattern_worth_most_is_that_of_trying_every_one(
    kinds: list[tuple[int, int, int]], capacity: int
) -> None:
    sizes, most, value = (list(column) for column in zip(*kinds, strict=True))
    worths = [
        sum(count * one for count, one in zip(counts, value, strict=True))
        for counts in product(*(range(count + 1) for count in most))
        if sum(count * size for count, size in zip(counts, sizes, strict=True)) <= capacity
    ]
    counts = np.zeros(len(sizes), np.int64)
    sack = sack_of(sizes, most, [float(one) for one in value])
    assert max(worths) == worth_most(sack, capacity, 0.0, new_pool(), counts)
    assert max(worths) == sum(counts * value)
    found = np.zeros((len(worths) + 1, len(sizes)), np.int64)
    assert sum(worth >= 8 for worth in worths) == worth_enough(sack, capacity, 8.0, found)


def test_three_to_a_bar_and_nothing_left() -> None:
    # By construction, after Falkenauer 1996, Journal of Heuristics 2, pages 5-30 (from memory):
    # triplets that fill a bar of 1000 each.
    triplets = [(490 - 3 * at, 251 + 2 * at, 259 + at) for at in range(20)]
    lengths = sorted((size for own in triplets for size in own), reverse=True)
    start = [(size,) for size in lengths]
    packing, bound = fewest_bars(start, 1000, 20, Budget(40 * STEPS))
    assert (len(packing), bound) == (20, 20)
    assert sorted(lengths) == sorted(size for bar in packing for size in bar)
    assert max(map(sum, packing)) <= 1000


def test_patterns_prove_more_than_the_volume_does() -> None:
    # By hand: 9 lengths of 34 take 306 of 100s, but no three fit one bar: five bars, not four.
    packing, bound = fewest_bars([(34,)] * 9, 100, 4, Budget(4 * STEPS))
    assert (len(packing), bound) == (5, 5)


def test_a_full_sheet_is_found() -> None:
    # By hand: a sheet of 10 x 10 cut across at 4, the rest cut along at 3 and 7, and so on.
    parts = [(4, 10), (6, 3), (6, 4), (2, 3), (4, 3)]
    found = fit_on(items_of(parts), [(10, 10)], [], Budget(STEPS))
    assert found is not None
    assert found[0] is not None
    assert sorted(parts) == sorted((item.ways[0][:2]) for item in found[0].items())


@given(
    st.lists(st.tuples(st.integers(2, 9), st.integers(2, 9)), min_size=3, max_size=5),
)
@settings(max_examples=30, deadline=None)
def test_few_blanks_take_the_fewest_sheets(sizes: list[tuple[int, int]]) -> None:
    cut_plan = lay_out(blanks(sizes), sheet(10, 9))
    assert len(cut_plan.sheets) == fewest_by_trying([[size] for size in sizes], (10, 9))
    assert verify_plan(cut_plan) == ()


def test_sets_come_cheapest_first() -> None:
    kinds = [
        SheetKind(size=(10, 10), cost=9, most=None),
        SheetKind(size=(10, 5), cost=5, most=2),
        SheetKind(size=(4, 4), cost=0, most=1),
    ]
    sets = [found for found, _ in zip(sets_by_cost(kinds, 110), range(5), strict=False)]
    # By hand: 100 + 16 of area do; so do 50 + 50 + 16, 100 + 50 with the 16 or without; 18 buys
    # 100 + 100.
    cheapest = [(9, (1, 0, 1)), (10, (0, 2, 1)), (14, (1, 1, 0)), (14, (1, 1, 1)), (18, (2, 0, 0))]
    assert sets == cheapest


def test_the_cheapest_sheets_are_taken_not_the_fewest() -> None:
    # By hand: four of 5 x 5 come from one of 10 x 10 at 9, or from two of 10 x 5 at 4 each.
    kinds = [
        SheetKind(size=(10, 10), cost=9, most=None),
        SheetKind(size=(10, 5), cost=4, most=None),
    ]
    bought, bound = buy_sheets(items_of([(5, 5)] * 4), kinds, Budget(STEPS))
    assert bought is not None
    assert (bought.cost, bound, [place for place, _ in bought.sheets]) == (8, 8, [1, 1])


def test_there_may_be_too_few_sheets() -> None:
    kinds = [SheetKind(size=(10, 10), cost=9, most=1)]
    assert buy_sheets(items_of([(6, 6)] * 2), kinds, Budget(STEPS))[0] is None


# Christofides and Whitlock 1977, Operations Research 25, pages 30-44, the first instance: a sheet
# of 15 x 10; wide, high, value, most. The best value is 244.
CGCUT1 = [
    *[(8, 4, 66, 2), (3, 7, 35, 1), (8, 2, 24, 3), (3, 4, 17, 5)],
    *[(3, 3, 11, 2), (3, 2, 8, 2), (2, 1, 2, 1)],
]


def test_the_value_of_the_first_instance_of_christofides_and_whitlock() -> None:
    parts = [(wide, high) for wide, high, _, most in CGCUT1 for _ in range(most)]
    worth = [value for _, _, value, most in CGCUT1 for _ in range(most)]
    given_blanks, stock = blanks(parts), sheet(15, 10)
    layout, bound = cut_for_value(given_blanks, worth, stock, kerf_mm=0, budget=Budget(STEPS))
    held = {label for label, _, _ in layout.placed}
    value = sum(one for blank, one in zip(given_blanks, worth, strict=True) if blank.label in held)
    assert value == 244 <= bound
    assert verify_layout(layout, given_blanks, (stock,)) == ()


def test_a_sheet_that_no_blank_fits_is_refused() -> None:
    with pytest.raises(ValueError, match="no blank fits"):
        cut_for_value(blanks([(20, 20)]), [1], sheet(15, 10), kerf_mm=0, budget=Budget(STEPS))


def test_columns_hold_the_items_that_they_were_given() -> None:
    # What is cut is labelled by how it lies: 7 x 6 turned is not 6 x 7.
    sizes = [(7, 6), (6, 7), (6, 7), (4, 9)] * 3
    items = [
        Item(index, (Way(wide, high, False), Way(high, wide, True)), wide * high)
        for index, (wide, high) in enumerate(sizes)
    ]
    held = [item for block in lay_in_columns(items, (26, 20)) for item in block.items()]
    assert sorted(held, key=lambda item: item.index) == items


def test_three_strips_of_two_kinds_repeat_on_every_sheet() -> None:
    # On paper: a sheet of 12 x 10 is two strips of three 4 x 4 and one of two 6 x 2, without waste;
    # 18 and 6 of them are three sheets.
    (layout,) = pattern_layouts(items_of([(4, 4)] * 18 + [(6, 2)] * 6), (12, 10), Budget(STEPS))
    assert [(block.wide, block.high) for block in layout] == [(12, 10)] * 3


@given(
    st.lists(st.tuples(st.integers(2, 9), st.integers(2, 9)), min_size=1, max_size=4),
    st.integers(3, 9),
    st.booleans(),
)
@settings(max_examples=30, deadline=None)
def test_patterns_hold_every_part_once_and_fit_their_sheets(
    sizes: list[tuple[int, int]], copies: int, turns: bool
) -> None:
    items = [
        Item(
            index,
            (Way(wide, high, False), *([Way(high, wide, True)] if turns and wide != high else ())),
            wide * high,
        )
        for index, (wide, high) in enumerate(sizes * copies)
    ]
    (layout,) = pattern_layouts(items, (20, 17), Budget(STEPS))
    held = sorted(item.index for block in layout for item in block.items())
    assert held == list(range(len(items)))
    for block in layout:
        block.measure()
        assert block.wide <= 20
        assert block.high <= 17
