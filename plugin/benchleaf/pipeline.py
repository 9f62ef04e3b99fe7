"""The straight line from a plan's text to everything that is worked out of it.

Takes the text of a plan file and its name; gives a `WorkedPlan` with what each stage made, up to
the first stage that met an error. Pure: no files, no clock, no log.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from benchleaf.buying import list_purchases
from benchleaf.buying.records import ShoppingList
from benchleaf.checking import study_piece
from benchleaf.checking.records import Working
from benchleaf.cutting import plan_cuts
from benchleaf.cutting.records import CutPlan
from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.records import Joinery
from benchleaf.piece.placing import place_parts
from benchleaf.piece.records import Piece
from benchleaf.reading import read_plan
from benchleaf.reading.plan import Plan
from benchleaf.safety import warn
from benchleaf.safety.records import CallOuts
from benchleaf.scheduling import schedule_work
from benchleaf.scheduling.records import Schedule
from benchleaf.sequencing import order_beside, plan_work
from benchleaf.sequencing.records import Sequence
from benchleaf.shaping import SHAPING_WORDS
from benchleaf.shops import USUAL_SHOP, Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Elsewhere:
    """How a plan is worked in another shop, laid in the steps of the site's own."""

    shop: Shop
    sequence: Sequence
    """Its steps are those of the plan's own sequence, in number and title."""
    call_outs: CallOuts


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedPlan:
    """A plan with all that was worked out of it; a stage kept from running by an error is None."""

    file: str
    plan: Plan | None = None
    piece: Piece | None = None
    joinery: Joinery | None = None
    cut_plan: CutPlan | None = None
    sequence: Sequence | None = None
    shopping: ShoppingList | None = None
    call_outs: CallOuts | None = None
    schedule: Schedule | None = None
    """When each operation is done."""
    workings: tuple[Working, ...] = ()
    """What was reckoned of the finished piece: weight, bending, standing, movement, screws."""
    findings: tuple[Finding, ...] = ()
    """All findings of all stages that ran, sorted by place."""
    shop: Shop = USUAL_SHOP
    """The shop that it is worked for."""
    elsewhere: tuple[Elsewhere, ...] = ()
    """The same work in other shops."""

    @property
    def is_sound(self) -> bool:
        """Tell whether every stage ran and none met an error: fit to be built from."""
        return self.call_outs is not None and not has_errors(self.findings)


def work_plan(
    text: str, file: str, shop: Shop = USUAL_SHOP, others: Iterable[Shop] = ()
) -> WorkedPlan:
    """Work a plan out, from its text to its call-outs.

    Args:
        text: The plan file's text.
        file: Its path as findings should show it; its stem names the plan.
        shop: The shop that it is made in.
        others: Shops that it is worked for as well, from the order of work on.

    Returns:
        Everything up to the first stage that met an error, and all findings.
    """
    plan, said = read_plan(text, file, JOINT_WORDS, shaping=SHAPING_WORDS)
    worked = WorkedPlan(file=file, plan=plan, findings=sort_findings(said))
    if plan is None or has_errors(said):
        return worked
    piece, said = place_parts(plan)
    worked = _with(worked, said, piece=piece)
    if piece is None or has_errors(said):
        return worked
    joinery, said = cut_joints(piece)
    workings, found = study_piece(joinery)
    worked = _with(worked, (*said, *found), joinery=joinery, workings=workings)
    if has_errors(worked.findings):
        return worked
    worked = _work_on(worked, joinery, shop)
    return _work_elsewhere(worked, others) if worked.is_sound else worked


def _work_on(worked: WorkedPlan, joinery: Joinery, shop: Shop) -> WorkedPlan:
    """Go from a piece that is sound to the order of work."""
    cut_plan = plan_cuts(joinery)
    if has_errors(cut_plan.findings):
        return _with(worked, cut_plan.findings, cut_plan=cut_plan)
    cut_plan, sequence = plan_work(joinery, cut_plan, shop)
    worked = _with(worked, cut_plan.findings, cut_plan=cut_plan)
    worked = _with(worked, sequence.findings, sequence=sequence)
    if has_errors(sequence.findings):
        return worked
    shopping = list_purchases(joinery, cut_plan)
    terms = joinery.piece.plan.shop
    schedule = schedule_work(
        sequence, people=terms.people, day_minutes=terms.hours * 60, clamps=terms.clamps
    )
    call_outs = warn(sequence, joinery)
    return replace(worked, shopping=shopping, call_outs=call_outs, schedule=schedule, shop=shop)


def _work_elsewhere(worked: WorkedPlan, shops: Iterable[Shop]) -> WorkedPlan:
    """Work a sound plan for other shops too, from the order of work on.

    What is cut from which stock, and what is drawn, stays that of the plan's own shop. What another
    shop lacks is said on the pages.
    """
    joinery, cut_plan, here = worked.joinery, worked.cut_plan, worked.sequence
    if joinery is None or cut_plan is None or here is None:
        return worked
    others = []
    for shop in shops:
        sequence = order_beside(here, joinery, cut_plan, shop)
        call_outs = warn(sequence, joinery)
        others.append(Elsewhere(shop=shop, sequence=sequence, call_outs=call_outs))
    return replace(worked, elsewhere=tuple(others))


def _with(worked: WorkedPlan, said: tuple[Finding, ...], **made: object) -> WorkedPlan:
    findings = sort_findings((*worked.findings, *said))
    return replace(worked, findings=findings, **made)  # type: ignore[arg-type]
