"""Balloons: in rows and columns, alike, led to their parts without a crossing (ISO 6433)."""

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawing.balloons import Ring, place_balloons, ring_for, share_balloons
from benchleaf.drawing.bodies import body_of
from benchleaf.drawing.leaders import settle
from benchleaf.drawing.pictorial import exploded_picture
from benchleaf.drawing.projection import DIMETRIC, ISOMETRIC, View, from_left
from benchleaf.drawing.scene import Area, Circle, Line, Mark, Role, Text
from benchleaf.drawing.spacing import readable_offsets
from benchleaf.drawing.text_metrics import text_width
from drawing.bench_piece import bench, bench_tree, box, boxes_round


def scene_marks(view: View) -> tuple[Mark, ...]:
    offsets = readable_offsets(bench_tree(), boxes_round(bench()), view)
    return exploded_picture(bench(), offsets, view).marks


def circles(marks: tuple[Mark, ...]) -> list[Circle]:
    return [m for m in marks if isinstance(m, Circle) and m.role is Role.MARK]


def leaders(marks: tuple[Mark, ...]) -> list[Line]:
    return [m for m in marks if isinstance(m, Line) and m.role is Role.LEADER]


def texts(marks: tuple[Mark, ...]) -> list[Text]:
    return [m for m in marks if isinstance(m, Text)]


def crossing(marks: tuple[Mark, ...]) -> int:
    shapes = [shapely.LineString(line.points) for line in leaders(marks)]
    return sum(a.crosses(b) for a, b in itertools.combinations(shapes, 2))


@pytest.mark.parametrize("view", [ISOMETRIC, DIMETRIC, from_left(ISOMETRIC)])
def test_balloons_of_the_bench_name_every_part_and_nothing_overlaps(view):
    marks = scene_marks(view)
    assert [text.text for text in texts(marks)] == [body.mark for body in bench()]
    assert crossing(marks) == 0
    discs = [shapely.Point(c.centre).buffer(c.radius) for c in circles(marks)]
    assert not any(a.intersects(b) for a, b in itertools.combinations(discs, 2))
    for line, disc in itertools.product(leaders(marks), discs):
        # A leader ends on the rim of its own balloon and meets no other.
        assert shapely.LineString(line.points).intersection(disc).length < 0.2
    picture = shapely.union_all([shapely.Polygon(a.rings[0]) for a in marks if isinstance(a, Area)])
    assert not any(disc.intersects(picture) for disc in discs)


@pytest.mark.parametrize("view", [ISOMETRIC, DIMETRIC, from_left(ISOMETRIC)])
def test_every_leader_ends_in_a_dot_on_its_own_part(view):
    marks = scene_marks(view)
    for line, circle, text in zip(leaders(marks), circles(marks), texts(marks), strict=True):
        dot = shapely.Point(line.points[0])
        own = [a for a in marks if isinstance(a, Area) and a.id.startswith(f"{text.text}-face-")]
        assert any(shapely.Polygon(a.rings[0], a.rings[1:]).contains(dot) for a in own)
        assert math.dist(line.points[-1], circle.centre) == pytest.approx(circle.radius)
    dots = [m for m in marks if isinstance(m, Circle) and m.role is Role.LEADER]
    assert [dot.centre for dot in dots] == [line.points[0] for line in leaders(marks)]
    assert all(dot.filled for dot in dots)


def test_balloons_stand_in_rows_and_columns_on_the_sheet():
    marks = scene_marks(ISOMETRIC)
    centres = np.array([circle.centre for circle in circles(marks)])
    assert len(np.unique(np.round(centres[:, 0], 6))) == 2
    for circle in circles(marks):
        assert circle.radius <= circle.centre[0] <= 180 - circle.radius
        assert circle.radius <= circle.centre[1] <= 130 - circle.radius


def test_figures_are_twice_as_high_as_dimensions_where_there_is_room():
    # ISO 6433: about twice the dimension text, 2.5 mm on our sheets.
    assert ring_for(["A1", "A2", "B"], (180, 130)).text_mm == 5
    assert {text.height for text in texts(scene_marks(ISOMETRIC))} == {5.0}


def test_more_balloons_are_smaller_and_then_go_round_the_picture():
    few, some, many = (
        ring_for([f"A{i}" for i in range(count)], (180, 130)) for count in (8, 18, 36)
    )
    assert (few.text_mm, few.has_rows) == (5, False)
    assert (some.text_mm, some.has_rows) == (3.5, False)
    assert (many.text_mm, many.has_rows) == (3.5, True)
    assert all(ring.room >= count for ring, count in ((few, 8), (some, 18), (many, 36)))


@pytest.mark.parametrize("height", [5.0, 3.5, 2.5])
def test_marks_fit_their_circles(height):
    ring = next(
        ring
        for count in (4, 20, 60)
        if (ring := ring_for(["A10"] * count, (180, 130))).text_mm == height
    )
    assert math.hypot(text_width("A10", height), height) < 2 * ring.radius


def test_where_balloons_are_too_many_the_copies_of_a_part_share_one() -> None:
    marks = [f"{part}{i}" for part in "ABC" for i in range(1, 21)]
    shared = share_balloons(marks)
    assert list(shared) == ["A", "B", "C"]
    assert shared["A"] == tuple(f"A{i}" for i in range(1, 21))
    # The part with the most copies first: ten slats share one, four legs do not.
    bench_marks = [*(f"A{i}" for i in range(1, 5)), *(f"G{i}" for i in range(1, 15)), "H"]
    assert list(share_balloons(bench_marks)) == ["A1", "A2", "A3", "A4", "G", "H"]
    assert len(share_balloons(marks[:16])) == 16


def test_a_sheet_is_no_higher_than_its_picture_needs() -> None:
    # A plank seen across: its picture is wide and low.
    plank = body_of(box((0, 0, 0), (2000, 100, 20)), "A")
    scene = exploded_picture([plank], {}, DIMETRIC)
    assert scene.width == 180
    assert scene.height < 90
    heights = [y for m in scene.marks if isinstance(m, Area) for ring in m.rings for _, y in ring]
    assert 0 < min(heights) < 3
    assert scene.height - 3 < max(heights) < scene.height


def test_a_part_that_shows_nowhere_gets_no_balloon():
    ring = ring_for(["A", "B"], (180, 130))
    marks = place_balloons({"A": [shapely.box(60, 60, 80, 80)], "B": []}, ring)
    assert [text.text for text in texts(marks)] == ["A"]
    assert place_balloons({"B": []}, ring) == ()


def test_leaders_that_cross_change_balloons():
    spots = [np.array([[50.0, 20.0]]), np.array([[50.0, 80.0]])]
    seats = np.array([[10.0, 80.0], [10.0, 20.0]])
    _, settled = settle(spots, seats, 5.0)
    assert settled.tolist() == [[10.0, 20.0], [10.0, 80.0]]


def test_a_dot_moves_where_its_leader_is_in_nobodys_way():
    # Straight to the nearer place would run through the other's balloon.
    spots = [np.array([[40.0, 20.0], [60.0, 60.0]]), np.array([[60.0, 24.0]])]
    seats = np.array([[5.0, 22.0], [25.0, 21.0]])
    dots, settled = settle(spots, seats, 5.0)
    gap = shapely.LineString([dots[0], settled[0]]).distance(shapely.Point(settled[1]))
    assert gap > 5


@st.composite
def patches(draw):
    """Square patches of parts, apart from each other, in the room of a ring."""
    count = draw(st.integers(1, 22))
    places = draw(
        st.lists(
            st.tuples(st.integers(0, 12), st.integers(0, 12)),
            min_size=count,
            max_size=count,
            unique=True,
        )
    )
    ring = ring_for([f"A{i}" for i in range(count)], (180, 130))
    (left, top), (right, foot) = ring.inner
    step = min(right - left, foot - top) / 13
    shapes = {
        f"A{i}": [
            shapely.box(
                left + x * step, top + y * step, left + (x + 0.8) * step, top + (y + 0.8) * step
            )
        ]
        for i, (x, y) in enumerate(places)
    }
    return ring, shapes


@settings(max_examples=40, deadline=None)
@given(patches())
def test_leaders_never_cross_and_balloons_never_overlap(case):
    ring, shapes = case
    assert isinstance(ring, Ring)
    marks = place_balloons(shapes, ring)
    assert len(texts(marks)) == len(shapes)
    assert crossing(marks) == 0
    centres = [circle.centre for circle in circles(marks)]
    assert all(math.dist(a, b) >= ring.pitch - 1e-6 for a, b in itertools.combinations(centres, 2))
