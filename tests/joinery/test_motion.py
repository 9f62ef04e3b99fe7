"""Motion of solids against brute force, and the tolerances that it states."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from benchleaf.frames import Box, Vector
from benchleaf.joinery import JOINT_KINDS
from benchleaf.joinery.motion import DEPTH_MM, WIDTH_MM, Sight, bodies_of
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.solids import cut_solid, solid_of_box, solid_of_cylinder
from small_plans import work_small_plan
from solids_by_hand import block, prism, runs_into, unit

X: Vector = (1, 0, 0)
UP: Vector = (0, 0, 1)
# Two pairs: the first off the second, the second off the first.
BOTH = np.array([[0, 1], [1, 0]])

corner = st.integers(0, 6)
cut = st.tuples(*[corner] * 3, *[st.integers(1, 4)] * 3)
notched = st.tuples(st.tuples(*[corner] * 3, *[st.integers(2, 5)] * 3), st.lists(cut, max_size=2))
ways = st.sampled_from(
    [X, UP, (0, -1, 0), unit(1, 1, 0), unit(1, -1, 1), unit(0, 2, 1), unit(-3, 1, 2)]
)


def _solid(shape: tuple[tuple[int, ...], list[tuple[int, ...]]]) -> Manifold:
    (x, y, z, a, b, c), cuts = shape
    solid = block(x, y, z, x + a, y + b, z + c)
    for p, q, r, d, e, f in cuts:
        solid -= block(p, q, r, p + d, q + e, r + f)
    return solid


@settings(max_examples=150, deadline=None)
@given(notched, notched, ways)
def test_what_stops_a_solid_is_what_brute_force_runs_into(one, other, way):
    first = _solid(one)
    second = _solid(other) - first
    assume(not first.is_empty() and not second.is_empty())
    stops = Sight(bodies_of([first, second]), way).stops(BOTH)
    wanted = [
        runs_into(moved, fixed, way, far=26) is not None
        for moved, fixed in ((first, second), (second, first))
    ]
    assert stops.tolist() == wanted


@settings(max_examples=100, deadline=None)
@given(notched, notched, ways)
def test_a_solid_travels_as_far_as_brute_force_lets_it(one, other, way):
    first = _solid(one)
    second = _solid(other) - first
    assume(not first.is_empty() and not second.is_empty())
    travel = float(Sight(bodies_of([first, second]), way).travels(BOTH)[0])
    got = runs_into(first, second, way, far=26)
    if got is None:
        assert travel == math.inf
    else:
        # Brute force looks every half millimetre.
        assert got - 0.01 <= travel + 0.5
        assert travel <= got + 0.5 + 0.01


@settings(max_examples=60, deadline=None)
@given(notched, notched, st.integers(0, 359), st.integers(0, 359))
def test_turning_everything_changes_nothing(one, other, about_z, about_x):
    first = _solid(one)
    second = _solid(other) - first
    assume(not first.is_empty() and not second.is_empty())
    turned = [solid.rotate((about_x, 0, about_z)) for solid in (first, second)]
    c, s = math.cos(math.radians(about_z)), math.sin(math.radians(about_z))
    straight = Sight(bodies_of([first, second]), X).stops(BOTH)
    # Turning about x leaves x where it is.
    slanted = Sight(bodies_of(turned), (c, s, 0.0)).stops(BOTH)
    assert straight.tolist() == slanted.tolist()


def test_a_solid_stops_a_short_way_off():
    bodies = bodies_of([block(0, 0, 0, 10, 10, 10), block(17, 5, 5, 20, 20, 20)])
    assert Sight(bodies, X).travels(BOTH).tolist() == [7, math.inf]
    assert Sight(bodies, X).travels(BOTH, (3, 0, 0))[0] == 4
    assert Sight(bodies, UP).travels(BOTH).tolist() == [math.inf, math.inf]


def test_what_has_been_lifted_over_an_edge_goes_on():
    bodies = bodies_of([block(0, 0, 0, 10, 10, 10), block(17, 0, 0, 20, 10, 4)])
    sight = Sight(bodies, X)
    pair = BOTH[:1]
    assert [bool(sight.stops(pair, (0, 0, lift))[0]) for lift in (0, 3, 4)] == [True, True, False]


def test_copies_in_the_same_place_to_each_other_are_stopped_alike():
    pair = (block(0, 0, 0, 10, 10, 10), block(10, 2, 2, 30, 8, 8))
    solids = [solid.translate((0, 100 * i, 7 * i)) for i in range(5) for solid in pair]
    pairs = np.array([[2 * i, 2 * i + 1] for i in range(5)])
    bodies = bodies_of(solids)
    assert bodies.forms.tolist() == [0, 1] * 5
    assert Sight(bodies, X).stops(pairs).tolist() == [True] * 5
    assert Sight(bodies, X).stops(pairs[:, ::-1]).tolist() == [False] * 5


# Tolerances, as the module states them.


@pytest.mark.parametrize(("proud", "is_stopped"), [(DEPTH_MM * 0.9, False), (1, True)])
def test_a_face_may_stand_proud_by_the_depth_that_counts_for_nothing(proud, is_stopped):
    """A drawer on a runner that is not quite flat slides over it; over a stop it does not."""
    drawer = block(0, 0, 0, 100, 100, 20)
    runner = block(0, 0, -10, 300, 100, 0) + block(150, 0, -1, 160, 100, proud)
    # Lifting the drawer off is free; slid along it meets what stands proud.
    sight = Sight(bodies_of([drawer, runner]), X)
    strip = proud > WIDTH_MM
    assert bool(sight.stops(BOTH[:1])[0]) == (is_stopped and strip)
    assert not Sight(bodies_of([drawer, runner]), UP).stops(BOTH[:1])[0]


@pytest.mark.parametrize(("lip", "is_stopped"), [(WIDTH_MM * 0.9, False), (WIDTH_MM * 4, True)])
def test_a_strip_thinner_than_the_width_that_counts_stops_nothing(lip, is_stopped):
    peg = block(0, 0, 0, 10, 10, 30)
    plate = block(10 - lip, 0, 40, 50, 10, 45)
    assert bool(Sight(bodies_of([peg, plate]), UP).stops(BOTH[:1])[0]) == is_stopped


def test_many_thin_strips_side_by_side_stop_as_one():
    """A roof of narrow slopes under a plate: no facet is as wide as what counts."""
    step = WIDTH_MM / 2
    teeth = [(i * step, 1 + (i % 2) * step / 4) for i in range(81)]
    comb = prism([(0, 0), (80 * step, 0), *reversed(teeth)], 0, 10).rotate((90, 0, 0))
    plate = block(0, -10, 5, 80 * step, 0, 8)
    assert Sight(bodies_of([comb, plate]), UP).stops(BOTH).tolist() == [True, False]


@pytest.mark.parametrize("diameter", [6, 10, 30, 60])
def test_a_round_pin_leaves_its_hole_however_its_facets_lie(diameter):
    side = diameter * 2
    hole = solid_of_cylinder((0, 0, 0), UP, depth_mm=40, diameters_mm=(diameter, diameter))
    board = cut_solid(solid_of_box(Box((-side, -side, 0), (side, side, 20))), [], [hole])
    for turn in (0, 3, 5.625, 9):
        bodies = bodies_of([hole.rotate((0, 0, turn)), board])
        assert not Sight(bodies, UP).stops(BOTH).any()
        assert Sight(bodies, X).stops(BOTH).all()


# The joints of the trade: what they say of themselves holds for the wood that they cut.


def _worked_examples(code: str) -> list[dict]:
    path = Path(__file__).parents[1] / "cases" / f"{code.replace(' ', '_')}.yml"
    cases = yaml.safe_load(path.read_text(encoding="utf-8"))
    # chosen: two of each kind are enough to see that its directions point the right way.
    return [case["given"] for case in cases if "expect" in case][:2]


@pytest.mark.parametrize("code", JOINT_KINDS)
def test_wood_lets_go_in_the_way_that_a_joint_draws_apart(code: str):
    for given_plan in _worked_examples(code):
        joinery, _ = work_small_plan(given_plan)
        marks = list(joinery.copies)
        bodies = bodies_of([placed_solid(joinery, mark) for mark in marks])
        pairs = [(fit.contact.first, fit.contact.second) for fit in joinery.fits]
        for fit, pair in zip(joinery.fits, pairs, strict=True):
            if fit.kind == code and pairs.count(pair) == 1 and fit.free_directions:
                way = fit.contact.frame.outward_direction(fit.free_directions[0])
                numbers = np.array([[marks.index(mark) for mark in pair]])
                assert not Sight(bodies, way).stops(numbers)[0], pair
