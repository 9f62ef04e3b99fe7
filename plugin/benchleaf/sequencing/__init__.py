"""Sequencing: the order of work, from the joinery and the cut plan.

Takes both, gives the Sequence: operations in an order that is proved by replaying it, and steps of
a page each. `OPERATION_KINDS` is the table of kinds.
"""

from __future__ import annotations

from dataclasses import replace

from benchleaf.cutting.records import CutPlan
from benchleaf.cutting.trees import renumber
from benchleaf.findings import Finding, Severity
from benchleaf.joinery.records import Joinery
from benchleaf.sequencing.authoring import Written, read_written_steps
from benchleaf.sequencing.kinds import OPERATION_KINDS, PLANNERS
from benchleaf.sequencing.ordering import find_needs, put_in_order
from benchleaf.sequencing.records import Operation, Sequence
from benchleaf.sequencing.replaying import replay
from benchleaf.sequencing.stepping import make_steps
from benchleaf.sequencing.ways import find_lacking, take_way
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import USUAL_SHOP, Shop

_PHASES = ("stock", "glue-up of blanks", "joints", "assembly", "finish")
_RANKS = {
    code: (_PHASES.index(kind.phase), place)
    for place, (code, kind) in enumerate(OPERATION_KINDS.items())
}


def order_work(joinery: Joinery, cut_plan: CutPlan, shop: Shop = USUAL_SHOP) -> Sequence:
    """Plan all operations as a shop does them, put them in order, and gather them into steps."""
    room = Workroom(joinery=joinery, cut_plan=cut_plan, shop=shop)
    operations = plan_operations(room)
    written = read_written_steps(operations, room)
    ordered = put_in_order(operations, _RANKS, blocks=written.blocks, extra=written.extra_needs)
    return Sequence(
        operations=ordered,
        steps=make_steps(ordered, OPERATION_KINDS, room, written.steps),
        findings=(
            *written.findings,
            *_replay_findings(ordered, room, written),
            *find_lacking(ordered, room),
        ),
    )


def number_cuts(joinery: Joinery, cut_plan: CutPlan, shop: Shop = USUAL_SHOP) -> CutPlan:
    """Number the cuts of every sheet in the order in which the work comes to them in a shop."""
    room = Workroom(joinery=joinery, cut_plan=cut_plan, shop=shop)
    # Sawing comes before all other work; only the author's own steps can change its order.
    operations = plan_operations(room) if room.plan.steps else find_needs(PLANNERS[0].plan(room))
    written = read_written_steps(operations, room)
    ordered = put_in_order(operations, _RANKS, blocks=written.blocks, extra=written.extra_needs)
    numbers: dict[tuple[str, int], dict[int, int]] = {}
    for cut in (cut for operation in ordered for cut in operation.cuts):
        own = numbers.setdefault((cut.stock, cut.sheet), {})
        own[cut.cut] = len(own) + 1
    sheets = (
        replace(sheet, tree=renumber(sheet.tree, numbers.get((sheet.stock, sheet.number), {})))
        for sheet in cut_plan.sheets
    )
    return replace(cut_plan, sheets=tuple(sheets))


def plan_operations(room: Workroom) -> tuple[Operation, ...]:
    """Plan all operations, each with what it needs, in no order yet."""
    drafts = (one for planner in PLANNERS for one in planner.plan(room))
    return find_needs(replace(one, operation=take_way(one.operation, room)) for one in drafts)


def _replay_findings(
    ordered: tuple[Operation, ...], room: Workroom, written: Written
) -> tuple[Finding, ...]:
    """What the replay refuses: an order that the planners got wrong."""
    del written
    return tuple(
        Finding(
            code="S590",
            severity=Severity.ERROR,
            place=room.plan.place("steps"),
            subject="steps",
            message=f"the planned order cannot be worked: {refusal}",
            remedy="Report this plan as a fault of Benchleaf; no step is to be trusted until then.",
        )
        for refusal in replay(ordered, room.joinery, room.cut_plan)[:1]
    )
