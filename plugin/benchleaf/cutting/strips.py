"""Strips: rows of items cut from one width of stock, each row filled as well as can be.

Takes items, gives rows (strips of a sheet, or lengths of a board to be ripped), and sheets of such
strips: layouts that are ripped first, then crosscut, with few settings. Must not know labels or
units.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.cutting.blocks import ABOVE, BESIDE, Block, Item, Size, Way, group, single
from benchleaf.cutting.length_packing import pack_lengths
from benchleaf.cutting.sheet_filling import Manner, begin_sheet, top_up

# chosen: states kept while one row is filled, shared out over the kinds of items; exact for some
# dozen kinds.
_STATES: Final = 1_500
_FEWEST_STATES: Final = 8
# chosen: kinds looked at for one row: those most nearly as deep, and the least, which fill gaps.
_MOST_KINDS: Final = 60
_LEAST_KINDS: Final = 12
# chosen: steps of the exact search for the strips of sheets, of which many layouts are made.
_EFFORT: Final = 3_000


@dataclass(slots=True, eq=False)
class _Kind:
    """State of the items of one size that are left; lives as long as rows are made."""

    ways: tuple[Way, ...]
    items: list[Item]

    @property
    def shallowest(self) -> int:
        """The least extent across the row."""
        return min(way.high for way in self.ways)


def make_rows(items: Sequence[Item], room: int, finish: Manner | None = None) -> list[Block]:
    """Lay items out in rows along x.

    The item that is deepest even when it lies flat begins a row, which is then filled up with
    others that are no deeper.

    Args:
        items: Each fits `room` along x in all its ways.
        room: Length of a row.
        finish: How to fill the gaps left above lesser items of a row; None leaves them.

    Returns:
        Blocks joined side by side, deepest first.
    """
    kinds = _sort_kinds(items)
    rows: list[Block] = []
    while kinds:
        row = min(
            (_fill_row(kinds, way, room) for way in kinds[0].ways),
            key=lambda blocks: _waste(blocks, room),
        )
        block = group(BESIDE, [single(item, way) for item, way in row])
        kinds = _without(kinds, {item.index for item, _ in row})
        if finish is not None:
            block, extra = _fill_gaps(block, kinds, room, finish)
            kinds = _without(kinds, extra)
        rows.append(block)
    return rows


def lay_in_strips(items: Sequence[Item], size: Size, finish: Manner | None = None) -> list[Block]:
    """Lay items out on sheets in strips along x; one block for each sheet."""
    rows = make_rows(items, size[0], finish)
    by_depth: dict[int, list[Block]] = {}
    for row in rows:
        by_depth.setdefault(row.high, []).append(row)
    sheets = pack_lengths([row.high for row in rows], [size[1]], effort=_EFFORT)
    return [group(ABOVE, [by_depth[depth].pop(0) for depth in sheet.held]) for sheet in sheets]


def lay_in_columns(items: Sequence[Item], size: Size, finish: Manner | None = None) -> list[Block]:
    """Lay items out on sheets in strips along y; one block for each sheet."""
    across = [
        Item(
            item.index,
            tuple(Way(way.high, way.wide, way.is_turned) for way in item.ways),
            item.area,
            item.has_spare,
        )
        for item in items
    ]
    upright = {item.index: item for item in items}
    strips = lay_in_strips(across, (size[1], size[0]), finish)
    return [block.transposed(upright) for block in strips]


Row = list[tuple[Item, Way]]


def _sort_kinds(items: Sequence[Item]) -> list[_Kind]:
    held: dict[tuple[Way, ...], list[Item]] = {}
    for item in items:
        held.setdefault(item.ways, []).append(item)
    kinds = [_Kind(ways, sorted(own, key=lambda item: item.index)) for ways, own in held.items()]
    return sorted(kinds, key=lambda kind: (-kind.shallowest, -kind.items[0].area, kind.ways))


def _without(kinds: list[_Kind], taken: set[int]) -> list[_Kind]:
    for kind in kinds:
        kind.items = [item for item in kind.items if item.index not in taken]
    return [kind for kind in kinds if kind.items]


def _waste(row: Row, room: int) -> tuple[float, int]:
    deep = max(way.high for _, way in row)
    used = sum(item.area for item, _ in row)
    return 1 - used / (deep * room), deep


def _fill_row(kinds: Sequence[_Kind], lead: Way, room: int) -> Row:
    """Begin with an item of the first kind lying as told, and fill up with the most area."""
    row: Row = [(kinds[0].items[0], lead)]
    looked_at = kinds
    if len(kinds) > _MOST_KINDS:
        looked_at = [*kinds[: _MOST_KINDS - _LEAST_KINDS], *kinds[-_LEAST_KINDS:]]
    choices: list[tuple[Way, list[Item]]] = []
    for kind in looked_at:
        way = _deepest_way(kind, lead)
        own = kind.items[1:] if kind is kinds[0] else kind.items
        if way and own:
            choices.append((way, own))
    counts = _most_area([(way, len(own)) for way, own in choices], room - lead.wide)
    for (way, own), count in zip(choices, counts, strict=True):
        row += [(item, way) for item in own[:count]]
    return row


def _deepest_way(kind: _Kind, lead: Way) -> Way | None:
    fits = [way for way in kind.ways if way.high <= lead.high]
    return max(fits, key=lambda way: way.high) if fits else None


_Taken = tuple["_Taken", int] | None
"""How many of each kind, the last one outermost."""
_State = tuple[int, int, _Taken]
"""Length taken, area taken, and of what."""


def _most_area(choices: Sequence[tuple[Way, int]], room: int) -> list[int]:
    """How many of each to take for the most area: exact unless there are many kinds."""
    most = max(_FEWEST_STATES, _STATES // max(1, len(choices)))
    states: list[_State] = [(0, 0, None)]
    for way, count in choices:
        wide, high, _ = way
        area = wide * high
        states = _useful(
            [
                (long + number * wide, value + number * area, (taken, number))
                for long, value, taken in states
                for number in range(min(count, (room - long) // wide) + 1)
            ],
            most,
        )
    return _unroll(states[-1][2])


def _useful(states: list[_State], most: int) -> list[_State]:
    """Drop states that take more length for no more area; thin the rest out if they are many."""
    states.sort(key=_by_length)
    kept: list[_State] = []
    best = -1
    for state in states:
        if state[1] > best:
            best = state[1]
            kept.append(state)
    stride = -(-len(kept) // most)
    return kept if stride == 1 else kept[::-1][::stride][::-1]


def _by_length(state: _State) -> tuple[int, int]:
    return state[0], -state[1]


def _unroll(taken: _Taken) -> list[int]:
    counts: list[int] = []
    while taken is not None:
        taken, count = taken
        counts.append(count)
    return counts[::-1]


def _fill_gaps(
    block: Block, kinds: Sequence[_Kind], room: int, finish: Manner
) -> tuple[Block, set[int]]:
    """Put what is left into the gaps of a row; give the row and what was put there."""
    sheet = begin_sheet(block, (room, block.high), finish.deepest)
    left = [item for kind in kinds for item in kind.items]
    left.sort(key=lambda item: (-item.area, item.index))
    rest = {item.index for item in top_up(sheet, left, finish)}
    return sheet.root, {item.index for item in left} - rest
