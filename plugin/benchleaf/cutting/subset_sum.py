"""Which of some lengths fill a room as full as can be.

Takes whole-number lengths with their counts and a room, gives the lengths that fill it best. Must
not know what the lengths are for.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

# chosen: steps of the room times lengths to choose from; beyond it a room is filled longest first,
# for exact sums would take megabytes and seconds.
_MOST_WORK: Final = 20_000_000


def fullest(counts: Mapping[int, int], room: int) -> tuple[int, ...]:
    """Choose lengths that fill a room best: exactly, and with long lengths where there is a choice.

    Args:
        counts: Length to how many there are.
        room: At least 0.

    Returns:
        The chosen lengths, longest first.

    >>> fullest({6: 1, 5: 2, 3: 1}, 11)
    (6, 5)
    >>> fullest({6: 1, 5: 2, 3: 1}, 10)
    (5, 5)
    >>> fullest({6: 1}, 5)
    ()
    """
    usable = sorted(
        ((length, min(count, room // length)) for length, count in counts.items() if count),
        reverse=True,
    )
    usable = [(length, count) for length, count in usable if count]
    if not usable:
        return ()
    if room * len(usable) > _MOST_WORK:
        return _longest_first(usable, room)
    return _exact(usable, room)


def _longest_first(usable: list[tuple[int, int]], room: int) -> tuple[int, ...]:
    chosen: list[int] = []
    for length, count in usable:
        taken = min(count, room // length)
        chosen += [length] * taken
        room -= taken * length
    return tuple(chosen)


def _exact(usable: list[tuple[int, int]], room: int) -> tuple[int, ...]:
    """Sums that can be made, as bits of a number: bit s is set where lengths add up to s."""
    within = (1 << (room + 1)) - 1
    sums = 1
    # A count is split into 1, 2, 4... and a rest, so that each part is taken whole or not at all.
    layers: list[tuple[int, int, int]] = []
    for length, count in usable:
        part = 1
        while count:
            part = min(part, count)
            layers.append((sums, length, part))
            sums |= (sums << (length * part)) & within
            count -= part  # noqa: PLW2901 - counted down on purpose
            part *= 2
    return _trace(layers, sums.bit_length() - 1)


def _trace(layers: list[tuple[int, int, int]], total: int) -> tuple[int, ...]:
    """Go back through the layers, taking a part only where the sum cannot be made without it."""
    chosen: list[int] = []
    for before, length, part in reversed(layers):
        if not before >> total & 1:
            chosen += [length] * part
            total -= length * part
    return tuple(sorted(chosen, reverse=True))
