"""Call-outs of whole plans, and of operations made by hand: few, ranked, sourced, said once."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from tests.sequencing.worked import all_worked, parts_of, work_demo

from benchleaf.pipeline import WorkedPlan
from benchleaf.reading.plan import Units
from benchleaf.safety import warn
from benchleaf.safety.deriving import lifting_facts
from benchleaf.safety.finished import is_wall_hung, piece_facts
from benchleaf.safety.loading import SIGNALS
from benchleaf.safety.records import CallOuts
from benchleaf.safety.warning import MOST_CALL_OUTS, THE_PIECE, THE_SHOP
from benchleaf.safety.wording import show_mass
from benchleaf.sequencing.records import Fact, Operation, Sequence, Step

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)


def call_outs_of(worked: WorkedPlan) -> CallOuts:
    assert worked.call_outs is not None
    return worked.call_outs


def operation(tool: str, name: str = "one", **facts: Fact) -> Operation:
    return Operation(
        id=name,
        kind="rip",
        title="Rip",
        tool=tool,
        copies=(),
        settings=(),
        actions=("Rip.",),
        check="",
        needs=(),
        active_minutes=1,
        waiting_hours=Fraction(0),
        facts={key.replace("__", "."): value for key, value in facts.items()},
    )


def warned(*operations: Operation, worked: WorkedPlan | None = None) -> CallOuts:
    step = Step(
        number=1,
        slug="one",
        phase="stock",
        title="One",
        operations=operations,
        copies=(),
        joined=(),
        moved=(),
        notes=(),
    )
    sequence = Sequence(operations=operations, steps=(step,), findings=())
    joinery, _, _ = parts_of(worked or work_demo("wall-bookcase"))
    return warn(sequence, joinery)


def rules(call_outs: CallOuts) -> list[str]:
    return [call_out.rule for call_out in call_outs.by_step[1]]


# One step.


def test_the_worse_of_two_rules_that_share_a_hazard_is_said_alone() -> None:
    facts = {"cut__kind": "rip", "cut__fence_gap_mm": 40}
    assert rules(warned(operation("table saw", **facts))) == ["TS-02"]


def test_a_hazard_of_two_operations_is_said_once_with_the_worse_figure() -> None:
    wide = operation("table saw", "wide", cut__kind="rip", cut__fence_gap_mm=140)
    narrow = operation("table saw", "narrow", cut__kind="rip", cut__fence_gap_mm=60)
    (call_out,) = warned(wide, narrow).by_step[1]
    assert call_out.operation == "narrow"
    assert "60 mm" in call_out.control


def test_warnings_come_before_cautions_and_the_furthest_past_first() -> None:
    saw = operation("table saw", cut__kind="rip", cut__fence_gap_mm=120, stock__length_mm=30)
    drill = operation("drill", "two", bit__diameter_mm=20)
    # Length 30 of 300 is 90 % past, the gap 120 of 150 only 20 %.
    assert rules(warned(drill, saw)) == ["TS-04", "TS-01", "DR-01"]


def test_no_more_than_three_are_said() -> None:
    facts: dict[str, Fact] = {
        "cut__kind": "rip",
        "cut__fence_gap_mm": 10,
        "stock__length_mm": 100,
        "stock__edge_straight": False,
        "stock__thickness_mm": 1,
    }
    said = warned(operation("table saw", **facts))
    assert len(said.by_step[1]) == MOST_CALL_OUTS


def test_what_is_not_known_is_not_said() -> None:
    assert rules(warned(operation("table saw", cut__kind="rip"))) == []
    assert rules(warned(operation("table saw"))) == []


def test_a_rule_of_another_tool_keeps_silent() -> None:
    assert rules(warned(operation("router", cut__kind="rip", cut__fence_gap_mm=40))) == []


# Lifting.


def test_the_heavier_of_part_and_assembly_counts() -> None:
    facts = lifting_facts({"part.mass_kg": 5.0, "assembly.mass_kg": 30.0, "assembly.deep_mm": 450})
    # 30 kg, 450 deep, off the floor: worked by hand from the printed formula.
    assert facts["lift.index"] == pytest.approx(2.75, abs=0.01)
    assert facts["lift.mass_kg"] == 30.0
    assert lifting_facts({}) == {}


def test_a_full_sheet_is_not_lifted_alone() -> None:
    # 18 mm birch plywood, 1220 x 2440: 36.4 kg by 680 kg/m3, index 3.45; worked by hand.
    (first, *_) = (
        c for c in call_outs_of(work_demo("wall-bookcase")).by_step[1] if c.rule == "LH-02"
    )
    assert first.control == (
        "Do not lift this alone. 36 kg is 3.5 times what one person should lift here."
    )


def test_what_is_at_the_limit_is_not_warned_of() -> None:
    # 30 kg 450 deep off the floor come to 2.75: worked by hand; so 10.91 kg are at the limit.
    for mass_kg, is_past in ((11.3, False), (11.6, True)):
        facts = {"assembly__mass_kg": mass_kg, "assembly__deep_mm": 450}
        said = warned(operation("clamps", **facts)).by_step[1]
        assert [c.rule for c in said] == (["LH-01"] if is_past else [])
        assert all(c.control.endswith("is more than one person should lift here.") for c in said)


# Cards.


def test_the_shop_and_each_tool_in_use_has_a_card() -> None:
    cards = call_outs_of(work_demo("wall-bookcase")).cards
    tools = {o.tool for o in parts_of(work_demo("wall-bookcase"))[2].operations}
    assert set(cards) <= tools | {THE_SHOP, THE_PIECE}
    assert next(iter(cards)) == THE_SHOP
    assert {"circular saw", "table saw", "router", "drill", "clamps"} <= set(cards)


def test_hardwood_dust_is_said_in_place_of_dust_alone() -> None:
    shop = call_outs_of(work_demo("wall-bookcase")).cards[THE_SHOP]
    assert "SH-04" in {call_out.rule for call_out in shop}
    assert "SH-03" not in {call_out.rule for call_out in shop}


def test_a_wall_bookcase_is_to_be_screwed_to_the_studs() -> None:
    piece = call_outs_of(work_demo("wall-bookcase")).cards[THE_PIECE]
    assert "DS-02" in {call_out.rule for call_out in piece}


@pytest.mark.parametrize(
    ("words", "hangs"),
    [
        ("A shelf that hangs on the wall.", True),
        ("A wall-mounted rack.", True),
        ("Screw it to the wall first.", True),
        ("A bench that stands against the wall.", False),
        ("A wallet box.", False),
    ],
)
def test_whether_a_piece_hangs_is_told_by_the_authors_words(words: str, hangs: bool) -> None:
    joinery, _, _ = parts_of(work_demo("hall-bench"))
    plan = replace(joinery.piece.plan, summary=words, notes=(), title="Piece")
    assert is_wall_hung(plan) is hangs


def test_a_tall_shallow_piece_may_tip() -> None:
    facts = piece_facts(parts_of(work_demo("wall-bookcase"))[0])
    assert facts["piece.high_mm"] == 1040
    assert facts["piece.deep_mm"] == 280
    assert "DS-01" in {
        c.rule for c in call_outs_of(work_demo("wall-bookcase")).cards[THE_PIECE]
    }  # 1040 is over 600, and over 3 x 280


# Whole plans.


@every_plan
def test_call_outs_are_few_ranked_and_sourced(worked: WorkedPlan) -> None:
    sequence = parts_of(worked)[2]
    call_outs = call_outs_of(worked)
    assert sorted(call_outs.by_step) == [step.number for step in sequence.steps]
    for step in sequence.steps:
        said = call_outs.by_step[step.number]
        assert len(said) <= MOST_CALL_OUTS
        ranks = [SIGNALS.index(call_out.signal) for call_out in said]
        assert ranks == sorted(ranks)
        assert len({call_out.hazard for call_out in said}) == len(said)
        assert {c.operation for c in said} <= {operation.id for operation in step.operations}
    for said in (*call_outs.by_step.values(), *call_outs.cards.values()):
        assert all(call_out.sources and "{" not in call_out.control for call_out in said)


@every_plan
def test_same_sequence_same_call_outs(worked: WorkedPlan) -> None:
    joinery, _, sequence = parts_of(worked)
    assert warn(sequence, joinery) == call_outs_of(worked)


def test_masses_are_shown_in_the_units_that_go_with_the_plan() -> None:
    # 36.4 kg / 0.45359237 = 80.2 lb.
    assert show_mass(36.4, Units.INCH) == "80 lb"
    assert show_mass(36.4, Units.MILLIMETRE) == "36 kg"
