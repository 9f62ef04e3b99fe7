"""Parts that bring hazards of their own, planned as any other, and the call-outs that they get."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from tests.sequencing.worked import all_worked

from benchleaf.pipeline import WorkedPlan, work_plan
from benchleaf.safety.conditions import names_in
from benchleaf.safety.deriving import derived_facts
from benchleaf.safety.loading import load_rules
from benchleaf.safety.warning import MOST_CALL_OUTS, THE_PIECE, THE_SHOP, rules_that_hold
from benchleaf.safety.wording import facts_named
from benchleaf.sequencing.kinds import OPERATION_KINDS
from benchleaf.sequencing.ways import ways_of

PLAN = Path(__file__).parent / "plans" / "oddments.plan.yml"
# By part: a treated block; iroko rail and stile with a splined mitre, boards with biscuits, with a
# tongue; a disc and a cut-out of MDF; a long arched apron with rounded edges; a tapered leg of
# reclaimed pine. Epoxy and shellac. The title says nursery.
CALLED_FOR = {
    "BJ-01", "BJ-02", "BJ-04", "BS-01", "BS-02", "BS-03", "BS-05", "BS-06", "BS-07", "BS-08",
    "BS-09", "DR-05", "DS-06", "DS-09", "DS-11", "FN-02", "GL-03", "JS-01", "JS-03", "JS-04",
    "JS-06", "MS-07", "RT-05", "RT-08", "RT-09", "RT-11", "RT-13", "SA-05", "SA-06", "SH-09",
    "SH-10", "SH-11", "SH-15", "SH-16", "SH-17", "TS-23", "TS-30",
}  # fmt: skip


@cache
def oddments() -> WorkedPlan:
    return work_plan(PLAN.read_text(encoding="utf-8"), "tests/oddments.plan.yml")


def called_for() -> Iterator[str]:
    worked = oddments()
    assert worked.sequence is not None
    assert worked.call_outs is not None
    for operation in worked.sequence.operations:
        yield from (rule.id for rule in rules_that_hold(operation))
    yield from (call_out.rule for call_out in worked.call_outs.cards[THE_PIECE])


def test_every_hazard_of_the_parts_is_called_out() -> None:
    assert CALLED_FOR - set(called_for()) == set()


def test_a_step_bears_three_at_most_however_odd_the_work() -> None:
    worked = oddments()
    assert worked.call_outs is not None
    counts = [len(said) for said in worked.call_outs.by_step.values()]
    assert max(counts) == MOST_CALL_OUTS


def test_harmful_and_treated_wood_is_named_though_another_wood_is_worse_dust() -> None:
    cards = oddments().call_outs
    assert cards is not None
    said = {call_out.rule: call_out.control for call_out in cards.cards[THE_SHOP]}
    assert "iroko" in said["SH-11"]
    assert "SH-09" in said


def test_no_rule_looks_at_what_no_operation_of_its_tool_states() -> None:
    # By an operation of its tool, in some plan; or by the kind itself.
    stated: dict[str, set[str]] = {"any": set()}
    for worked in (*all_worked().values(), oddments()):
        assert worked.sequence is not None
        for operation in worked.sequence.operations:
            for way in ways_of(operation.kind):
                tool = way.tool or operation.tool
                own = {**operation.facts, **way.says, "op.tool": tool}
                stated.setdefault(tool, set()).update(own, derived_facts(own))
                stated["any"].update(own, derived_facts(own))
    for kind in OPERATION_KINDS.values():
        stated.setdefault(kind.tool, set()).update(kind.says)
    for rule in load_rules():
        if rule.tool in stated:
            looked_at = {*names_in(rule.when), *facts_named(rule.control)}
            assert looked_at <= stated[rule.tool], rule.id
    tools = {rule.tool for rule in load_rules()} - {THE_PIECE}
    assert tools <= set(stated)


@pytest.mark.parametrize("worked", all_worked().values(), ids=all_worked())
def test_general_call_outs_stand_on_cards_and_not_on_steps(worked: WorkedPlan) -> None:
    # Eyes, ears, dust, hair, machine off before setting: once, with why.
    general = {"SH-01", "SH-02", "SH-03", "SH-04", "SH-05", "SH-06"}
    assert worked.call_outs is not None
    for said in worked.call_outs.by_step.values():
        assert not general & {call_out.rule for call_out in said}
    shop = worked.call_outs.cards[THE_SHOP]
    assert len(shop) == len({call_out.rule for call_out in shop})
    assert general - {"SH-03", "SH-04"} <= {call_out.rule for call_out in shop}
    assert all(call_out.why for call_out in shop)


def test_a_shop_that_planes_its_blanks_gets_the_call_outs_of_planer_and_jointer() -> None:
    # A post of two layers, 280 long: 12 in and 300 mm are the least that the sources allow.
    worked = oddments()
    assert worked.sequence is not None
    (planned,) = (own for own in worked.sequence.operations if own.kind == "true-thickness")
    (way,) = (way for way in ways_of("true-thickness") if way.tool == "planer")
    facts = {**planned.facts, **way.says, "op.tool": way.tool}
    planed = replace(planned, tool=way.tool, facts=facts)
    called = {rule.id for rule in rules_that_hold(planed)}
    assert {"PL-01", "PL-03", "PL-04", "PL-07", "JN-01", "JN-03", "JN-04"} <= called
    assert not {"PL-02", "PL-06", "JN-02"} & called
    assert not any(rule.startswith("TS-") for rule in called)
