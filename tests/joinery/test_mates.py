"""What holds for every joint, whatever its sizes: mates fit, and the wood adds up."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.checking import check_piece
from benchleaf.forms import Bore
from benchleaf.frames import Box
from benchleaf.joinery.records import (
    Joinery,
)
from benchleaf.joinery.solids import placed_solid, solid_of_copy
from benchleaf.lengths import MM_PER_INCH
from small_plans import show_findings, work_small_plan
from strategies import sixteenths

# Hypothesis works a whole plan for each example; forty keep a test under two seconds.
FEW = settings(max_examples=40, deadline=None)


def _work(parts: dict, joints: list, **more) -> Joinery:
    joinery, findings = work_small_plan({"units": "in", "parts": parts, "joints": joints} | more)
    assert [f for f in show_findings(findings) if f.startswith("error")] == []
    return joinery


def _misfits(joinery: Joinery) -> list[str]:
    """Findings of fit. Two parts are no piece: whether they would sag or tip is not asked here."""
    return [finding.message for finding in check_piece(joinery) if finding.code < "K220"]


def _corners(*numbers: Fraction | int) -> str:
    low, high = numbers[:3], numbers[3:]
    return " to ".join(" ".join(_show(n) for n in corner) for corner in (low, high))


def _show(inches: Fraction | int) -> str:
    whole, part = divmod(Fraction(inches), 1)
    return f"{whole}-{part}" if whole and part else str(part or whole)


def _shape(joinery: Joinery, mark: str, role: str, *, adds: bool) -> Box:
    """The one box with a role, where it stands in the piece."""
    (feature,) = (f for f in joinery.copies[mark].features if f.role == role and f.adds == adds)
    return joinery.piece.copies[mark].frame.box_outward(feature.shape)


def _wood_mm3(joinery: Joinery, mark: str) -> float:
    """Volume of a finished copy by arithmetic: box, and what is added, less what is cut.

    Good where the features of a kind do not overlap; countersinks sit on top of clearance holes.
    """
    part = joinery.piece.part_of(mark)
    total = float(part.box.volume_mm3)
    for feature in joinery.copies[mark].features:
        sign = 1 if feature.adds else -1
        if isinstance(feature.shape, Bore):
            total += sign * _bored_mm3(feature.shape, is_sink=feature.role == "countersink")
        else:
            total += sign * float(feature.shape.volume_mm3)
    return total


def _bored_mm3(bore: Bore, *, is_sink: bool) -> float:
    wide, narrow = float(bore.diameter_mm) / 2, float(bore.end_diameter_mm) / 2
    depth = float(bore.depth_mm)
    frustum = math.pi * depth / 3 * (wide**2 + wide * narrow + narrow**2)
    return frustum - math.pi * narrow**2 * depth if is_sink else frustum


legs = st.tuples(sixteenths("1-1/4", "4"), sixteenths("1-1/4", "4"))
rails = st.tuples(sixteenths("5/8", "1-1/4"), sixteenths("1-1/2", "6"))


@FEW
@given(legs, rails, st.booleans())
def test_a_tenon_fills_its_mortise_but_for_the_clearance(leg, rail, is_through):
    (wide, deep), (thick, high) = leg, rail
    joinery = _work(
        {
            "leg": _corners(0, 0, 0, wide, deep, 20),
            "rail": _corners(wide, 0, 8, wide + 12, thick, 8 + high),
        },
        [{"mortise and tenon": ["rail", "leg"], "through": is_through, "haunch": False}],
    )
    tenon = _shape(joinery, "B", "tenon", adds=True)
    mortise = _shape(joinery, "A", "mortise", adds=False)
    assert (tenon.low[1:], tenon.high[1:]) == (mortise.low[1:], mortise.high[1:])
    assert tenon.high[0] == mortise.high[0]
    # Port Townsend School of Woodworking: 1/8 in shorter than the mortise is deep.
    clearance = 0 if is_through else MM_PER_INCH / 8
    assert tenon.low[0] - mortise.low[0] == clearance
    assert mortise.volume_mm3 - tenon.volume_mm3 == clearance * mortise.size[1] * mortise.size[2]


@FEW
@given(legs, rails)
def test_a_blind_mortise_leaves_the_wall_and_a_tenon_its_shoulders(leg, rail):
    (wide, deep), (thick, high) = leg, rail
    joinery = _work(
        {
            "leg": _corners(0, 0, 0, wide, deep, 20),
            "rail": _corners(wide, 0, 8, wide + 12, thick, 8 + high),
        },
        [{"mortise and tenon": ["rail", "leg"]}],
    )
    mortise = _shape(joinery, "A", "mortise", adds=False)
    assert mortise.low[0] >= joinery.piece.plan.shop.wall_mm
    tenon = _shape(joinery, "B", "tenon", adds=True)
    assert tenon.size[1] <= thick * MM_PER_INCH / 2
    assert tenon.size[2] <= min(high * MM_PER_INCH * 2 / 3, 6 * tenon.size[1])
    assert _misfits(joinery) == []


@FEW
@given(sixteenths("1/2", "1-1/2"), sixteenths("1/2", "1-1/4"), sixteenths("0", "1/16"))
def test_a_shelf_fills_its_housing_but_for_the_clearance(side, shelf, clearance):
    joinery = _work(
        {
            "side": _corners(0, 0, 0, side, 11, 30),
            "shelf": _corners(side, 0, 10, 24, 11, 10 + shelf),
        },
        [{"housing": ["shelf", "side"], "clearance": _show(clearance)}],
    )
    housed = _shape(joinery, "B", "housed end", adds=True)
    housing = _shape(joinery, "A", "housing", adds=False)
    assert (housed.low[1:], housed.high[1:]) == (housing.low[1:], housing.high[1:])
    assert housed.low[0] - housing.low[0] == clearance * MM_PER_INCH
    assert _misfits(joinery) == []


@FEW
@given(sixteenths("1/2", "3"), sixteenths("1", "4"), sixteenths("1", "4"))
def test_halves_of_a_lap_fill_the_crossing(thick, wide, deep):
    joinery = _work(
        {
            "one": _corners(0, 5, 0, 16, 5 + deep, thick),
            "other": _corners(6, 0, 0, 6 + wide, 14, thick),
        },
        [{"half lap": ["one", "other"]}],
    )
    cuts = [_shape(joinery, mark, "lap", adds=False) for mark in "AB"]
    crossing = wide * deep * thick * MM_PER_INCH**3
    assert cuts[0].volume_mm3 + cuts[1].volume_mm3 == crossing
    assert not cuts[0].meet(cuts[1]).is_solid()
    together = placed_solid(joinery, "A") + placed_solid(joinery, "B")
    boxes = sum(float(part.box.volume_mm3) for part in joinery.piece.parts.values())
    assert together.volume() == pytest.approx(boxes - float(crossing), rel=1e-9)


@FEW
@given(sixteenths("3/4", "2-1/2"), sixteenths("2", "8"), st.integers(0, 8))
def test_dowel_holes_face_one_another_and_are_as_deep_as_the_dowel_and_the_clearance(
    thick, high, back
):
    joinery = _work(
        {
            "leg": _corners(0, 0, 0, 3, 3, 20),
            "rail": _corners(3, Fraction(back, 16), 8, 24, Fraction(back, 16) + thick, 8 + high),
        },
        [{"dowels": ["rail", "leg"]}],
    )
    placed = {
        mark: [joinery.piece.copies[mark].frame.outward(f.shape.mouth)
               for f in joinery.copies[mark].features]
        for mark in "AB"
    }  # fmt: skip
    assert sorted(placed["A"]) == sorted(placed["B"])
    (fit,) = joinery.fits
    (dowel,) = fit.hardware
    depths = [features[0].shape.depth_mm for features in (fit.first_features, fit.second_features)]
    # common practice, no source: 1/16 in deeper on each side.
    assert sum(depths) == dowel.length_mm + MM_PER_INCH / 8
    assert _misfits(joinery) == []


@FEW
@given(sixteenths("2", "4"), sixteenths("1/2", "1"), sixteenths("0", "1/8"))
def test_a_panel_lies_on_what_its_hole_leaves_of_the_post(post, panel, clearance):
    joinery = _work(
        {
            "post": _corners(6, 6, 0, 6 + post, 6 + post, 20),
            "panel": {"box": _corners(0, 0, 9, 20, 20, 9 + panel), "sheet": "long"},
        },
        [{"through post": ["post", "panel"], "clearance": _show(clearance)}],
    )
    hole = _shape(joinery, "B", "through hole", adds=False)
    rings = [f.shape for f in joinery.copies["A"].features if f.role == "shoulder"]
    above = 20 - 9
    section_mm2 = (post * MM_PER_INCH) ** 2 - sum(r.volume_mm3 for r in rings) / above / MM_PER_INCH
    grown = hole.size[0] - 2 * clearance * MM_PER_INCH
    assert grown**2 == section_mm2
    (bearing,) = (size.value_mm for fit in joinery.fits for size in fit.sizes if size.is_area)
    assert bearing == (post * MM_PER_INCH) ** 2 - hole.size[0] * hole.size[1]
    assert _misfits(joinery) == []


_WHOLE = {
    "mortise and tenon": ("2 1/2 6 to 18 1-1/2 9", {}),
    "dowels": ("2 1/2 6 to 18 1-1/2 9", {}),
    "housing": ("2 0 6 to 18 2 7", {"stopped": ["front"]}),
    "groove": ("2 1 0 to 18 1-1/4 18", {}),
    "rebate": ("2 1-3/4 0 to 18 2 18", {}),
    "butt": ("2 1/2 6 to 4 1-1/2 9", {"screws": "8 x 3"}),
    "rests on": ("2 1/2 6 to 18 1-1/2 9", {}),
    "half lap": ("-4 0 6 to 18 2 9", {}),
}


@pytest.mark.parametrize("code", _WHOLE)
def test_a_finished_part_is_its_box_with_what_is_added_less_what_is_cut(code):
    corners, choices = _WHOLE[code]
    if code == "half lap":
        corners = "0 0 6 to 18 2 9"
    joinery = _work(
        {"leg": "0 0 0 to 2 2 18", "rail": {"box": corners, "sheet": "none"}},
        [{code: ["rail", "leg"]} | choices],
    )
    for mark in "AB":
        solid = solid_of_copy(joinery, mark)
        assert solid.volume() == pytest.approx(_wood_mm3(joinery, mark), rel=1e-6)


def test_copies_of_a_mirrored_table_are_of_one_shape():
    joinery = _work(
        {
            "leg": {"box": "0 0 0 to 2 2 18", "mirror": ["left-right", "front-back"]},
            "long rail": {"box": "2 1/4 14 to 28 1 18", "mirror": ["front-back"]},
            "end rail": {"box": "1/4 2 14 to 1 18 18", "mirror": ["left-right"]},
        },
        [
            {"mortise and tenon": ["long rail", "leg"]},
            {"mortise and tenon": ["end rail", "leg"]},
        ],
        overall={"wide": 30, "deep": 20, "high": 18},
    )
    assert [shape.name for shape in joinery.shapes] == ["leg", "long rail", "end rail"]
    assert _misfits(joinery) == []
