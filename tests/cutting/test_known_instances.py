"""Instances with known answers: classic ones from papers, and small ones that a hand can prove."""

import pytest

from benchleaf.cutting.bounds import fewest_lengths, fewest_sheets
from benchleaf.cutting.length_packing import pack_lengths
from benchleaf.cutting.verifying import verify_plan
from cut_stock import blanks, fewest_by_trying, lay_out, sheet

# Clautiaux, Carlier, Moukrim 2007, European Journal of Operational Research 183, pages 1196-1211:
# sheets of 20 x 20. E00N10 has no guillotine layout on one sheet, with grain or without; E10N10
# has one only where the blanks may turn.
E00N10 = [
    *[(1, 13), (4, 5), (5, 7), (7, 7), (7, 8)],
    *[(2, 13), (8, 4), (1, 11), (4, 14), (17, 6)],
]
E03N10 = [
    *[(14, 2), (1, 7), (1, 11), (4, 4), (6, 9)],
    *[(16, 2), (2, 3), (19, 3), (1, 9), (14, 12)],
]
E10N10 = [
    *[(6, 11), (4, 7), (1, 14), (5, 3), (1, 8)],
    *[(1, 11), (1, 5), (1, 13), (13, 5), (15, 9)],
]
# Hopper and Turton 2001, European Journal of Operational Research 128, pages 34-57: C1-P1, a
# sheet of 20 x 20 cut into 16 pieces with nothing left.
C1P1 = [
    *[(2, 12), (7, 12), (8, 6), (3, 6), (3, 5), (5, 5), (3, 12), (3, 7)],
    *[(5, 7), (2, 6), (3, 2), (4, 2), (3, 4), (4, 4), (9, 2), (11, 2)],
]


@pytest.mark.parametrize(
    ("sizes", "may_turn", "sheets"),
    [
        (E00N10, False, 2),
        (E00N10, True, 2),
        (E03N10, False, 2),
        (E03N10, True, 2),
        (E10N10, False, 2),
        (E10N10, True, 1),
    ],
    ids=["E00N10", "E00N10 turning", "E03N10", "E03N10 turning", "E10N10", "E10N10 turning"],
)
def test_ten_blanks_of_the_literature(
    sizes: list[tuple[int, int]], may_turn: bool, sheets: int
) -> None:
    cut_plan = lay_out(blanks(sizes, may_turn=may_turn), sheet(20, 20))
    assert len(cut_plan.sheets) == sheets
    assert verify_plan(cut_plan) == ()


def test_a_sheet_without_waste_takes_two_at_most() -> None:
    # C1-P1 comes out of one sheet without any waste; a heuristic is let off with one more.
    cut_plan = lay_out(blanks(C1P1), sheet(20, 20))
    assert len(cut_plan.sheets) <= 2
    assert dict(cut_plan.lower_bounds)["ply"] == 1


def test_the_bound_never_promises_too_much() -> None:
    # The same papers: these need two sheets and one.
    assert fewest_sheets([[size] for size in E00N10], (20, 20)) <= 2
    assert fewest_sheets([[size] for size in C1P1], (20, 20)) == 1
    # By hand: any two of three 11 x 11 do not fit on 20 x 20 together.
    assert fewest_sheets([[(11, 11)]] * 3, (20, 20)) == 3
    assert fewest_by_trying([[(11, 11)]] * 3, (20, 20)) == 3


def test_the_example_of_martello_and_toth() -> None:
    # Martello and Toth 1990, Knapsack Problems, chapter 8 (from memory): nine lengths, capacity
    # 100. They add up to 300, so three bars would have to be full; 70 can only be filled up with
    # 11, 7 and 3, to 91. So it takes four.
    lengths = [70, 60, 50, 33, 33, 33, 11, 7, 3]
    assert len(pack_lengths(lengths, [100])) == 4


def test_where_longest_first_fails() -> None:
    # Johnson, Demers, Ullman, Garey, Graham 1974, SIAM Journal on Computing 3, pages 299-325 (from
    # memory): longest into the first bar that takes it needs 11 bars where 9 do. By hand:
    # 51 + 26 + 23 six times and 27 + 27 + 23 + 23 three times fill nine bars of 100.
    lengths = [51] * 6 + [27] * 6 + [26] * 6 + [23] * 12
    assert len(pack_lengths(lengths, [100])) == 9
    assert fewest_lengths(lengths, 100) == 9


def test_lengths_that_no_two_share() -> None:
    # By hand: any two are longer than a bar.
    assert fewest_lengths([51] * 7, 100) == len(pack_lengths([51] * 7, [100])) == 7


def test_least_length_is_bought_not_fewest_bars() -> None:
    # By hand: 40 + 40 of 100 wastes 20; two bars of 42 waste 4.
    bars = pack_lengths([40, 40], [42, 100])
    assert [bar.capacity for bar in bars] == [42, 42]
    # The same length in one bar or two: one.
    assert [bar.capacity for bar in pack_lengths([40, 40], [40, 80])] == [80]
