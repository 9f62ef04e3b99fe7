"""Sheets filled item by item: each goes where it fits best; where none does, a sheet is begun.

Takes items in an order, gives blocks. An item may go beside or above any block on a sheet, or any
group of a block's lesser neighbours, as long as the whole still fits: so free space is never
parcelled out before it is used, and every layout can be cut edge to edge. After the insertion
heuristics of Fleszar 2013, Computers & Operations Research 40, pages 463-474 (from memory). Must
not know stock or labels.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Final

from benchleaf.cutting.blocks import (
    ABOVE,
    BESIDE,
    SINGLE,
    Block,
    Item,
    Size,
    Way,
    single,
)

Room = tuple[int, int, Block, int, int]
"""Greatest wide and high of an item, the block that it would join, how (BESIDE or ABOVE), and how
many of the block's first neighbours it joins, or 0 for the whole block."""
Rank = Callable[[int, int, Way, int], int]
"""Room to spare in wide and high, the way the item lies, how it joins; less is better."""

# chosen: the work of putting one item in place, as against looking at one room.
_WORK_OF_PLACING: Final = 25
# chosen: most sheets looked at, so that the work stays in bounds where there are hundreds.
_OPEN_SHEETS: Final = 100


def by_area(spare_wide: int, spare_high: int, way: Way, join: int) -> int:  # noqa: ARG001
    """Rank by the area left of the room."""
    return (way.wide + spare_wide) * (way.high + spare_high) - way.wide * way.high


def by_near_edge(spare_wide: int, spare_high: int, way: Way, join: int) -> int:  # noqa: ARG001
    """Rank by the narrower of the two strips left, then by the wider."""
    narrow, wide = sorted((spare_wide, spare_high))
    return (narrow << 64) + wide


def by_joint_edge(spare_wide: int, spare_high: int, way: Way, join: int) -> int:  # noqa: ARG001
    """Rank by what is left along the edge that joins, then by what is left beyond."""
    along, beyond = (spare_high, spare_wide) if join == BESIDE else (spare_wide, spare_high)
    return (along << 64) + beyond


RANKS: Final[tuple[Rank, ...]] = (by_area, by_near_edge, by_joint_edge)


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How sheets are filled."""

    rank: Rank
    deepest: int
    """How deep blocks may lie in blocks: more saves stock, fewer makes simpler layouts."""
    skip: Callable[[], bool] | None = None
    """Called where a room would be the best so far: True passes it over. None never does."""


@dataclass(slots=True, eq=False)
class Sheet:
    """State of one sheet while it is filled."""

    size: Size
    root: Block
    free: int
    """Area not yet taken."""
    items: list[Item] = field(default_factory=list)
    rooms: list[Room] = field(default_factory=list)


@dataclass(slots=True, eq=False)
class Filled:
    """What came of filling."""

    sheets: list[Sheet]
    left: list[Item]
    """Items for which there was no room."""
    work: int
    """Rooms looked at, and the like: a measure of effort that does not depend on the machine."""


def fill_sheets(
    items: Sequence[Item], size: Size, manner: Manner, *, limit: int | None = None
) -> Filled:
    """Fill sheets with items in the order given.

    Args:
        items: Each fits the sheet in all its ways.
        size: Of every sheet.
        manner: How a room is chosen.
        limit: Most sheets to begin; None for as many as it takes.
    """
    filled = Filled([], [], 0)
    for item in items:
        if not _place(item, filled, manner):
            if limit is None or len(filled.sheets) < limit:
                filled.sheets.append(begin_sheet(single(item, item.ways[0]), size, manner.deepest))
            else:
                filled.left.append(item)
    return filled


def begin_sheet(root: Block, size: Size, deepest: int) -> Sheet:
    """Lay a block down on a new sheet."""
    items = list(root.items())
    free = size[0] * size[1] - sum(item.area for item in items)
    sheet = Sheet(size, root, free, items)
    _find_rooms(sheet, deepest)
    return sheet


def top_up(sheet: Sheet, items: Sequence[Item], manner: Manner) -> list[Item]:
    """Put what fits of some items on a sheet; give those that do not."""
    filled = Filled([sheet], [], 0)
    return [item for item in items if not _place(item, filled, manner)]


def _place(item: Item, filled: Filled, manner: Manner) -> bool:
    best: tuple[Sheet, Room, Way] | None = None
    least = 0
    skip = manner.skip
    for sheet in filled.sheets[-_OPEN_SHEETS:]:
        if item.area > sheet.free:
            continue
        filled.work += len(sheet.rooms) * len(item.ways)
        for way in item.ways:
            wide, high, _ = way
            for room in sheet.rooms:
                if room[0] >= wide and room[1] >= high:
                    rank = manner.rank(room[0] - wide, room[1] - high, way, room[3])
                    if (best is None or rank < least) and not (skip and skip()):
                        least = rank
                        best = (sheet, room, way)
    if best is None:
        return False
    _put(item, best, manner.deepest)
    filled.work += _WORK_OF_PLACING
    return True


def _put(item: Item, where: tuple[Sheet, Room, Way], deepest: int) -> None:
    sheet, (_, _, block, join, count), way = where
    _join(block, single(item, way), join, count)
    sheet.root.measure()
    sheet.free -= item.area
    sheet.items.append(item)
    _find_rooms(sheet, deepest)


def _join(block: Block, added: Block, join: int, count: int) -> None:
    if count:
        held = Block(0, 0, block.join, block.inner[:count])
        block.inner[:count] = [Block(0, 0, join, [held, added])]
    elif block.join == join:
        block.inner.append(added)
    else:
        held = Block(block.wide, block.high, block.join, block.inner, block.item, block.is_turned)
        block.join, block.inner = join, [held, added]
        block.item, block.is_turned = None, False


def _find_rooms(sheet: Sheet, deepest: int) -> None:
    sheet.rooms = []
    _walk(sheet.root, sheet.size, SINGLE, (deepest, sheet.rooms))


def _walk(block: Block, limits: Size, outer: int, state: tuple[int, list[Room]]) -> None:
    """Gather the rooms at a block that may grow to `limits` and lies in a block joined as `outer`.

    Beside a block that itself stands in a row is the same room as at the end of the row, so only
    the other direction is looked at.
    """
    most_wide, most_high = limits
    levels, rooms = state
    if outer != BESIDE and most_wide > block.wide:
        rooms.append((most_wide - block.wide, most_high, block, BESIDE, 0))
    if outer != ABOVE and most_high > block.high:
        rooms.append((most_wide, most_high - block.high, block, ABOVE, 0))
    if block.join == SINGLE or levels <= 1:
        return
    within = (levels - 1, rooms)
    if block.join == BESIDE:
        spare = most_wide - block.wide
        _rooms_above_neighbours(block, spare, most_high, rooms)
        for inner in block.inner:
            _walk(inner, (inner.wide + spare, most_high), BESIDE, within)
    else:
        spare = most_high - block.high
        _rooms_beside_neighbours(block, spare, most_wide, rooms)
        for inner in block.inner:
            _walk(inner, (most_wide, inner.high + spare), ABOVE, within)


def _rooms_above_neighbours(block: Block, spare: int, most_high: int, rooms: list[Room]) -> None:
    """Rooms above the lower ones of blocks in a row, which may change places."""
    block.inner.sort(key=attrgetter("high"))
    wide = spare + block.inner[0].wide
    for count in range(2, len(block.inner)):
        last = block.inner[count - 1]
        wide += last.wide
        if last.high < block.inner[count].high and last.high < most_high:
            rooms.append((wide, most_high - last.high, block, ABOVE, count))


def _rooms_beside_neighbours(block: Block, spare: int, most_wide: int, rooms: list[Room]) -> None:
    """Rooms beside the narrower ones of blocks in a column, which may change places."""
    block.inner.sort(key=attrgetter("wide"))
    high = spare + block.inner[0].high
    for count in range(2, len(block.inner)):
        last = block.inner[count - 1]
        high += last.high
        if last.wide < block.inner[count].wide and last.wide < most_wide:
            rooms.append((most_wide - last.wide, high, block, BESIDE, count))
