"""How much wood each kind of shaping takes off, against closed forms of plane and solid geometry.

Sources, unless said beside a test: areas of circle, ellipse and their parts, and the frustum of a
pyramid, from any table of mensuration.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.shaping.shaped import shape, solid_left, waste_mm3

from benchleaf.outlines import SAGITTA_MM

# What corners on a true curve leave out: a sliver 2/3 of the sagitta high along it (Archimedes).
_LOST = 2 / 3 * SAGITTA_MM * 1.01
sizes = st.fractions(min_value=30, max_value=400, max_denominator=16)
few = settings(max_examples=25, deadline=None)


def eased(length: float, run: float) -> float:
    """Volume that facets may be off by along a curve, drawn out over a length."""
    return _LOST * length * run + 1e-6


@few
@given(a=sizes, b=sizes, length=st.fractions(200, 900, max_denominator=16))
def test_a_leg_tapered_on_four_sides_is_the_frustum_of_a_pyramid(a, b, length):
    top, foot = max(a, b) + 1, min(a, b)
    entry = ("taper", "left, right, front, back", {"to": foot})
    whole = max(length, top + 1)
    left = solid_left((top, top, whole), [entry]).volume()
    expected = whole / 3 * (top**2 + top * foot + foot**2)
    assert left == pytest.approx(float(expected), rel=1e-9)


@few
@given(size=sizes, share=st.fractions("1/10", "9/10", max_denominator=20))
def test_a_taper_on_one_side_takes_a_wedge(size, share):
    length, start, to = size * 5, size, size * share
    entry = ("taper", "right", {"to": to, "from": start})
    assert waste_mm3((size, size, length), [entry]) == pytest.approx(
        float((length - start) * (size - to) / 2 * size), rel=1e-9, abs=1e-5
    )


def test_the_handbook_leg_has_its_volume():
    # 28 x 1-3/4 tapered to 7/8 in on four sides: 50.0208 in3, worked by the same closed form.
    inch = Fraction(254, 10)
    size = (Fraction(7, 4) * inch, Fraction(7, 4) * inch, 28 * inch)
    entry = ("taper", "left, right, front, back", {"to": Fraction(7, 8) * inch})
    assert solid_left(size, [entry]).volume() / 25.4**3 == pytest.approx(50.0208, abs=1e-4)


@few
@given(size=sizes, share=st.fractions("1/20", "9/20", max_denominator=40))
def test_a_chamfer_takes_half_its_square_along_the_edge(size, share):
    width = size * share
    wood = (size * 3, size, size)
    assert waste_mm3(wood, [("chamfer", "front top", {"size": width})]) == pytest.approx(
        float(width**2 / 2 * size * 3), rel=1e-9, abs=1e-5
    )


@few
@given(size=sizes, share=st.fractions("1/20", "9/20", max_denominator=40))
def test_a_round_over_takes_a_square_less_a_quarter_circle(size, share):
    radius, length = float(size * share), float(size * 3)
    taken = waste_mm3(
        (size * 3, size, size), [("round over", "back bottom", {"radius": size * share})]
    )
    exact = (1 - math.pi / 4) * radius**2 * length
    # Corners lie on the circle, inside the wood's curve: a little more is taken.
    assert exact <= taken + 1e-6 <= exact + eased(length, radius * math.pi / 2) + 1e-5


@few
@given(size=sizes, share=st.fractions("1/20", "9/20", max_denominator=40))
def test_a_cove_takes_a_quarter_circle(size, share):
    radius, length = float(size * share), float(size * 3)
    taken = waste_mm3((size * 3, size, size), [("cove", "back top", {"radius": size * share})])
    exact = math.pi / 4 * radius**2 * length
    assert exact - eased(length, radius * math.pi / 2) - 1e-5 <= taken <= exact + 1e-6


@few
@given(chord=sizes, share=st.fractions("1/20", "1/2", max_denominator=20))
def test_a_hollow_arc_takes_the_segment_of_its_circle(chord, share):
    rise, thick = chord * share, Fraction(18)
    wood = (chord + 10, thick, chord)
    taken = waste_mm3(wood, [("arc", "bottom", {"chord": chord, "rise": rise})])
    c, h = float(chord), float(rise)
    radius = (c * c / 4 + h * h) / (2 * h)
    half = 2 * math.atan2(h, c / 2)
    # The segment of a circle: R2 (a - sin a cos a), a half of the angle at its centre.
    exact = radius**2 * (half - math.sin(half) * math.cos(half)) * 18
    assert exact - eased(18, 2 * half * radius) - 1e-4 <= taken <= exact + 1e-4


def test_a_crown_takes_what_lies_outside_its_segment():
    taken = waste_mm3((200, 18, 60), [("arc", "top", {"rise": 20, "form": "crowned"})])
    hollow = waste_mm3((200, 18, 60), [("arc", "top", {"rise": 20})])
    assert taken == pytest.approx(200 * 20 * 18 - hollow, rel=1e-3)


@few
@given(wide=sizes, deep=sizes)
def test_a_part_cut_to_an_ellipse_has_its_area(wide, deep):
    left = solid_left((wide, deep, 18), [("ellipse", "top", {})]).volume()
    exact = math.pi / 4 * float(wide) * float(deep) * 18
    around = math.pi * (float(wide) + float(deep)) / 2
    assert exact - eased(18, around) - 1e-3 <= left <= exact


def test_a_round_top_has_the_area_of_its_circle():
    left = solid_left((300, 400, 20), [("circle", "bottom", {"diameter": 280, "at": (150, 200)})])
    assert left.volume() == pytest.approx(math.pi * 140**2 * 20, rel=1e-3)


@few
@given(long=sizes, share=st.fractions("1/10", "9/10", max_denominator=20))
def test_a_slot_is_a_rectangle_with_half_circles(long, share):
    wide = long * share
    wood = (long + 20, 20, wide + 20)
    taken = waste_mm3(wood, [("slot", "front", {"size": (long, wide), "along": "wide"})])
    exact = (float(long - wide) * float(wide) + math.pi / 4 * float(wide) ** 2) * 20
    assert exact - eased(20, math.pi * float(wide)) - 1e-4 <= taken <= exact + 1e-4


def test_a_cut_out_is_a_rectangle_less_its_corners():
    entry = ("cut-out", "top", {"size": (80, 40), "corner": 10, "depth": 6})
    taken = waste_mm3((200, 100, 18), [entry])
    assert taken == pytest.approx((80 * 40 - (4 - math.pi) * 100) * 6, rel=1e-3)


def test_a_notch_is_a_box_and_a_hole_a_cylinder():
    notch = ("notch", "left", {"width": 30, "depth": 12, "at": 50})
    assert waste_mm3((300, 18, 100), [notch]) == pytest.approx(30 * 12 * 18, rel=1e-9)
    hole = ("hole", "front", {"diameter": 10, "at": [(20, 20), (60, 20)], "depth": 9})
    assert waste_mm3((300, 18, 100), [hole]) == pytest.approx(2 * math.pi * 25 * 9, rel=1e-6)


def test_a_straight_outline_has_the_area_of_its_triangle():
    entry = ("outline", "front", {"through": [(0, 0), (100, 0), (0, 60)], "sides": "straight"})
    assert solid_left((100, 12, 60), [entry]).volume() == pytest.approx(100 * 60 / 2 * 12)


def test_a_curve_through_points_on_a_line_is_that_line():
    entry = ("curve", "top", {"through": [(0, 30), (50, 20), (100, 10), (150, 0)]})
    assert waste_mm3((150, 18, 60), [entry]) == pytest.approx(150 * 30 / 2 * 18)


def test_an_eased_rim_takes_the_square_less_quarter_circle_all_round():
    sharp = ("hand hole", "front", {"size": (100, 30), "ease": 0})
    eased_one = ("hand hole", "front", {"size": (100, 30), "ease": 4})
    wood = (300, 20, 150)
    more = waste_mm3(wood, [eased_one]) - waste_mm3(wood, [sharp])
    # Pappus: the corner's area times the way of its centroid, which lies out from the rim by
    # (10 - 3 pi) / (12 - 3 pi) r for a square less a quarter circle.
    area = (1 - math.pi / 4) * 16
    out = (10 - 3 * math.pi) / (12 - 3 * math.pi) * 4
    around = 2 * 70 + 2 * math.pi * (15 + out)
    assert 2 * area * around <= more <= 2 * area * around + 2 * eased(around, 4 * math.pi / 2)


def test_a_round_over_follows_an_arc():
    arc = ("arc", "bottom", {"rise": 30, "chord": 240})
    rounded = ("round over", "front bottom", {"radius": 6})
    wood = (300, 20, 100)
    more = waste_mm3(wood, [arc, rounded]) - waste_mm3(wood, [arc])
    radius = (120**2 + 30**2) / 60
    angle = 2 * math.asin(120 / radius)
    area = (1 - math.pi / 4) * 36
    out = (10 - 3 * math.pi) / (12 - 3 * math.pi) * 6
    # Pappus, inside a hollow: the centroid runs on a larger circle; 30 mm straight at both ends.
    around = (radius + out) * angle + 60
    assert area * around * 0.999 <= more <= area * around + eased(around, 6 * math.pi / 2)
    # The line that the cutter follows is the arc: seen from the front no wood is left below it.
    assert shape(wood, [arc, rounded])[1] == ()


def test_a_chamfer_follows_two_tapers_down_to_the_foot():
    taper = ("taper", "right, back", {"to": 20, "from": 100})
    chamfer = ("chamfer", "right back", {"size": 4})
    wood = (40, 40, 500)
    more = waste_mm3(wood, [taper, chamfer]) - waste_mm3(wood, [taper])
    # Square to the leg's axis it takes the same triangle all along.
    assert more == pytest.approx(4 * 4 / 2 * 500, rel=1e-6)


def test_mitred_corners_of_a_chamfered_face_overlap_once():
    # Four wedges less the corner pyramids that two of them share: s3/3 at each corner.
    taken = waste_mm3((100, 80, 30), [("chamfer", "all edges of top", {"size": 6})])
    assert taken == pytest.approx(36 / 2 * (2 * 100 + 2 * 80) - 4 * 6**3 / 3, rel=1e-9)


def test_a_round_over_follows_the_rim_of_a_round_top():
    top = ("circle", "top", {"diameter": 300})
    rounded = ("round over", "all edges of top, all edges of bottom", {"radius": 5})
    wood = (320, 320, 20)
    more = waste_mm3(wood, [top, rounded]) - waste_mm3(wood, [top])
    # Pappus: the centroid of a square less a quarter circle lies in from the rim by
    # (10 - 3 pi) / (12 - 3 pi) r.
    area = (1 - math.pi / 4) * 25
    around = 2 * math.pi * (150 - (10 - 3 * math.pi) / (12 - 3 * math.pi) * 5)
    expected = 2 * area * around
    assert expected * 0.995 <= more <= expected + 2 * eased(around, 5 * math.pi / 2)


def test_edges_are_worked_last_whatever_stands_first():
    arc = ("arc", "bottom", {"rise": 30, "chord": 240})
    rounded = ("round over", "front bottom", {"radius": 6})
    wood = (300, 20, 100)
    assert waste_mm3(wood, [rounded, arc]) == pytest.approx(waste_mm3(wood, [arc, rounded]))
