"""The fewest changes of settings, against trying every order."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.settings import fewest_changes


def changes(order: list[str]) -> int:
    return sum(after != before for before, after in zip([None, *order], order, strict=False))


def in_tree_order(given_settings: list[str]) -> list[str]:
    return [own for at, own in enumerate(given_settings) if not at or own != given_settings[at - 1]]


@st.composite
def trees(draw: st.DrawFn) -> tuple[list[str], list[int | None]]:
    """Up to seven cuts, each with one of three settings, after some earlier cut or none."""
    count = draw(st.integers(1, 7))
    marks = [draw(st.sampled_from("abc")) for _ in range(count)]
    parents: list[int | None] = [
        draw(st.sampled_from([None, *range(at)])) if at else None for at in range(count)
    ]
    return marks, parents


@given(trees())
@settings(max_examples=60, deadline=None)
def test_no_order_changes_settings_less_often(
    tree: tuple[list[str], list[int | None]],
) -> None:
    marks, parents = tree
    least = min(
        changes([marks[at] for at in order])
        for order in permutations(range(len(marks)))
        if all(parents[at] is None or order.index(parents[at]) < order.index(at) for at in order)
    )
    found = fewest_changes(marks, parents, in_tree_order(marks))
    assert len(found.settings) == least
    assert found.is_proved


def test_a_known_order_is_kept_where_none_is_better() -> None:
    # By hand: rip, then crosscut, then rip what the crosscuts gave: three settings, as known.
    found = fewest_changes(["rip", "cross", "rip"], [None, 0, 1], ["rip", "cross", "rip"])
    assert found.settings == ("rip", "cross", "rip")


def test_sheets_share_their_settings() -> None:
    # By hand: three sheets, each ripped at 100 and crosscut at 50: two settings do for all.
    marks = ["rip 100", "cross 50"] * 3
    found = fewest_changes(marks, [None, 0, None, 2, None, 4], marks)
    assert found.settings == ("rip 100", "cross 50")


def test_orders_too_many_to_try_share_their_settings() -> None:
    # By hand: forty strips, each crosscut at one of forty stops after its own rip: each fence and
    # each stop is set once, 41 settings in all, as every strip is free after the one rip.
    marks = [mark for strip in range(40) for mark in ("rip", f"stop {strip * 7 % 40}")]
    parents: list[int | None] = [at - 1 if at % 2 else None for at in range(80)]
    found = fewest_changes(marks, parents, in_tree_order(marks))
    assert len(found.settings) == 41
