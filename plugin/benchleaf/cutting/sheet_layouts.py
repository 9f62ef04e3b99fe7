"""Layouts of sheets: blanks of one sheet stock in, exact layouts with their trees of cuts out.

Takes blanks that fit and their stock, gives `SheetLayout`s. Reckons in whole steps inside. Must not
know parts or joints.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from benchleaf.cutting.blocks import Item, Way
from benchleaf.cutting.drafts import Bed
from benchleaf.cutting.fitting import ways_to_lie
from benchleaf.cutting.grid import Grid, common_grid
from benchleaf.cutting.handling import MOST_AREA_MM2, MOST_LENGTH_MM, MOST_WIDTH_MM
from benchleaf.cutting.parting import Draft
from benchleaf.cutting.records import Blank, CutNode, Rectangle, SheetLayout
from benchleaf.cutting.sheet_choosing import lay_out_sheets
from benchleaf.reading.plan import Stock


def sheet_layouts(
    blanks: Sequence[Blank], stock: Stock, kerf_mm: Fraction
) -> tuple[tuple[SheetLayout, ...], int]:
    """Lay blanks out on sheets.

    Args:
        blanks: At least one; each fits the stock.
        stock: A sheet.
        kerf_mm: Width of every cut.

    Returns:
        Layouts, fullest first; and the fewest sheets that any layout could need.
    """
    grid = _grid_of(blanks, stock, kerf_mm)
    bed = Bed(
        length=grid.count(max(stock.lengths_mm)),
        width=grid.count(stock.width_mm),
        trim_ends=grid.count(stock.trim_mm),
        trim_edges=grid.count(stock.trim_mm),
        kerf=grid.count(kerf_mm),
        handy_area=floor(MOST_AREA_MM2 / grid.step_mm**2),
        handy_size=(floor(MOST_LENGTH_MM / grid.step_mm), floor(MOST_WIDTH_MM / grid.step_mm)),
    )
    items = [_item(index, blank, stock, (grid, bed.kerf)) for index, blank in enumerate(blanks)]
    drafts, bound = lay_out_sheets(items, bed)
    clerk = _Clerk(stock, kerf_mm, grid, _name_pieces(drafts, blanks))
    layouts = tuple(clerk.write(draft, number) for number, draft in enumerate(drafts, start=1))
    return layouts, bound


def _grid_of(blanks: Sequence[Blank], stock: Stock, kerf_mm: Fraction) -> Grid:
    sizes = {size for blank in blanks for size in (blank.length_mm, blank.width_mm)}
    sizes |= {*stock.lengths_mm, stock.width_mm, stock.trim_mm, kerf_mm}
    return common_grid(sorted(sizes))


def _item(index: int, blank: Blank, stock: Stock, scale: tuple[Grid, int]) -> Item:
    grid, kerf = scale
    ways = tuple(
        Way(grid.count(wide) + kerf, grid.count(high) + kerf, is_turned)
        for wide, high, is_turned in ways_to_lie(blank, stock)
    )
    spare = (blank.length_mm > blank.final_length_mm, blank.width_mm > blank.final_width_mm)
    return Item(index, ways, ways[0].wide * ways[0].high, spare)


def _name_pieces(drafts: Sequence[Draft], blanks: Sequence[Blank]) -> dict[Draft, str]:
    """Label the pieces: blanks of one size in their order, sheet by sheet."""
    pieces = [piece for draft in drafts for piece in _kept(draft)]
    waiting: dict[tuple[object, ...], list[int]] = {}
    for item in sorted((item for _, item in pieces), key=lambda item: item.index, reverse=True):
        waiting.setdefault((item.ways, item.has_spare), []).append(item.index)
    return {piece: blanks[waiting[item.ways, item.has_spare].pop()].label for piece, item in pieces}


def _kept(draft: Draft) -> list[tuple[Draft, Item]]:
    kept = [(piece, piece.item) for piece in draft.walk() if piece.item is not None]
    return sorted(kept, key=lambda pair: (pair[0].y, pair[0].x))


@dataclass(frozen=True, slots=True)
class _Clerk:
    """Writes drafts down exactly."""

    stock: Stock
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
            length_mm=max(self.stock.lengths_mm),
            width_mm=self.stock.width_mm,
            kerf_mm=self.kerf_mm,
            trim_mm=self.stock.trim_mm,
            tree=self.node(draft),
            placed=tuple(sorted(placed, key=lambda one: one[0])),
            offcuts=self.offcuts(draft),
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
        trim, long_mm = self.stock.trim_mm, max(self.stock.lengths_mm)
        inside = min(
            min(area.x + area.wide, long_mm - trim) - max(area.x, trim),
            min(area.y + area.high, self.stock.width_mm - trim) - max(area.y, trim),
        )
        return inside > 0 and inside >= self.kerf_mm
