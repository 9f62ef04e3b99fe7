"""Sheets of several sizes: which of them to take, cheapest set first, and what there is at most.

Takes sizes with their price and number, gives sets of sheets that are large enough in all. Must not
know how layouts are found.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from benchleaf.cutting.blocks import Size


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetKind:
    """One size of sheet that can be had."""

    size: Size
    """Room for blocks: (wide, high), grown by one kerf."""
    cost: int
    """Of one; 0 or more."""
    most: int | None
    """How many there are; None for as many as are wanted."""

    @property
    def area(self) -> int:
        """Of its room."""
        return self.size[0] * self.size[1]


Counts = tuple[int, ...]
"""How many of each kind."""


def sets_by_cost(kinds: Sequence[SheetKind], area: int) -> Iterator[tuple[int, Counts]]:
    """Give the sets that are as large as an area in all, cheapest first; of equal cost, fewest.

    Args:
        kinds: Those there are.
        area: At least this much.

    >>> kinds = [SheetKind(size=(10, 10), cost=5, most=None),
    ...          SheetKind(size=(10, 5), cost=3, most=1)]
    >>> next(sets_by_cost(kinds, 140)), next(sets_by_cost(kinds, 190))
    ((8, (1, 1)), (10, (2, 0)))
    """
    start = (0,) * len(kinds)
    waiting = [(0, 0, 0, start)]
    seen = {start}
    while waiting:
        cost, _, missing, counts = heappop(waiting)
        held = sum(kind.area * count for kind, count in zip(kinds, counts, strict=True))
        if held >= area:
            yield cost, counts
        for place, kind in enumerate(kinds):
            if kind.most is not None and counts[place] >= kind.most:
                continue
            more = (*counts[:place], counts[place] + 1, *counts[place + 1 :])
            if more not in seen:
                seen.add(more)
                heappush(waiting, (cost + kind.cost, sum(more), missing, more))
