"""Shapes of features: solids, mirror images and boxes round them, against closed forms."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from benchleaf.forms import (
    Bore,
    Prism,
    box_round,
    carry_form,
    form_cut,
    mirror_form,
    prism_of_box,
)
from benchleaf.frames import Axis, Box, Frame
from benchleaf.joinery.records import (
    Feature,
)
from benchleaf.joinery.solids import solid_of
from benchleaf.outlines import SAGITTA_MM, ellipse, polygon
from benchleaf.piece.solids import solid_of_box

SQUARE = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
BODY = Box((Fraction(0),) * 3, (Fraction(100), Fraction(50), Fraction(20)))


def cut(shape) -> float:
    feature = Feature(role="cut-out", shape=shape, adds=False, joint=0, mate="B")
    return solid_of_box(BODY).volume() - solid_of(solid_of_box(BODY), [feature]).volume()


def turned(degrees: float) -> Frame:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Frame((0.0, 0.0, 0.0), ((c, s, 0.0), (-s, c, 0.0), (0.0, 0.0, 1.0)))


def test_a_dovetail_socket_takes_away_its_trapezoid_times_its_depth():
    # Trapezoid: half the sum of the parallel sides times the height.
    tail = polygon([(20, 0), (40, 0), (36, 15), (24, 15)])
    assert cut(Prism(Frame((0, 0, 0), SQUARE), tail, 20)) == pytest.approx((20 + 12) / 2 * 15 * 20)


def test_a_round_hole_drawn_as_an_outline_takes_its_circle_away():
    hole = Prism(Frame((50, 25, 0), SQUARE), ellipse((0, 0), (10, 10)), 20)
    # Corners on the circle lose slivers two thirds of the sagitta high all round (Archimedes).
    lost = 2 / 3 * SAGITTA_MM * math.tau * 10 * 20
    assert math.pi * 100 * 20 - lost * 1.01 < cut(hole) < math.pi * 100 * 20


def test_a_prism_drawn_backwards_lies_on_the_other_side():
    square = polygon([(10, 10), (20, 10), (20, 20), (10, 20)])
    top = Prism(Frame((0, 0, 20), SQUARE), square, -5)
    assert cut(top) == pytest.approx(500)
    assert box_round(top) == Box((10, 10, 15), (20, 20, 20))


def test_a_box_carried_to_a_turned_frame_keeps_its_volume_and_comes_back():
    outer = Frame((0, 0, 0), SQUARE)
    box = Box((Fraction(10), Fraction(20), Fraction(5)), (Fraction(30), Fraction(24), Fraction(9)))
    there = carry_form(box, outer, turned(30))
    assert isinstance(there, Prism)
    back = box_round(carry_form(there, turned(30), outer))
    for was, now in zip((*box.low, *box.high), (*back.low, *back.high), strict=True):
        assert float(now) == pytest.approx(float(was))


def test_a_box_carried_between_square_frames_stays_an_exact_box():
    source = Frame((Fraction(1), Fraction(2), Fraction(3)), ((0, 1, 0), (1, 0, 0), (0, 0, -1)))
    carried = carry_form(Box((0, 0, 0), (Fraction(1, 3), 2, 3)), source, Frame((0, 0, 0), SQUARE))
    assert carried == Box((1, 2, 0), (3, Fraction(7, 3), 3))


def test_a_mirror_image_twice_over_is_the_shape_itself():
    tail = Prism(Frame((0, 0, 0), SQUARE), polygon([(20, 0), (40, 0), (33, 15), (24, 15)]), 20)
    once = mirror_form(tail, Axis.WIDE, 100)
    assert form_cut(once) != form_cut(tail)
    assert form_cut(mirror_form(once, Axis.WIDE, 100)) == form_cut(tail)
    assert box_round(once) == Box((60, 0, 0), (80, 15, 20))
    assert cut(once) == pytest.approx(cut(tail))


def test_a_tail_that_is_even_is_its_own_mirror_image():
    tail = Prism(Frame((0, 0, 0), SQUARE), polygon([(40, 0), (60, 0), (55, 15), (45, 15)]), 20)
    assert form_cut(mirror_form(tail, Axis.WIDE, 100)) == form_cut(tail)


def test_a_slanting_bore_reaches_across_by_the_sine_of_its_slant():
    way = (0.0, math.sin(math.radians(15)), math.cos(math.radians(15)))
    bore = Bore((50, 25, 0), way, Fraction(10), Fraction(20), Fraction(10))
    box = box_round(bore)
    assert float(box.size[0]) == pytest.approx(10)
    # A cylinder's shadow: its length times the sine, and its disc's 10 cos 15.
    assert float(box.size[1]) == pytest.approx(20 * way[1] + 10 * way[2])
    assert float(box.size[2]) == pytest.approx(20 * way[2] + 10 * way[1])


def test_a_box_as_an_outline_is_the_same_box():
    box = Box((1, 2, 3), (4, 6, 8))
    assert box_round(prism_of_box(box)) == box
