"""What stock is taken, how good that is, and which offcuts are worth storing.

Takes a `SoundPlan`; gives the sections of the cutting page about them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from string import ascii_lowercase

from benchleaf.buying.stock import count_taken
from benchleaf.cutting.records import LengthLayout, Measure, Proof, SheetLayout
from benchleaf.reading.plan import Stock, StockKind
from benchleaf.sequencing.saw_words import WORTH_KEEPING_MM
from benchleaf.site.records import Section
from benchleaf.site.show import Show, show_count
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table

Layout = SheetLayout | LengthLayout


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenView:
    """Context of `taken.html`."""

    table: Table
    proofs: tuple[str, ...]
    """One sentence for each line of stock."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutsView:
    """Context of `offcuts.html`."""

    table: Table


def view_taken(sound: SoundPlan) -> Section:
    """Make the section of what is taken, with what is proved about it."""
    proofs = {proof.stock: proof for proof in sound.cut_plan.proofs}
    view = TakenView(
        table=_list_taken(sound),
        proofs=tuple(
            say_proof(proofs[stock.name], stock, sound.show)
            for stock in sound.cut_plan.stock
            if stock.name in proofs
        ),
    )
    return Section(heading="Stock taken", anchor="taken", template="taken.html", view=view)


def view_offcuts(sound: SoundPlan) -> Section | None:
    """Make the section of offcuts to store; None where there are none."""
    rows = tuple(
        row
        for layout in sound.layouts
        for row in _list_offcuts(sound, layout)
    )
    if not rows:
        return None
    columns = (
        Column("Stored", "tick"),
        Column("Write on it", "mark"),
        Column("Stock"),
        Column("Along the stock", "number"),
        Column("Across it", "number"),
    )
    caption = (
        f"Offcuts, in {sound.show.unit_word}. Along the stock: along the long side of a sheet, "
        "as the rack of a plan has it."
    )
    view = OffcutsView(table=Table(caption=caption, columns=columns, rows=rows))
    return Section(heading="Offcuts to store", anchor="offcuts", template="offcuts.html", view=view)


def _list_taken(sound: SoundPlan) -> Table:
    rows = tuple(
        (
            Cell(str(count)),
            Cell(stock.name),
            Cell(_size(sound, stock, (length, width))),
            Cell("the rack" if in_rack else "the yard"),
        )
        for stock in sound.cut_plan.stock
        for in_rack, length, width, count in count_taken(sound.cut_plan, stock)
    )
    columns = (Column("Qty", "number"), Column("Stock"), Column("Size", "number"), Column("From"))
    return Table(caption=f"Stock, in {sound.show.unit_word}", columns=columns, rows=rows)


def _size(sound: SoundPlan, stock: Stock, size: tuple[Fraction, Fraction]) -> str:
    if stock.kind is StockKind.SHEET:
        return sound.show.size(*sorted(size))
    return sound.show.length(size[0])


def say_proof(proof: Proof, stock: Stock, show: Show) -> str:
    """Say how much of a stock is bought, and whether any layout could need less."""
    used, least = (_amount(one, proof, stock, show) for one in (proof.used, proof.least))
    if not proof.used:
        return f"{stock.name}: nothing is bought."
    if proof.is_proved:
        fewer = "fewer" if proof.measure is Measure.PIECES else "less"
        return f"{stock.name}: {used}. Proved: no layout needs {fewer}."
    return (
        f"{stock.name}: {used}. No layout can do with less than {least}; whether any comes nearer "
        f"to that is not known (a gap of {_percent(proof.gap)})."
    )


def _amount(amount: Fraction, proof: Proof, stock: Stock, show: Show) -> str:
    if proof.measure is Measure.PIECES:
        return show_count(int(amount), stock.kind.value)
    if proof.measure is Measure.PRICE:
        return f"{float(amount):.2f} in all"
    if stock.kind is StockKind.SHEET:
        return show.area(amount)
    return show.with_unit(amount)


def _percent(share: Fraction) -> str:
    return f"{float(share) * 100:.1f} %"


def _list_offcuts(sound: SoundPlan, layout: Layout) -> list[tuple[Cell, ...]]:
    """The offcuts of a sheet, board or rod that are worth storing, each with a name."""
    if isinstance(layout, SheetLayout):
        sizes = [(spot.wide, spot.high) for spot in layout.offcuts]
        kept = [size for size in sizes if min(size) >= WORTH_KEEPING_MM]
    else:
        stock = next(one for one in sound.cut_plan.stock if one.name == layout.stock)
        is_long = layout.offcut_mm >= WORTH_KEEPING_MM
        kept = [(layout.offcut_mm, stock.width_mm)] if is_long else []
    show = sound.show
    return [
        (
            Cell(""),
            Cell(f"{layout.stock} {layout.number}{letter}"),
            Cell(layout.stock),
            Cell(show.length(size[0])),
            Cell(show.length(size[1])),
        )
        for letter, size in zip(ascii_lowercase, kept, strict=False)
    ]
