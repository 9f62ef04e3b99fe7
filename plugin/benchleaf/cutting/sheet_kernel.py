"""Compiled loops for sheets: the rooms at a tree of blocks, filled item by item.

Takes arrays of whole numbers, changes them in place. The same rooms and ranks as `sheet_filling`,
some hundred times as fast: an item may go beside or above any block, or any group of a block's
lesser neighbours. Must not know stock or labels.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.block_kernel import Ints, Nodes, new_node, put
from benchleaf.cutting.blocks import ABOVE, BESIDE
from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.dice import draw

# chosen: rooms kept of one sheet; hardly any has a tenth of them.
_MOST_ROOMS: Final = 4_096
# chosen: the work of putting one item in place, as against looking at one room.
_WORK_OF_PLACING: Final = 25
# Sizes stay below 2 to the power of 30, so that two fit into one number.
_SHIFT: Final = 31
OPEN_SHEETS: Final = 4
"""Most sheets that are filled at once."""


class Items(NamedTuple):
    """What is to be cut out."""

    wide: Ints
    """(n, 2) by the way in which it lies."""
    high: Ints
    ways: Ints
    """(n,) 1 or 2."""
    area: Ints
    worth: Ints
    """What it costs to leave an item out: its area, or a value."""


class Rooms(NamedTuple):
    """Rooms of the sheets that are being filled, by sheet; and room to reckon in."""

    wide: Ints
    high: Ints
    node: Ints
    join: Ints
    some: Ints
    """First neighbours of a group that the item would join, or 0 for the whole block."""
    used: Ints
    stack: Ints
    order: Ints


class Open(NamedTuple):
    """The sheets that are being filled."""

    root: Ints
    free: Ints
    wide: Ints
    high: Ints


def new_rooms(count: int) -> Rooms:
    """Make room for the rooms of sheets that hold up to `count` items."""
    wide, high, node, join, some = (
        np.zeros((OPEN_SHEETS, _MOST_ROOMS), np.int64) for _ in range(5)
    )
    used, order = np.zeros(OPEN_SHEETS, np.int64), np.zeros(count + 8, np.int64)
    stack = np.zeros((5, 2 * count + 64), np.int64)
    return Rooms(wide, high, node, join, some, used, stack, order)


@compiled
def _sort_inner(nodes: Nodes, node: int, size: Ints, order: Ints) -> int:
    """Sort a group's blocks by a size, least first; give their number."""
    count = 0
    child = nodes.first[node]
    while child >= 0:
        place = count
        while place and size[order[place - 1]] > size[child]:
            order[place] = order[place - 1]
            place -= 1
        order[place] = child
        count += 1
        child = nodes.next[child]
    nodes.first[node] = order[0]
    for place in range(count - 1):
        nodes.next[order[place]] = order[place + 1]
    nodes.next[order[count - 1]] = -1
    return count


@compiled
def _add_room(rooms: Rooms, sheet: int, size: tuple[int, int], joins: tuple[int, int, int]) -> None:
    at = rooms.used[sheet]
    if at < rooms.wide.shape[1]:
        rooms.wide[sheet, at], rooms.high[sheet, at] = size
        rooms.node[sheet, at], rooms.join[sheet, at], rooms.some[sheet, at] = joins
        rooms.used[sheet] = at + 1


@compiled
def find_rooms(nodes: Nodes, rooms: Rooms, sheets: Open, sheet: int, deepest: int) -> None:
    """Gather the rooms of a sheet."""
    rooms.used[sheet] = 0
    root = sheets.root[sheet]
    if root < 0:
        _add_room(rooms, sheet, (sheets.wide[sheet], sheets.high[sheet]), (-1, 0, 0))
        return
    stack, order = rooms.stack, rooms.order
    stack[0, 0], stack[1, 0], stack[2, 0] = root, sheets.wide[sheet], sheets.high[sheet]
    stack[3, 0], stack[4, 0] = 0, deepest
    waiting = 1
    while waiting:
        waiting -= 1
        node, most_wide, most_high = stack[0, waiting], stack[1, waiting], stack[2, waiting]
        outer, levels = stack[3, waiting], stack[4, waiting]
        spare_wide, spare_high = most_wide - nodes.wide[node], most_high - nodes.high[node]
        if outer != BESIDE and spare_wide:
            _add_room(rooms, sheet, (spare_wide, most_high), (node, BESIDE, 0))
        if outer != ABOVE and spare_high:
            _add_room(rooms, sheet, (most_wide, spare_high), (node, ABOVE, 0))
        join = nodes.join[node]
        if not join or levels <= 1:
            continue
        is_row = join == BESIDE
        across = nodes.high if is_row else nodes.wide
        along = nodes.wide if is_row else nodes.high
        most, spare = (most_high, spare_wide) if is_row else (most_wide, spare_high)
        count = _sort_inner(nodes, node, across, order)
        reach = spare + along[order[0]]
        for place in range(2, count):
            last = order[place - 1]
            reach += along[last]
            if across[last] < across[order[place]] and across[last] < most:
                if is_row:
                    _add_room(rooms, sheet, (reach, most - across[last]), (node, ABOVE, place))
                else:
                    _add_room(rooms, sheet, (most - across[last], reach), (node, BESIDE, place))
        for place in range(count):
            child = order[place]
            stack[0, waiting] = child
            stack[1, waiting] = nodes.wide[child] + spare if is_row else most_wide
            stack[2, waiting] = most_high if is_row else nodes.high[child] + spare
            stack[3, waiting], stack[4, waiting] = join, levels - 1
            waiting += 1


@compiled
def _rank(kind: int, spare: tuple[int, int], area: int, size: tuple[int, int]) -> int:
    """How well an item fits a room: less is better. 0 by area, 1 by near edge, 2 and 3 by one."""
    wide, high = spare
    if kind == 0:
        return (size[0] + wide) * (size[1] + high) - area
    if kind == 1:
        return (min(wide, high) << _SHIFT) + max(wide, high)
    return (high << _SHIFT) + wide if kind == BESIDE + 1 else (wide << _SHIFT) + high


class Bench(NamedTuple):
    """All that filling works on."""

    items: Items
    nodes: Nodes
    rooms: Rooms
    dice: NDArray[np.uint64]


@compiled
def fill_open(
    bench: Bench, sheets: Open, order: Ints, manner: tuple[int, int, float], left: Ints
) -> tuple[int, int]:
    """Fill sheets with items in the order given.

    Args:
        bench: All items and blocks.
        sheets: To be filled.
        order: Items to place.
        manner: Rank (0 to 2), deepest level, share of rooms passed over.
        left: Gets the items without room.

    Returns:
        How many items are left, and the work done.
    """
    items, nodes, rooms, dice = bench
    rank, deepest, skipped = manner
    work, count = 0, 0
    for sheet in range(sheets.root.shape[0]):
        find_rooms(nodes, rooms, sheets, sheet, deepest)
    for item in order:
        best, best_sheet, best_way, least = -1, 0, 0, 0
        for sheet in range(sheets.root.shape[0]):
            if items.area[item] > sheets.free[sheet]:
                continue
            work += rooms.used[sheet]
            for way in range(items.ways[item]):
                size = (items.wide[item, way], items.high[item, way])
                for room in range(rooms.used[sheet]):
                    spare = (rooms.wide[sheet, room] - size[0], rooms.high[sheet, room] - size[1])
                    if spare[0] < 0 or spare[1] < 0:
                        continue
                    kind = rank if rank < 2 else rooms.join[sheet, room] + 1
                    value = _rank(kind, spare, items.area[item], size)
                    if (best < 0 or value < least) and draw(dice) >= skipped:
                        best, best_sheet, best_way, least = room, sheet, way, value
        if best < 0:
            left[count] = item
            count += 1
            continue
        fresh = new_node(nodes)
        nodes.wide[fresh], nodes.high[fresh] = (
            items.wide[item, best_way],
            items.high[item, best_way],
        )
        nodes.join[fresh], nodes.item[fresh], nodes.way[fresh] = 0, item, best_way
        nodes.first[fresh] = nodes.next[fresh] = nodes.parent[fresh] = -1
        where = (
            rooms.node[best_sheet, best],
            rooms.join[best_sheet, best],
            rooms.some[best_sheet, best],
        )
        sheets.root[best_sheet] = put(nodes, sheets.root[best_sheet], where, fresh)
        sheets.free[best_sheet] -= items.area[item]
        find_rooms(nodes, rooms, sheets, best_sheet, deepest)
        work += _WORK_OF_PLACING
    return count, work
