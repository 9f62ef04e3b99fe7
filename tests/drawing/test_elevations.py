"""The general arrangement: overall sizes, heights of what lies flat, edges as they project."""

from __future__ import annotations

import pytest
from tests.drawing.demo_plans import NAMES, joinery_of
from tests.drawing.legibility import faults_of, texts_of

from benchleaf.drawing.bodies import body_of
from benchleaf.drawing.book import bodies_of, boxes_of
from benchleaf.drawing.elevations import draw_arrangement
from benchleaf.drawing.orthographic import Facing, see_edges
from benchleaf.drawing.scene import Line, Role, Scene
from benchleaf.frames import Box
from benchleaf.lengths import format_length
from benchleaf.piece.solids import solid_of_box

FRONT = Facing(right=(1, 0, 0), up=(0, 0, 1), toward=(0, -1, 0))


def arrangement_of(name: str) -> Scene:
    joinery = joinery_of(name)
    return draw_arrangement(joinery, bodies_of(joinery), boxes_of(joinery))


@pytest.mark.parametrize("name", NAMES)
def test_the_arrangement_is_legible_and_states_the_overall_sizes(name: str) -> None:
    scene, plan = arrangement_of(name), joinery_of(name).piece.plan
    assert faults_of(scene) == []
    assert scene.width == 180
    assert scene.height <= 250
    # The piece stands in the box that its plan states.
    sizes = joinery_of(name).piece.overall.size
    wanted = [format_length(size, plan.units.value) for size in sizes]  # type: ignore[arg-type]
    assert set(wanted) <= set(texts_of(scene))


def test_heights_of_shelves_are_measured_from_the_foot_on_their_own_side() -> None:
    # From the plan: the top's and the bottom's outer faces lie 31 within 1040, all 18 thick; the
    # three small shelves leave four equal gaps, the two tall ones three.
    inside = 1040 - 2 * 31 - 2 * 18
    small, tall = (inside - 3 * 18) / 4, (inside - 2 * 18) / 3
    texts = texts_of(arrangement_of("wall-bookcase"))
    floor = 31 + 18
    wanted = [floor, 1040 - 31]
    wanted += [floor + n * (small + 18) for n in (1, 2, 3)]
    wanted += [floor + n * (tall + 18) for n in (1, 2)]
    for height in wanted:
        assert f"{height:g}" in texts


def test_both_views_are_as_large_as_the_scale_says() -> None:
    scene = arrangement_of("wall-bookcase")
    assert scene.scale == "1:10"
    edges = [
        p for m in scene.marks if isinstance(m, Line) and m.role is Role.OUTLINE for p in m.points
    ]
    views = [(x, y) for x, y in edges if y < scene.height - 11.5]
    # 1040 high, and beside each other 1000 wide and 280 deep.
    ys = [y for _, y in views]
    assert max(ys) - min(ys) == pytest.approx(104, abs=0.01)
    xs = sorted(x for x, _ in views)
    assert any(x == pytest.approx(xs[0] + 100, abs=0.01) for x in xs)
    assert any(x == pytest.approx(xs[-1] - 28, abs=0.01) for x in xs)


def test_a_box_behind_another_shows_only_what_stands_out() -> None:
    # Geometry: 10 x 10 before, 10 x 20 behind it: of the latter the upper half shows.
    before = body_of(solid_of_box(Box((0, 0, 0), (10, 5, 10))), "A")
    behind = body_of(solid_of_box(Box((0, 5, 0), (10, 9, 20))), "B")
    edges = {
        tuple(sorted((round(x, 3), round(y, 3)) for x, y in edge))
        for edge in see_edges([before, behind], FRONT)
    }
    assert edges == {
        ((0, 0), (10, 0)),
        ((0, 10), (10, 10)),
        ((0, 20), (10, 20)),
        ((0, 0), (0, 20)),
        ((10, 0), (10, 20)),
    }
