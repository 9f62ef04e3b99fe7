"""How joints are cut, in words and settings: held against the demo plans' own sizes."""

from __future__ import annotations

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
