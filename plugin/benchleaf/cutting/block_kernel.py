"""Compiled: trees of blocks in arrays, copied, taken apart and joined.

Takes arrays of whole numbers, changes them in place; -1 stands for no block. Must not know sheets.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.blocks import BESIDE
from benchleaf.cutting.compiling import compiled

Ints = NDArray[np.int64]


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


def new_nodes(count: int) -> Nodes:
    """Make room for the blocks of `count` items, and of the sheets that are filled anew."""
    room = 6 * count + 64
    free = np.arange(-1, room)
    free[0] = room
    wide, high, join, first, after, parent, item, way = (
        np.full(room, -1, np.int64) for _ in range(8)
    )
    return Nodes(wide, high, join, first, after, parent, item, way, free)


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
