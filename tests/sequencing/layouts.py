"""Cut plans packed in the plainest way, for tests of the order of work.

They are sound cut plans of whole pieces; how good they are is the business of cutting's own tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from benchleaf.cutting.records import (
    Blank,
    CutDirection,
    CutNode,
    CutPlan,
    LengthLayout,
    Rectangle,
    SheetLayout,
)
from benchleaf.joinery.records import Joinery
from benchleaf.reading.plan import Grain, Stock, StockKind

ZERO = Fraction(0)


def list_blanks(joinery: Joinery) -> tuple[Blank, ...]:
    """One blank for each layer of each copy, and one for each peg cut from a rod."""
    blanks = []
    for mark, copy in joinery.copies.items():
        part = joinery.piece.part_of(mark)
        size = copy.blank.size
        length, width = Fraction(size[part.grain_axis]), Fraction(size[part.width_axis])
        for layer in range(1, part.layers + 1):
            blanks.append(
                Blank(
                    label=f"{mark}.{layer}" if part.layers > 1 else mark,
                    part=part.name,
                    copy=mark,
                    layer=layer,
                    length_mm=length + part.allowance_mm,
                    width_mm=width + part.allowance_mm,
                    final_length_mm=length,
                    final_width_mm=width,
                    stock=part.stock.name,
                    may_turn=part.stock.grain is Grain.NONE,
                )
            )
    return (*blanks, *_pegs(joinery))


def _pegs(joinery: Joinery) -> Iterator[Blank]:
    rods = [s for s in joinery.piece.plan.stock.values() if s.kind is StockKind.ROD]
    number = 0
    for fit in joinery.fits:
        for item in fit.hardware:
            for rod in rods:
                if item.kind != "dowel" or rod.thickness_mm != item.diameter_mm:
                    continue
                for _ in range(item.count):
                    number += 1
                    yield Blank(
                        label=f"peg {number}",
                        part="",
                        copy=f"dowels {item.size}",
                        layer=1,
                        length_mm=item.length_mm,
                        width_mm=item.diameter_mm,
                        final_length_mm=item.length_mm,
                        final_width_mm=item.diameter_mm,
                        stock=rod.name,
                        may_turn=False,
                    )


def lay_out_plainly(joinery: Joinery) -> CutPlan:
    """Lay every blank out."""
    blanks = list_blanks(joinery)
    kerf = joinery.piece.plan.shop.kerf_mm
    sheets: list[SheetLayout] = []
    lengths: list[LengthLayout] = []
    used = []
    for stock in joinery.piece.plan.stock.values():
        own = [blank for blank in blanks if blank.stock == stock.name]
        if own:
            used.append(stock)
        if stock.kind is StockKind.SHEET:
            sheets += _sheets(own, stock, kerf)
        else:
            lengths += _lengths(own, stock, kerf)
    return CutPlan(
        blanks=blanks,
        sheets=tuple(sheets),
        lengths=tuple(lengths),
        stock=tuple(used),
        lower_bounds=(),
        findings=(),
    )


def _sheets(blanks: Sequence[Blank], stock: Stock, kerf: Fraction) -> Iterator[SheetLayout]:
    trim = stock.trim_mm
    wide, high = stock.lengths_mm[0] - 2 * trim, stock.width_mm - 2 * trim
    along = stock.grain is not Grain.SHORT
    left = sorted(blanks, key=lambda b: (-(b.width_mm if along else b.length_mm), b.label))
    number = 0
    while left:
        number += 1
        rows: list[list[Blank]] = []
        used = ZERO
        rest = list(left)
        while rest:
            depth = _deep(rest[0], along)
            if used + depth > high:
                break
            row, length = [], ZERO
            for blank in list(rest):
                size = _long(blank, along)
                if _deep(blank, along) <= depth and length + size <= wide:
                    row.append(blank)
                    rest.remove(blank)
                    length += size + kerf
            rows.append(row)
            used += depth + kerf
        yield _sheet(number, rows, stock, (kerf, along))
        left = rest


def _deep(blank: Blank, along: bool) -> Fraction:
    return blank.width_mm if along else blank.length_mm


def _long(blank: Blank, along: bool) -> Fraction:
    return blank.length_mm if along else blank.width_mm


def _sheet(
    number: int, rows: list[list[Blank]], stock: Stock, how: tuple[Fraction, bool]
) -> SheetLayout:
    kerf, along = how
    trim = stock.trim_mm
    counter = [0]
    whole = Rectangle(x=ZERO, y=ZERO, wide=stock.lengths_mm[0], high=stock.width_mm)
    placed: list[tuple[str, Rectangle, bool]] = []

    def cut(area: Rectangle, direction: CutDirection, at: Fraction, make) -> CutNode:
        counter[0] += 1
        own = counter[0]
        if direction is CutDirection.ACROSS:
            near = replace(area, wide=at)
            far = replace(area, x=area.x + at + kerf, wide=area.wide - at - kerf)
        else:
            near = replace(area, high=at)
            far = replace(area, y=area.y + at + kerf, high=area.high - at - kerf)
        first, second = make(
            near if min(near.wide, near.high) > 0 else None,
            far if min(far.wide, far.high) > 0 else None,
        )
        return CutNode(
            area=area, blank="", is_turned=False, direction=direction, at_mm=at,
            number=own, first=first, second=second,
        )  # fmt: skip

    def leaf(area: Rectangle | None, label: str = "") -> CutNode | None:
        if area is None:
            return None
        return CutNode(
            area=area, blank=label, is_turned=False, direction=None, at_mm=ZERO,
            number=0, first=None, second=None,
        )  # fmt: skip

    def fill(area: Rectangle, blank: Blank) -> CutNode:
        if area.high > _deep(blank, along):
            return cut(
                area, CutDirection.ALONG, _deep(blank, along),
                lambda n, f: (fill(n, blank), leaf(f)),
            )  # fmt: skip
        placed.append((blank.label, area, not along))
        return leaf(area, blank.label)

    def row_of(area: Rectangle, row: list[Blank]) -> CutNode:
        if not row:
            return leaf(area)
        size = _long(row[0], along)
        if area.wide <= size:
            return fill(area, row[0])
        return cut(
            area, CutDirection.ACROSS, size,
            lambda n, f: (fill(n, row[0]), row_of(f, row[1:]) if f else None),
        )  # fmt: skip

    def stack(area: Rectangle, left: list[list[Blank]]) -> CutNode:
        if not left:
            return leaf(area)
        depth = max(_deep(b, along) for b in left[0])
        if area.high <= depth:
            return row_of(area, left[0])
        return cut(
            area, CutDirection.ALONG, depth,
            lambda n, f: (row_of(n, left[0]), stack(f, left[1:]) if f else None),
        )  # fmt: skip

    def trimmed(area: Rectangle, directions: list[CutDirection]) -> CutNode:
        if not directions:
            return stack(area, rows)
        at = max(ZERO, trim - kerf)
        return cut(area, directions[0], at, lambda n, f: (leaf(n), trimmed(f, directions[1:])))

    ways = [CutDirection.ACROSS, CutDirection.ALONG] if trim else []
    tree = trimmed(whole, ways)
    return SheetLayout(
        stock=stock.name,
        number=number,
        length_mm=stock.lengths_mm[0],
        width_mm=stock.width_mm,
        kerf_mm=kerf,
        trim_mm=trim,
        tree=tree,
        placed=tuple(sorted(placed, key=lambda p: p[0])),
        offcuts=(),
    )


def _lengths(blanks: Sequence[Blank], stock: Stock, kerf: Fraction) -> Iterator[LengthLayout]:
    longest = max(stock.lengths_mm)
    left = sorted(blanks, key=lambda b: (-b.length_mm, b.label))
    number = 0
    while left:
        number += 1
        at, placed = stock.trim_mm, []
        for blank in list(left):
            if at + blank.length_mm <= longest - stock.trim_mm:
                placed.append(blank)
                left.remove(blank)
                at += blank.length_mm + kerf
        assert placed, f"{left[0].label} is longer than its stock"
        start, rows = stock.trim_mm, []
        for blank in placed:
            rows.append((blank.label, start, blank.length_mm))
            start += blank.length_mm + kerf
        strips = ()
        if stock.kind is StockKind.BOARD:
            strips = tuple((blank.label, ZERO, blank.width_mm) for blank in placed)
        yield LengthLayout(
            stock=stock.name,
            number=number,
            length_mm=longest,
            kerf_mm=kerf,
            trim_mm=stock.trim_mm,
            placed=tuple(rows),
            offcut_mm=max(ZERO, longest - start),
            strips=strips,
        )
