"""Lengths packed into bars, against trying every way."""

from collections.abc import Sequence
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.bounds import fewest_lengths
from benchleaf.cutting.length_packing import pack_lengths
from benchleaf.cutting.subset_sum import fullest

LENGTHS = st.lists(st.integers(1, 40), min_size=1, max_size=8)
SOLD = st.lists(st.integers(40, 110), min_size=1, max_size=3, unique=True)


def cheapest(lengths: Sequence[int], sold: Sequence[int]) -> tuple[int, int]:
    """Least length bought, then fewest bars, by trying every way; apart from the planner."""
    sums = [0] * (1 << len(lengths))
    for subset in range(1, len(sums)):
        lowest = subset & -subset
        sums[subset] = sums[subset ^ lowest] + lengths[lowest.bit_length() - 1]

    @cache
    def cost(left: int) -> tuple[int, int]:
        if not left:
            return 0, 0
        lowest = left & -left
        rest = left ^ lowest
        found = []
        part = rest
        while True:
            bars = [bar for bar in sold if bar >= sums[part | lowest]]
            if bars:
                length, count = cost(rest ^ part)
                found.append((length + min(bars), count + 1))
            if not part:
                return min(found)
            part = (part - 1) & rest

    return cost(len(sums) - 1)


@settings(max_examples=80, deadline=None)
@given(LENGTHS, SOLD)
def test_a_few_lengths_are_packed_as_cheaply_as_can_be(lengths: list[int], sold: list[int]) -> None:
    bars = pack_lengths(lengths, sold)
    assert sorted(length for bar in bars for length in bar.held) == sorted(lengths)
    assert all(bar.capacity in sold and bar.waste >= 0 for bar in bars)
    assert (sum(bar.capacity for bar in bars), len(bars)) == cheapest(lengths, sold)


@settings(max_examples=80, deadline=None)
@given(LENGTHS, st.integers(40, 110))
def test_the_bound_is_never_above_the_truth(lengths: list[int], sold: int) -> None:
    assert fewest_lengths(lengths, sold) <= cheapest(lengths, [sold])[1]


@settings(max_examples=80, deadline=None)
@given(LENGTHS, st.integers(0, 120))
def test_a_room_is_filled_as_full_as_any_choice_fills_it(lengths: list[int], room: int) -> None:
    counts = {length: lengths.count(length) for length in lengths}
    chosen = fullest(counts, room)
    assert all(chosen.count(length) <= counts[length] for length in chosen)
    best = max(
        total
        for subset in range(1 << len(lengths))
        if (total := sum(one for place, one in enumerate(lengths) if subset >> place & 1)) <= room
    )
    assert sum(chosen) == best


def test_huge_rooms_are_filled_without_huge_tables() -> None:
    # By hand: longest first, 7e11 and then 2e11 and 1e11.
    big = 10**11
    assert fullest({7 * big: 1, 2 * big: 1, big: 3}, 10 * big) == (7 * big, 2 * big, big)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(1, 400), min_size=30, max_size=80))
def test_many_lengths_stay_near_the_bound(lengths: list[int]) -> None:
    # Chosen: within two bars of the bound; longest-first alone is at most 11/9 of the least
    # (Johnson 1973, from memory).
    bars = pack_lengths(lengths, [1000])
    assert len(bars) <= fewest_lengths(lengths, 1000) + 2
