"""How a block is parted from a piece of sheet: surplus off, then a row piece by piece.

Takes a piece and a block, both in whole steps, and cuts the piece up. Must not know trimming,
numbers or labels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from benchleaf.cutting.blocks import BESIDE, SINGLE, Block, Item
from benchleaf.cutting.records import CutDirection

ALONG, ACROSS = CutDirection.ALONG, CutDirection.ACROSS

# chosen: a longer row of pieces is halved first, so that trees stay shallow.
_LONGEST_ROW: Final = 24


class Thrift(Enum):
    """What is saved where surplus beside a row may be taken off first or piece by piece."""

    OFFCUT = auto()
    """The largest piece is left over."""
    CUTS = auto()
    """One cut is made for several, whatever is left over."""
    LOADS = auto()
    """Pieces are parted first, so that few cuts make them small enough to be hauled."""
    HALVES = auto()
    """As with loads, and long rows are halved first, not cut off one by one."""


FOR_HAULING: Final = (Thrift.LOADS, Thrift.HALVES)


@dataclass(slots=True, eq=False)
class Draft:
    """State of a piece of sheet while its cuts are worked out."""

    x: int
    y: int
    wide: int
    high: int
    item: Item | None = None
    is_turned: bool = False
    direction: CutDirection | None = None
    at: int = 0
    number: int = 0
    stage: int = 0
    """Of its cut: 0 for trimming, then one more at each change of direction."""
    is_tight: bool = False
    """Whether its cut leaves a blank at its final size, with no cut of its own to bring it to."""
    first: Draft | None = None
    second: Draft | None = None

    def extent(self, direction: CutDirection) -> int:
        """The side that a cut in a direction divides."""
        return self.wide if direction is ACROSS else self.high

    def walk(self) -> Iterator[Draft]:
        """This piece and all pieces that come of it, each before its own."""
        waiting = [self]
        while waiting:
            piece = waiting.pop()
            yield piece
            waiting += [child for child in (piece.second, piece.first) if child is not None]

    @property
    def is_left(self) -> bool:
        """Tell whether it is neither cut nor kept."""
        return self.direction is None and self.item is None


def cut(
    piece: Draft, direction: CutDirection, at: int, kerf: int
) -> tuple[Draft | None, Draft | None]:
    """Cut a piece; give what lies before the kerf and what lies after it."""
    piece.direction, piece.at = direction, at
    rest = piece.extent(direction) - at - kerf
    x, y, wide, high = piece.x, piece.y, piece.wide, piece.high
    if direction is ACROSS:
        near, far = Draft(x, y, at, high), Draft(x + at + kerf, y, rest, high)
    else:
        near, far = Draft(x, y, wide, at), Draft(x, y + at + kerf, wide, rest)
    piece.first = near if at > 0 else None
    piece.second = far if rest > 0 else None
    return piece.first, piece.second


def part(piece: Draft, block: Block, kerf: int, thrift: Thrift) -> None:
    """Cut a piece up until it is the block's items and what is left.

    Args:
        piece: As large as the block, or larger.
        block: Grown by one kerf, as all blocks are.
        kerf: Width of a cut.
        thrift: What is saved where that is a choice.
    """
    _Saw(kerf, thrift).part(piece, block)


@dataclass(frozen=True, slots=True)
class _Saw:
    """Parts blocks from pieces."""

    kerf: int
    thrift: Thrift

    def part(self, piece: Draft, block: Block) -> None:
        """Cut a piece up until it is the block's items and what is left."""
        surplus = self._surplus_first(piece, block)
        if surplus is not None:
            near, _ = cut(piece, surplus, _extent(block, surplus) - self.kerf, self.kerf)
            if near is not None:
                self.part(near, block)
        elif block.item is not None and block.item.held is not None:
            self.part(piece, block.item.held)
        elif block.join == SINGLE:
            piece.item, piece.is_turned = block.item, block.is_turned
        else:
            row = _row_direction(block)
            blocks = block.inner
            if not block.is_run:
                blocks = sorted(block.inner, key=lambda inner: _row_order(inner, row))
            if not block.is_run and piece.extent(row) + self.kerf == _extent(block, row):
                blocks = _spare_last(blocks, row)
            self._part_row(piece, blocks, row)

    def _part_row(self, piece: Draft, blocks: Sequence[Block], row: CutDirection) -> None:
        is_halved = self.thrift is Thrift.HALVES or len(blocks) > _LONGEST_ROW
        taken = max(len(blocks) // 2, 1) if is_halved else 1
        need = sum(_extent(block, row) for block in blocks[:taken]) - self.kerf
        rest = blocks[taken:]
        near: Draft | None = piece
        far: Draft | None = None
        if piece.extent(row) > need:
            near, far = cut(piece, row, need, self.kerf)
            is_last = far is not None and len(rest) == 1
            if is_last and far and far.extent(row) + self.kerf == _extent(rest[0], row):
                piece.is_tight = not _has_spare(rest[0], row)
        if near is not None and taken == 1:
            self.part(near, blocks[0])
        elif near is not None:
            self._part_row(near, blocks[:taken], row)
        if far is not None and rest:
            self._part_row(far, rest, row)

    def _surplus_first(self, piece: Draft, block: Block) -> CutDirection | None:
        """The direction in which to take the surplus off a piece first, if that is best.

        A row of blocks is cut off piece by piece, and leaves what it does not need at its end.
        Where there is surplus beside the row too, taking it off first costs a cut, and saves one
        for each block that is as deep as the row.
        """
        spare = {way: piece.extent(way) + self.kerf - _extent(block, way) for way in _WAYS}
        if block.join == SINGLE:
            off = {way: spare[way] * piece.extent(_other(way)) for way in _WAYS}
            best = max(_WAYS, key=lambda way: off[way])
            return best if spare[best] else None
        row = _row_direction(block)
        beside = _other(row)
        if not spare[beside] or self.thrift in FOR_HAULING:
            return None
        if self.thrift is Thrift.CUTS:
            deep = sum(_extent(inner, beside) == _extent(block, beside) for inner in block.inner)
            return beside if deep > 1 or not spare[row] else None
        whole = spare[beside] * piece.extent(row)
        most = max(
            _extent(inner, row) * (piece.extent(beside) - _extent(inner, beside))
            for inner in block.inner
        )
        return beside if whole >= max(most, spare[row] * piece.extent(beside)) else None


_WAYS: Final = (ACROSS, ALONG)


def _row_direction(block: Block) -> CutDirection:
    return ACROSS if block.join == BESIDE else ALONG


def _other(direction: CutDirection) -> CutDirection:
    return ALONG if direction is ACROSS else ACROSS


def _extent(block: Block, direction: CutDirection) -> int:
    return block.wide if direction is ACROSS else block.high


def _row_order(block: Block, direction: CutDirection) -> tuple[int, int]:
    return -_extent(block, direction), -_extent(block, _other(direction))


def _spare_last(blocks: list[Block], row: CutDirection) -> list[Block]:
    """Blocks in a row without surplus: last one that may take up what the others' cuts slip."""
    last = next((block for block in reversed(blocks) if _has_spare(block, row)), blocks[-1])
    return [*(block for block in blocks if block is not last), last]


def _has_spare(block: Block, way: CutDirection) -> bool:
    """Tell whether a block may come out a little off its size in one direction."""
    if block.item is not None:
        along_length = (way is ACROSS) is not block.is_turned
        return block.item.has_spare[0 if along_length else 1]
    if _row_direction(block) is way:
        return any(_has_spare(inner, way) for inner in block.inner)
    deep = (inner for inner in block.inner if _extent(inner, way) == _extent(block, way))
    return all(_has_spare(inner, way) for inner in deep)
