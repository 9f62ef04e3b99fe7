"""Sequencing: the order of work, from the joinery and the cut plan.

Takes both, gives the Sequence: operations in an order that is proved by replaying it, and steps of
a page each. `OPERATION_KINDS` is the table of kinds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from benchleaf.cutting.records import CutPlan
from benchleaf.cutting.trees import renumber
from benchleaf.findings import Finding, Severity
from benchleaf.joinery.records import Joinery
from benchleaf.sequencing.authoring import Written, read_written_steps
from benchleaf.sequencing.drafting import Draft, Planner
from benchleaf.sequencing.kinds import OPERATION_KINDS, PLANNERS
from benchleaf.sequencing.ordering import find_needs, put_in_order
from benchleaf.sequencing.records import Operation, Sequence
from benchleaf.sequencing.replaying import replay
from benchleaf.sequencing.stepping import make_steps
from benchleaf.sequencing.ways import find_lacking, take_way
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import USUAL_SHOP, Shop

_SAWING, *_OTHERS = PLANNERS
_PHASES = ("stock", "glue-up of blanks", "joints", "assembly", "finish")
_RANKS = {
    code: (_PHASES.index(kind.phase), place)
    for place, (code, kind) in enumerate(OPERATION_KINDS.items())
}


def plan_work(
    joinery: Joinery, cut_plan: CutPlan, shop: Shop = USUAL_SHOP
) -> tuple[CutPlan, Sequence]:
    """Number the cuts of every sheet in the order in which the work comes to them, and order it.

    Sawing alone tells cuts by their numbers: all other work is planned once.
    """
    room = Workroom(joinery=joinery, cut_plan=cut_plan, shop=shop)
    others = _plan(_OTHERS, room)
    numbered = _number_cuts(room, others)
    return numbered, _order(replace(room, cut_plan=numbered), others)


def order_work(joinery: Joinery, cut_plan: CutPlan, shop: Shop = USUAL_SHOP) -> Sequence:
    """Plan all operations as a shop does them, put them in order, and gather them into steps."""
    room = Workroom(joinery=joinery, cut_plan=cut_plan, shop=shop)
    return _order(room, _plan(_OTHERS, room))


def _order(room: Workroom, others: tuple[Draft, ...]) -> Sequence:
    operations = find_needs((*_plan([_SAWING], room), *others))
    written = read_written_steps(operations, room)
    ordered = put_in_order(operations, _RANKS, blocks=written.blocks, extra=written.extra_needs)
    return Sequence(
        operations=ordered,
        steps=make_steps(ordered, OPERATION_KINDS, room, written.steps),
        findings=(
            *written.findings,
            *_clamp_findings(ordered, room),
            *_replay_findings(ordered, room, written),
            *find_lacking(ordered, room),
        ),
    )


def order_beside(here: Sequence, joinery: Joinery, cut_plan: CutPlan, shop: Shop) -> Sequence:
    """Give the same work, in the same steps, as another shop does it.

    Args:
        here: The order of work in the first shop.
        joinery: The joinery.
        cut_plan: The cut plan.
        shop: The other shop.
    """
    room = Workroom(joinery=joinery, cut_plan=cut_plan, shop=shop)
    done = {own.id: take_way(own, room) for own in here.operations if not own.way}
    # What the first shop does another way than planned is left at that.
    done |= {own.id: own for own in here.operations if own.way}
    steps = tuple(
        replace(step, operations=tuple(done[own.id] for own in step.operations))
        for step in here.steps
    )
    operations = tuple(done[own.id] for own in here.operations)
    return Sequence(operations=operations, steps=steps, findings=find_lacking(operations, room))


def _number_cuts(room: Workroom, others: tuple[Draft, ...]) -> CutPlan:
    # Sawing comes before all other work; only the author's own steps can change its order.
    after = others if room.plan.steps else ()
    operations = find_needs((*_plan([_SAWING], room), *after))
    written = read_written_steps(operations, room)
    ordered = put_in_order(operations, _RANKS, blocks=written.blocks, extra=written.extra_needs)
    numbers: dict[tuple[str, int], dict[int, int]] = {}
    for cut in (cut for operation in ordered for cut in operation.cuts):
        own = numbers.setdefault((cut.stock, cut.sheet), {})
        own[cut.cut] = len(own) + 1
    sheets = (
        replace(sheet, tree=renumber(sheet.tree, numbers.get((sheet.stock, sheet.number), {})))
        for sheet in room.cut_plan.sheets
    )
    return replace(room.cut_plan, sheets=tuple(sheets))


def _plan(planners: Iterable[Planner], room: Workroom) -> tuple[Draft, ...]:
    """Plan operations as the shop does them, each with what it needs, in no order yet."""
    drafts = (one for planner in planners for one in planner.plan(room))
    return tuple(replace(one, operation=take_way(one.operation, room)) for one in drafts)


def _clamp_findings(operations: tuple[Operation, ...], room: Workroom) -> Iterator[Finding]:
    """Glue-ups that ask for more clamps than the plan says there are."""
    most = room.plan.shop.clamps
    for operation in operations:
        asked = operation.facts.get("clamp.count", 0)
        if most is None or not isinstance(asked, int) or asked <= most:
            continue
        there = "is only one" if most == 1 else f"are only {most}"
        yield Finding(
            code="S300",
            severity=Severity.WARNING,
            place=room.plan.place("shop.clamps"),
            subject="shop.clamps",
            message=f"`{operation.title}` asks for {asked} clamps, and there {there}",
            remedy=f"Needed: {asked} clamps. Borrow some, or glue with fewer and cauls between.",
        )


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
