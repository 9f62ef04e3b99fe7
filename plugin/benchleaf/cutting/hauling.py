"""What the store cuts, so that everything fits the car: the first cuts of each sheet's tree.

Takes a tree and the largest piece that can be hauled, gives the cuts to be made before that, and
the pieces that are loaded. Must not know layouts' making.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.cutting.records import CutNode, Rectangle, SheetLayout
from benchleaf.cutting.trees import holds_blank

Haul = tuple[Fraction, Fraction]
"""Both sides of the largest piece, mm, in either order."""


def fits_haul(area: Rectangle, haul_mm: Haul) -> bool:
    """Tell whether a piece can be hauled, either way round."""
    long, short = max(area.wide, area.high), min(area.wide, area.high)
    return long <= max(haul_mm) and short <= min(haul_mm)


def store_cuts(tree: CutNode, haul_mm: Haul) -> tuple[CutNode, ...]:
    """The cuts to be made before a sheet is hauled: no piece that fits is cut, none is left out."""
    return tuple(node for node in _walk(tree, haul_mm) if _is_cut_there(node, haul_mm))


def hauled_pieces(layout: SheetLayout, haul_mm: Haul) -> tuple[CutNode, ...]:
    """The pieces that are loaded: those that hold blanks, and offcuts that fit."""
    pieces = (node for node in _walk(layout.tree, haul_mm) if not _is_cut_there(node, haul_mm))
    return tuple(
        node
        for node in pieces
        if holds_blank(node) or (node.area in layout.offcuts and fits_haul(node.area, haul_mm))
    )


def _walk(tree: CutNode, haul_mm: Haul) -> Iterator[CutNode]:
    """The tree down to what is hauled."""
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        yield node
        if _is_cut_there(node, haul_mm):
            waiting += [child for child in (node.second, node.first) if child is not None]


def _is_cut_there(node: CutNode, haul_mm: Haul) -> bool:
    return node.direction is not None and holds_blank(node) and not fits_haul(node.area, haul_mm)
