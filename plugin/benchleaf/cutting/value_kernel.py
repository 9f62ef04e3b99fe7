"""Compiled: the most that one sheet is worth if every item may be cut as often as one likes.

Takes arrays of whole numbers. An upper bound on what it is worth where each item may be cut only so
often. Gilmore and Gomory 1966, Operations Research 14, pages 1045-1074 (from memory).
"""

from __future__ import annotations

import numpy as np

from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.length_kernel import Ints


@compiled
def reachable(sizes: Ints, most: int) -> Ints:
    """All sums of sizes up to `most`, ascending, 0 first, `most` last."""
    can = np.zeros(most + 1, np.bool_)
    can[0] = True
    for size in sizes:
        for at in range(size, most + 1):
            if can[at - size]:
                can[at] = True
    can[most] = True
    return np.nonzero(can)[0]


@compiled
def unlimited_worth(items: tuple[Ints, Ints, Ints], across: Ints, upright: Ints) -> int:
    """The most a sheet is worth.

    Args:
        items: Wide, high and worth, one for each way of lying.
        across: Widths that sums of items reach, ascending; the sheet's own last.
        upright: Heights likewise.
    """
    wide, high, worth = items
    best = np.zeros((across.shape[0], upright.shape[0]), np.int64)
    for item in range(wide.shape[0]):
        for left in range(np.searchsorted(across, wide[item]), across.shape[0]):
            for up in range(np.searchsorted(upright, high[item]), upright.shape[0]):
                best[left, up] = max(best[left, up], worth[item])
    for left in range(across.shape[0]):
        for up in range(upright.shape[0]):
            most = best[left, up]
            for cut in range(1, left):
                if across[cut] * 2 > across[left]:
                    break
                rest = np.searchsorted(across, across[left] - across[cut], side="right") - 1
                most = max(most, best[cut, up] + best[rest, up])
            for cut in range(1, up):
                if upright[cut] * 2 > upright[up]:
                    break
                rest = np.searchsorted(upright, upright[up] - upright[cut], side="right") - 1
                most = max(most, best[left, cut] + best[left, rest])
            best[left, up] = most
    return int(best[-1, -1])
