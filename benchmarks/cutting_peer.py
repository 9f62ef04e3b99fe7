"""The same cases by rectpack: its best of a few guillotine settings; bars by longest-first fits.

Not verified: about one in twenty of its layouts cannot be cut edge to edge, as it merges free
rectangles. So where it does well, it may have cheated.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import rectpack

if TYPE_CHECKING:
    from cutting_cases import Case

# The settings that did best on the standard instances, each with two orders.
ALGORITHMS = (
    rectpack.GuillotineBssfSas,
    rectpack.GuillotineBssfMaxas,
    rectpack.GuillotineBafLas,
    rectpack.GuillotineBlsfSlas,
)
ORDERS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE)


def peer_of(case: Case) -> int | None:
    """What the peer reaches: less is better but for value; None where it finds nothing."""
    if case.mode == "lengths":
        return fits_longest_first([wide for wide, _ in case.parts], case.bins[0][0][0])
    found = [pack(case, *setting) for setting in product(ALGORITHMS, ORDERS)]
    reached = [one for one in found if one is not None]
    if not reached:
        return None
    return max(reached) if case.mode == "value" else min(reached)


def pack(case: Case, algorithm: type, order: object) -> int | None:
    """Pack once."""
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.Global if case.mode == "several" else rectpack.PackingBin.BBF,
        pack_algo=algorithm,
        sort_algo=order,
        rotation=case.turns,
    )
    for index, (wide, high) in enumerate(case.parts):
        packer.add_rect(wide, high, rid=index)
    for (wide, high), count in case.bins:
        most = 1 if case.mode == "value" else count or len(case.parts)
        packer.add_bin(wide, high, count=most)
    packer.pack()
    placed = [spot[5] for spot in packer.rect_list()]
    if case.mode == "value":
        return sum(case.worth[index] for index in placed)
    if len(placed) < len(case.parts):
        return None
    used = [one for one in packer if len(one)]
    if len(case.bins) > 1:
        return sum(one.width * one.height for one in used)
    return len(used)


def fits_longest_first(lengths: list[int], capacity: int) -> int:
    """Longest first, each into the first bar that takes it: what a careful hand does."""
    room: list[int] = []
    for length in sorted(lengths, reverse=True):
        at = next((place for place, left in enumerate(room) if left >= length), None)
        if at is None:
            room.append(capacity - length)
        else:
            room[at] -= length
    return len(room)
