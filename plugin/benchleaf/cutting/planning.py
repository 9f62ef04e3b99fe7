"""The cut plan: which stock is needed, and how every piece of it is cut.

Takes blanks and stock, gives a `CutPlan` with findings; `plan_cuts` takes the joinery, and holds
what comes out against the verifier. Pure: no files, no clock, the same plan for the same blanks.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from benchleaf.cutting.blanks import blanks_of, check_blanks
from benchleaf.cutting.budget import Budget, usual_budget
from benchleaf.cutting.fitting import (
    MOST_BLANKS,
    Reporter,
    fits,
    report_misfits,
    report_too_large_to_haul,
    report_too_little,
    report_too_many,
)
from benchleaf.cutting.hauling import Haul
from benchleaf.cutting.length_layouts import length_layouts
from benchleaf.cutting.records import (
    Blank,
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
    made = lay_out_stock(
        blanks_of(joinery),
        tuple(plan.stock.values()),
        kerf_mm=plan.shop.kerf_mm,
        units=plan.units,
        place_of=plan.place,
        haul_mm=plan.shop.haul_mm,
    )
    problems = verify_plan(made)
    if problems:
        raise BrokenLayoutError("; ".join(problems))
    return replace(made, findings=sort_findings((*made.findings, *check_blanks(joinery))))


def lay_out_stock(  # noqa: PLR0913 - the shop's side of the stage, each by its name
    blanks: tuple[Blank, ...],
    stock: tuple[Stock, ...],
    *,
    kerf_mm: Fraction,
    units: Units,
    place_of: Callable[[str], Place],
    budget_of: Callable[[int], Budget] = usual_budget,
    haul_mm: Haul | None = None,
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
    """
    reporter = Reporter(units=units, place_of=place_of)
    sheets: list[SheetLayout] = []
    lengths: list[LengthLayout] = []
    proofs: list[Proof] = []
    findings: list[Finding] = []
    used = tuple(one for one in stock if any(blank.stock == one.name for blank in blanks))
    for one in used:
        own, found = _sort_out(
            [blank for blank in blanks if blank.stock == one.name], one, reporter
        )
        findings += found
        findings += report_too_large_to_haul(own, one, haul_mm, reporter)
        if not own:
            continue
        budget = budget_of(len(own))
        made: tuple[SheetLayout | LengthLayout, ...]
        if one.kind is StockKind.SHEET:
            made, proof = sheet_layouts(own, one, kerf_mm, budget=budget, haul_mm=haul_mm)
            sheets += made
        else:
            made, proof = length_layouts(own, one, kerf_mm, budget=budget)
            lengths += made
        if made:
            proofs.append(proof)
        else:
            findings.append(report_too_little(len(own), one, reporter))
    return CutPlan(
        blanks=blanks,
        sheets=tuple(sheets),
        lengths=tuple(lengths),
        stock=used,
        lower_bounds=tuple((proof.stock, _fewest(proof, (*sheets, *lengths))) for proof in proofs),
        findings=sort_findings(findings),
        proofs=tuple(proofs),
        haul_mm=haul_mm,
    )


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
