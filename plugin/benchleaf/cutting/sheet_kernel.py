"""Compiled loops for sheets: trees of blocks in arrays, filled item by item.

Takes arrays of whole numbers, changes them in place. The same rooms and ranks as `sheet_filling`,
some hundred times as fast: an item may go beside or above any block, or any group of a block's
lesser neighbours. Must not know stock or labels.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.blocks import ABOVE, BESIDE
from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.dice import draw

Ints = NDArray[np.int64]

# chosen: rooms kept of one sheet; hardly any has a tenth of them.
_MOST_ROOMS: Final = 4_096
# chosen: the work of putting one item in place, as against looking at one room.
_WORK_OF_PLACING: Final = 25
# Sizes stay below 2 to the power of 30, so that two fit into one number.
_SHIFT: Final = 31
OPEN_SHEETS: Final = 4
"""Most sheets that are filled at once."""


class Nodes(NamedTuple):
    """Blocks of all sheets: -1 stands for none."""

    wide: Ints
    high: Ints
    join: Ints
    first: Ints
    next: Ints
    parent: Ints
    item: Ints
    way: Ints
    free: Ints
    """A stack of places that are free; its first number says how many."""


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


def new_nodes(count: int) -> Nodes:
    """Make room for the blocks of `count` items, and of the sheets that are filled anew."""
    room = 6 * count + 64
    free = np.arange(-1, room)
    free[0] = room
    wide, high, join, first, after, parent, item, way = (
        np.full(room, -1, np.int64) for _ in range(8)
    )
    return Nodes(wide, high, join, first, after, parent, item, way, free)


def new_rooms(count: int) -> Rooms:
    """Make room for the rooms of sheets that hold up to `count` items."""
    wide, high, node, join, some = (
        np.zeros((OPEN_SHEETS, _MOST_ROOMS), np.int64) for _ in range(5)
    )
    used, order = np.zeros(OPEN_SHEETS, np.int64), np.zeros(count + 8, np.int64)
    stack = np.zeros((5, 2 * count + 64), np.int64)
    return Rooms(wide, high, node, join, some, used, stack, order)


@compiled
def new_node(nodes: Nodes) -> int:
    """Take a free place."""
    nodes.free[0] -= 1
    return int(nodes.free[nodes.free[0] + 1])


@compiled
def drop_node(nodes: Nodes, node: int) -> None:
    """Give a place back."""
    nodes.free[0] += 1
    nodes.free[nodes.free[0]] = node


@compiled
def drop_tree(nodes: Nodes, root: int, stack: Ints) -> None:
    """Give all places of a tree back."""
    waiting = 1 if root >= 0 else 0
    stack[0, 0] = root
    while waiting:
        waiting -= 1
        node = stack[0, waiting]
        child = nodes.first[node]
        while child >= 0:
            stack[0, waiting] = child
            waiting += 1
            child = nodes.next[child]
        drop_node(nodes, node)


@compiled
def _copy_fields(nodes: Nodes, source: int, target: int) -> None:
    nodes.wide[target], nodes.high[target] = nodes.wide[source], nodes.high[source]
    nodes.join[target], nodes.first[target] = nodes.join[source], nodes.first[source]
    nodes.item[target], nodes.way[target] = nodes.item[source], nodes.way[source]


@compiled
def copy_tree(nodes: Nodes, root: int, stack: Ints) -> int:
    """Copy a tree; give the root of the copy."""
    if root < 0:
        return -1
    top = new_node(nodes)
    nodes.parent[top] = nodes.next[top] = -1
    stack[0, 0], stack[1, 0] = root, top
    waiting = 1
    while waiting:
        waiting -= 1
        node, copy = stack[0, waiting], stack[1, waiting]
        _copy_fields(nodes, node, copy)
        nodes.first[copy] = -1
        child, last = nodes.first[node], -1
        while child >= 0:
            fresh = new_node(nodes)
            nodes.parent[fresh], nodes.next[fresh] = copy, -1
            if last < 0:
                nodes.first[copy] = fresh
            else:
                nodes.next[last] = fresh
            last = fresh
            stack[0, waiting], stack[1, waiting] = child, fresh
            waiting += 1
            child = nodes.next[child]
    return top


@compiled
def take_items(nodes: Nodes, root: int, stack: Ints, found: Ints, count: int) -> int:
    """Add the items of a tree to `found`, which holds `count`; give how many it then holds."""
    waiting = 1 if root >= 0 else 0
    stack[0, 0] = root
    while waiting:
        waiting -= 1
        node = stack[0, waiting]
        if nodes.item[node] >= 0:
            found[count] = nodes.item[node]
            count += 1
        child = nodes.first[node]
        while child >= 0:
            stack[0, waiting] = child
            waiting += 1
            child = nodes.next[child]
    return count


@compiled
def _measure(nodes: Nodes, node: int) -> None:
    wide, high = 0, 0
    child = nodes.first[node]
    while child >= 0:
        if nodes.join[node] == BESIDE:
            wide += nodes.wide[child]
            high = max(high, nodes.high[child])
        else:
            wide = max(wide, nodes.wide[child])
            high += nodes.high[child]
        child = nodes.next[child]
    nodes.wide[node], nodes.high[node] = wide, high


@compiled
def _measure_up(nodes: Nodes, node: int) -> None:
    while node >= 0:
        if nodes.join[node]:
            _measure(nodes, node)
        node = nodes.parent[node]


@compiled
def detach(nodes: Nodes, root: int, node: int) -> int:
    """Take a block out of its tree, without giving its places back; give the tree's root."""
    outer = nodes.parent[node]
    if outer < 0:
        return -1
    child = nodes.first[outer]
    if child == node:
        nodes.first[outer] = nodes.next[node]
    else:
        while nodes.next[child] != node:
            child = nodes.next[child]
        nodes.next[child] = nodes.next[node]
    only = nodes.first[outer]
    if nodes.next[only] < 0:
        outer = _replace_by_only(nodes, outer, only)
    _measure_up(nodes, outer)
    return root


@compiled
def _replace_by_only(nodes: Nodes, outer: int, only: int) -> int:
    """Let a group's only block stand for the group; give the node to measure from."""
    above = nodes.parent[outer]
    if above < 0 or nodes.join[only] != nodes.join[above] or not nodes.join[only]:
        _copy_fields(nodes, only, outer)
        child = nodes.first[outer]
        while child >= 0:
            nodes.parent[child] = outer
            child = nodes.next[child]
        drop_node(nodes, only)
        return outer
    # A row within a row is one row.
    child, before = nodes.first[above], -1
    while child != outer:
        before = child
        child = nodes.next[child]
    last = nodes.first[only]
    if before < 0:
        nodes.first[above] = last
    else:
        nodes.next[before] = last
    nodes.parent[last] = above
    while nodes.next[last] >= 0:
        last = nodes.next[last]
        nodes.parent[last] = above
    nodes.next[last] = nodes.next[outer]
    drop_node(nodes, outer)
    drop_node(nodes, only)
    return int(above)


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
def put(nodes: Nodes, root: int, where: tuple[int, int, int], fresh: int) -> int:
    """Join a block to another; give the root.

    Args:
        nodes: All blocks.
        root: Of the tree.
        where: The block to join, or -1 on an empty sheet; how; and how many of its first
            neighbours, or 0 for the whole.
        fresh: A block of one item.
    """
    node, join, count = where
    if node < 0:
        return fresh
    if count:
        _join_some(nodes, where, fresh)
    elif nodes.join[node] == join:
        nodes.next[fresh], nodes.parent[fresh] = nodes.first[node], node
        nodes.first[node] = fresh
        _measure_up(nodes, node)
    else:
        held = new_node(nodes)
        _copy_fields(nodes, node, held)
        child = nodes.first[held]
        while child >= 0:
            nodes.parent[child] = held
            child = nodes.next[child]
        nodes.join[node], nodes.item[node], nodes.first[node] = join, -1, held
        nodes.parent[held] = nodes.parent[fresh] = node
        nodes.next[held], nodes.next[fresh] = fresh, -1
        _measure_up(nodes, node)
    return root


@compiled
def _join_some(nodes: Nodes, where: tuple[int, int, int], fresh: int) -> None:
    """Join a block to the first few of a group."""
    node, join, count = where
    held, pair = new_node(nodes), new_node(nodes)
    nodes.join[held], nodes.join[pair] = nodes.join[node], join
    nodes.item[held] = nodes.item[pair] = -1
    nodes.way[held] = nodes.way[pair] = 0
    child = last = nodes.first[node]
    nodes.first[held] = child
    for _ in range(count):
        nodes.parent[child] = held
        last = child
        child = nodes.next[child]
    nodes.next[last] = -1
    nodes.first[node], nodes.next[pair], nodes.parent[pair] = pair, child, node
    nodes.first[pair], nodes.parent[held], nodes.next[held] = held, pair, fresh
    nodes.parent[fresh] = pair
    _measure(nodes, held)
    _measure_up(nodes, pair)


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
