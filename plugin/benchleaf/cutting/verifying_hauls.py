"""What the store cuts of one sheet held against the car and who lifts: measured, weighed.

Takes a layout, its stock and the limits, gives what is wrong in words. Shares no code with the
planner.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.cutting.records import CutNode, CutPlan, Rectangle, SheetLayout
from benchleaf.handbook.materials import find_material
from benchleaf.reading.plan import Stock


def verify_hauls(cut_plan: CutPlan) -> Iterator[str]:
    """Say which pieces are loaded too large or too heavy, and which cuts are made in vain."""
    stock = {one.name: one for one in cut_plan.stock}
    part_of = {blank.label: f"parts.{blank.part}" for blank in cut_plan.blanks}
    # Too large, or too heavy, even by itself.
    codes = ("C307", "C308")
    found = {finding.subject for finding in cut_plan.findings if finding.code in codes}
    excused = {label for label, path in part_of.items() if path in found}
    for layout in cut_plan.sheets:
        if layout.stock in stock:
            for problem in _verify_sheet(layout, stock[layout.stock], cut_plan, excused):
                yield f"{layout.stock} {layout.number}: {problem}"


def _verify_sheet(
    layout: SheetLayout, stock: Stock, cut_plan: CutPlan, excused: set[str]
) -> Iterator[str]:
    if layout.is_offcut:
        if layout.store:
            yield "it is in the rack, and the store is to cut it"
        return
    waiting, made = [layout.tree], []
    while waiting:
        node = waiting.pop()
        fits = _can_be_hauled(node.area, stock, cut_plan)
        if node.direction is not None and node.number in layout.store:
            made.append(node.number)
            if fits:
                yield f"the store makes cut {node.number} of a piece that can be hauled"
            waiting += [child for child in (node.first, node.second) if child is not None]
            continue
        blanks = _blanks_in(node)
        if blanks and not fits and (node.direction is not None or not blanks <= excused):
            yield f"{node.area.wide} x {node.area.high} mm is loaded, too large or too heavy"
    if sorted(made) != sorted(layout.store):
        yield "the store is to make cuts of pieces that are not free there"


def _can_be_hauled(area: Rectangle, stock: Stock, cut_plan: CutPlan) -> bool:
    sides = sorted((area.wide, area.high))
    if cut_plan.haul_mm is not None:
        most = sorted(cut_plan.haul_mm)
        if sides[0] > most[0] or sides[1] > most[1]:
            return False
    material = find_material(stock.material)
    if cut_plan.haul_kg is None or material is None:
        return True
    cubic_metres = sides[0] / 1000 * (sides[1] / 1000) * (Fraction(stock.thickness_mm) / 1000)
    return cubic_metres * material.density_kg_m3 <= cut_plan.haul_kg


def _blanks_in(node: CutNode) -> set[str]:
    waiting, blanks = [node], set()
    while waiting:
        one = waiting.pop()
        if one.blank:
            blanks.add(one.blank)
        waiting += [child for child in (one.first, one.second) if child is not None]
    return blanks
