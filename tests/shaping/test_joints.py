"""What shaping does to joints and to the grain: the findings, and what gives rise to none."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.shaping.shaped import part_of, shape
from tests.small_plans import show_findings, work_small_plan

from benchleaf.reading.plan import StockKind
from benchleaf.shaping import shape_part

LEG = "0 0 0 to 45 45 450"
RAIL = "45 10 350 to 545 30 420"


def plan(leg_shape, joint=None):
    return work_small_plan(
        {
            "units": "mm",
            "parts": {"leg": {"box": LEG, "shape": leg_shape}, "rail": RAIL},
            "joints": [joint or {"mortise and tenon": ["rail", "leg"], "length": 25}],
        }
    )


def said(leg_shape, joint=None):
    found = show_findings(plan(leg_shape, joint)[1])
    return [line for line in found if "[F" in line]


def test_a_taper_below_the_rail_spoils_nothing():
    assert said([{"taper": ["right", "back"], "from": 110, "to": 25}]) == []


def test_a_taper_that_starts_at_the_rail_takes_the_face_where_it_bears():
    # The taper ends at 390; the rail bears from 350 to 420.
    into, bears = said([{"taper": "right", "from": 60, "to": 25}])
    assert into == (
        "error parts.leg.shape[0]: the taper cuts into the mortise for rail / Move one of them, or "
        "make it smaller. [F121]"
    )
    assert re.fullmatch(
        "warning parts.leg.shape.0.: the taper takes ..% of the face where rail bears / Needed: a "
        "flat face there. Stop the shaping short of it, or move the joint. .F122.",
        bears,
    )


def test_a_hole_through_a_mortise_is_an_error():
    (only,) = said([{"hole": "front", "diameter": 12, "at": "30 x 385"}])
    assert only == (
        "error parts.leg.shape[0]: the hole cuts into the mortise for rail / Move one of them, or "
        "make it smaller. [F121]"
    )


def test_a_hole_beside_a_mortise_leaves_its_wall():
    # The tenon is 350 to 420 less its edge shoulders; 10 of bore below it, 3 mm away from 356.
    mortise = next(f for f in plan([])[0].copies["A"].features if f.role == "mortise")
    at = float(mortise.shape.low[2]) - 3 - 5
    (only,) = said([{"hole": "front", "diameter": 10, "at": f"30 x {at:g}"}])
    assert only == (
        "warning parts.leg.shape[0]: the hole leaves 3 of wood beside the mortise for rail / "
        "Needed: at least 6. [F121]"
    )


def test_a_round_over_at_the_shoulder_of_a_tenon_is_told():
    found = work_small_plan(
        {
            "units": "mm",
            "parts": {
                "leg": LEG,
                "rail": {"box": RAIL, "shape": [{"taper": "top", "to": 30, "toward": "left"}]},
            },
            "joints": [{"mortise and tenon": ["rail", "leg"], "length": 25}],
        }
    )[1]
    lines = [line for line in show_findings(found) if "[F" in line]
    assert [line[-5:-1] for line in lines] == ["F120", "F122"]
    assert "of the wood that the tenon for leg stands on" in lines[0]


def test_shaping_is_the_same_on_every_copy_and_makes_hands_where_it_is_not_symmetrical():
    def shapes(entry):
        joinery, _ = work_small_plan(
            {
                "units": "mm",
                "overall": {"wide": "600 mm", "deep": "400 mm", "high": "450 mm"},
                "parts": {"leg": {"box": LEG, "mirror": ["left-right"], "shape": [entry]}},
            }
        )
        (only,) = joinery.shapes
        return only.as_drawn, only.mirrored

    # A taper on one side is its own mirror image from front to back.
    assert shapes({"taper": "right", "to": 25}) == (("A1", "A2"), ())
    assert shapes({"hole": "front", "diameter": 6, "at": "10 x 100"}) == (("A1", "A2"), ())
    assert shapes({"hole": "front", "diameter": 6, "at": "10 x 100", "depth": 9}) == (
        ("A1",),
        ("A2",),
    )
    assert shapes({"chamfer": "right front", "size": 3}) == (("A1", "A2"), ())
    assert shapes({"chamfer": "right bottom", "size": 3}) == (("A1", "A2"), ())


@pytest.mark.parametrize(
    ("slots", "is_short"),
    [
        # A finger 20 mm long on the grain that stands 60 out across it; then one 40 long.
        ([("notch", "top", {"width": 30, "depth": 60, "at": 20})], True),
        ([("notch", "top", {"width": 30, "depth": 60, "at": 40})], False),
        ([("notch", "top", {"width": 30, "depth": 20, "at": 20})], False),
    ],
)
def test_short_grain_is_less_than_an_inch_that_stands_out_by_more(slots, is_short):
    # common practice, no source
    part = part_of((300, 18, 100), slots)
    board = replace(part, stock=replace(part.stock, kind=StockKind.BOARD))
    plan_of = work_small_plan({"units": "mm", "parts": {"leg": LEG}})[0].piece.plan
    codes = [finding.code for finding in shape_part(board, plan_of)[1]]
    assert codes == (["F130"] if is_short else [])
    # Plywood has no grain to break along.
    assert shape((300, 18, 100), slots)[1] == ()
