"""The small language of rules: what it reads and refuses, and how it counts what is missing."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.safety.conditions import (
    MAX_TEXT,
    ConditionError,
    holds,
    how_far_past,
    names_in,
    parse_condition,
)


def said(text: str, **facts: object) -> bool | None:
    return holds(parse_condition(text), {name.replace("__", "."): v for name, v in facts.items()})


def test_comparisons_hold_at_and_past_their_limit() -> None:
    assert said("cut.depth_mm < 3", cut__depth_mm=2) is True
    assert said("cut.depth_mm < 3", cut__depth_mm=3) is False
    assert said("cut.depth_mm <= 3", cut__depth_mm=3) is True
    assert said("cut.depth_mm >= 3", cut__depth_mm=3) is True
    assert said("cut.depth_mm > 3", cut__depth_mm=3) is False


def test_words_compare_by_being_the_same() -> None:
    assert said("cut.kind == 'rip'", cut__kind="rip") is True
    assert said("cut.kind != 'rip'", cut__kind="rip") is False
    assert said("cut.kind in ['rip', 'resaw']", cut__kind="resaw") is True
    assert said("cut.kind in ['rip', 'resaw']", cut__kind="crosscut") is False


def test_arithmetic_binds_before_comparison() -> None:
    assert said("a.high > 2 * a.deep + 1", a__high=8, a__deep=3) is True
    assert said("a.high > 2 * (a.deep + 1)", a__high=8, a__deep=3) is False
    assert said("a.high / a.deep < 3", a__high=8, a__deep=3) is True


def test_and_binds_before_or() -> None:
    assert said("a.x or a.y and a.z", a__x=True, a__y=False, a__z=False) is True
    assert said("(a.x or a.y) and a.z", a__x=True, a__y=False, a__z=False) is False


# Kleene, Introduction to Metamathematics (1952), section 64; from memory.
KLEENE = {
    (True, None): (None, True),
    (False, None): (False, None),
    (None, None): (None, None),
    (True, False): (False, True),
    (True, True): (True, True),
    (False, False): (False, False),
}


@pytest.mark.parametrize(("parts", "results"), KLEENE.items())
def test_a_missing_fact_makes_unknown_only_where_it_decides(
    parts: tuple[bool | None, bool | None], results: tuple[bool | None, bool | None]
) -> None:
    for one, two in (parts, parts[::-1]):
        facts = {n: v for n, v in {"a.x": one, "a.y": two}.items() if v is not None}
        assert holds(parse_condition("a.x and a.y"), facts) is results[0]
        assert holds(parse_condition("a.x or a.y"), facts) is results[1]


def test_not_of_unknown_is_unknown() -> None:
    assert said("not a.x") is None
    assert said("not a.x > 3") is None


def test_a_word_compared_with_a_number_is_unknown_rather_than_wrong() -> None:
    assert said("cut.kind > 3", cut__kind="rip") is None


def test_division_by_zero_is_unknown() -> None:
    assert said("a.x / a.y > 3", a__x=1, a__y=0) is None


@pytest.mark.parametrize(
    "text",
    [
        "",
        "cut",
        "cut.depth_mm >",
        "cut.depth_mm > 3 and",
        "__import__('os')",
        "cut.depth_mm == 'a' 'b'",
        "cut.depth_mm.x > 3",
        "cut.kind in []",
        "1 < 2 < 3",
        "cut.x = 3",
    ],
)
def test_what_is_no_condition_is_refused(text: str) -> None:
    with pytest.raises(ConditionError):
        parse_condition(text)


def test_a_long_text_is_refused_unread() -> None:
    with pytest.raises(ConditionError, match="at most"):
        parse_condition("a.x or " * MAX_TEXT + "a.x")


def test_names_are_listed_wherever_they_stand() -> None:
    condition = parse_condition("not a.x and (b.y + c.z > 3 or d.w in ['k'])")
    assert sorted(names_in(condition)) == ["a.x", "b.y", "c.z", "d.w"]


def test_how_far_past_takes_the_worst_comparison_that_holds() -> None:
    condition = parse_condition("a.x < 100 or a.y > 10")
    assert how_far_past(condition, {"a.x": Fraction(50), "a.y": 20}) == 1.0
    assert how_far_past(condition, {"a.x": Fraction(50), "a.y": 5}) == 0.5
    assert how_far_past(condition, {"a.x": 200, "a.y": 5}) == 0.0


@given(st.text(max_size=60))
@settings(deadline=None)  # the first text also builds the parser
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        condition = parse_condition(text)
    except ConditionError:
        return
    assert holds(condition, {}) in {True, False, None}
