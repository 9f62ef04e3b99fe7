"""What the store cuts, so that everything fits the car and can be lifted: each tree's first cuts.

Takes a tree and the largest and heaviest piece that can be hauled, gives the cuts to be made before
that, and the pieces that are loaded. Must not know layouts' making.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.records import CutNode, Rectangle, SheetLayout
from benchleaf.cutting.trees import holds_blank
from benchleaf.handbook.materials import find_material
from benchleaf.reading.plan import Stock

Size = tuple[Fraction, Fraction]
"""Both sides of the largest piece, mm, in either order."""
_MM3_PER_M3 = 10**9


@dataclass(frozen=True, slots=True, kw_only=True)
class Haul:
    """The most that can be hauled of one stock: by size, and by weight, which is by area."""

    size_mm: Size | None = None
    """Both sides of the largest piece; None for any."""
    area_mm2: Fraction | None = None
    """Of the heaviest piece that one person lifts; None for any."""

    def holds_size(self, wide_mm: Fraction, high_mm: Fraction) -> bool:
        """Tell whether a piece is small enough, either way round."""
        if self.size_mm is None:
            return True
        long, short = max(wide_mm, high_mm), min(wide_mm, high_mm)
        return long <= max(self.size_mm) and short <= min(self.size_mm)

    def holds_weight(self, wide_mm: Fraction, high_mm: Fraction) -> bool:
        """Tell whether a piece is light enough."""
        return self.area_mm2 is None or wide_mm * high_mm <= self.area_mm2

    def holds(self, area: Rectangle) -> bool:
        """Tell whether a piece can be hauled."""
        return self.holds_size(area.wide, area.high) and self.holds_weight(area.wide, area.high)


def haul_of(stock: Stock, size_mm: Size | None, mass_kg: Fraction | None) -> Haul | None:
    """The most that can be hauled of a stock; None for any.

    Args:
        stock: A sheet.
        size_mm: Both sides of the largest piece; None for any.
        mass_kg: Of the heaviest piece; None for any. Has no say where the density is not known.
    """
    density = kg_per_mm2(stock) if mass_kg is not None else None
    area = mass_kg / density if mass_kg is not None and density else None
    return None if size_mm is None and area is None else Haul(size_mm=size_mm, area_mm2=area)


def kg_per_mm2(stock: Stock) -> Fraction | None:
    """What a sheet weighs for its area, by the handbook; None where its density is not known."""
    material = find_material(stock.material)
    return stock.thickness_mm * material.density_kg_m3 / _MM3_PER_M3 if material else None


def store_cuts(tree: CutNode, haul: Haul) -> tuple[CutNode, ...]:
    """The cuts to be made before a sheet is hauled: no piece that fits is cut, none is left out."""
    return tuple(node for node in _walk(tree, haul) if _is_cut_there(node, haul))


def hauled_pieces(layout: SheetLayout, haul: Haul) -> tuple[CutNode, ...]:
    """The pieces that are loaded: those that hold blanks, and offcuts that fit."""
    pieces = (node for node in _walk(layout.tree, haul) if not _is_cut_there(node, haul))
    return tuple(
        node
        for node in pieces
        if holds_blank(node) or (node.area in layout.offcuts and haul.holds(node.area))
    )


def _walk(tree: CutNode, haul: Haul) -> Iterator[CutNode]:
    """The tree down to what is hauled."""
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        yield node
        if _is_cut_there(node, haul):
            waiting += [child for child in (node.second, node.first) if child is not None]


def _is_cut_there(node: CutNode, haul: Haul) -> bool:
    return node.direction is not None and holds_blank(node) and not haul.holds(node.area)
