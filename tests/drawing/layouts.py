"""Sheets cut by hand for the drawings' tests: rips first, then each strip crosscut."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from tests.pieces import box, build_piece

from benchleaf.cutting.records import (
    Blank,
    CutDirection,
    CutNode,
    CutPlan,
    LengthLayout,
    Rectangle,
    SheetLayout,
)
from benchleaf.reading.plan import Grain, Plan, Stock, StockKind, Units

INCH = Fraction(254, 10)


class _Sawyer:
    """Rips a sheet into strips and crosscuts each; numbers the cuts as they are made."""

    def __init__(self, kerf: Fraction) -> None:
        self.kerf = kerf
        self.number = 0
        self.placed: list[tuple[str, Rectangle, bool]] = []
        self.offcuts: list[Rectangle] = []
        self.strips: dict[str, list[tuple[str, Fraction]]] = {}

    def split(self, area: Rectangle, sizes: Sequence[tuple[str, Fraction]], along: bool) -> CutNode:
        """Cut one size after another off the low edge; the rest is left over."""
        if not sizes:
            self.offcuts.append(area)
            return self._leaf(area, "")
        label, size = sizes[0]
        whole = area.high if along else area.wide
        if size == whole:
            return self._end(area, label)
        self.number += 1
        number = self.number
        low, high = _parts(area, size, self.kerf, along)
        rest = self.split(high, sizes[1:], along) if whole - size > self.kerf else None
        return CutNode(
            area=area,
            blank="",
            is_turned=False,
            direction=CutDirection.ALONG if along else CutDirection.ACROSS,
            at_mm=size,
            number=number,
            first=self._end(low, label),
            second=rest,
        )

    def _end(self, area: Rectangle, label: str) -> CutNode:
        if label in self.strips:
            return self.split(area, self.strips[label], along=False)
        self.placed.append((label, area, False))
        return self._leaf(area, label)

    def _leaf(self, area: Rectangle, label: str) -> CutNode:
        return CutNode(
            area=area,
            blank=label,
            is_turned=False,
            direction=None,
            at_mm=Fraction(0),
            number=0,
            first=None,
            second=None,
        )


def _parts(
    area: Rectangle, size: Fraction, kerf: Fraction, along: bool
) -> tuple[Rectangle, Rectangle]:
    if along:
        return (
            Rectangle(x=area.x, y=area.y, wide=area.wide, high=size),
            Rectangle(
                x=area.x, y=area.y + size + kerf, wide=area.wide, high=area.high - size - kerf
            ),
        )
    return (
        Rectangle(x=area.x, y=area.y, wide=size, high=area.high),
        Rectangle(x=area.x + size + kerf, y=area.y, wide=area.wide - size - kerf, high=area.high),
    )


def sheet_of_strips(
    strips: Sequence[tuple[str, Sequence[str]]],
    *,
    length: Fraction = 96 * INCH,
    width: Fraction = 48 * INCH,
    kerf: Fraction = INCH / 8,
) -> tuple[SheetLayout, CutPlan]:
    """A sheet ripped into strips (width in inches), each crosscut to lengths in inches."""
    sawyer = _Sawyer(kerf)
    sawyer.strips = {
        f"strip {i}": [
            (f"{chr(65 + i)}{j + 1}", Fraction(size) * INCH) for j, size in enumerate(lengths)
        ]
        for i, (_, lengths) in enumerate(strips)
    }
    whole = Rectangle(x=Fraction(0), y=Fraction(0), wide=length, high=width)
    rips = [(f"strip {i}", Fraction(size) * INCH) for i, (size, _) in enumerate(strips)]
    tree = sawyer.split(whole, rips, along=True)
    layout = SheetLayout(
        stock="ply",
        number=1,
        length_mm=length,
        width_mm=width,
        kerf_mm=kerf,
        trim_mm=Fraction(0),
        tree=tree,
        placed=tuple(sorted(sawyer.placed, key=lambda item: item[0])),
        offcuts=tuple(sorted(sawyer.offcuts, key=lambda area: -area.wide * area.high)),
    )
    return layout, cut_plan_of([layout], [])


def cut_plan_of(sheets: Sequence[SheetLayout], lengths: Sequence[LengthLayout]) -> CutPlan:
    """A cut plan round layouts; blanks are sized by what is placed."""
    blanks = [
        _blank(label, area.wide, area.high, sheet.stock)
        for sheet in sheets
        for label, area, _ in sheet.placed
    ]
    for layout in lengths:
        widths = {label: wide for label, _, wide in layout.strips}
        blanks += [
            _blank(label, long, widths.get(label, INCH / 2), layout.stock)
            for label, _, long in layout.placed
        ]
    return CutPlan(
        blanks=tuple(blanks),
        sheets=tuple(sheets),
        lengths=tuple(lengths),
        stock=(PLY, PINE, ROD),
        lower_bounds=(),
        findings=(),
    )


def _blank(label: str, long: Fraction, wide: Fraction, stock: str) -> Blank:
    return Blank(
        label=label,
        part="part",
        copy=label,
        layer=1,
        length_mm=long,
        width_mm=wide,
        final_length_mm=long,
        final_width_mm=wide,
        stock=stock,
        may_turn=False,
        is_hardware=label.startswith("dowel"),
    )


def _stock(name: str, kind: StockKind, material: str, thick: Fraction, wide: Fraction) -> Stock:
    return Stock(
        name=name,
        kind=kind,
        material=material,
        thickness_mm=thick,
        width_mm=wide,
        lengths_mm=(96 * INCH,),
        grain=Grain.LONG,
        trim_mm=Fraction(0),
    )


PLY = _stock("ply", StockKind.SHEET, "birch plywood", INCH * 23 / 32, 48 * INCH)
PINE = _stock("pine", StockKind.BOARD, "pine", INCH * 3 / 4, INCH * 11 / 2)
ROD = _stock("peg rod", StockKind.ROD, "birch", INCH * 3 / 8, INCH * 3 / 8)


def plan_of(units: Units = Units.INCH) -> Plan:
    """A plan with a title and units, for title blocks."""
    return build_piece({"part": box(0, 0, 0, 100, 20, 10)}, units=units).plan


def busy_sheet() -> tuple[SheetLayout, CutPlan]:
    """Wide panels, long thin strips and blanks of a finger's breadth on one sheet."""
    return sheet_of_strips(
        [
            ("14.25", ("42.75", "14.5", "14.5", "14.5")),
            ("11", ("36", "36")),
            ("3.25", ("40.25", "40.25")),
            ("3.25", ("12.5", "12.5", "12.5", "12.5", "12.5", "12.5")),
            ("2.5", ("18.25",) * 5),
            ("1.5", ("38", "38", "9.5")),
            ("1", ("20", "20", "6", "6")),
        ]
    )


def board(number: int, pieces: Sequence[tuple[str, str]], stock: str = "pine") -> LengthLayout:
    """A length cut into pieces (label, inches) one after another."""
    kerf = INCH / 8
    start = Fraction(0)
    placed = []
    for label, size in pieces:
        placed.append((label, start, Fraction(size) * INCH))
        start += Fraction(size) * INCH + kerf
    whole = (96 if stock == "pine" else 48) * INCH
    return LengthLayout(
        stock=stock,
        number=number,
        length_mm=whole,
        kerf_mm=kerf,
        trim_mm=Fraction(0),
        placed=tuple(placed),
        offcut_mm=max(whole - start, Fraction(0)),
    )


def ripped_board(number: int) -> LengthLayout:
    """A board with two strips and then three strips side by side."""
    kerf = INCH / 8
    long = 40 * INCH
    return LengthLayout(
        stock="pine",
        number=number,
        length_mm=96 * INCH,
        kerf_mm=kerf,
        trim_mm=INCH / 2,
        placed=(
            ("C1", INCH / 2, long),
            ("C2", INCH / 2, long),
            ("D1", INCH / 2 + long + kerf, 12 * INCH),
            ("D2", INCH / 2 + long + kerf, 12 * INCH),
            ("D3", INCH / 2 + long + kerf, 12 * INCH),
        ),
        offcut_mm=96 * INCH - INCH - long - 12 * INCH - 2 * kerf,
        strips=(
            ("C1", Fraction(0), 5 * INCH / 2),
            ("C2", 21 * INCH / 8, 5 * INCH / 2),
            ("D1", Fraction(0), 3 * INCH / 2),
            ("D2", 13 * INCH / 8, 3 * INCH / 2),
            ("D3", 13 * INCH / 4, 3 * INCH / 2),
        ),
    )


def boards() -> tuple[LengthLayout, ...]:
    return (
        board(1, [("A1", "42.75"), ("A2", "42.75"), ("B1", "6")]),
        board(2, [("A3", "30"), ("E1", "3"), ("E2", "3"), ("E3", "1.5"), ("E4", "1.5")]),
        ripped_board(3),
    )


def rods() -> tuple[LengthLayout, ...]:
    return (
        board(1, [(f"dowel {i}", "2") for i in range(1, 23)], "peg rod"),
        board(
            2,
            [("F1", "12"), ("F2", "12"), *((f"dowel {i}", "1.5") for i in range(30, 40))],
            "peg rod",
        ),
    )
