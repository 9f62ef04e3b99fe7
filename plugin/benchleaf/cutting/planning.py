"""The cut plan: which stock is needed, and how every piece of it is cut.

Takes blanks and stock, gives a `CutPlan` with findings; `plan_cuts` takes the joinery, and holds
what comes out against the verifier. Pure: no files, no clock, the same plan for the same blanks.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.cutting.blanks import blanks_of, check_blanks
from benchleaf.cutting.bonds import bonds_of
from benchleaf.cutting.budget import Budget, usual_budget
from benchleaf.cutting.fitting import (
    MOST_BLANKS,
    Reporter,
    fits,
    report_misfits,
    report_too_little,
    report_too_many,
    report_unmet,
)
from benchleaf.cutting.haul_findings import report_hauls, report_not_weighed
from benchleaf.cutting.hauling import Haul, Size, haul_of
from benchleaf.cutting.length_layouts import length_layouts
from benchleaf.cutting.records import (
    Blank,
    Bond,
    CutPlan,
    LengthLayout,
    Measure,
    Proof,
    SheetLayout,
)
from benchleaf.cutting.sheet_layouts import sheet_layouts
from benchleaf.cutting.verifying import verify_plan
from benchleaf.findings import Finding, Place, sort_findings
from benchleaf.joinery.records import Joinery
from benchleaf.reading.plan import Stock, StockKind, Units


class BrokenLayoutError(Exception):
    """A layout that cannot be cut as it stands: a fault of the planner, not of the plan."""


def plan_cuts(joinery: Joinery) -> CutPlan:
    """Work the cut plan out, and replay every cut of it.

    Raises:
        BrokenLayoutError: A layout does not come out when it is replayed.
    """
    plan = joinery.piece.plan
    blanks = blanks_of(joinery)
    bonds, found = bonds_of(joinery, blanks)
    made = lay_out_stock(
        blanks,
        tuple(plan.stock.values()),
        kerf_mm=plan.shop.kerf_mm,
        units=plan.units,
        place_of=plan.place,
        haul_mm=plan.shop.haul_mm,
        haul_kg=plan.shop.haul_kg,
        bonds=bonds,
    )
    problems = verify_plan(made)
    if problems:
        raise BrokenLayoutError("; ".join(problems))
    return replace(made, findings=sort_findings((*made.findings, *found, *check_blanks(joinery))))


def lay_out_stock(  # noqa: PLR0913 - the shop's side of the stage, each by its name
    blanks: tuple[Blank, ...],
    stock: tuple[Stock, ...],
    *,
    kerf_mm: Fraction,
    units: Units,
    place_of: Callable[[str], Place],
    budget_of: Callable[[int], Budget] = usual_budget,
    haul_mm: Size | None = None,
    haul_kg: Fraction | None = None,
    bonds: tuple[Bond, ...] = (),
) -> CutPlan:
    """Lay every blank out on its stock, on as few pieces as can be found.

    A blank that its stock cannot yield is left out and found; all others are laid out.

    Args:
        blanks: With unique labels, each naming one of the stock.
        stock: In the plan's order.
        kerf_mm: Width of every cut, 0 or more.
        units: For the words of findings.
        place_of: Path in the plan (`parts.leg`) to its place.
        budget_of: Number of blanks of a stock to what may be spent on laying them out.
        haul_mm: Both sides of the largest piece that can be hauled; None for any.
        haul_kg: Mass of the heaviest piece that can be hauled; None for any.
        bonds: What is cut together: each among the blanks of one stock, no blank in two.
    """
    shop = _Shop(
        kerf_mm=kerf_mm,
        haul_mm=haul_mm,
        haul_kg=haul_kg,
        budget_of=budget_of,
        reporter=Reporter(units=units, place_of=place_of),
        bonds=bonds,
    )
    used = tuple(one for one in stock if any(blank.stock == one.name for blank in blanks))
    laid = [_lay_out_one(blanks, one, shop) for one in used]
    layouts = tuple(layout for own in laid for layout in own.layouts)
    proofs = tuple(own.proof for own in laid if own.proof)
    return CutPlan(
        blanks=blanks,
        sheets=tuple(layout for layout in layouts if isinstance(layout, SheetLayout)),
        lengths=tuple(layout for layout in layouts if isinstance(layout, LengthLayout)),
        stock=used,
        lower_bounds=tuple((proof.stock, _fewest(proof, layouts)) for proof in proofs),
        findings=sort_findings(finding for own in laid for finding in own.findings),
        proofs=proofs,
        haul_mm=haul_mm,
        haul_kg=haul_kg,
        bonds=tuple(bond for bond in bonds if any(bond in own.bonds for own in laid)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shop:
    """How a shop cuts, whatever the stock."""

    kerf_mm: Fraction
    haul_mm: Size | None
    haul_kg: Fraction | None
    budget_of: Callable[[int], Budget]
    reporter: Reporter
    bonds: tuple[Bond, ...]

    def haul_of(self, stock: Stock) -> Haul | None:
        """The most that can be hauled of a stock; boards and rods are hauled as they are."""
        if stock.kind is not StockKind.SHEET:
            return None
        return haul_of(stock, self.haul_mm, self.haul_kg)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """What comes of one stock."""

    layouts: tuple[SheetLayout | LengthLayout, ...] = ()
    proof: Proof | None = None
    """None where nothing is laid out."""
    bonds: tuple[Bond, ...] = ()
    """Those that the layouts keep."""
    findings: tuple[Finding, ...]


def _lay_out_one(blanks: tuple[Blank, ...], stock: Stock, shop: _Shop) -> _Laid:
    """Lay the blanks of one stock out, and find what is wrong with the others."""
    named = [blank for blank in blanks if blank.stock == stock.name]
    own, found = _sort_out(named, stock, shop.reporter)
    found = (*found, *report_hauls(own, stock, shop.haul_of(stock), shop.reporter))
    if own and shop.haul_kg is not None:
        found = (*found, *report_not_weighed(stock, shop.reporter))
    if not own:
        return _Laid(findings=found)
    labels = {blank.label for blank in own}
    bonds = tuple(bond for bond in shop.bonds if labels.issuperset(bond.labels))
    layouts, proof, unmet = _layouts_of(own, stock, shop, bonds)
    if not layouts:
        return _Laid(findings=(*found, report_too_little(len(own), stock, shop.reporter)))
    found = (*found, *(report_unmet(bond, stock, shop.reporter) for bond in unmet))
    kept = tuple(bond for bond in bonds if bond not in unmet)
    return _Laid(layouts=layouts, proof=proof, bonds=kept, findings=found)


def _layouts_of(
    blanks: list[Blank], stock: Stock, shop: _Shop, bonds: tuple[Bond, ...]
) -> tuple[tuple[SheetLayout | LengthLayout, ...], Proof, tuple[Bond, ...]]:
    """Layouts of sheets or of lengths, as the stock is; none where there is too little of it."""
    budget = shop.budget_of(len(blanks))
    if stock.kind is StockKind.SHEET:
        return sheet_layouts(
            blanks, stock, shop.kerf_mm, budget=budget, haul=shop.haul_of(stock), bonds=bonds
        )
    return length_layouts(blanks, stock, shop.kerf_mm, budget=budget, bonds=bonds)


def _fewest(proof: Proof, layouts: tuple[SheetLayout | LengthLayout, ...]) -> int:
    """The fewest pieces of a stock that any layout could need: of several sizes, one is proved."""
    if proof.measure is Measure.PIECES:
        return int(proof.least)
    return len([one for one in layouts if one.stock == proof.stock]) if proof.is_proved else 1


def _sort_out(
    blanks: list[Blank], stock: Stock, reporter: Reporter
) -> tuple[list[Blank], tuple[Finding, ...]]:
    """Blanks that can be laid out, and findings about the others."""
    found = report_misfits(blanks, stock, reporter)
    own = [blank for blank in blanks if fits(blank, stock)]
    if len(own) > MOST_BLANKS:
        return [], (*found, report_too_many(len(own), stock, reporter))
    return own, found
