"""How joints are cut, in words and settings: held against the demo plans' own sizes."""

from __future__ import annotations

from fractions import Fraction

from tests.sequencing.worked import of_kind, parts_of, work_demo, work_text

STOPPED_SHELF = """
plan: Tool shelf
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 700, deep: 200, high: 400}
stock:
  ply: {sheet: 2440 x 1220, thickness: 18, of: birch plywood, grain: long}
parts:
  side: {stock: ply, left: 0, front: 0, deep: 200, bottom: 0, high: 400, mirror: [left-right]}
  shelf:
    stock: ply
    left: side.right
    right: side.mirrored(left-right).left
    front: 0
    deep: 200
    bottom: 100
joints:
  - {housing: [shelf, side], stopped: [front], stop: 12}
"""


# Routing.


def test_housings_run_through_where_a_rebate_cuts_as_deep() -> None:
    worked = work_demo("wall-bookcase")
    (operation,) = of_kind(worked, "rout-housings")
    # Sides are 280 deep, shelves end at the back panel, 6 short of that; the rebate for it is
    # 6 wide and 6 deep, as deep as the housings: `housed` in the plan.
    assert operation.facts["cut.stopped"] is False
    said = "Run on to the edge where a rebate or another channel takes the same wood away."
    assert said in operation.actions
    rows = [row for fit in parts_of(worked)[0].fits for row in fit.setting_out]
    assert not any(row.what.startswith("end of") for row in rows)


def test_housings_stop_where_the_plan_stops_them() -> None:
    worked = work_text(STOPPED_SHELF)
    (operation,) = of_kind(worked, "rout-housings")
    assert operation.facts["cut.stopped"] is True
    assert "Stop at the marked ends, and square them with a chisel." in operation.actions
    rows = [row for fit in parts_of(worked)[0].fits for row in fit.setting_out]
    ends = {(row.distance_mm, row.reference) for row in rows if row.what.startswith("end of")}
    assert ends == {(12, "front")}


# Openings for posts.


def test_an_opening_is_marked_to_the_post_and_pared_past_the_lines() -> None:
    worked = work_demo("plant-stand")
    (said,) = [o.actions for o in of_kind(worked, "set-out") if o.copies == ("G",)]
    # The post is 3 and stands 5 in from the end and 3 from the edge; three shoulders of 3/8 leave
    # 3/4 of it, 1-1/8 in from its faces. The top is 4 in from the end and its lip and step are
    # 2-3/4 from the edge: 5 + 1-1/8 - 4 = 2-1/8 and 3 + 1-1/8 - 2-3/4 = 1-3/8.
    assert "Mark both sides of the hole, 2-1/8 and 2-7/8 in from the left." in said
    assert "Mark both sides of the hole, 1-3/8 and 2-1/8 in from the front." in said
    (chopped,) = [o for o in of_kind(worked, "chop") if o.copies == ("G",)]
    # 1/64 in of play on each side: chosen in the handbook of joints.
    assert "Pare 1/64 in past the lines on every side." in chopped.actions
    assert chopped.check == "A block of 3/4 in by 3/4 in slides through each by hand, without play."


def test_an_opening_is_drilled_with_a_bit_that_stays_off_its_lines() -> None:
    for operation in of_kind(work_demo("plant-stand"), "drill-openings"):
        (bit,) = [s.value_mm for s in operation.settings if s.name == "bit"]
        narrowest = {"E": "9/4", "F": "3/2", "G": "3/4"}[operation.copies[0]]
        assert bit < Fraction(narrowest) * Fraction(127, 5)
    # 5/8 is the next bit in common use below 3/4.
    assert bit == Fraction(5, 8) * Fraction(127, 5)


# The sled.


def test_a_blade_is_set_above_what_the_work_lies_on() -> None:
    operations = [
        *of_kind(work_demo("plant-stand"), "saw-shoulders"),
        *of_kind(work_demo("plant-stand"), "cut-laps"),
    ]
    assert len(operations) == 4
    for operation in operations:
        said = [action for action in operation.actions if action.startswith("Set the blade")]
        assert len(said) == 1
        assert "above the sled's floor" in said[0]
