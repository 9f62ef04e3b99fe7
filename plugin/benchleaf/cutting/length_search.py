"""An exact search for cheaper bars, within a bound on its work.

Takes whole-number lengths, capacities and a cost to beat, gives bars that beat it or None. Sets of
bars are tried from the cheapest; in each, the longest length left goes into a bar that is filled in
every useful way (bin completion: Korf 2002, AAAI, from memory). Must not know stock or units.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.cutting.bounds import fewest_lengths

Cost = tuple[int, int]
"""Length bought, number of bars."""

# chosen: fullest fillings of one bar that are followed up; the rest hardly ever lead anywhere.
_FOLLOWED: Final = 40
# chosen: sets of bars looked through at once.
_MOST_SETS: Final = 5_000


@dataclass(slots=True, eq=False)
class _Search:
    """State of one search; lives as long as `cheaper_bars` runs."""

    left: Counter[int]
    budget: int
    waste: int = 0
    """Length that may still be wasted."""


def cheaper_bars(
    lengths: Sequence[int], sold: Sequence[int], beat: Cost, budget: int
) -> tuple[list[tuple[int, ...]] | None, int]:
    """Look for bars that cost less.

    Args:
        lengths: To be packed.
        sold: Capacities, ascending.
        beat: Cost to be beaten.
        budget: Steps that may be spent.

    Returns:
        What each bar holds, longest length first, or None where nothing cheaper was found; and the
        budget left, 0 or less where the search was not finished.
    """
    volume = sum(lengths)
    for bars in _cheaper_sets(lengths, sold, beat):
        search = _Search(Counter(lengths), budget, sum(bars) - volume)
        found = _pack(search, list(bars))
        budget = search.budget
        if found is not None or budget <= 0:
            return found, budget
    return None, 0


def _cheaper_sets(lengths: Sequence[int], sold: Sequence[int], beat: Cost) -> list[tuple[int, ...]]:
    """Sets of bars that could hold the lengths and cost less, cheapest first."""
    least_count = fewest_lengths(lengths, sold[-1])
    most_count = max(beat[1], beat[0] // sold[0]) if len(sold) > 1 else beat[1]
    found: list[tuple[int, ...]] = []
    for count in range(least_count, most_count + 1):
        for bars in _multisets(sold[::-1], count, (sum(lengths), beat[0])):
            if (sum(bars), count) < beat:
                found.append(bars)
            if len(found) >= _MOST_SETS:
                break
    return sorted(found, key=lambda bars: (sum(bars), len(bars), bars))


def _multisets(
    sold: Sequence[int], count: int, within: tuple[int, int]
) -> Iterator[tuple[int, ...]]:
    """All sets of `count` bars whose length in all lies within two bounds, both counted in."""
    least, most = within
    if not count:
        if least <= 0:
            yield ()
        return
    if not sold or sold[-1] * count > most or sold[0] * count < least:
        return
    for taken in range(min(count, most // sold[0]), -1, -1):
        length = taken * sold[0]
        for rest in _multisets(sold[1:], count - taken, (least - length, most - length)):
            yield (sold[0],) * taken + rest


def _pack(search: _Search, rooms: list[int]) -> list[tuple[int, ...]] | None:
    if not search.left:
        return []
    longest = max(search.left)
    for room in sorted({room for room in rooms if room >= longest}):
        others = rooms.copy()
        others.remove(room)
        for held in _completions(search, longest, room):
            found = _pack_after(search, others, room, held)
            if found is not None:
                return found
            if search.budget <= 0:
                return None
    return None


def _pack_after(
    search: _Search, others: list[int], room: int, held: tuple[int, ...]
) -> list[tuple[int, ...]] | None:
    wasted = room - sum(held)
    before = search.left
    search.left = before - Counter(held)
    search.waste -= wasted
    rest = _pack(search, others)
    search.left = before
    search.waste += wasted
    return None if rest is None else [held, *rest]


def _completions(search: _Search, longest: int, room: int) -> list[tuple[int, ...]]:
    """Ways to fill a bar that holds the longest length, fullest first."""
    counts = search.left.copy()
    counts[longest] -= 1
    lengths = sorted((length for length, count in counts.items() if count), reverse=True)
    reach = [0]
    for length in reversed(lengths):
        reach.append(reach[-1] + length * counts[length])
    reach.reverse()
    walk = _Walk(search, lengths, counts, reach)
    found = [(longest, *held) for held in walk.fill(room - longest, 0)]
    found.sort(key=lambda held: (-sum(held), tuple(-length for length in held)))
    return found[:_FOLLOWED]


@dataclass(slots=True, eq=False)
class _Walk:
    """Walks through the ways of filling one room; lives as long as that takes."""

    search: _Search
    lengths: list[int]
    counts: Counter[int]
    reach: list[int]
    """What all lengths from an index on come to."""

    def fill(self, room: int, index: int) -> Iterator[tuple[int, ...]]:
        """Fillings that waste no more than may be wasted, from the lengths from an index on."""
        self.search.budget -= 1
        if self.search.budget <= 0 or room - self.reach[index] > self.search.waste:
            return
        while index < len(self.lengths) and self.lengths[index] > room:
            index += 1
        if room - self.reach[index] > self.search.waste:
            return
        if index == len(self.lengths):
            yield ()
            return
        length = self.lengths[index]
        for taken in range(min(self.counts[length], room // length), -1, -1):
            for rest in self.fill(room - taken * length, index + 1):
                yield (length,) * taken + rest
