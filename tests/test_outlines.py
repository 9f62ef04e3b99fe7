"""Outlines: arcs and curves against closed forms, corners against the true line."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from benchleaf.outlines import (
    SAGITTA_MM,
    Arc,
    Line,
    Outline,
    arc_over,
    area_mm2,
    curve_through,
    ellipse,
    flatten,
    limits,
    mirrored,
    moved,
    polygon,
)

LENGTHS = st.integers(1, 2000).map(lambda n: Fraction(n, 2))


@given(a=LENGTHS, b=LENGTHS)
def test_the_area_of_an_ellipse_is_pi_times_its_half_axes(a, b):
    # Archimedes, On conoids and spheroids, prop. 4: pi a b.
    assert area_mm2(ellipse((Fraction(7), Fraction(-3)), (a, b))) == pytest.approx(
        math.pi * float(a) * float(b)
    )


@given(chord=LENGTHS, rise=LENGTHS)
def test_an_arc_over_a_chord_bounds_the_segment_of_its_circle(chord, rise):
    # Segment of a circle: R^2/2 (t - sin t), with R = c^2/8h + h/2 and t its angle (Euclid III.35
    # for the radius; from memory for the area).
    arc = arc_over((chord, Fraction(0)), (Fraction(0), Fraction(0)), rise_mm=-rise)
    figure = Outline((Fraction(0), Fraction(0)), (Line((chord, Fraction(0))), arc))
    c, h = float(chord), float(rise)
    radius = c * c / (8 * h) + h / 2
    angle = 2 * math.atan2(c / 2, radius - h)
    expected = radius**2 / 2 * (angle - math.sin(angle))
    assert area_mm2(figure) == pytest.approx(expected, rel=1e-6, abs=1e-6)
    assert float(limits(figure)[1][1]) == pytest.approx(h)


def test_an_arc_over_a_level_chord_has_an_exact_centre():
    # 3-4-5: a chord of 6 that rises 1 belongs to a circle of radius 5.
    arc = arc_over((Fraction(0), Fraction(0)), (Fraction(6), Fraction(0)), rise_mm=Fraction(1))
    assert arc == Arc(
        (Fraction(6), Fraction(0)), (Fraction(3), Fraction(-4)), (5, 5), is_clockwise=True
    )


@given(a=LENGTHS, b=LENGTHS)
def test_corners_stray_from_an_ellipse_by_no_more_than_the_sagitta(a, b):
    centre = (Fraction(0), Fraction(0))
    corners = flatten(ellipse(centre, (a, b)))
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        angle = (math.atan2(y0 / float(b), x0 / float(a)), math.atan2(y1 / float(b), x1 / float(a)))
        middle = angle[0] + math.remainder(angle[1] - angle[0], math.tau) / 2
        true = (float(a) * math.cos(middle), float(b) * math.sin(middle))
        assert math.dist(true, ((x0 + x1) / 2, (y0 + y1) / 2)) <= SAGITTA_MM * 1.001


@given(
    st.lists(
        st.tuples(st.integers(-300, 300), st.integers(-300, 300)),
        min_size=3,
        max_size=8,
        unique=True,
    )
)
def test_the_area_inside_a_curve_is_that_of_its_corners(points):
    figure = Outline(points[0], curve_through(points, is_closed=True))
    corners = flatten(figure)
    shoelace = sum(
        x0 * y1 - y0 * x1
        for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True)
    )
    length = sum(math.dist(p, q) for p, q in pairwise(corners))
    assert area_mm2(figure) == pytest.approx(shoelace / 2, abs=SAGITTA_MM * length + 1)
    for point in points:
        assert any(math.dist(point, corner) < 1e-6 for corner in corners)


def test_the_area_of_straight_corners_is_the_surveyors():
    # Checked against shapely.
    corners = [(0, 0), (40, 0), (40, 10), (15, 30), (0, 30)]
    assert area_mm2(polygon(corners)) == Polygon(corners).area


def test_a_mirror_image_and_a_shift_keep_the_area():
    points = [(0, 0), (40, 5), (30, 40), (-10, 20)]
    figure = Outline(points[0], curve_through(points, is_closed=True))
    assert area_mm2(mirrored(figure)) == pytest.approx(-area_mm2(figure))
    assert area_mm2(moved(figure, (100, -40))) == pytest.approx(area_mm2(figure))
    circle = ellipse((0, 0), (5, 5))
    assert area_mm2(mirrored(circle)) == pytest.approx(-25 * math.pi)


def test_what_is_no_figure_is_refused():
    with pytest.raises(ValueError, match="three points"):
        polygon([(0, 0), (1, 1)])
    with pytest.raises(ValueError, match="chord and a rise"):
        arc_over((0, 0), (5, 0), rise_mm=0)
