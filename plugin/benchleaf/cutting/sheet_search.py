"""Fewer sheets by ruin and recreate, compiled: a few sheets are emptied and filled anew.

Takes a layout as blocks, gives one on as many sheets or fewer. The sheets are fixed; what does not
fit waits, and less area waits as time goes on. After Gardeyn and Wauters 2022, European Journal of
Operational Research 301, pages 868-880 (from memory). Must not know stock or labels.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np

from benchleaf.cutting.block_kernel import (
    Ints,
    Nodes,
    copy_tree,
    detach,
    drop_tree,
    new_node,
    new_nodes,
    take_items,
)
from benchleaf.cutting.blocks import SINGLE, Block, Item, Size
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.dice import Dice, draw, new_dice
from benchleaf.cutting.length_kernel import Floats
from benchleaf.cutting.sheet_kernel import (
    OPEN_SHEETS,
    Bench,
    Items,
    Open,
    fill_open,
    new_rooms,
)

# chosen: measured on the standard instances; near these figures all do alike.
_NOISE: Final = 0.25
_SKIPPED: Final = 0.02
_IN_PART: Final = 0.5
_MEMORY: Final = 20
_WORK_OF_ROUND: Final = 50
# chosen: what waits outweighs any evenness of the sheets.
WAITING: Final = 4.0
# chosen: beyond so many levels hardly any sheet is saved.
_DEEPEST: Final = 8


class Drift(NamedTuple):
    """Where a search goes, so that another one goes another way."""

    dice: Dice
    evenness: float = 1.0
    """What gaps spread evenly over the sheets cost, against one large gap."""


class Search(NamedTuple):
    """All that one search works on."""

    bench: Bench
    sheets: Open
    """All sheets; those beyond the number in use are empty."""
    waiting: Ints
    lately: Floats
    """What was accepted lately: what waits, less how free single sheets are."""
    evenness: float
    """What gaps spread evenly over the sheets cost; 0 where what waits has a worth of its own."""


@compiled
def _choose(search: Search, count: int) -> Ints:
    """Choose the sheets to fill anew: one, two or three."""
    drawn = draw(search.bench.dice)
    most = min(count, 1 if drawn < 0.25 else 2 if drawn < 0.75 else 3)
    chosen = np.full(most, -1, np.int64)
    picked = 0
    while picked < most:
        sheet = int(draw(search.bench.dice) * count)
        if not (chosen == sheet).any():
            chosen[picked] = sheet
            picked += 1
    return chosen


@compiled
def _pick_block(search: Search, root: int) -> int:
    """Pick a block of a tree by walking down at random."""
    nodes, dice = search.bench.nodes, search.bench.dice
    node = root
    while nodes.join[node] and (node == root or draw(dice) >= 0.3):
        count = 0
        child = nodes.first[node]
        while child >= 0:
            count += 1
            child = nodes.next[child]
        steps = int(draw(dice) * count)
        node = nodes.first[node]
        for _ in range(steps):
            node = nodes.next[node]
    return int(node)


@compiled
def _ruin_part(search: Search, opened: Open, at: int, loose: Ints, count: int) -> int:
    """Take blocks off a sheet until a good part of it is free; add their items to the loose."""
    nodes, stack = search.bench.nodes, search.bench.rooms.stack
    used = opened.wide[at] * opened.high[at] - opened.free[at]
    target = opened.free[at] + int((0.1 + 0.6 * draw(search.bench.dice)) * used)
    while opened.free[at] <= target and opened.root[at] >= 0:
        block = _pick_block(search, opened.root[at])
        before = count
        count = take_items(nodes, block, stack, loose, count)
        opened.free[at] += search.bench.items.area[loose[before:count]].sum()
        opened.root[at] = detach(nodes, opened.root[at], block)
        drop_tree(nodes, block, stack)
    return count


@compiled
def _shuffle(search: Search, loose: Ints) -> Ints:
    """Order items by a size that is a little off."""
    items, dice = search.bench.items, search.bench.dice
    drawn = draw(dice)
    keys = np.empty(loose.shape[0])
    for place, item in enumerate(loose):
        if drawn < 0.2 and not search.evenness:
            size = 1000.0 * items.worth[item] / items.area[item]
        elif drawn < 0.45:
            size = float(items.worth[item])
        elif drawn < 0.75:
            size = float(items.wide[item, 0] + items.high[item, 0])
        else:
            size = float(items.high[item, 0] if drawn < 0.85 else items.wide[item, 0])
        keys[place] = -size * (1.0 + _NOISE * (2.0 * draw(dice) - 1.0))
    return loose[np.argsort(keys)]


@compiled
def _open_sheets(sheets: Open, chosen: Ints) -> Open:
    """Set chosen sheets up anew, empty."""
    wide, high = sheets.wide[chosen], sheets.high[chosen]
    return Open(np.full(chosen.shape[0], -1, np.int64), wide * high, wide, high)


@compiled
def _empty_chosen(search: Search, chosen: Ints, opened: Open, loose: Ints, held: int) -> int:
    """Take all items off chosen sheets, or leave a part of each; add them to the loose."""
    nodes, stack = search.bench.nodes, search.bench.rooms.stack
    in_part = draw(search.bench.dice) < _IN_PART
    for at in range(chosen.shape[0]):
        root = search.sheets.root[chosen[at]]
        if in_part:
            opened.root[at] = copy_tree(nodes, root, stack)
            opened.free[at] = search.sheets.free[chosen[at]]
            held = _ruin_part(search, opened, at, loose, held)
        else:
            held = take_items(nodes, root, stack, loose, held)
    return held


@compiled
def _keep_one(search: Search, chosen: Ints, opened: Open, takes_new: bool) -> None:
    """Let the sheets as filled anew stand for the chosen ones, or drop them."""
    nodes, sheets, stack = search.bench.nodes, search.sheets, search.bench.rooms.stack
    for at in range(chosen.shape[0]):
        drop_tree(nodes, sheets.root[chosen[at]] if takes_new else opened.root[at], stack)
        if takes_new:
            sheets.root[chosen[at]], sheets.free[chosen[at]] = opened.root[at], opened.free[at]


@compiled
def _free_square(sheets: Open, at: int) -> float:
    """How free a sheet is, squared, in its area: one large gap counts more than two small ones."""
    free = float(sheets.free[at])
    return free * free / (float(sheets.wide[at]) * float(sheets.high[at]))


@compiled
def _free_squares(sheets: Open, count: int) -> float:
    """The sum over the sheets in use."""
    total = 0.0
    for at in range(count):
        total += _free_square(sheets, at)
    return total


@compiled
def refine_sheets(
    search: Search, count: int, waiting: int, aim: tuple[int, int]
) -> tuple[int, int]:
    """Fill a few of `count` sheets anew, again and again, until less waits than a goal.

    Args:
        search: All that it works on.
        count: Sheets in use.
        waiting: Items that wait.
        aim: Worth that may no longer wait, and the most work to do.

    Returns:
        Items that wait, and the work done.
    """
    items, dice = search.bench.items, search.bench.dice
    total = items.area.shape[0]
    loose, left = np.empty(total, np.int64), np.empty(total, np.int64)
    goal, budget = aim
    worth = items.worth[search.waiting[:waiting]].sum()
    cost = worth * WAITING - search.evenness * _free_squares(search.sheets, count)
    work = 0
    while worth >= goal and work < budget:
        chosen = _choose(search, count)
        opened = _open_sheets(search.sheets, chosen)
        loose[:waiting] = search.waiting[:waiting]
        held = _empty_chosen(search, chosen, opened, loose, waiting)
        order = _shuffle(search, loose[:held])
        manner = (int(draw(dice) * 3), _DEEPEST, _SKIPPED)
        over, done = fill_open(search.bench, opened, order, manner, left)
        work += done + _WORK_OF_ROUND
        after = items.worth[left[:over]].sum()
        slot = int(draw(dice) * search.lately.shape[0])
        new_cost = cost + (after - worth) * WAITING
        for at in range(chosen.shape[0]):
            gained = _free_square(search.sheets, chosen[at]) - _free_square(opened, at)
            new_cost += search.evenness * gained
        takes_new = new_cost <= max(cost, search.lately[slot])
        _keep_one(search, chosen, opened, takes_new)
        if takes_new:
            search.waiting[:over] = left[:over]
            waiting, worth, cost = over, after, new_cost
        search.lately[slot] = cost
    return waiting, work


def new_search(
    items: Sequence[Item],
    sizes: Sequence[Size],
    worth: Sequence[int] | None = None,
    *,
    dice: Dice | None = None,
) -> Search:
    """Set a search up on empty sheets.

    Args:
        items: Numbered from 0 by their `index`.
        sizes: Of the sheets.
        worth: Of each item; None for its area.
        dice: To go on with; None for new ones.
    """
    count = len(items)
    sides = [(one.ways[0], one.ways[-1]) for one in items]
    wide, high = (np.array([size[axis] for size in sizes]) for axis in (0, 1))
    held = Items(
        np.array([[way.wide for way in own] for own in sides]),
        np.array([[way.high for way in own] for own in sides]),
        np.array([len(one.ways) for one in items]),
        np.array([one.area for one in items]),
        np.array(worth or [one.area for one in items]),
    )
    return Search(
        Bench(held, new_nodes(count), new_rooms(count), new_dice() if dice is None else dice),
        Open(np.full(len(sizes), -1), wide * high, wide, high),
        np.arange(count),
        np.zeros(_MEMORY),
        1.0 if worth is None else 0.0,
    )


def lay_down(search: Search, sheet: int, block: Block) -> None:
    """Lay a block of items down on an empty sheet."""
    search.sheets.root[sheet] = _write(search.bench.nodes, block, -1)
    search.sheets.free[sheet] -= sum(item.area for item in block.items())


def _write(nodes: Nodes, block: Block, outer: int) -> int:
    node = new_node(nodes)
    nodes.wide[node], nodes.high[node], nodes.join[node] = block.wide, block.high, block.join
    nodes.parent[node], nodes.next[node], nodes.first[node] = outer, -1, -1
    nodes.item[node], nodes.way[node] = -1, 0
    if block.item is not None:
        nodes.item[node] = block.item.index
        lying = [way.is_turned for way in block.item.ways]
        nodes.way[node] = lying.index(block.is_turned)
    last = -1
    for inner in block.inner:
        child = _write(nodes, inner, node)
        if last < 0:
            nodes.first[node] = child
        else:
            nodes.next[last] = child
        last = child
    return node


def read_block(search: Search, node: int, items: Sequence[Item]) -> Block:
    """Read a block back."""
    nodes = search.bench.nodes
    if nodes.join[node] == SINGLE:
        item = items[nodes.item[node]]
        way = item.ways[nodes.way[node]]
        return Block(way.wide, way.high, item=item, is_turned=way.is_turned)
    inner = []
    child = int(nodes.first[node])
    while child >= 0:
        inner.append(read_block(search, child, items))
        child = int(nodes.next[child])
    return Block(int(nodes.wide[node]), int(nodes.high[node]), int(nodes.join[node]), inner)


def save_sheets(
    layout: Sequence[Block],
    items: Sequence[Item],
    size: Size,
    aim: tuple[int, Budget],
    *,
    evenness: float,
) -> list[Block]:
    """Look for a layout on fewer sheets of one size.

    Args:
        layout: One block for each sheet.
        items: All of them, numbered from 0.
        size: Of every sheet.
        aim: Number of sheets at which to stop, and what may be spent.
        evenness: What gaps spread evenly over the sheets cost, against one large gap.
    """
    best = list(layout)
    fewest, budget = aim
    drift = Drift(new_dice(), evenness)
    while len(best) > fewest and not budget.is_spent:
        kept = sorted(best, key=lambda block: -sum(item.area for item in block.items()))
        sizes = [size] * (len(best) - 1)
        found = fit_on(items, sizes, kept[:-1], budget, drift=drift)
        if found is None:
            break
        best = [block for block in found if block is not None]
    return best


def fit_on(
    items: Sequence[Item],
    sizes: Sequence[Size],
    begun: Sequence[Block],
    budget: Budget,
    *,
    drift: Drift | None = None,
) -> list[Block | None] | None:
    """Look for a layout of all items on given sheets.

    Args:
        items: Numbered from 0.
        sizes: Of the sheets.
        begun: What lies on the first of them already.
        budget: What may be spent.
        drift: To go on with; None for the first trial.

    Returns:
        A block for each sheet, None for an empty one; or None where none is found.
    """
    spare = [sizes[0]] * max(0, OPEN_SHEETS - len(sizes))
    drift = Drift(new_dice()) if drift is None else drift
    search = new_search(items, [*sizes, *spare], dice=drift.dice)._replace(evenness=drift.evenness)
    for sheet, block in enumerate(begun):
        lay_down(search, sheet, block)
    laid = {item.index for block in begun for item in block.items()}
    last = [item.index for item in items if item.index not in laid]
    search.waiting[: len(last)] = last
    search.lately[:] = search.bench.items.worth[last].sum() * WAITING
    waiting = len(last)
    while waiting and not budget.is_spent:
        waiting, work = refine_sheets(search, len(sizes), waiting, (1, budget.slice))
        budget.spend(work)
    if waiting:
        return None
    return read_all(search, items, len(sizes))


def read_all(search: Search, items: Sequence[Item], count: int) -> list[Block | None]:
    """Read so many sheets back; None for an empty one."""
    roots = search.sheets.root[:count].tolist()
    return [read_block(search, root, items) if root >= 0 else None for root in roots]
