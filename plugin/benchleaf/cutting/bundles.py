"""Items of one size tied into bundles, which are placed as one and parted in one row.

Takes items, gives items that stand for several, and undoes that in blocks. A row of equal blanks is
cut at one setting, where the same blanks spread over gaps cost a cut or two each. Must not know
labels or units.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from benchleaf.cutting.blocks import ABOVE, BESIDE, Block, Item, Size, Way, group, single


@dataclass(frozen=True, slots=True)
class Bundle:
    """Items that one item stands for."""

    items: tuple[Item, ...]
    ways: Mapping[Way, tuple[int, Way]]
    """How the bundle lies, to how its items are joined (BESIDE or ABOVE) and lie."""


def tie(items: Sequence[Item], size: Size) -> tuple[list[Item], Mapping[int, Bundle]]:
    """Tie items of one size together, as many as go on a sheet in one row.

    Args:
        items: Each fits the sheet in all its ways.
        size: Of the sheet.

    Returns:
        Items, bundles among them; and the bundles by the index of the item that stands for them.
    """
    alike: dict[tuple[tuple[Way, ...], tuple[bool, bool]], list[Item]] = {}
    for item in items:
        alike.setdefault((item.ways, item.has_spare), []).append(item)
    tied: list[Item] = []
    bundles: dict[int, Bundle] = {}
    for own in alike.values():
        for part in _split(own, size):
            bundle = Bundle(tuple(part), _ways(part, size))
            if len(part) == 1:
                tied.append(part[0])
                continue
            first = part[0]
            area = first.area * len(part)
            bundles[first.index] = bundle
            tied.append(Item(first.index, tuple(bundle.ways), area, first.has_spare))
    return tied, bundles


def _split(items: list[Item], size: Size) -> Iterator[list[Item]]:
    """Parts of equal size, or nearly, each of which goes on a sheet in one row."""
    most = max(max(size[0] // way.wide, size[1] // way.high) for way in items[0].ways)
    parts = -(-len(items) // most)
    for part in range(parts):
        yield items[len(items) * part // parts : len(items) * (part + 1) // parts]


def _ways(items: Sequence[Item], size: Size) -> dict[Way, tuple[int, Way]]:
    ways: dict[Way, tuple[int, Way]] = {}
    for way in items[0].ways:
        for join, wide, high in (
            (BESIDE, way.wide * len(items), way.high),
            (ABOVE, way.wide, way.high * len(items)),
        ):
            if wide <= size[0] and high <= size[1]:
                ways.setdefault(Way(wide, high, way.is_turned), (join, way))
    return ways


def untie(block: Block, bundles: Mapping[int, Bundle]) -> Block:
    """Put the items of bundles in their places."""
    if block.item is not None:
        bundle = bundles.get(block.item.index)
        if bundle is None:
            return block
        join, way = bundle.ways[Way(block.wide, block.high, block.is_turned)]
        return group(join, [single(item, way) for item in bundle.items])
    inner: list[Block] = []
    for held in block.inner:
        loose = untie(held, bundles)
        # A row within a row is cut like one row.
        inner += loose.inner if loose.join == block.join else [loose]
    return group(block.join, inner)
