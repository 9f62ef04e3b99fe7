"""Panels glued up from boards: as few as make the width, all of one width, each a blank."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings

from benchleaf.lengths import MM_PER_INCH
from benchleaf.pipeline import work_plan
from strategies import sixteenths

_PLAN = """
plan: Board
by: Fernhill community workshop
licence: CC BY 4.0
units: in
overall: {{wide: 20, deep: {deep}, high: 3/4}}
stock:
  pine: {{board: 3/4 x 5-1/2, lengths: [96], of: pine}}
shop: {{kerf: 1/8, allowance: {allowance}, wall: 1/8, glue: PVA}}
parts:
  panel:
    stock: pine
    edge glued: yes
    thickness: high
    grain: wide
    left: 0
    right: 20
    front: 0
    back: {deep}
    bottom: 0
"""


def _blanks(deep: object, allowance: str = "1/4"):
    worked = work_plan(_PLAN.format(deep=deep, allowance=allowance), "plans/board.plan.yml")
    assert [str(f) for f in worked.findings if f.severity == "error"] == []
    assert worked.is_sound
    return worked.cut_plan.blanks


def _inches(value: str) -> Fraction:
    return Fraction(value) * MM_PER_INCH


@pytest.mark.parametrize(
    ("deep", "count", "each"),
    [
        # Worked by hand: the width and its 1/4, in boards of 5-1/2.
        ("10", 2, "41/8"),
        ("12", 3, "49/12"),
        # 5-1/4 a board would leave 1/4 to rip off: they are glued as they are bought.
        ("41/4", 2, "11/2"),
        # One board is enough.
        ("5", 1, "21/4"),
    ],
)
def test_a_panel_takes_as_few_boards_as_make_its_width(deep: str, count: int, each: str) -> None:
    whole, part = divmod(Fraction(deep), 1)
    blanks = _blanks(f"{whole}-{part}" if part else whole)
    assert [blank.width_mm for blank in blanks] in (
        [_inches(each)] * count,
        [_inches("11/2")] * count,
    )
    assert [blank.is_strip for blank in blanks] == [count > 1] * count
    assert sum(blank.final_width_mm for blank in blanks) == _inches(deep)
    assert {blank.length_mm for blank in blanks} == {_inches("81/4")}


def test_without_an_allowance_boards_are_sawn_to_their_share() -> None:
    blanks = _blanks("9", "0")
    assert [blank.width_mm for blank in blanks] == [_inches("9/2")] * 2
    assert [blank.label for blank in blanks] == ["A.1", "A.2"]


@settings(max_examples=15, deadline=None)
@given(sixteenths("6", "24"))
def test_boards_together_are_as_wide_as_the_panel_and_its_allowance(deep: Fraction) -> None:
    whole, part = divmod(deep, 1)
    blanks = _blanks(f"{whole}-{part}" if part else whole)
    assert sum(blank.width_mm for blank in blanks) >= (deep + Fraction(1, 4)) * MM_PER_INCH
    assert all(blank.width_mm <= _inches("11/2") for blank in blanks)
    # One board fewer would not do.
    assert (len(blanks) - 1) * _inches("11/2") < (deep + Fraction(1, 4)) * MM_PER_INCH
