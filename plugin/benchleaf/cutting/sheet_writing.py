"""Drafts written down exactly: pieces named, sizes in mm, offcuts listed.

Takes drafts in whole steps, gives `SheetLayout`s. Must not know how they were found.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.blocks import Item
from benchleaf.cutting.grid import Grid
from benchleaf.cutting.parting import Draft
from benchleaf.cutting.records import Blank, CutNode, Rectangle, SheetLayout
from benchleaf.reading.plan import Offer, Stock


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sheet taken, and the cuts worked out for it."""

    offer: Offer
    draft: Draft


def write_sheets(
    drawn: Sequence[Drawn], blanks: Sequence[Blank], stock: Stock, scale: tuple[Grid, Fraction]
) -> tuple[SheetLayout, ...]:
    """Write sheets down, numbered from 1.

    Args:
        drawn: In order.
        blanks: Those that the drafts' items number.
        stock: Of the sheets.
        scale: Steps that the drafts are reckoned in, and the kerf.
    """
    grid, kerf_mm = scale
    labels = _name_pieces([one.draft for one in drawn], blanks)
    return tuple(
        _Clerk(stock, one.offer, kerf_mm, grid, labels).write(one.draft, number)
        for number, one in enumerate(drawn, start=1)
    )


def _name_pieces(drafts: Sequence[Draft], blanks: Sequence[Blank]) -> dict[Draft, str]:
    """Label the pieces: blanks of one size in their order, sheet by sheet."""
    pieces = [piece for draft in drafts for piece in _kept(draft)]
    waiting: dict[tuple[object, ...], list[int]] = {}
    for item in sorted((item for _, item in pieces), key=lambda item: item.index, reverse=True):
        waiting.setdefault(_alike(item), []).append(item.index)
    return {piece: blanks[waiting[_alike(item)].pop()].label for piece, item in pieces}


def _alike(item: Item) -> tuple[object, ...]:
    """What items have in common that may stand for one another."""
    return (item.ways, item.has_spare, item.index if item.is_bound else None)


def _kept(draft: Draft) -> list[tuple[Draft, Item]]:
    kept = [(piece, piece.item) for piece in draft.walk() if piece.item is not None]
    return sorted(kept, key=lambda pair: (pair[0].y, pair[0].x))


@dataclass(frozen=True, slots=True)
class _Clerk:
    """Writes the draft of one sheet down exactly."""

    stock: Stock
    offer: Offer
    kerf_mm: Fraction
    grid: Grid
    labels: dict[Draft, str]

    def write(self, draft: Draft, number: int) -> SheetLayout:
        """Write one sheet down."""
        placed = [
            (self.labels[piece], self.rectangle(piece), piece.is_turned)
            for piece, _ in _kept(draft)
        ]
        return SheetLayout(
            stock=self.stock.name,
            number=number,
            length_mm=self.offer.length_mm,
            width_mm=self.offer.width_mm,
            kerf_mm=self.kerf_mm,
            trim_mm=self.stock.trim_mm,
            tree=self.node(draft),
            placed=tuple(sorted(placed, key=lambda one: one[0])),
            offcuts=self.offcuts(draft),
            is_offcut=self.offer.is_offcut,
        )

    def node(self, piece: Draft) -> CutNode:
        """Write a piece and what becomes of it."""
        return CutNode(
            area=self.rectangle(piece),
            blank=self.labels.get(piece, ""),
            is_turned=piece.is_turned,
            direction=piece.direction,
            at_mm=self.grid.length_mm(piece.at),
            number=piece.number,
            first=self.node(piece.first) if piece.first else None,
            second=self.node(piece.second) if piece.second else None,
        )

    def rectangle(self, piece: Draft) -> Rectangle:
        """Write a piece's place and size."""
        x, y, wide, high = (
            self.grid.length_mm(steps) for steps in (piece.x, piece.y, piece.wide, piece.high)
        )
        return Rectangle(x=x, y=y, wide=wide, high=high)

    def offcuts(self, draft: Draft) -> tuple[Rectangle, ...]:
        """What is left, largest first, but for trimmed edges and slivers."""
        areas = [self.rectangle(piece) for piece in draft.walk() if piece.is_left]
        kept = [area for area in areas if self._is_worth_naming(area)]
        return tuple(sorted(kept, key=lambda area: (-area.wide * area.high, area.y, area.x)))

    def _is_worth_naming(self, area: Rectangle) -> bool:
        """Tell whether a kerf and more of it lies within the sheet's trimmed edges, both ways."""
        trim = self.stock.trim_mm
        inside = min(
            min(area.x + area.wide, self.offer.length_mm - trim) - max(area.x, trim),
            min(area.y + area.high, self.offer.width_mm - trim) - max(area.y, trim),
        )
        return inside > 0 and inside >= self.kerf_mm
