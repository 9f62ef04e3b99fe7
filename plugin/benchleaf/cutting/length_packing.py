"""Lengths packed into bars of the lengths sold: least length bought, then fewest bars.

Takes whole-number lengths and capacities (both grown by the kerf), gives which lengths come from
which bar. A few simple fillings come first; then the bars that waste most are packed anew by
an exact search, within a bound on its work. Must not know stock, labels or units.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.cutting.bounds import fewest_lengths
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.length_search import cheaper_bars
from benchleaf.cutting.subset_sum import fullest

# chosen: steps of the exact search; some tenths of a second at most.
_EFFORT: Final = 25_000
# chosen: bars packed anew at a time: all where one length is sold, few where lengths can be mixed.
_ANEW_ONE_LENGTH: Final = 40
_ANEW_MIXED: Final = 9
# chosen: hardly any yard sells more lengths of one board.
_MOST_CAPACITIES: Final = 8
# Sums of so large lengths still fit a machine word.
_GREATEST: Final = 2**40


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar and the lengths it holds."""

    capacity: int
    held: tuple[int, ...]
    """Lengths, longest first."""

    @property
    def waste(self) -> int:
        """What is left."""
        return self.capacity - sum(self.held)


def pack_lengths(
    lengths: Sequence[int], capacities: Sequence[int], *, effort: int = _EFFORT
) -> tuple[Bar, ...]:
    """Pack lengths into bars.

    Args:
        lengths: Each at most the greatest capacity.
        capacities: Those there are, in any order.
        effort: Most steps of the exact search.

    Returns:
        Bars, longest first, then fullest first.

    >>> [bar.held for bar in pack_lengths([6, 5, 4, 3, 2], [10])]
    [(6, 4), (5, 3, 2)]
    >>> [(bar.capacity, bar.held) for bar in pack_lengths([5, 3], [6, 8, 12])]
    [(8, (5, 3))]
    """
    sold = _few(sorted(set(capacities)), max(lengths, default=0))
    found = min(_fillings(lengths, sold), key=_cost)
    return tuple(sorted(_pack_anew(found, sold, effort), key=_order))


def pack_best(
    lengths: Sequence[int], capacities: Sequence[int], budget: Budget
) -> tuple[tuple[Bar, ...], int]:
    """Pack lengths into bars as well as the budget allows; give the fewest bars there could be.

    Args:
        lengths: Each at most the greatest capacity.
        capacities: Those there are, in any order.
        budget: What may be spent where simple means leave a gap.
    """
    bars = pack_lengths(lengths, capacities)
    bound = fewest_lengths(lengths, max(capacities))
    is_large = max(capacities) >= _GREATEST
    if len(set(capacities)) > 1 or len(bars) <= bound or is_large:
        return bars, bound
    # Loaded where it is needed: most plans are done by now, and it takes some tenths of a second.
    from benchleaf.cutting.length_refining import fewest_bars  # noqa: PLC0415

    capacity = bars[0].capacity
    found, bound = fewest_bars([bar.held for bar in bars], capacity, bound, budget)
    refined = [Bar(capacity=capacity, held=held) for held in found]
    return tuple(sorted(refined, key=_order)), bound


def _few(sold: list[int], longest: int) -> list[int]:
    """The capacities to reckon with: all where they are few, else some from shortest to longest."""
    if len(sold) <= _MOST_CAPACITIES:
        return sold
    useful = [one for one in sold if one >= longest] or sold[-1:]
    last = len(useful) - 1
    return sorted({useful[last * n // (_MOST_CAPACITIES - 1)] for n in range(_MOST_CAPACITIES)})


def _cost(bars: Sequence[Bar]) -> tuple[int, int]:
    return sum(bar.capacity for bar in bars), len(bars)


def _order(bar: Bar) -> tuple[int, int, tuple[int, ...]]:
    return -bar.capacity, bar.waste, tuple(-length for length in bar.held)


def _fillings(lengths: Sequence[int], sold: Sequence[int]) -> Iterator[list[Bar]]:
    yield _best_fit(lengths, sold)
    yield _fill_bar_by_bar(lengths, sold, longest_only=False)
    if len(sold) == 1:
        return
    yield _fill_bar_by_bar(lengths, sold, longest_only=True)
    longest = max(lengths, default=0)
    for most in sold[:-1]:
        if most >= longest:
            yield _fill_bar_by_bar(lengths, [one for one in sold if one <= most], longest_only=True)


def _best_fit(lengths: Sequence[int], sold: Sequence[int]) -> list[Bar]:
    """Longest length first, each into the fullest bar that takes it."""
    room: list[int] = []
    held: list[list[int]] = []
    for length in sorted(lengths, reverse=True):
        fits = [index for index, left in enumerate(room) if left >= length]
        if fits:
            index = min(fits, key=room.__getitem__)
        else:
            index = len(room)
            room.append(sold[-1])
            held.append([])
        room[index] -= length
        held[index].append(length)
    return [_shortest(own, sold) for own in held]


def _fill_bar_by_bar(
    lengths: Sequence[int], sold: Sequence[int], *, longest_only: bool
) -> list[Bar]:
    """The longest length left begins a bar, which is then filled as full as can be."""
    left = Counter(lengths)
    bars: list[Bar] = []
    while left:
        longest = max(left)
        left[longest] -= 1
        tried = [sold[-1]] if longest_only else [one for one in sold if one >= longest]
        best = min(
            (Bar(capacity=one, held=(longest, *fullest(left, one - longest))) for one in tried),
            key=lambda bar: (bar.waste / bar.capacity, -bar.capacity),
        )
        left -= Counter(best.held[1:])
        left += Counter()
        bars.append(_shortest(best.held, sold))
    return bars


def _shortest(held: Sequence[int], sold: Sequence[int]) -> Bar:
    capacity = next(one for one in sold if one >= sum(held))
    return Bar(capacity=capacity, held=tuple(held))


def _pack_anew(bars: list[Bar], sold: Sequence[int], budget: int) -> list[Bar]:
    """Pack the bars that waste most anew for as long as something is gained."""
    most = _ANEW_ONE_LENGTH if len(sold) == 1 else _ANEW_MIXED
    while budget > 0:
        bars = sorted(bars, key=lambda bar: (-bar.waste, _order(bar)))
        if len(sold) == 1 and len(bars) <= _fewest(bars, sold[0]):
            break
        lengths = [length for bar in bars[:most] for length in bar.held]
        found, budget = cheaper_bars(lengths, sold, _cost(bars[:most]), budget)
        if found is None:
            break
        bars = [*(_shortest(own, sold) for own in found), *bars[most:]]
    return bars


def _fewest(bars: Sequence[Bar], capacity: int) -> int:
    return fewest_lengths([length for bar in bars for length in bar.held], capacity)
