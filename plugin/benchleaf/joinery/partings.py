"""Sets of copies as the bits of a whole number, and how such a set comes apart.

Gives the record of one parting. Must not know solids or joints.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchleaf.frames import Vector

NOWHERE: Vector = (0, 0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parting:
    """How a set of copies comes apart: in two, or in several that move at once."""

    sets: tuple[int, ...]
    """The sets, each one body while they part; the last is what the others come off."""
    ways: tuple[Vector, ...]
    """Unit direction of each, in the piece's axes; zero for what stays."""
    shift_mm: Vector = NOWHERE
    """How far the first is moved before, where it takes two slides."""
    is_locked: bool = False
    """True where nothing was found: the sets are named only to go on with each."""


def bits_of(value: int) -> Iterator[int]:
    """The numbers in a set, from the least.

    >>> list(bits_of(0b10110))
    [1, 2, 4]
    """
    while value:
        lowest = value & -value
        yield lowest.bit_length() - 1
        value ^= lowest


def bits_from(numbers: Iterable[int]) -> int:
    """The set of some numbers."""
    total = 0
    for number in numbers:
        total |= 1 << number
    return total


def rows_of_bits(flags: NDArray[np.bool_]) -> list[int]:
    """Rows of flags as sets of their columns.

    >>> rows_of_bits(np.array([[True, False, True], [False, True, False]]))
    [5, 2]
    """
    packed = np.packbits(flags, axis=1, bitorder="little")
    return [int.from_bytes(row.tobytes(), "little") for row in packed]


def is_one(value: int) -> bool:
    """Tell whether a set has one member."""
    return value.bit_count() == 1


def reach(
    start: int, within: int, pushes: Sequence[int], *, most: tuple[int, int] | None = None
) -> int | None:
    """The set that moves when one is pushed: itself and all that it pushes in turn.

    Args:
        start: The set that is pushed first.
        within: All that there is.
        pushes: For each copy, those that it pushes.
        most: A number of members beyond which it is given up, and the set of those that count.

    Returns:
        The set, or None if it was given up.

    >>> reach(0b1, 0b1111, [0b10, 0b100, 0, 0b1])
    7
    >>> reach(0b1, 0b1111, [0b10, 0b100, 0, 0b1], most=(2, 0b1111))
    """
    seen = fresh = start
    while fresh:
        following = 0
        for number in bits_of(fresh):
            following |= pushes[number]
        fresh = following & within & ~seen
        seen |= fresh
        if most is not None and (seen & most[1]).bit_count() > most[0]:
            return None
    return seen
