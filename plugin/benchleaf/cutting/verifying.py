"""Layouts held against the facts: every cut replayed on real rectangles, every blank measured.

Takes layouts, blanks and stock, gives what is wrong in words; nothing where all is well. Shares no
code with the planner, so that a fault there is seen here. Any answer is a fault of the planner:
such a plan must not be published.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from benchleaf.cutting.records import Blank, CutPlan, LengthLayout, SheetLayout
from benchleaf.cutting.verifying_bonds import verify_bond
from benchleaf.cutting.verifying_hauls import verify_hauls
from benchleaf.cutting.verifying_lengths import replay_length
from benchleaf.cutting.verifying_sheets import replay_sheet
from benchleaf.findings import Severity
from benchleaf.reading.plan import Stock, StockKind

Layout = SheetLayout | LengthLayout


def verify_plan(cut_plan: CutPlan) -> tuple[str, ...]:
    """Say what is wrong with a cut plan: with any layout, and with the plan as a whole.

    Every blank must come out of one layout, unless a finding says why it does not.
    """
    layouts: tuple[Layout, ...] = (*cut_plan.sheets, *cut_plan.lengths)
    problems = [
        problem
        for layout in layouts
        for problem in verify_layout(layout, cut_plan.blanks, cut_plan.stock)
    ]
    problems += _verify_labels(cut_plan, layouts)
    problems += _verify_counts(cut_plan, layouts)
    problems += verify_hauls(cut_plan)
    problems += (one for bond in cut_plan.bonds for one in verify_bond(bond, layouts))
    return tuple(problems)


def verify_layout(
    layout: Layout, blanks: Sequence[Blank], stock: Sequence[Stock]
) -> tuple[str, ...]:
    """Say what is wrong with one layout; nothing where it can be cut as it stands.

    Args:
        layout: Of a sheet, or of a board or rod.
        blanks: Among them all that the layout names.
        stock: Among it the layout's own.
    """
    where = f"{layout.stock} {layout.number}"
    own = next((one for one in stock if one.name == layout.stock), None)
    if own is None:
        return (f"{where}: there is no such stock",)
    by_label = {blank.label: blank for blank in blanks}
    if isinstance(layout, SheetLayout):
        found = replay_sheet(layout, own, by_label)
    else:
        found = replay_length(layout, own, by_label)
    return tuple(f"{where}: {problem}" for problem in found)


def _verify_labels(cut_plan: CutPlan, layouts: Sequence[Layout]) -> Iterator[str]:
    for label, count in Counter(blank.label for blank in cut_plan.blanks).items():
        if count > 1:
            yield f"{count} blanks are labelled {label}"
    placed = Counter(one[0] for layout in layouts for one in layout.placed)
    excused = {
        finding.subject for finding in cut_plan.findings if finding.severity is Severity.ERROR
    }
    for blank in cut_plan.blanks:
        count = placed.pop(blank.label, 0)
        if count > 1:
            yield f"{blank.label} is cut {count} times"
        if not count and not {f"parts.{blank.part}", f"stock.{blank.stock}"} & excused:
            yield f"{blank.label} is not cut, and no finding says why"
    yield from (f"{label} is cut, and is no blank" for label in placed)


def _verify_counts(cut_plan: CutPlan, layouts: Sequence[Layout]) -> Iterator[str]:
    bounds = dict(cut_plan.lower_bounds)
    for stock in cut_plan.stock:
        numbers = [layout.number for layout in layouts if layout.stock == stock.name]
        if numbers != list(range(1, len(numbers) + 1)):
            yield f"{stock.name} is numbered {numbers}"
        if len(numbers) < bounds.get(stock.name, 0):
            yield f"{len(numbers)} of {stock.name} are used, and fewer than the bound is impossible"
        yield from _verify_offers([one for one in layouts if one.stock == stock.name], stock)


_Size = tuple[Fraction, Fraction, bool, tuple[tuple[Fraction, Fraction], ...]]


def _verify_offers(layouts: Sequence[Layout], stock: Stock) -> Iterator[str]:
    """No more is taken of any size than there is."""
    there: Counter[_Size] = Counter()
    endless = set()
    for offer in stock.offers:
        # Boards and rods are all of one width.
        width = offer.width_mm if stock.kind is StockKind.SHEET else stock.width_mm
        size = (offer.length_mm, width, offer.is_offcut, offer.defects_mm)
        if offer.count is None:
            endless.add(size)
        else:
            there[size] += offer.count
    for size, count in Counter(_size_of(one, stock) for one in layouts if stock.offers).items():
        if size not in endless and count > there[size]:
            yield f"{count} of {stock.name} are taken that are {size[0]} mm long, of {there[size]}"


def _size_of(layout: Layout, stock: Stock) -> _Size:
    if isinstance(layout, SheetLayout):
        return (layout.length_mm, layout.width_mm, layout.is_offcut, ())
    return (layout.length_mm, stock.width_mm, layout.is_offcut, layout.defects_mm)
