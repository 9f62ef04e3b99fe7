"""What the planners of sheets work on: items to place and blocks built of them, in whole steps.

Takes nothing; the planners build blocks. A block is one item, or blocks side by side (along x), or
blocks one above the other (along y); every such block can be cut apart edge to edge. All sizes are
grown by one kerf, so that neighbours need no gap. Must not know stock, labels or units.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final, NamedTuple

SINGLE: Final = 0
"""A block that is one item."""
BESIDE: Final = 1
"""A block of blocks side by side, along x."""
ABOVE: Final = 2
"""A block of blocks one above the other, along y."""

Size = tuple[int, int]
"""(wide along x, high along y)."""


class Way(NamedTuple):
    """One way for an item to lie."""

    wide: int
    high: int
    is_turned: bool


@dataclass(frozen=True, slots=True)
class Item:
    """One rectangle to be cut out."""

    index: int
    """Place in the list of blanks."""
    ways: tuple[Way, ...]
    """One or two, those that fit the stock."""
    area: int
    has_spare: tuple[bool, bool] = (False, False)
    """Whether its length and its width have an allowance: a slip of the saw does no harm then."""
    held: Block | None = None
    """What it is made of, where it stands for several that are cut together."""
    is_bound: bool = False
    """Whether it has its place among those cut together, so that none of its size stands for it."""


@dataclass(slots=True, eq=False)
class Block:
    """State of a layout while it is made: a rectangle just large enough for what it holds."""

    wide: int
    high: int
    join: int = SINGLE
    inner: list[Block] = field(default_factory=list)
    item: Item | None = None
    is_turned: bool = False
    is_run: bool = False
    """Whether its blocks keep their order."""

    def measure(self) -> None:
        """Work the size out anew from the blocks inside."""
        if self.join == SINGLE:
            return
        for block in self.inner:
            block.measure()
        if self.join == BESIDE:
            self.wide = sum(block.wide for block in self.inner)
            self.high = max(block.high for block in self.inner)
        else:
            self.wide = max(block.wide for block in self.inner)
            self.high = sum(block.high for block in self.inner)

    def items(self) -> Iterator[Item]:
        """All items inside."""
        if self.item is not None:
            yield self.item
        for block in self.inner:
            yield from block.items()

    def transposed(self, items: Mapping[int, Item]) -> Block:
        """A copy with x and y exchanged.

        Args:
            items: By index, as they lie in the copy.
        """
        return Block(
            wide=self.high,
            high=self.wide,
            join=_TRANSPOSED[self.join],
            inner=[block.transposed(items) for block in self.inner],
            item=None if self.item is None else items[self.item.index],
            is_turned=self.is_turned,
            is_run=self.is_run,
        )


_TRANSPOSED: Final = (SINGLE, ABOVE, BESIDE)


def single(item: Item, way: Way) -> Block:
    """Make the block of one item."""
    return Block(wide=way.wide, high=way.high, item=item, is_turned=way.is_turned)


def group(join: int, blocks: list[Block]) -> Block:
    """Make one block of several; the same block where there is only one."""
    if len(blocks) == 1:
        return blocks[0]
    made = Block(wide=0, high=0, join=join, inner=blocks)
    made.measure()
    return made


def with_items(block: Block, items: Mapping[int, Item]) -> Block:
    """Put items as they are, by their index, in the place of those with other numbers or ways."""
    if block.item is not None:
        block.item = items[block.item.index]
    for inner in block.inner:
        with_items(inner, items)
    return block
