"""What is bought for whole plans, held to arithmetic on paper."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

import handmade_plan as handmade
from benchleaf.buying import list_purchases
from benchleaf.buying.prices import PriceList, price_out
from benchleaf.buying.records import Purchase, Shelf
from benchleaf.pipeline import WorkedPlan, work_plan
from benchleaf.reading.plan import Finish

PLANS = Path(__file__).parents[2] / "plans"
SQUARE_FOOT_M2 = 0.09290304  # NIST SP 811 (2008), appendix B.8


@cache
def worked(name: str) -> WorkedPlan:
    return work_plan((PLANS / f"{name}.plan.yml").read_text("utf-8"), f"plans/{name}.plan.yml")


def bought(plan: WorkedPlan) -> Mapping[str, Purchase]:
    assert plan.shopping is not None
    return {one.name: one for one in plan.shopping.purchases}


def with_finish(finish: Finish | None) -> Mapping[str, Purchase]:
    plan = handmade.make_worked()
    assert plan.piece is not None
    assert plan.joinery is not None
    assert plan.cut_plan is not None
    piece = replace(plan.piece, plan=replace(plan.piece.plan, finish=finish))
    listed = list_purchases(replace(plan.joinery, piece=piece), plan.cut_plan)
    return {one.name: one for one in listed.purchases}


def test_pegs_that_are_cut_from_rod_are_not_bought_once_more() -> None:
    # Two dowels at each of four ends of long rails, end rails and shelf rails: 24.
    listed = bought(worked("hall-bench"))
    (rod,) = (one for name, one in listed.items() if name.startswith("rod"))
    assert rod.note == "dowel rod; gives 24 dowels 1/2 x 1-1/2"
    assert not any(name.startswith("dowel") for name in listed)


def test_screws_are_counted_by_joint_with_one_in_ten_to_spare() -> None:
    screw = bought(worked("hall-bench"))["wood screw No. 8 x 2-1/4 in"]
    assert (screw.needed.value, screw.spare, screw.count) == (10, 1, 11)
    assert sum(Fraction(one.value) for one in screw.addends) == 10


def test_dowels_without_a_rod_are_bought() -> None:
    # The hand-made plan's rod is laid out without blanks for its dowels: 2 at each end of a rail.
    dowel = bought(handmade.make_worked())["dowel 10 x 50 mm"]
    assert [(one.name, one.value) for one in dowel.addends] == [
        ("rail to leg", 2),
        ("rail to far leg", 2),
    ]


def test_stock_is_what_the_cut_plan_lays_out() -> None:
    for name in ("hall-bench", "plant-stand", "keepsake-box"):
        plan = worked(name)
        assert plan.cut_plan is not None
        assert plan.shopping is not None
        laid_out = len(plan.cut_plan.sheets) + len(plan.cut_plan.lengths)
        assert sum(one.count for one in plan.shopping.on(Shelf.STOCK)) == laid_out


def test_offcuts_of_the_rack_are_listed_and_not_bought() -> None:
    plan = handmade.make_worked()
    assert plan.joinery is not None
    assert plan.cut_plan is not None
    racked = tuple(replace(sheet, is_offcut=True) for sheet in plan.cut_plan.sheets)
    listed = list_purchases(plan.joinery, replace(plan.cut_plan, sheets=racked))
    there = [one for one in listed.purchases if one.is_there]
    assert [(one.size, one.count) for one in there] == [("1220 x 2440 x 18 mm", 1)]
    free = PriceList(currency="GBP", date="2026-11-02", prices={})
    assert there[0].name not in price_out(listed, free).missing


def test_glue_is_that_of_joints_and_layers() -> None:
    # By hand: between layers 406 x (46 + 86 + 46) = 72268 mm2, at the joints 2 x 2880; at 182 sq ft
    # to the gallon, 0.078028 m2 takes 0.01747 l.
    glue = bought(handmade.make_worked())["PVA glue"]
    assert float(glue.total.value) == pytest.approx(0.078028)
    assert float(glue.needed.value) == pytest.approx(
        0.078028 / (182 * SQUARE_FOOT_M2 / 3.785412), rel=1e-4
    )
    assert [(pack.count, pack.holds.value) for pack in glue.packs if pack.holds] == [
        (1, Fraction(1, 4))
    ]


def test_finish_is_that_of_faces_that_show_by_coats_and_coverage() -> None:
    # Faces by hand: each leg 2(40*36 + 36*400 + 400*40) = 63680, the rail
    # 2(400*36 + 36*80 + 80*400) = 98560; each end of the rail hides 36 x 80 on both sides:
    # 2 * 63680 + 98560 - 4 * 2880 = 214400 mm2. Two coats at 300 sq ft to the gallon.
    oil = with_finish(Finish(material="hardwax oil", coats=2, grits=(120,)))["hardwax oil"]
    assert oil.total.value == Fraction(2144, 10000)
    litres = 2 * 0.2144 / (300 * SQUARE_FOOT_M2 / 3.785412)
    assert float(oil.needed.value) == pytest.approx(litres, rel=1e-4)


def test_oil_is_wiped_on_with_rags_and_varnish_is_brushed() -> None:
    # Common practice, no source: hardwax oil goes on and comes off with a cloth.
    assert (
        with_finish(Finish(material="hardwax oil", coats=2, grits=()))["lint-free rag"].count == 4
    )
    assert "lint-free rag" not in with_finish(Finish(material="varnish", coats=2, grits=()))


def test_abrasives_are_bought_by_grit_and_between_coats_too() -> None:
    listed = with_finish(Finish(material="varnish", coats=3, grits=(120, 180)))
    grits = {name: one.times for name, one in listed.items() if name.startswith("abrasive")}
    # Common practice, no source: each dry coat but the last is rubbed down once.
    assert grits == {"abrasive, grit 120": 1, "abrasive, grit 180": 1, "abrasive, grit 320": 2}


def test_bare_wood_is_sanded_even_where_the_plan_has_no_finish() -> None:
    listed = with_finish(None)
    assert "abrasive, grit 120" in listed
    assert all(one.shelf is not Shelf.SUPPLIES or one.rate for one in listed.values())


@pytest.mark.parametrize("name", ["hall-bench", "plant-stand", "wall-bookcase"])
def test_abrasive_that_a_step_names_is_bought(name: str) -> None:
    plan = worked(name)
    assert plan.sequence is not None
    said = {
        grit
        for operation in plan.sequence.operations
        for action in operation.actions
        for grits in re.findall(r"grit ([0-9, then]+[0-9])", action)
        for grit in re.findall("[0-9]+", grits)
    }
    assert said
    assert {f"abrasive, grit {grit}" for grit in said} <= set(bought(plan))
