"""The fewest pieces of stock that any layout could need: lower bounds by dual-feasible functions.

Takes whole-number sizes (grown by the kerf, as the planners have them), gives a number of pieces.
Must not know how layouts are found.

A dual-feasible function gives every size on a length a share of 1, such that sizes which fit side
by side never have shares above 1 in all. Then the shares of all blanks, width times height, need at
least as many sheets as they add up to. The three families are those of Fekete and Schepers 2001,
Mathematical Programming 91, pages 11-31 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

Pair = tuple[int, int]
Shares = tuple[tuple[int, ...], int]
"""The share of each size as a numerator, and the denominator of all."""

# chosen: with more thresholds the bounds hardly rise, and in two dimensions the work grows with
# their square.
_MOST_THRESHOLDS_IN_LENGTH: Final = 50
_MOST_THRESHOLDS_ON_SHEET: Final = 10
# chosen: beyond 4 this family hardly ever wins.
_DIVISIONS: Final = (2, 3, 4)


def fewest_lengths(sizes: Sequence[int], capacity: int) -> int:
    """Tell the fewest bars of one capacity that hold all sizes.

    >>> fewest_lengths([6, 6, 6], 10)
    3
    >>> fewest_lengths([], 10)
    0
    """
    families = _families(sizes, capacity, _MOST_THRESHOLDS_IN_LENGTH)
    return max((-(-sum(shares) // whole) for shares, whole in families), default=0)


def fewest_sheets(ways: Sequence[Sequence[Pair]], size: Pair) -> int:
    """Tell the fewest sheets of one size that hold all blanks, each lying in one of its ways.

    Args:
        ways: For each blank, the one or two (wide, high) in which it may lie.
        size: (wide, high) of the sheet.

    >>> fewest_sheets([[(6, 6)], [(6, 6)], [(3, 3)]], (10, 10))
    2
    """
    # A blank that may lie one way only is listed twice, so that each has two ways.
    both = [way for own in ways for way in (own[0], own[-1])]
    across = set(_families([way[0] for way in both], size[0], _MOST_THRESHOLDS_ON_SHEET))
    upright = set(_families([way[1] for way in both], size[1], _MOST_THRESHOLDS_ON_SHEET))
    most = len(both) * max((left[1] * up[1] for left, up in product(across, upright)), default=0)
    # Whole numbers of any size stay exact as objects; small ones are quicker as machine words.
    kind: type[np.generic] = np.int64 if most < 2**62 else np.object_
    lefts = [(np.array(shares, dtype=kind), whole) for shares, whole in across]
    ups = [(np.array(shares, dtype=kind), whole) for shares, whole in upright]
    return max((_sheets(left, up) for left, up in product(lefts, ups)), default=0)


def _sheets(left: tuple[NDArray[np.generic], int], up: tuple[NDArray[np.generic], int]) -> int:
    areas = left[0] * up[0]  # type: ignore[operator]
    least = int(np.minimum(areas[0::2], areas[1::2]).sum())
    return -(-least // (left[1] * up[1]))


def share_families(sizes: Sequence[int], capacity: int) -> Iterator[Shares]:
    """Give the simple shares of sizes: of each family, one for each threshold worth trying."""
    return _families(sizes, capacity, _MOST_THRESHOLDS_ON_SHEET)


def _families(sizes: Sequence[int], capacity: int, most: int) -> Iterator[Shares]:
    if not sizes:
        return
    yield tuple(sizes), capacity
    for parts in _DIVISIONS:
        yield tuple(_divided(size, capacity, parts) for size in sizes), capacity * parts
    for threshold in _thresholds(sizes, capacity, most):
        yield tuple(_swept(size, capacity, threshold) for size in sizes), capacity
        yield tuple(_counted(size, capacity, threshold) for size in sizes), capacity // threshold


def _thresholds(sizes: Sequence[int], capacity: int, most: int) -> list[int]:
    small = sorted({size for size in sizes if 0 < 2 * size <= capacity} | {max(1, capacity // 2)})
    stride = -(-len(small) // most)
    return small[::-1][::stride]


def _divided(size: int, capacity: int, parts: int) -> int:
    whole, rest = divmod(size * (parts + 1), capacity)
    return whole * capacity if rest else size * parts


def _swept(size: int, capacity: int, threshold: int) -> int:
    """Small sizes count nothing; sizes that only small ones fit beside count whole."""
    if size > capacity - threshold:
        return capacity
    return size if size >= threshold else 0


def _counted(size: int, capacity: int, threshold: int) -> int:
    """Sizes count by how many thresholds they leave or take."""
    if 2 * size > capacity:
        return capacity // threshold - (capacity - size) // threshold
    return 1 if size >= threshold else 0
