"""The cut plan as single saw cuts: each with its machine, its setting and what it parts.

Takes the cut plan's trees (boards and rods are made into trees here), gives SawCuts. Must not know
joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final

from benchleaf.cutting.boardtrees import SHORTEST_RIP_MM, board_tree
from benchleaf.cutting.handling import is_handy
from benchleaf.cutting.records import (
    CutDirection,
    CutNode,
    LengthLayout,
    SheetLayout,
)
from benchleaf.cutting.trees import NamedCut, labels_in, name_cuts
from benchleaf.reading.plan import Stock, StockKind
from benchleaf.sequencing.records import CutMade
from benchleaf.sequencing.saw_limits import (
    CrossSaw,
    choose_cross_saw,
    widest_mitre_mm,
    widest_rip_mm,
)
from benchleaf.sequencing.workroom import Workroom, mass_of_mm3
from benchleaf.shops import Shop
from benchleaf.shops.records import TableSaw

# IEC 62841-3-9 and US manuals, as in the rules for the mitre saw: a hand stays 150 mm away.
SHORTEST_ON_MITRE_MM: Final = 150
# chosen: a piece that is wider than one and a half times the edge on the fence turns away from it.
WIDEST_FOR_ITS_LENGTH: Final = Fraction(3, 2)


class Machine(StrEnum):
    """Which kind of operation makes a cut."""

    BREAK_DOWN = "break-down"
    RIP = "rip"
    CROSSCUT = "crosscut"
    CUT_BOARDS = "cut-boards"
    CUT_PANELS = "cut-panels"
    CUT_RODS = "cut-rods"


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """What lies on one side of a cut."""

    name: str
    """Label of a blank, or the name of a piece to be cut further; empty for the whole sheet, board
    or rod once it has only been trimmed, and for waste."""
    is_blank: bool
    is_waste: bool
    extent_mm: Fraction
    """Across the cut."""
    holds: tuple[str, ...]
    """Labels of the blanks that it is or is cut into, from its start."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCut:
    """One cut of the cut plan."""

    made: CutMade
    parent: CutMade | None
    machine: Machine
    stock: Stock
    holder: str
    """The sheet, board or rod it is cut from, in words: `ply sheet 2`."""
    source: str
    """Name of the piece that is cut; empty for the whole sheet, board or rod."""
    direction: CutDirection
    length_mm: Fraction
    """Of the cut."""
    across_mm: Fraction
    """Of the piece, square to the cut."""
    at_mm: Fraction
    """From the piece's near edge or left end."""
    trimmed_mm: Fraction
    """What is taken off, kerf counted in, where that is waste; else 0."""
    first: Side | None
    second: Side | None

    @property
    def only_squares(self) -> bool:
        """Tell whether the cut only takes waste off the near side of what goes on."""
        return self.first is None or self.first.is_waste

    @property
    def setting_mm(self) -> Fraction:
        """Fence or stop from the blade: the width of what it measures."""
        return self.kept.extent_mm if self.kept else self.at_mm

    @property
    def kept(self) -> Side | None:
        """What the fence or stop measures: the near side, or the far one where that is all."""
        return self.second if self.only_squares else self.first

    @property
    def rest(self) -> Side | None:
        """What lies on the other side of the blade."""
        return self.first if self.only_squares else self.second

    @property
    def size_mm(self) -> tuple[Fraction, Fraction]:
        """The piece that is cut: its longer side and its shorter one."""
        return (max(self.length_mm, self.across_mm), min(self.length_mm, self.across_mm))

    @property
    def freed(self) -> tuple[str, ...]:
        """Labels of the blanks that are free once it is made."""
        return tuple(side.name for side in (self.first, self.second) if side and side.is_blank)


def find_cuts(room: Workroom) -> tuple[SawCut, ...]:
    """All saw cuts of the cut plan, stock by stock, each after the cut that made its piece."""
    cuts: list[SawCut] = []
    for sheet in room.cut_plan.sheets:
        cuts += _sheet_cuts(sheet, room)
    for length in room.cut_plan.lengths:
        cuts += _length_cuts(length, room)
    return tuple(_share_stops(cuts, room.shop))


def name_holder(stock: Stock, number: int, room: Workroom) -> str:
    """A sheet, board or rod in words: `ply sheet 2`, or `the ply sheet` where there is but one."""
    layouts: Sequence[SheetLayout | LengthLayout] = (*room.cut_plan.sheets, *room.cut_plan.lengths)
    alone = sum(layout.stock == stock.name for layout in layouts) == 1
    noun = stock.name if stock.kind.value in stock.name.split() else f"{stock.name} {stock.kind}"
    return f"the {noun}" if alone else f"{noun} {number}"


def _sheet_cuts(sheet: SheetLayout, room: Workroom) -> list[SawCut]:
    stock = room.stock_named(sheet.stock)
    cuts = list(_cuts_of(sheet.tree, _Place(stock, sheet.number, room)))
    return _spread_break_down(cuts)


def _length_cuts(layout: LengthLayout, room: Workroom) -> list[SawCut]:
    stock = room.stock_named(layout.stock)
    tree = board_tree(layout, stock.width_mm)
    return list(_cuts_of(tree, _Place(stock, layout.number, room)))


@dataclass(frozen=True, slots=True)
class _Place:
    stock: Stock
    number: int
    room: Workroom


def _cuts_of(tree: CutNode, place: _Place) -> Iterator[SawCut]:
    made: dict[int, CutMade] = {}
    for named in name_cuts(tree):
        node = named.node
        made[node.number] = CutMade(
            stock=place.stock.name,
            sheet=place.number,
            cut=node.number,
            after=named.parent,
        )
        cut = _saw_cut(named, place, (made[node.number], made.get(named.parent)))
        yield replace(cut, machine=_choose_machine(cut, place.room))


def _saw_cut(named: NamedCut, place: _Place, made: tuple[CutMade, CutMade | None]) -> SawCut:
    node = named.node
    along_x = node.direction is CutDirection.ALONG
    length, across = (
        (node.area.wide, node.area.high) if along_x else (node.area.high, node.area.wide)
    )
    first = _side(node.first, named.first, node)
    second = _side(node.second, named.second, node)
    waste = [side for side in (first, second) if side is None or side.is_waste]
    kept = [side.extent_mm for side in (first, second) if side and not side.is_waste]
    return SawCut(
        made=made[0],
        parent=made[1],
        machine=Machine.RIP,
        stock=place.stock,
        holder=name_holder(place.stock, place.number, place.room),
        source=named.source,
        direction=CutDirection.ALONG if along_x else CutDirection.ACROSS,
        length_mm=length,
        across_mm=across,
        at_mm=node.at_mm,
        trimmed_mm=across - kept[0] if waste and kept else Fraction(0),
        first=first,
        second=second,
    )


def _side(child: CutNode | None, name: str | None, node: CutNode) -> Side | None:
    if child is None:
        return None
    extent = child.area.high if node.direction is CutDirection.ALONG else child.area.wide
    return Side(
        name=name or "",
        is_blank=bool(child.blank),
        is_waste=name is None,
        extent_mm=extent,
        holds=tuple(labels_in(child)),
    )


_BY_SAW: Final = {
    CrossSaw.SLED: Machine.CROSSCUT,
    CrossSaw.MITRE: Machine.CUT_BOARDS,
    CrossSaw.CIRCULAR: Machine.CUT_PANELS,
}


def _choose_machine(cut: SawCut, room: Workroom) -> Machine:
    if cut.stock.kind is StockKind.ROD:
        return Machine.CUT_RODS
    if cut.stock.kind is StockKind.BOARD:
        if cut.direction is CutDirection.ALONG:
            return Machine.RIP
        # All of a stock on one saw, whatever is left of a board by then.
        longest = max(cut.stock.lengths_mm)
        return _cross_machine(cut, longest, room.shop)
    return _machine_for_sheet(cut, room)


def _cross_machine(cut: SawCut, long_mm: Fraction, shop: Shop) -> Machine:
    return _BY_SAW[choose_cross_saw(long_mm, cut.length_mm, cut.stock.thickness_mm, shop=shop)]


def _machine_for_sheet(cut: SawCut, room: Workroom) -> Machine:
    saw, shop = room.shop.table_saw, room.shop
    if why_broken_down(cut, room):
        return Machine.BREAK_DOWN
    if saw is None:
        machine = _cross_machine(cut, cut.across_mm, shop)
        # On a mitre saw a piece is held at both sides of the blade.
        is_held = cut.setting_mm >= SHORTEST_ON_MITRE_MM
        return machine if is_held else Machine.CUT_PANELS
    rides = cut.across_mm <= WIDEST_FOR_ITS_LENGTH * cut.length_mm
    if rides and cut.length_mm >= SHORTEST_RIP_MM:
        return Machine.RIP if cut.setting_mm <= widest_rip_mm(shop) else Machine.BREAK_DOWN
    if cut.length_mm > max(saw.sled_deep_mm, widest_mitre_mm(shop)):
        return Machine.BREAK_DOWN
    return _cross_machine(cut, cut.across_mm, shop)


def why_broken_down(cut: SawCut, room: Workroom) -> str:
    """Why a piece of sheet is not brought to the table saw: `size`, `mass`; or empty."""
    saw = room.shop.table_saw or TableSaw()
    if not is_handy(cut.length_mm, cut.across_mm, saw.panel_mm):
        return "size"
    mass = mass_of_cut(cut, room)
    return "mass" if mass is not None and mass > saw.carries_kg else ""


def mass_of_cut(cut: SawCut, room: Workroom) -> float | None:
    """Mass of the piece that is cut, kg; None where its material is not known."""
    material = room.material_of(cut.stock)
    if material is None:
        return None
    return mass_of_mm3(cut.length_mm * cut.across_mm * cut.stock.thickness_mm, material)


def _share_stops(cuts: list[SawCut], shop: Shop) -> list[SawCut]:
    """Give what is cut to one length to one saw: the mitre saw, where some must go there."""
    on_mitre = {_stop_of(cut) for cut in cuts if cut.machine is Machine.CUT_BOARDS}
    widest = widest_mitre_mm(shop)
    return [
        replace(cut, machine=Machine.CUT_BOARDS)
        if cut.machine is Machine.CROSSCUT
        and _stop_of(cut) in on_mitre
        and _goes_on_mitre(cut, widest)
        else cut
        for cut in cuts
    ]


def _stop_of(cut: SawCut) -> tuple[Fraction, str]:
    return (cut.setting_mm, cut.stock.name)


def _goes_on_mitre(cut: SawCut, widest_mm: Fraction) -> bool:
    """Tell whether a piece can be held on the mitre saw, by its width and on both sides."""
    return cut.length_mm <= widest_mm and cut.setting_mm >= SHORTEST_ON_MITRE_MM


def _spread_break_down(cuts: list[SawCut]) -> list[SawCut]:
    """Give every cut that comes before a broken-down one to the same saw."""
    by_made = {cut.made: cut for cut in cuts}
    large = {cut.made for cut in cuts if cut.machine is Machine.BREAK_DOWN}
    for made in tuple(large):
        parent = by_made[made].parent
        while parent is not None:
            large.add(parent)
            parent = by_made[parent].parent
    return [replace(cut, machine=Machine.BREAK_DOWN) if cut.made in large else cut for cut in cuts]
