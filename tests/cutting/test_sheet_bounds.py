"""Bounds on sheets: held to cases reasoned out on paper, and to sheets cut up at random."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.bounds import fewest_sheets
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.sheet_bounds import fewest_by_shares

ENOUGH = 99
STEPS = 10**8

Size = tuple[int, int]


def test_three_that_only_fit_side_by_side_and_are_too_wide_for_it() -> None:
    # On paper: 5 + 3 > 7, so no part lies above another but the two of 5 neither; all stand side
    # by side, and 2 + 2 + 7 > 10. By area (41 of 70) one sheet would do.
    parts = [[(2, 5)], [(2, 5)], [(7, 3)]]
    assert fewest_sheets(parts, (10, 7)) == 1
    assert fewest_by_shares(parts, (10, 7), ENOUGH, Budget(STEPS)) == 2


def test_turning_saves_a_sheet_and_the_bound_allows_it() -> None:
    # On paper: turned, the last part is 3 x 7, and 2 + 2 + 3 <= 10.
    parts = [[(2, 5)], [(2, 5)], [(7, 3), (3, 7)]]
    assert fewest_by_shares(parts, (10, 7), ENOUGH, Budget(STEPS)) == 1


def test_turned_parts_larger_than_half_take_a_sheet_each() -> None:
    # On paper: both ways 6 x 7 and 7 x 6, and 6 + 6 > 10.
    parts = [[(6, 7), (7, 6)]] * 3
    assert fewest_by_shares(parts, (10, 10), ENOUGH, Budget(STEPS)) == 3


def test_search_for_the_bound_ends_with_its_budget() -> None:
    parts = [[(width, 20 - width)] for width in range(5, 15)]
    assert fewest_by_shares(parts, (20, 20), ENOUGH, Budget(1)) <= 10


@st.composite
def cut_sheets(draw: st.DrawFn) -> tuple[Size, int, list[Size]]:
    """Sheets cut up edge to edge: their size, their number, and the pieces."""
    size = (draw(st.integers(5, 30)), draw(st.integers(5, 30)))
    number = draw(st.integers(1, 4))
    pieces = [size] * number
    for _ in range(draw(st.integers(0, 12))):
        at = draw(st.integers(0, len(pieces) - 1))
        wide, high = pieces[at]
        if draw(st.booleans()) and wide > 1:
            cut = draw(st.integers(1, wide - 1))
            pieces[at : at + 1] = [(cut, high), (wide - cut, high)]
        elif high > 1:
            cut = draw(st.integers(1, high - 1))
            pieces[at : at + 1] = [(wide, cut), (wide, high - cut)]
    return size, number, pieces


@settings(deadline=None, max_examples=40)
@given(cut_sheets(), st.booleans())
def test_bound_is_never_above_sheets_that_were_cut_into_the_parts(
    cut_up: tuple[Size, int, list[Size]], turns: bool
) -> None:
    size, number, pieces = cut_up
    parts = [[(wide, high)] for wide, high in pieces]
    if turns:
        parts = [
            [(wide, high), (high, wide)] if high <= size[0] and wide <= size[1] else [(wide, high)]
            for wide, high in pieces
        ]
    found = fewest_by_shares(parts, size, ENOUGH, Budget(STEPS))
    area = sum(wide * high for wide, high in pieces)
    assert area == number * size[0] * size[1]
    assert found == number
