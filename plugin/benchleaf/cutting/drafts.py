"""A block on a sheet as cuts: trimmed edges first, then the strips, then the pieces of each strip.

Takes a block and the sheet's sizes in whole steps, gives a tree of cuts, and how simple it is to
cut. Cuts are numbered stage by stage, and within a stage so that a fence setting once made serves
every piece that needs it. Must not know labels or units.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import Final

from benchleaf.cutting.blocks import BESIDE, SINGLE, Block, Item
from benchleaf.cutting.records import CutDirection

ALONG, ACROSS = CutDirection.ALONG, CutDirection.ACROSS

# chosen: a longer row of pieces is halved first, so that trees stay shallow.
_LONGEST_ROW: Final = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """A sheet in whole steps."""

    length: int
    """Along x."""
    width: int
    trim_ends: int
    """Taken off each end (along x)."""
    trim_edges: int
    """Taken off each edge (along y)."""
    kerf: int

    @property
    def room(self) -> tuple[int, int]:
        """(wide, high) left between the trimmed edges, grown by one kerf as blocks are."""
        return (
            self.length - 2 * self.trim_ends + self.kerf,
            self.width - 2 * self.trim_edges + self.kerf,
        )


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Simplicity:
    """What a layout asks of the person at the saw, and what it leaves."""

    settings: int
    """Different fence settings."""
    cuts: int
    offcut: int
    """Area of the largest piece left."""


def draft_sheet(block: Block, bed: Bed) -> Draft:
    """Work out the cuts that part a block from a sheet.

    Args:
        block: Fits the bed's room.
        bed: The sheet.
    """
    sheet = Draft(0, 0, bed.length, bed.width)
    *trimmed, kept = _trim(sheet, bed)
    _part(kept, block, bed.kerf)
    _number_cuts(trimmed, kept)
    return sheet


def weigh(sheet: Draft) -> Simplicity:
    """Tell how simple a sheet is to cut, trimming apart, and what it leaves."""
    cuts = [piece for piece in sheet.walk() if piece.direction and piece.stage]
    return Simplicity(
        settings=len({(piece.direction, piece.at) for piece in cuts}),
        cuts=len(cuts),
        offcut=max((piece.wide * piece.high for piece in sheet.walk() if piece.is_left), default=0),
    )


def _trim(sheet: Draft, bed: Bed) -> list[Draft]:
    """Trim edges and ends; give the pieces that were cut, and last the piece between the cuts."""
    pieces = [sheet]
    for direction, trim in ((ALONG, bed.trim_edges), (ACROSS, bed.trim_ends)):
        if trim:
            _, far = _cut(pieces[-1], direction, trim - bed.kerf, bed.kerf)
            pieces += [far] if far else []
            near, _ = _cut(pieces[-1], direction, pieces[-1].extent(direction) - trim, bed.kerf)
            pieces += [near] if near else []
    return pieces


def _cut(
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


def _part(piece: Draft, block: Block, kerf: int) -> None:
    """Cut a piece up until it is the block's items and what is left."""
    surplus = _surplus_first(piece, block, kerf)
    if surplus is not None:
        near, _ = _cut(piece, surplus, _extent(block, surplus) - kerf, kerf)
        if near is not None:
            _part(near, block, kerf)
    elif block.join == SINGLE:
        piece.item, piece.is_turned = block.item, block.is_turned
    else:
        direction = _row_direction(block)
        blocks = sorted(block.inner, key=lambda inner: _row_order(inner, direction))
        _part_row(piece, blocks, direction, kerf)


def _part_row(piece: Draft, blocks: Sequence[Block], direction: CutDirection, kerf: int) -> None:
    taken = len(blocks) // 2 if len(blocks) > _LONGEST_ROW else 1
    need = sum(_extent(block, direction) for block in blocks[:taken]) - kerf
    near: Draft | None = piece
    far: Draft | None = None
    if piece.extent(direction) > need:
        near, far = _cut(piece, direction, need, kerf)
    if near is not None and taken == 1:
        _part(near, blocks[0], kerf)
    elif near is not None:
        _part_row(near, blocks[:taken], direction, kerf)
    if far is not None and blocks[taken:]:
        _part_row(far, blocks[taken:], direction, kerf)


def _surplus_first(piece: Draft, block: Block, kerf: int) -> CutDirection | None:
    """The direction in which to take the surplus off a piece first, if that is best.

    A row of blocks is cut off piece by piece, and leaves what it does not need at its end. Where
    there is surplus beside the row too, taking it off first costs a cut: it does so where this
    leaves the largest piece.
    """
    spare = {way: piece.extent(way) + kerf - _extent(block, way) for way in (ACROSS, ALONG)}
    if block.join == SINGLE:
        off = {way: spare[way] * piece.extent(_other(way)) for way in (ACROSS, ALONG)}
        best = max((ACROSS, ALONG), key=lambda way: off[way])
        return best if spare[best] else None
    row = _row_direction(block)
    beside = _other(row)
    whole = spare[beside] * piece.extent(row)
    most = max(
        _extent(inner, row) * (piece.extent(beside) - _extent(inner, beside))
        for inner in block.inner
    )
    return (
        beside if spare[beside] and whole >= max(most, spare[row] * piece.extent(beside)) else None
    )


def _row_direction(block: Block) -> CutDirection:
    return ACROSS if block.join == BESIDE else ALONG


def _other(direction: CutDirection) -> CutDirection:
    return ALONG if direction is ACROSS else ACROSS


def _extent(block: Block, direction: CutDirection) -> int:
    return block.wide if direction is ACROSS else block.high


def _row_order(block: Block, direction: CutDirection) -> tuple[int, int]:
    return -_extent(block, direction), -_extent(block, _other(direction))


def _number_cuts(trimmed: Sequence[Draft], kept: Draft) -> None:
    """Number the cuts: trimming, then stage by stage, in each stage the widest setting first."""
    for number, piece in enumerate(trimmed, start=1):
        piece.number = number
    if kept.direction is None:
        return
    kept.stage = 1
    # Stage, setting, place on the sheet; the count keeps pieces themselves from being compared.
    ready = [(1, -kept.at, kept.y, kept.x, 0, kept)]
    number = len(trimmed)
    while ready:
        piece = heappop(ready)[-1]
        number += 1
        piece.number = number
        for child in (piece.first, piece.second):
            if child is not None and child.direction is not None:
                child.stage = piece.stage + (child.direction is not piece.direction)
                count = 2 * number + (child is piece.second)
                heappush(ready, (child.stage, -child.at, child.y, child.x, count, child))
