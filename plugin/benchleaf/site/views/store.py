"""What the store cuts, so that every piece is hauled: a list to hand over the counter.

Takes a `SoundPlan`; gives a section of the cutting page.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.haul_findings import show_weight
from benchleaf.cutting.hauling import Haul, haul_of, hauled_pieces, kg_per_mm2
from benchleaf.cutting.records import CutDirection, Rectangle, SheetLayout
from benchleaf.cutting.trees import FAR, NEAR, NamedCut, name_cuts
from benchleaf.site.records import Section
from benchleaf.site.show import show_count, show_list
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreView:
    """Context of `store.html`."""

    haul: str
    """Largest and heaviest piece that is hauled: `of up to 48 × 60 in and 50 lb`."""
    table: Table | None
    """The store's cuts; None where every sheet fits as it is."""
    loaded: tuple[str, ...]
    """For each sheet, the pieces to load."""


def view_store(sound: SoundPlan) -> Section | None:
    """Make the section of the store's cuts; None where whole sheets are hauled."""
    cut_plan = sound.cut_plan
    has_limit = cut_plan.haul_mm is not None or cut_plan.haul_kg is not None
    bought = [sheet for sheet in cut_plan.sheets if not sheet.is_offcut]
    if not has_limit or not bought:
        return None
    rows = tuple(row for sheet in bought for row in _list_cuts(sound, sheet))
    view = StoreView(
        haul=_say_limits(sound),
        table=_table(sound, rows) if rows else None,
        loaded=tuple(_say_loaded(sound, sheet) for sheet in bought),
    )
    return Section(heading="At the store", anchor="store", template="store.html", view=view)


def _table(sound: SoundPlan, rows: tuple[tuple[Cell, ...], ...]) -> Table:
    columns = (
        Column("Done", "tick"),
        Column("Sheet", "mark"),
        Column("Cut", "number"),
        Column("Of", "mark"),
        Column("Direction"),
        Column("Saw at", "number"),
        Column("From"),
        Column("Too"),
    )
    caption = (
        f"The store’s cuts, in order, in {sound.show.unit_word}. Saw at: from the side named to "
        "the blade; the kerf lies beyond. Too: why the piece is cut."
    )
    return Table(caption=caption, columns=columns, rows=rows)


def _say_limits(sound: SoundPlan) -> str:
    haul_mm, haul_kg = sound.cut_plan.haul_mm, sound.cut_plan.haul_kg
    size = [sound.show.size_with_unit(*sorted(haul_mm))] if haul_mm else []
    weight = [show_weight(haul_kg, sound.plan.units)] if haul_kg is not None else []
    return show_list([*size, *weight])


def _haul_of(sound: SoundPlan, sheet: SheetLayout) -> Haul:
    cut_plan, stock = sound.cut_plan, sound.plan.stock[sheet.stock]
    return haul_of(stock, cut_plan.haul_mm, cut_plan.haul_kg) or Haul()


def _weigh(sound: SoundPlan, sheet: SheetLayout, area: Rectangle) -> str:
    """What a piece weighs; nothing where that is not known."""
    density = kg_per_mm2(sound.plan.stock[sheet.stock])
    if density is None:
        return ""
    return show_weight(area.wide * area.high * density, sound.plan.units)


def _list_cuts(sound: SoundPlan, sheet: SheetLayout) -> Iterator[tuple[Cell, ...]]:
    named = [cut for cut in name_cuts(sheet.tree) if cut.node.number in sheet.store]
    for cut in sorted(named, key=lambda cut: cut.node.number):
        yield _list_cut(sound, sheet, cut)


def _list_cut(sound: SoundPlan, sheet: SheetLayout, cut: NamedCut) -> tuple[Cell, ...]:
    node, show = cut.node, sound.show
    direction = node.direction or CutDirection.ACROSS
    is_along = direction is CutDirection.ALONG
    extent = node.area.high if is_along else node.area.wide
    squares = cut.first is None
    # A sliver is measured from the other side, where a rule has something to lie on.
    at = extent - node.at_mm - sheet.kerf_mm if squares else node.at_mm
    return (
        Cell(""),
        Cell(f"{sheet.stock} {sheet.number}"),
        Cell(str(node.number)),
        Cell(cut.source or "the sheet", note=show.size(*_long_first(node.area))),
        Cell("along the sheet" if is_along else "across the sheet"),
        Cell(show.length(at)),
        Cell((FAR if squares else NEAR)[direction]),
        Cell(_say_why(sound, sheet, node.area)),
    )


def _say_why(sound: SoundPlan, sheet: SheetLayout, area: Rectangle) -> str:
    haul = _haul_of(sound, sheet)
    large = [] if haul.holds_size(area.wide, area.high) else ["large"]
    weight = _weigh(sound, sheet, area)
    heavy = [] if haul.holds_weight(area.wide, area.high) else [f"heavy: {weight}"]
    return show_list([*large, *heavy])


def _long_first(area: Rectangle) -> tuple[Fraction, Fraction]:
    return max(area.high, area.wide), min(area.high, area.wide)


def _say_loaded(sound: SoundPlan, sheet: SheetLayout) -> str:
    pieces = hauled_pieces(sheet, _haul_of(sound, sheet))
    sizes = [_say_piece(sound, sheet, piece.area) for piece in pieces]
    counted = show_count(len(pieces), "piece")
    return f"{sheet.stock} {sheet.number}: {counted}, {show_list(sizes)}."


def _say_piece(sound: SoundPlan, sheet: SheetLayout, area: Rectangle) -> str:
    size, weight = sound.show.size_with_unit(*_long_first(area)), _weigh(sound, sheet, area)
    return f"{size} ({weight})" if weight else size
