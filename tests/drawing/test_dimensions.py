"""Dimensions: rows, texts and extension lines as ISO 129-1 and ASME Y14.5 practice set them."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.drawing.legibility import faults_of

from benchleaf.drawing.dimension_lines import Side
from benchleaf.drawing.dimensions import Dimensions, Measure, draw_dimensions, fits_parallel
from benchleaf.drawing.running_dimensions import LABEL_PITCH_MM, Place, spread
from benchleaf.drawing.scene import Circle, Line, Scene, Text


def sheet_of(drawn: Dimensions) -> Scene:
    return Scene(id="s", width=400, height=400, marks=drawn.marks, title="t", description="d")


def level_lines(drawn: Dimensions) -> list[Line]:
    """Dimension lines of a side above or below."""
    return [
        mark
        for mark in drawn.marks
        if isinstance(mark, Line) and mark.points[0][1] == mark.points[-1][1]
    ]


def texts(drawn: Dimensions) -> list[Text]:
    return [mark for mark in drawn.marks if isinstance(mark, Text)]


def from_datum(*ends: float, datum: float = 100.0) -> list[Measure]:
    return [Measure(start=datum, end=datum + end, text=f"{end:g}") for end in ends]


def test_the_shortest_dimension_is_nearest_to_the_outline() -> None:
    drawn = draw_dimensions(Side.BELOW, 100.0, from_datum(80, 20, 50))
    rows = {round(line.points[0][1] - 100, 2) for line in level_lines(drawn)}
    # ASME Y14.5 (by textbooks): the first 10 mm out, then 6 mm; ISO teaching 8: here 8.5.
    assert rows == {8.5, 14.5, 20.5}
    by_row = sorted(texts(drawn), key=lambda text: text.at[1])
    assert [text.text for text in by_row] == ["20", "50", "80"]


def test_texts_stand_above_level_lines_and_left_of_upright_ones() -> None:
    measures = from_datum(60)
    for side in (Side.ABOVE, Side.BELOW):
        drawn = draw_dimensions(side, 100.0, measures)
        assert texts(drawn)[0].at[1] < level_lines(drawn)[0].points[0][1]
        assert texts(drawn)[0].turn_deg == 0
    for side in (Side.LEFT, Side.RIGHT):
        drawn = draw_dimensions(side, 100.0, measures)
        upright = [m for m in drawn.marks if isinstance(m, Line) and m.end_arrow]
        assert texts(drawn)[0].at[0] < upright[0].points[0][0]
        # ISO 129-1:2018: vertical text is read from the right.
        assert texts(drawn)[0].turn_deg == -90


def test_extension_lines_leave_a_gap_and_pass_the_dimension_line() -> None:
    drawn = draw_dimensions(Side.BELOW, 100.0, from_datum(60))
    upright = [
        mark
        for mark in drawn.marks
        if isinstance(mark, Line) and mark.points[0][0] == mark.points[1][0]
    ]
    assert {tuple(point[1] for point in line.points) for line in upright} == {(101.0, 110.5)}


def test_a_narrow_dimension_has_its_arrows_and_its_text_outside() -> None:
    drawn = draw_dimensions(Side.BELOW, 100.0, from_datum(2))
    arrows = [line for line in level_lines(drawn) if line.start_arrow]
    tips = sorted(line.points[0][0] for line in arrows)
    tails = sorted(line.points[1][0] for line in arrows)
    assert tips == [100, 102]
    assert tails[0] < 100
    assert tails[1] > 102
    assert not 100 <= texts(drawn)[0].at[0] <= 102


def test_dimensions_end_to_end_share_a_row() -> None:
    chain = [
        Measure(start=100, end=130, text="30"),
        Measure(start=130, end=170, text="40"),
    ]
    drawn = draw_dimensions(Side.BELOW, 100.0, chain)
    assert {line.points[0][1] for line in level_lines(drawn)} == {108.5}


def test_measures_that_would_cross_are_told_apart() -> None:
    crossing = [
        Measure(start=100, end=150, text="50"),
        Measure(start=120, end=190, text="70"),
    ]
    assert not fits_parallel(crossing)
    assert fits_parallel(from_datum(20, 50, 90))


@settings(deadline=None)
@given(
    st.lists(st.floats(0.5, 150), min_size=1, max_size=5, unique_by=lambda v: round(v, 2)),
    st.sampled_from(list(Side)),
)
def test_parallel_dimensions_that_fit_are_legible(ends: list[float], side: Side) -> None:
    measures = from_datum(*ends)
    if fits_parallel(measures):
        assert faults_of(sheet_of(draw_dimensions(side, 200.0, measures))) == []


@settings(deadline=None)
@given(
    st.lists(st.floats(1, 149), min_size=1, max_size=18, unique_by=lambda v: round(v, 1)),
    st.sampled_from(list(Side)),
)
def test_running_dimensions_are_legible_however_close_their_places(
    ends: list[float], side: Side
) -> None:
    places = [Place(at=100 + end, text=f"{end:.1f}") for end in ends]
    drawn = draw_dimensions(
        side,
        200.0,
        from_datum(150),
        places=places,
        origin=Place(at=100.0, text=""),
    )
    assert faults_of(sheet_of(drawn)) == []
    assert sorted(t.text for t in texts(drawn)) == sorted([*(p.text for p in places), "150"])


def test_the_origin_of_running_dimensions_bears_a_circle() -> None:
    # ISO 129-1:2018, running dimensions.
    drawn = draw_dimensions(
        Side.BELOW,
        100.0,
        [],
        places=[Place(at=140, text="40")],
        origin=Place(at=100, text=""),
    )
    circles = [mark for mark in drawn.marks if isinstance(mark, Circle)]
    assert [circle.centre[0] for circle in circles] == [100]


@settings(deadline=None)
@given(
    st.lists(st.floats(0, 100), min_size=1, max_size=20).map(sorted),
    st.one_of(st.none(), st.just((-10.0, 110.0))),
)
def test_labels_keep_their_distance_and_their_order(
    places: list[float], limits: tuple[float, float] | None
) -> None:
    moved = spread(places, LABEL_PITCH_MM, limits)
    assert all(after - before >= LABEL_PITCH_MM - 1e-6 for before, after in pairwise(moved))
    if limits:
        assert limits[0] - 1e-6 <= moved[0]
        assert moved[-1] <= limits[1] + 1e-6


@settings(deadline=None)
@given(st.lists(st.floats(0, 300), min_size=1, max_size=10).map(sorted))
def test_labels_with_room_are_not_moved(places: list[float]) -> None:
    if all(after - before >= LABEL_PITCH_MM for before, after in pairwise(places)):
        assert spread(places, LABEL_PITCH_MM) == pytest.approx(tuple(places))


def test_labels_move_as_little_as_may_be() -> None:
    # Two labels at one place, 4 apart: each moves half of it.
    moved = spread([10.0, 10.0], 4.0)
    assert moved == (8.0, 12.0)
    assert math.isclose(sum(abs(m - 10) for m in moved), 4.0)
