"""What the store cuts, so that every piece fits the car: a list to hand over the counter.

Takes a `SoundPlan`; gives a section of the cutting page.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.hauling import Haul, hauled_pieces, store_cuts
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
    """Largest piece that fits."""
    table: Table | None
    """The store's cuts; None where every sheet fits as it is."""
    loaded: tuple[str, ...]
    """For each sheet, the pieces to load."""


def view_store(sound: SoundPlan) -> Section | None:
    """Make the section of the store's cuts; None where whole sheets are hauled."""
    haul_mm = sound.cut_plan.haul_mm
    bought = [sheet for sheet in sound.cut_plan.sheets if not sheet.is_offcut]
    if haul_mm is None or not bought:
        return None
    rows = tuple(row for sheet in bought for row in _list_cuts(sound, sheet, haul_mm))
    view = StoreView(
        haul=sound.show.size_with_unit(*sorted(haul_mm)),
        table=_table(sound, rows) if rows else None,
        loaded=tuple(_say_loaded(sound, sheet, haul_mm) for sheet in bought),
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
    )
    caption = (
        f"The store’s cuts, in order, in {sound.show.unit_word}. Saw at: from the side named to "
        "the blade; the kerf lies beyond."
    )
    return Table(caption=caption, columns=columns, rows=rows)


def _list_cuts(sound: SoundPlan, sheet: SheetLayout, haul_mm: Haul) -> Iterator[tuple[Cell, ...]]:
    numbers = {node.number for node in store_cuts(sheet.tree, haul_mm)}
    named = [cut for cut in name_cuts(sheet.tree) if cut.node.number in numbers]
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
    )


def _long_first(area: Rectangle) -> tuple[Fraction, Fraction]:
    return max(area.high, area.wide), min(area.high, area.wide)


def _say_loaded(sound: SoundPlan, sheet: SheetLayout, haul_mm: Haul) -> str:
    pieces = hauled_pieces(sheet, haul_mm)
    sizes = [sound.show.size(*_long_first(piece.area)) for piece in pieces]
    counted = show_count(len(pieces), "piece")
    return f"{sheet.stock} {sheet.number}: {counted}, {show_list(sizes)} {sound.show.unit}."
