"""The ways in which shops do operations: by what they have, and what their machines take.

Where no source is named, the fact is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from tests.sequencing.corner_plans import BOARDED, CORNER_PLANS
from tests.sequencing.hardware_plans import HARDWARE_PLANS
from tests.sequencing.shaped_plans import SHAPED_PLANS
from tests.sequencing.test_panel_frames import RAISED, STOPPED
from tests.sequencing.worked import DEMOS, PLANS, TABLE, work_demo

from benchleaf.findings import Severity
from benchleaf.pipeline import WorkedPlan, work_plan
from benchleaf.sequencing import OPERATION_KINDS
from benchleaf.sequencing.facts import FACTS
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.ways import WAYS, ways_of
from benchleaf.sequencing.wording import MOST_WORDS, count_words
from benchleaf.shops import HAND_TOOLS, USUAL_SHOP, WITHOUT_TABLE_SAW, Shop
from benchleaf.shops.records import ALL_MACHINES, MitreSaw, Planer, TableSaw
from turned_plans import TURNED_PLANS

INCH = Fraction(254, 10)
TEXTS = {
    **{name: (PLANS / f"{name}.plan.yml").read_text("utf-8") for name in DEMOS},
    **{f"corner {n}": text for n, text in enumerate(CORNER_PLANS)},
    **{f"hardware {n}": text for n, text in enumerate(HARDWARE_PLANS)},
    **{f"shaped {n}": text for n, text in enumerate(SHAPED_PLANS)},
    "table": TABLE,
    "door": RAISED,
    "door with stopped grooves": STOPPED,
}
LEAN = (WITHOUT_TABLE_SAW, HAND_TOOLS)
lean_shops = pytest.mark.parametrize("shop", LEAN, ids=[shop.name for shop in LEAN])
# No hand makes the half round of a biscuit's slot.
ONLY_BY_MACHINE = {"cut-biscuit-slots"}


@cache
def work(name: str, shop: Shop) -> WorkedPlan:
    return work_plan(TEXTS[name], "plans/a.plan.yml", shop)


def operations_of(worked: WorkedPlan) -> tuple[Operation, ...]:
    assert worked.sequence is not None, worked.findings
    return worked.sequence.operations


def all_operations(shop: Shop) -> Iterator[Operation]:
    for name in TEXTS:
        yield from operations_of(work(name, shop))


def of_kind(name: str, shop: Shop, kind: str) -> list[Operation]:
    return [one for one in operations_of(work(name, shop)) if one.kind == kind]


def test_whatever_a_machine_does_can_be_done_by_hand() -> None:
    for kind in OPERATION_KINDS.values():
        if kind.tool in ALL_MACHINES and kind.code not in ONLY_BY_MACHINE:
            # Wide crosscuts at a sled are not planned where there is no table saw.
            tools = {way.tool for way in ways_of(kind.code)}
            assert kind.code == "crosscut" or tools - ALL_MACHINES - {""}, kind.code
    assert set(WAYS) <= set(OPERATION_KINDS)


def test_ways_of_a_kind_are_told_apart() -> None:
    for ways in WAYS.values():
        codes = [way.code for way in ways]
        assert len(set(codes)) == len(codes)
        assert "" in codes


def test_the_usual_shop_does_everything_as_it_is_planned() -> None:
    assert {one.way for one in all_operations(USUAL_SHOP)} == {""}


@lean_shops
def test_no_shop_works_with_a_machine_that_it_lacks(shop: Shop) -> None:
    lacking = ALL_MACHINES - set(shop.machines())
    used = {one.tool for one in all_operations(shop)} & lacking
    assert used <= {OPERATION_KINDS[kind].tool for kind in ONLY_BY_MACHINE}


@lean_shops
@pytest.mark.parametrize("name", TEXTS)
def test_a_lean_shop_has_a_sound_order_of_work(shop: Shop, name: str) -> None:
    worked = work(name, shop)
    assert worked.is_sound, [str(own) for own in worked.findings]
    usual = work(name, USUAL_SHOP)
    # What is made does not change with the shop: the same features, shaping and assembly.
    assert made(worked) == made(usual)


def made(worked: WorkedPlan) -> tuple[object, ...]:
    done = operations_of(worked)
    return (
        sorted(key for one in done for key in one.features),
        sorted(key for one in done for key in one.shaped),
        sorted(label for one in done for label in one.blanks),
        [one.joined for one in done if one.joined],
    )


@lean_shops
def test_what_is_said_of_every_way_is_short_and_ends_with_a_stop(shop: Shop) -> None:
    for operation in all_operations(shop):
        for action in operation.actions:
            assert count_words(action) <= MOST_WORDS, (operation.kind, action)
            assert action.endswith("."), (operation.kind, action)
        assert operation.actions
        assert operation.active_minutes > 0


@lean_shops
def test_every_way_tells_the_safety_rules_its_own_tool(shop: Shop) -> None:
    for operation in all_operations(shop):
        assert operation.facts["op.tool"] == operation.tool
        assert set(operation.facts) <= set(FACTS)
        if operation.tool not in ALL_MACHINES:
            assert not operation.facts.get("op.loud"), operation.kind
            assert not operation.facts.get("op.rotating_cutter"), operation.kind
            assert not operation.facts.get("op.dado_head"), operation.kind


def test_hands_take_longer_than_machines() -> None:
    for name in TEXTS:
        by_hand, usual = (
            sum(one.active_minutes for one in operations_of(work(name, shop)))
            for shop in (HAND_TOOLS, USUAL_SHOP)
        )
        assert by_hand > usual, name


def test_call_outs_follow_the_way() -> None:
    # The letters of a rule's id are its tool's: those of saws with motors are not said of hands.
    by_motor = ("TS", "MS", "CS", "BS", "JS", "RT", "DR")
    for name in DEMOS:
        call_outs = work(name, HAND_TOOLS).call_outs
        assert call_outs is not None
        said = [own.rule for held in call_outs.by_step.values() for own in held]
        assert not [rule for rule in said if rule.startswith(by_motor)], name
        assert not set(call_outs.cards) & ALL_MACHINES


# Capacities.


def with_saw(**told: object) -> Shop:
    return replace(USUAL_SHOP, table_saw=replace(TableSaw(), **told))  # type: ignore[arg-type]


def test_a_sheet_too_heavy_for_the_table_is_broken_down_and_the_page_says_why() -> None:
    # 18 mm birch plywood weighs some 12 kg a square metre (680 kg/m3, FPL-GTR-282, table 12-1).
    shop = with_saw(carries_kg=Fraction(3), panel_mm=(3000 * INCH, 2000 * INCH))
    (first, *_) = of_kind("table", shop, "break-down")
    (why,) = (own for own in first.settings if own.name == "sawn where it lies")
    assert why.text.endswith("kg; the table saw carries 3 kg alone")


def test_a_large_sheet_is_broken_down_because_of_its_size() -> None:
    (first, *_) = of_kind("hall-bench", USUAL_SHOP, "break-down")
    (why,) = (own for own in first.settings if own.name == "sawn where it lies")
    # 1200 x 600 mm, chosen, to the nearest sixteenth.
    assert why.text == "the table saw carries 47-1/4 × 23-5/8 in alone"


def test_a_fence_that_opens_little_leaves_wide_rips_to_the_guide() -> None:
    shop = with_saw(rip_mm=10 * INCH, rip_left_mm=0 * INCH)
    (seat,) = (one for one in of_kind("hall-bench", shop, "true-width") if "H" in one.copies)
    assert (seat.tool, seat.way) == ("circular saw", "along a guide")
    for operation in of_kind("hall-bench", shop, "rip"):
        assert operation.facts["cut.fence_gap_mm"] <= 10 * INCH
    # A fence to the left of the blade serves as well.
    left = with_saw(rip_mm=10 * INCH, rip_left_mm=16 * INCH)
    (seat,) = (one for one in of_kind("hall-bench", left, "true-width") if "H" in one.copies)
    assert seat.way == ""


def test_without_a_sled_pieces_are_cut_off_at_the_mitre_saw() -> None:
    shop = with_saw(sled_mm=Fraction(0))
    assert not of_kind("hall-bench", shop, "crosscut")
    assert of_kind("hall-bench", shop, "cut-boards")


def test_a_narrow_mitre_saw_leaves_wide_boards_to_the_guide() -> None:
    shop = replace(WITHOUT_TABLE_SAW, mitre_saw=MitreSaw(wide_mm=4 * INCH, rigid_mm=4 * INCH))
    for operation in of_kind("tool-chest", shop, "cut-boards"):
        assert operation.facts["cut.length_mm"] <= 4 * INCH
    assert of_kind("tool-chest", shop, "cut-panels")


def test_fingers_are_sawn_by_hand_where_the_saw_takes_no_dado_head() -> None:
    (cut,) = of_kind("keepsake-box", with_saw(dado_mm=Fraction(0)), "cut-fingers")
    assert (cut.tool, cut.way) == ("hand saw", "by hand")


def test_a_planer_takes_boards_and_no_plywood() -> None:
    shop = replace(USUAL_SHOP, planer=Planer())
    thick = [one for one in all_operations(shop) if one.kind == "true-thickness"]
    for operation in thick:
        assert (operation.tool == "planer") == (operation.facts["material.group"] != "panel")


def test_without_a_router_a_dado_head_cuts_what_runs_through() -> None:
    shop = replace(USUAL_SHOP, has_router=False, has_router_table=False)
    cut = [one for one in all_operations(shop) if one.kind in {"rout-housings", "rout-grooves"}]
    assert cut
    for operation in cut:
        stopped = operation.facts["cut.stopped"] is True
        assert not (stopped and operation.tool == "table saw")
        assert operation.title.startswith("Cut ")


def test_a_dowel_without_a_jig_of_its_size_is_drilled_by_eye() -> None:
    shop = replace(USUAL_SHOP, dowel_jig_mm=(INCH / 4,))
    (holes,) = of_kind("hall-bench", shop, "drill-dowel-holes")
    assert (holes.tool, holes.way) == ("drill", "by eye, with a drill")
    assert not any("jig" in action for action in holes.actions)
    (holes,) = of_kind("hall-bench", replace(shop, dowel_jig_mm=(INCH / 2,)), "drill-dowel-holes")
    assert holes.way == ""


def test_work_that_no_way_can_do_is_found_and_says_what_is_lacking() -> None:
    slots = [name for name in TEXTS if of_kind(name, USUAL_SHOP, "cut-biscuit-slots")]
    assert slots
    worked = work(slots[0], HAND_TOOLS)
    found = [own for own in worked.findings if own.code == "S350"]
    assert found
    assert found[0].severity is Severity.WARNING
    assert found[0].message.endswith("cannot be done in the shop `With hand tools`")
    assert found[0].remedy == "Needed: a biscuit jointer; or another joint, stock or size."
    assert not [own for own in work(slots[0], USUAL_SHOP).findings if own.code == "S350"]


def test_turned_plans_are_worked_by_hand() -> None:
    for text in TURNED_PLANS:
        worked = work_plan(text, "plans/a.plan.yml", HAND_TOOLS)
        assert worked.is_sound == work_plan(text, "plans/a.plan.yml").is_sound


def test_boards_edge_to_edge_are_ploughed() -> None:
    worked = work_plan(BOARDED, "plans/a.plan.yml", HAND_TOOLS)
    kinds = {one.kind: one.tool for one in operations_of(worked)}
    assert kinds["rout-edge-grooves"] == "plough plane"
    assert kinds["rout-tongues"] == "rebate plane"


def test_a_panel_saw_that_squares_an_end_measures_from_the_far_one() -> None:
    # The tool chest's cutting diagrams: cut 2 of the bottom board trims its left end alone; cuts
    # 1 and 2 of its square sheet trim the near edge, then the left end, at one fence.
    trims = [o for o in operations_of(work_demo("tool-chest")) if "trim the left" in str(o.actions)]
    square, own = trims
    assert "On the sheet, keep the far edge then right end against the fence." in square.actions
    assert own.actions[0] == "Mark 47-3/4 in from the right end, at both sides, for each cut."
    assert not [words for words in own.actions if "stop" in words]
