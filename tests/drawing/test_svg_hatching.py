"""Hatches: lines that keep to their area and fill it evenly, by shapely's reckoning."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawing.hatching import STEP_MM, hatch_lines
from benchleaf.drawing.scene import Point

FRAME: tuple[Point, ...] = ((3, 2), (43, 2), (43, 27), (3, 27))
HOLE: tuple[Point, ...] = ((10, 10), (20, 10), (20, 20), (10, 20))
corners = st.tuples(st.floats(0, 60), st.floats(0, 60))


@pytest.mark.parametrize("hatch", [1, 2, 5, 6])
def test_lines_fill_an_area_at_their_step(hatch: int) -> None:
    area = shapely.Polygon(FRAME, [HOLE])
    length = sum(shapely.LineString(line).length for line in hatch_lines((FRAME, HOLE), hatch))
    # Parallel lines a step apart are as long together as the area over the step, but for the ends.
    assert length == pytest.approx(area.area / STEP_MM, rel=0.06)


def test_a_crossed_hatch_has_both_directions() -> None:
    both = {*hatch_lines((FRAME,), 1), *hatch_lines((FRAME,), 2)}
    assert set(hatch_lines((FRAME,), 3)) == both


def test_a_rising_hatch_rises_on_the_sheet() -> None:
    for (x0, y0), (x1, y1) in hatch_lines((FRAME,), 1):
        assert (x1 - x0) * (y1 - y0) < 0, "y runs down the sheet"


@settings(deadline=None)
@given(st.lists(corners, min_size=3, max_size=7, unique=True), st.integers(1, 6))
def test_no_line_leaves_its_area(ring: list[Point], hatch: int) -> None:
    # Any ring, even one that crosses itself, is filled by the even-odd rule, as SVG fills it.
    area = shapely.make_valid(shapely.Polygon(ring)).buffer(1e-6)
    for line in hatch_lines((tuple(ring),), hatch):
        middle = shapely.LineString(line).interpolate(0.5, normalized=True)
        assert area.covers(middle) or hatch == 4


def test_areas_side_by_side_are_hatched_alike() -> None:
    left: tuple[Point, ...] = ((0, 0), (20, 0), (20, 30), (0, 30))
    right: tuple[Point, ...] = ((20, 0), (40, 0), (40, 30), (20, 30))
    whole: tuple[Point, ...] = ((0, 0), (40, 0), (40, 30), (0, 30))
    parts = [shapely.LineString(line) for ring in (left, right) for line in hatch_lines((ring,), 6)]
    joined = shapely.union_all(parts)
    expected = shapely.union_all([shapely.LineString(line) for line in hatch_lines((whole,), 6)])
    assert joined.symmetric_difference(expected).length == pytest.approx(0)


def test_what_has_no_area_has_no_hatch() -> None:
    assert list(hatch_lines((), 1)) == []
    assert list(hatch_lines((((0, 0), (9, 0)),), 1)) == []
