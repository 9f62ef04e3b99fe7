"""Stock to buy: the sheets, boards and rods that the cut plan lays out, and what the rack gives.

Takes the plan and the CutPlan; gives purchases. What is bought is what was laid out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from benchleaf.buying.records import Pack, Purchase, Shelf
from benchleaf.checking.records import Quantity
from benchleaf.cutting.records import CutPlan, LengthLayout, SheetLayout
from benchleaf.lengths import UnitName, format_length
from benchleaf.reading.plan import Plan, Stock, StockKind


def list_stock(plan: Plan, cut_plan: CutPlan) -> Iterator[Purchase]:
    """One line for each size of each stock, what is bought before what is there."""
    unit: UnitName = plan.units.value
    for stock in cut_plan.stock:
        for is_there, length_mm, width_mm, count in count_taken(cut_plan, stock):
            size = _size(stock, (length_mm, width_mm), unit)
            what = f"{stock.kind} of {stock.material}"
            yield Purchase(
                shelf=Shelf.STOCK,
                name=f"{what}, {size}",
                what=what,
                size=size,
                addends=(_pieces(f"laid out from {stock.name}", count),),
                needed=_pieces("", count),
                packs=(Pack(count=count, holds=None),),
                note=_note(cut_plan, stock),
                is_there=is_there,
            )


def count_taken(cut_plan: CutPlan, stock: Stock) -> list[tuple[bool, Fraction, Fraction, int]]:
    """The sizes of a stock that are taken: (from the rack, length, width, how many)."""
    layouts: tuple[SheetLayout | LengthLayout, ...] = (*cut_plan.sheets, *cut_plan.lengths)
    sizes = Counter(
        (
            layout.is_offcut,
            layout.length_mm,
            layout.width_mm if isinstance(layout, SheetLayout) else stock.width_mm,
        )
        for layout in layouts
        if layout.stock == stock.name
    )
    ordered = sorted(sizes.items(), key=lambda pair: (pair[0][0], -pair[0][1] * pair[0][2]))
    return [(*size, count) for size, count in ordered]


def _size(stock: Stock, size_mm: tuple[Fraction, Fraction], unit: UnitName) -> str:
    thickness = format_length(stock.thickness_mm, unit)
    length, width = (format_length(side, unit) for side in size_mm)
    if stock.kind is StockKind.ROD:
        return f"{thickness} x {length} {unit}"
    if stock.kind is StockKind.BOARD:
        return f"{thickness} x {width} x {length} {unit}"
    low, high = (format_length(side, unit) for side in sorted(size_mm))
    return f"{low} x {high} x {thickness} {unit}"


def _note(cut_plan: CutPlan, stock: Stock) -> str:
    """The stock's name; of a rod that is cut up for joints, the pegs that it gives."""
    parts = [b.part for b in cut_plan.blanks if b.is_hardware and b.stock == stock.name]
    counts = Counter(part.partition(" ") for part in parts)
    pegs = [
        f"{count} {kind if count == 1 else kind + 's'} {size}"
        for (kind, _, size), count in counts.items()
    ]
    return f"{stock.name}; gives {', '.join(pegs)}" if pegs else stock.name


def _pieces(name: str, count: int) -> Quantity:
    return Quantity(symbol="", name=name, value=Fraction(count), unit="")
