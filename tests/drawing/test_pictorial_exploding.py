"""Exploded views: parts clear each other by the gap, in the directions of the tree, and show."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from benchleaf.drawing.bodies import body_of
from benchleaf.drawing.exploding import corners, explode_offsets, usual_gap_mm
from benchleaf.drawing.pictorial import draw_bodies
from benchleaf.drawing.projection import DIMETRIC, ISOMETRIC, from_back, from_left
from benchleaf.drawing.spacing import count_lost, hidden_shares, readable_offsets
from benchleaf.frames import Box
from drawing.bench_piece import bench, bench_tree, box, boxes_round, leaf, put_on
from drawing.raster_reference import Raster, cast_ids

UNIT = Box((0, 0, 0), (10, 10, 10))


def beside(x: float) -> Box:
    return Box((x, 0, 0), (x + 10, 10, 10))


def test_a_moved_part_stands_a_gap_off():
    boxes = {"A": UNIT, "B": Box((0, 0, 10), (10, 10, 30))}
    offsets = explode_offsets(put_on(leaf("B"), leaf("A"), (0, 0, 1)), boxes, 5)
    assert offsets == {"A": (0, 0, 0), "B": (0, 0, 5)}


def test_a_tenon_is_drawn_right_out_of_its_mortise():
    # The rail's box reaches 4 mm into the post: 4 to come out, 5 of gap.
    boxes = {"A": UNIT, "B": Box((6, 2, 2), (40, 8, 8))}
    offsets = explode_offsets(put_on(leaf("B"), leaf("A"), (1, 0, 0)), boxes, 5)
    assert offsets["B"] == (9, 0, 0)


def test_offsets_within_a_group_add_to_those_of_the_group():
    boxes = {"A": UNIT, "B": beside(10), "C": beside(20)}
    group = put_on(leaf("C"), leaf("B"), (1, 0, 0))
    offsets = explode_offsets(put_on(group, leaf("A"), (1, 0, 0)), boxes, 5)
    assert offsets == {"A": (0, 0, 0), "B": (5, 0, 0), "C": (10, 0, 0)}


def test_a_part_clears_what_was_moved_out_before_it():
    boxes = {"A": UNIT, "B": beside(10), "C": beside(20)}
    tree = put_on(leaf("C"), put_on(leaf("B"), leaf("A"), (1, 0, 0)), (1, 0, 0))
    offsets = explode_offsets(tree, boxes, 5)
    assert offsets["B"] == (5, 0, 0)
    assert offsets["C"] == (10, 0, 0)


def test_what_is_not_in_the_way_adds_nothing():
    aside = Box((0, 50, 100), (10, 60, 200))
    boxes = {"A": UNIT, "B": Box((0, 0, 10), (10, 10, 20)), "C": aside}
    tree = put_on(leaf("B"), put_on(leaf("C"), leaf("A"), (0, 1, 0)), (0, 0, 1))
    assert explode_offsets(tree, boxes, 5)["B"] == (0, 0, 5)


def test_a_part_without_a_way_out_stays():
    boxes = {"A": UNIT, "B": beside(10)}
    tree = put_on(leaf("B"), leaf("A"), (0, 0, 0))
    assert explode_offsets(tree, boxes, 5) == {"A": (0, 0, 0), "B": (0, 0, 0)}


def test_a_slanted_direction_clears_too():
    boxes = {"A": UNIT, "B": beside(10)}
    slope = 2**-0.5
    offsets = explode_offsets(put_on(leaf("B"), leaf("A"), (slope, 0, slope)), boxes, 5)
    x, y, z = offsets["B"]
    assert x == pytest.approx(z)
    assert y == 0
    assert x > 5 * slope - 1e-9


def test_what_is_lifted_first_slides_off_from_there():
    boxes = {"A": UNIT, "B": Box((0, 0, 8), (10, 10, 20))}
    tree = replace(put_on(leaf("B"), leaf("A"), (1, 0, 0)), shift_mm=(0, 0, 2))
    # Lifted clear by 2, nothing is left in its way: the gap alone.
    assert explode_offsets(tree, boxes, 5) == {"A": (0, 0, 0), "B": (5, 0, 2)}


def test_two_halves_that_move_at_once_go_as_far():
    boxes = {"A": UNIT, "B": beside(10)}
    tree = replace(put_on(leaf("B"), leaf("A"), (1, 0, 0)), fixed_direction=(0, -1, 0))
    assert explode_offsets(tree, boxes, 5) == {"A": (0, -5, 0), "B": (5, 0, 0)}


def test_gaps_may_differ_by_axis():
    boxes = {"A": UNIT, "B": beside(10), "C": Box((0, 0, 10), (10, 10, 20))}
    tree = put_on(leaf("C"), put_on(leaf("B"), leaf("A"), (1, 0, 0)), (0, 0, 1))
    offsets = explode_offsets(tree, boxes, (2, 3, 4))
    assert offsets == {"A": (0, 0, 0), "B": (2, 0, 0), "C": (0, 0, 4)}


@pytest.mark.parametrize("gap_mm", [20, 80])
def test_no_two_parts_of_the_exploded_bench_share_room(gap_mm):
    boxes = boxes_round(bench())
    offsets = explode_offsets(bench_tree(), boxes, gap_mm)
    low, high = corners(bench_tree(), boxes)
    shift = np.array([offsets[mark] for mark in bench_tree().copies])
    low, high = low + shift, high + shift
    for i, j in itertools.combinations(range(len(low)), 2):
        assert ((low[i] >= high[j] - 1e-6) | (low[j] >= high[i] - 1e-6)).any()


def test_parts_that_move_alike_keep_in_line():
    offsets = readable_offsets(bench_tree(), boxes_round(bench()), ISOMETRIC)
    assert len({offsets[f"D{i}"] for i in range(1, 6)}) == 1


@pytest.mark.parametrize("view", [ISOMETRIC, DIMETRIC, from_left(ISOMETRIC)])
def test_every_part_shows_in_a_readable_view(view):
    # Against rays: pixels of each part in the picture, and in a picture of it alone.
    offsets = readable_offsets(bench_tree(), boxes_round(bench()), view)
    bodies = [body.moved(offsets[body.mark]) for body in bench()]
    fit = draw_bodies(bodies, view, ((0, 0), (160, 120))).fit
    raster = Raster(columns=160, rows=120, step_mm=1)
    together = cast_ids(bodies, view, fit, raster)
    shares = [
        (together == i).sum() / (cast_ids([body], view, fit, raster) == 0).sum()
        for i, body in enumerate(bodies)
    ]
    assert min(shares) > 1 / 6
    assert np.mean(shares) > 0.75


def test_hidden_shares_of_boxes_agree_with_rays():
    # Plates one behind another and a little aside, so that each hides part of the next.
    lows = [(0, 0, 0), (-30, 60, 0), (-60, 120, 0)]
    plates = [box(low, (low[0] + 100, low[1] + 20, low[2] + 100)) for low in lows]
    bodies = [body_of(plate, f"A{i}") for i, plate in enumerate(plates)]
    fit = draw_bodies(bodies, ISOMETRIC, ((0, 0), (160, 120))).fit
    raster = Raster(columns=640, rows=480, step_mm=0.25)
    together = cast_ids(bodies, ISOMETRIC, fit, raster)
    hidden = [
        1 - (together == i).sum() / (cast_ids([body], ISOMETRIC, fit, raster) == 0).sum()
        for i, body in enumerate(bodies)
    ]
    low = np.array(lows, dtype=float)
    estimated = hidden_shares(low, low + np.array([100.0, 20, 100]), ISOMETRIC)
    # Sixteen points on each side tell a share to about an eighth.
    assert estimated.tolist() == pytest.approx(hidden, abs=0.125)
    assert hidden[0] == 0
    assert 0.2 < hidden[1] < 0.8


def test_parts_that_hide_nothing_move_no_further_than_the_least_gap():
    # One box on end on another: apart or not, each shows its sides; only the lower's top is gained.
    boxes = {"A": Box((0, 0, 0), (10, 10, 100)), "B": Box((0, 0, 100), (10, 10, 200))}
    tree = put_on(leaf("B"), leaf("A"), (0, 0, 1))
    offsets = readable_offsets(tree, boxes, ISOMETRIC)
    assert 0 < offsets["B"][2] <= usual_gap_mm(boxes)


def test_what_stands_close_behind_another_is_lost_but_to_a_view_from_behind():
    # A small block close behind a tall plate: lost from before, in sight from behind.
    boxes = {"A": Box((0, 0, 0), (400, 20, 400)), "B": Box((100, 30, 0), (140, 70, 40))}
    views = (ISOMETRIC, from_left(ISOMETRIC), from_back(ISOMETRIC))
    assert [count_lost(boxes, {}, ["A"], view) for view in views] == [0, 0, 0]
    assert [count_lost(boxes, {}, ["B"], view) for view in views] == [1, 1, 0]
    assert count_lost(boxes, {"B": (0, 0, 500)}, ["B"], views[0]) == 0
