"""Sheets of strips for many parts of few kinds: patterns made one after another, and repeated.

Takes items, gives blocks, one for each sheet. Each pattern takes what is worth most; what came out
with much waste is worth more in the next layout, so that it is placed sooner and in better company:
sequential value correction, Belov and Scheithauer 2007, INFORMS Journal on Computing 19, pages
27-35 (from memory). Must not know stock or labels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from benchleaf.cutting.blocks import ABOVE, BESIDE, Block, Item, Size, Way, group, single
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.length_kernel import Floats, Ints
from benchleaf.cutting.strip_kernel import Lying, new_table, take_strips

# chosen: after so many layouts worths hardly change any more.
_LAYOUTS: Final = 8
# chosen: with fewer parts of each kind other searches do as well.
_LEAST_OF_KIND: Final = 3
# chosen: of more steps times ways of lying a layout takes seconds.
_MOST_WORK: Final = 2_000_000
_MOST_STRIPS: Final = 64
# chosen: half of what a part is worth is what it was worth before.
_LEARNT: Final = 0.5
# chosen: large parts are worth a little more than their area: they are the hardest to place.
_LARGE: Final = 0.1


def pattern_layouts(items: Sequence[Item], size: Size, budget: Budget) -> Iterator[list[Block]]:
    """Give layouts in strips along the sheet, and across it, that improve on one another.

    Args:
        items: Each fits the sheet in all its ways.
        size: Of the sheet.
        budget: What may be spent.
    """
    kinds = len({item.ways for item in items})
    if len(items) < _LEAST_OF_KIND * kinds or 2 * kinds * sum(size) > _MOST_WORK:
        return
    best: list[Block] | None = None
    for layout in _both_ways(items, size, budget):
        if best is None or len(layout) < len(best):
            best = layout
    if best is not None:
        yield best


def _both_ways(items: Sequence[Item], size: Size, budget: Budget) -> Iterator[list[Block]]:
    upright = {item.index: item for item in items}
    across = [
        replace(item, ways=tuple(Way(way.high, way.wide, way.is_turned) for way in item.ways))
        for item in items
    ]
    yield from _Planner.of(items, size).layouts(budget)
    for layout in _Planner.of(across, (size[1], size[0])).layouts(budget):
        yield [block.transposed(upright) for block in layout]


_Pattern = tuple[Ints, int]
"""(m, n) how many lie which way in each strip, and on how many sheets."""


@dataclass(frozen=True, slots=True)
class _Planner:
    """Makes layouts of one set of items in strips along x."""

    kinds: tuple[tuple[Item, ...], ...]
    """Items by their ways of lying."""
    ways: tuple[Way, ...]
    lying: Lying
    size: Size

    @classmethod
    def of(cls, items: Sequence[Item], size: Size) -> _Planner:
        """Sort items into kinds, and the ways in which they lie by their height."""
        held: dict[tuple[Way, ...], list[Item]] = {}
        for item in items:
            held.setdefault(item.ways, []).append(item)
        kinds = sorted(held)
        every = sorted(
            (way.high, way.wide, kind, way) for kind, own in enumerate(kinds) for way in own
        )
        columns = (np.array([row[at] for row in every]) for at in (1, 0, 2))
        ways = tuple(row[3] for row in every)
        return cls(tuple(tuple(held[kind]) for kind in kinds), ways, Lying(*columns), size)

    def layouts(self, budget: Budget) -> Iterator[list[Block]]:
        """Give layouts, each with worths that the ones before it taught."""
        area = np.array([own[0].area for own in self.kinds], np.float64)
        worth = area * (1.0 + _LARGE * area / (self.size[0] * self.size[1]))
        for _ in range(_LAYOUTS):
            if budget.is_spent:
                return
            patterns, worth = self._patterns(worth, area, budget)
            yield self._blocks(patterns)

    def _patterns(
        self, worth: Floats, area: Floats, budget: Budget
    ) -> tuple[list[_Pattern], Floats]:
        """Make pattern after pattern until nothing is left; and what parts are then worth."""
        whole = np.array([len(own) for own in self.kinds])
        left, patterns, learnt = whole.copy(), list[_Pattern](), worth.copy()
        strips = np.zeros((_MOST_STRIPS, len(self.ways)), np.int64)
        work = (new_table(len(self.ways), self.size[0]), strips)
        while left.any():
            before = left.copy()
            rows = take_strips(self.lying, left, worth, self.size, work)
            budget.spend(len(self.ways) * sum(self.size) * (rows + 1) // 10)
            used = before - left
            takes = used > 0
            more = int((left[takes] // used[takes]).min())
            left = left - more * used
            patterns.append((strips[:rows].copy(), 1 + more))
            filled = float(used @ area) / (self.size[0] * self.size[1])
            share = _LEARNT * used * (1 + more) / whole
            learnt = np.where(takes, (1.0 - share) * learnt + share * area / filled, learnt)
        return patterns, learnt

    def _blocks(self, patterns: Sequence[_Pattern]) -> list[Block]:
        waiting = [list(reversed(own)) for own in self.kinds]
        return [
            group(ABOVE, [self._row(strip, waiting) for strip in strips])
            for strips, number in patterns
            for _ in range(number)
        ]

    def _row(self, strip: Ints, waiting: Sequence[list[Item]]) -> Block:
        return group(
            BESIDE,
            [
                single(waiting[self.lying.kind[at]].pop(), self.ways[at])
                for at in np.nonzero(strip)[0].tolist()
                for _ in range(strip[at])
            ],
        )
