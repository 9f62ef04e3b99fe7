"""Proposed sizes and screw holes against what is published; the source stands beside each."""

from fractions import Fraction

import pytest

from benchleaf.handbook.materials import load_materials
from benchleaf.handbook.tables import load_dowels, load_proportions, load_screws
from benchleaf.joinery.proportions import (
    grid_mm,
    housing_depth_mm,
    round_down,
    round_nearest,
    stock_tenon_mm,
)
from benchleaf.joinery.screws import screw_group, work_out_holes
from benchleaf.lengths import MM_PER_INCH, parse_length

# Wood Handbook FPL-GTR-282 (2021), Table 8-9, p. 8-12: gauge, shank diameter in mm.
TABLE_8_9 = {
    4: 2.84, 5: 3.18, 6: 3.51, 7: 3.84, 8: 4.17, 9: 4.50, 10: 4.83, 11: 5.16, 12: 5.49,
    14: 6.15, 16: 6.81, 18: 7.47, 20: 8.13, 24: 9.45,
}  # fmt: skip

# Drill chart built on the American Wood Council's rule, l-36.com: gauge, shank drill, root in
# inches, pilot in softwood, pilot in hardwood.
CHART = [
    (4, "7/64", 0.075, "3/64", "1/16"),
    (6, "9/64", 0.094, "1/16", "5/64"),
    (8, "11/64", 0.112, "5/64", "3/32"),
    (10, "3/16", 0.130, "3/32", "7/64"),
    (12, "7/32", 0.148, "7/64", "1/8"),
    (14, "1/4", 0.165, "7/64", "9/64"),
    (16, "17/64", 0.184, "9/64", "5/32"),
]


def _inches(length_mm: Fraction) -> Fraction:
    return length_mm / MM_PER_INCH


@pytest.mark.parametrize(("gauge", "shank_mm"), TABLE_8_9.items())
def test_shanks_are_those_of_the_wood_handbook(gauge, shank_mm):
    assert float(load_screws().shank_mm[gauge]) == pytest.approx(shank_mm, abs=0.006)


@pytest.mark.parametrize("gauge", TABLE_8_9)
def test_shanks_follow_the_rule_for_gauge_numbers(gauge):
    # ASME B18.6.1, from memory: 0.060 in and 0.013 in for each number.
    assert _inches(load_screws().shank_mm[gauge]) == Fraction(60 + 13 * gauge, 1000)


@pytest.mark.parametrize(("gauge", "shank", "root", "soft", "hard"), CHART)
def test_screw_holes_lie_within_one_bit_of_the_published_chart(gauge, shank, root, soft, hard):
    bit = Fraction(1, 64)
    in_pine = work_out_holes(gauge, "pine", "in")
    in_oak = work_out_holes(gauge, "red oak", "in")
    assert abs(_inches(in_pine.pilot_mm) - Fraction(soft)) <= bit
    assert abs(_inches(in_oak.pilot_mm) - Fraction(hard)) <= bit
    assert 0 <= _inches(in_pine.clearance_mm) - Fraction(shank) <= bit
    # WH FPL-GTR-190, p. 8-10: the root is about two thirds of the shank.
    two_thirds = float(_inches(in_pine.shank_mm)) * 2 / 3
    assert two_thirds == pytest.approx(root, abs=0.006)


@pytest.mark.parametrize(("gauge", "soft", "hard"), [(c[0], c[3], c[4]) for c in CHART[:4]])
def test_pilots_of_common_gauges_are_those_of_the_chart(gauge, soft, hard):
    assert _inches(work_out_holes(gauge, "pine", "in").pilot_mm) == Fraction(soft)
    assert _inches(work_out_holes(gauge, "red oak", "in").pilot_mm) == Fraction(hard)


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("gauge", TABLE_8_9)
def test_a_screw_passes_its_clearance_hole_and_not_its_pilot(gauge, units):
    holes = work_out_holes(gauge, "red oak", units)
    assert holes.pilot_mm < holes.shank_mm <= holes.clearance_mm < holes.head_mm <= holes.plug_mm
    # ASME B18.6.1, from memory: a head of 82 degrees, (head - clearance) / 2 = depth x tan 41.
    depth = float(holes.head_mm - holes.clearance_mm) / 2 / 0.8693
    assert depth <= float(holes.countersink_mm) + 0.01 <= depth + (0.41 if units == "in" else 0.52)


def test_every_material_of_the_handbook_takes_a_pilot():
    groups = {" ".join(row.words): screw_group(" ".join(row.words)) for row in load_materials()}
    assert set(groups.values()) == {"softwood", "hardwood"}
    assert (groups["pine"], groups["oak"]) == ("softwood", "hardwood")
    assert screw_group("bamboo") == "softwood"


@pytest.mark.parametrize(
    ("stock", "tenon"),
    # Port Townsend School of Woodworking: a third of the stock; the nearest 1/16 by our own rule.
    [("3/4", "1/4"), ("1-1/2", "1/2"), ("7/8", "5/16"), ("1", "5/16"), ("1-1/8", "3/8")],
)
def test_a_tenon_is_a_third_of_its_stock(stock, tenon):
    assert stock_tenon_mm(parse_length(stock, "in"), "in") == parse_length(tenon, "in")


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("sixteenths", range(4, 49))
def test_a_housing_is_between_a_quarter_and_a_third(sixteenths, units):
    # Port Townsend School of Woodworking: a quarter is usually enough, seldom over a third.
    thickness = sixteenths * MM_PER_INCH / 16 if units == "in" else Fraction(sixteenths)
    depth = housing_depth_mm(thickness, units)
    assert 0 < depth <= thickness / 3
    assert depth >= thickness / 4 or depth > thickness / 4 - grid_mm(units)


def test_halves_of_a_step_are_rounded_down():
    step = grid_mm("in")
    assert round_nearest(step * Fraction(5, 2), "in") == 2 * step
    assert round_down(step * Fraction(5, 2), "in") == 2 * step


def test_a_joiners_dowels_are_those_in_common_use():
    # common practice, no source
    inches = [str(_inches(size)) for size in load_dowels("in").diameters_mm]
    assert inches == ["1/4", "5/16", "3/8", "1/2"]
    assert [int(size) for size in load_dowels("mm").diameters_mm] == [6, 8, 10, 12]


def test_every_row_of_the_handbook_says_where_it_came_from():
    statuses = {"read", "secondary", "practice", "chosen", "from memory"}
    for row in (*load_proportions().values(), *load_screws().rules.values()):
        assert row.status in statuses
        assert row.rule
        assert row.source.startswith("common practice") == (row.status == "practice")
        assert row.source.startswith("chosen") == (row.status == "chosen")
        assert (row.factor > 0) != (row.inch_mm > 0 and row.metric_mm > 0)


def test_lengths_of_both_units_agree_to_what_the_shop_rounds_to():
    # chosen: an eighth of an inch, or a fiftieth of what is long, such as 48 in and 1200 mm.
    for row in load_proportions().values():
        assert abs(row.inch_mm - row.metric_mm) <= max(Fraction(33, 10), row.inch_mm / 50)
