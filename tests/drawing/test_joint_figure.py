"""Joint figures: every joint of the demo plans, its sizes, its hatches, and all legible."""

from __future__ import annotations

import pytest
from tests.drawing.demo_plans import NAMES, first_fits, joinery_of, solids_of_plan
from tests.drawing.legibility import faults_of, texts_of

from benchleaf.drawing.book import draw_joints
from benchleaf.drawing.joint_close_up import close_up
from benchleaf.drawing.joint_figure import draw_joint
from benchleaf.drawing.joint_views import see_faces
from benchleaf.drawing.page import TITLE_HEIGHT_MM
from benchleaf.drawing.scene import Area, Circle, Line, Role
from benchleaf.joinery.records import JointFit

ALL = [
    pytest.param(name, index, id=f"{name}-{index}-{fit.kind.replace(' ', '-')}")
    for name in NAMES
    for index, fit in enumerate(first_fits(joinery_of(name)))
]


def fit_of(name: str, index: int) -> JointFit:
    return first_fits(joinery_of(name))[index]


def first_of_kind(kind: str) -> tuple[str, JointFit]:
    return next(
        (name, fit) for name in NAMES for fit in first_fits(joinery_of(name)) if fit.kind == kind
    )


@pytest.mark.parametrize(("name", "index"), ALL)
def test_a_joint_s_figure_is_legible_and_says_its_sizes(name: str, index: int) -> None:
    fit = fit_of(name, index)
    scene = draw_joint(fit, joinery_of(name), solids_of_plan(name))
    assert faults_of(scene) == []
    assert scene.height <= 250
    texts = texts_of(scene)
    assert {fit.contact.first, fit.contact.second} <= set(texts)
    # The page's table has the sizes; the figure has them in words for those who cannot see it.
    for size in fit.sizes:
        assert f"{size.name} " in scene.description


@pytest.mark.parametrize(("name", "index"), ALL)
def test_the_two_parts_of_a_section_do_not_share_wood(name: str, index: int) -> None:
    # At home, no wood of one part lies where the other's is: joints are cut to fit.
    faces = see_faces(close_up(fit_of(name, index), solids_of_plan(name)))
    for first, second in (faces.across, faces.along):
        assert first.intersection(second).area < 0.01 * min(first.area, second.area) + 0.01


def test_the_parts_of_a_section_are_hatched_against_each_other() -> None:
    # ISO 128-3 (from memory): neighbours are hatched in opposed directions.
    name, fit = first_of_kind("dowels")
    scene = draw_joint(fit, joinery_of(name), solids_of_plan(name))
    hatches = {m.hatch for m in scene.marks if isinstance(m, Area) and m.hatch}
    assert hatches == {1, 2}


def test_dowels_are_drawn_in_their_holes() -> None:
    name, fit = first_of_kind("dowels")
    scene = draw_joint(fit, joinery_of(name), solids_of_plan(name))
    pins = [m for m in scene.marks if isinstance(m, Area) and m.tone == 3]
    # One in the section across, and each of the row in the section along.
    assert len(pins) == 1 + sum(item.count for item in fit.hardware if item.kind == "dowel")
    seat = [m for m in scene.marks if isinstance(m, Circle) and m.role is Role.OUTLINE]
    assert len(seat) == len(pins) - 1


def test_a_housing_shows_how_far_the_end_enters() -> None:
    name, fit = first_of_kind("housing")
    depth = next(size.value_mm for size in fit.sizes if size.name == "housing depth")
    faces = see_faces(close_up(fit, solids_of_plan(name)))
    # Across, the entering part ends at the bottom of the housing: n, to the right, is its depth.
    assert faces.across[0].bounds[2] == pytest.approx(float(depth))


def test_a_through_post_is_measured_between_edges_that_are_drawn() -> None:
    # From the plan: posts of 3 become 2-1/4; the hole is 1/64 larger on each side.
    fit = next(fit for fit in first_fits(joinery_of("plant-stand")) if fit.kind == "through post")
    scene = draw_joint(fit, joinery_of("plant-stand"), solids_of_plan("plant-stand"))
    texts = texts_of(scene)
    assert texts.count("2-9/32") == 2
    assert {"3", "2-1/4"} <= set(texts)
    # How far the hole stands from the edge of the post, which the seat does not show.
    assert "23/64" not in texts


@pytest.mark.parametrize(
    ("name", "number", "first", "last", "more"),
    [
        # From the plan, five screws up each seat cleat; at 1:4 it would be 5 mm wide.
        ("hall-bench", 5, "2-3/32", "33-19/32", "3 more between, evenly spaced"),
        # From the plan, six screws through the back; at 1:5 it would be 1 mm thick.
        ("wall-bookcase", 10, "52", "912", "4 more between, evenly spaced"),
    ],
)
def test_a_long_even_row_is_drawn_large_with_its_ends_alone(
    name: str, number: int, first: str, last: str, more: str
) -> None:
    fit = next(fit for fit in first_fits(joinery_of(name)) if fit.joint + 1 == number)
    scene = draw_joint(fit, joinery_of(name), solids_of_plan(name))
    assert scene.scale in {"1:1", "1:2"}
    texts = texts_of(scene)
    assert {first, last} <= set(texts)
    assert [text for text in texts if text.endswith(more)] == [
        f"seat on {fit.contact.second}; {more}"
    ]
    seat = [m for m in scene.marks if isinstance(m, Circle) and m.role is Role.OUTLINE]
    assert len({round(m.centre[0], 3) for m in seat}) == 2


def test_stock_cut_off_ends_in_a_break_line() -> None:
    name, fit = first_of_kind("housing")
    scene = draw_joint(fit, joinery_of(name), solids_of_plan(name))
    fine = [m for m in scene.marks if isinstance(m, Line) and m.role is Role.FINE]
    # ISO 128-3: a narrow line with a zigzag; a plain narrow line stands in the title block alone.
    zigzags = [line for line in fine if len(line.points) == 6]
    assert zigzags
    views_end = scene.height - TITLE_HEIGHT_MM
    assert all(len(m.points) == 6 for m in fine if max(y for _, y in m.points) < views_end)


def test_what_only_rests_or_is_only_glued_has_no_figure() -> None:
    # From the plans: the seat rests on legs and rails, a cleat and the lips are glued, no screws.
    for plan, plain in (("hall-bench", {4, 8, 9, 10}), ("plant-stand", {7, 8, 9})):
        joinery = joinery_of(plan)
        drawn = {name for name, _ in draw_joints(joinery, solids_of_plan(plan))}
        every = {fit.joint + 1 for fit in first_fits(joinery)}
        assert plain <= every
        assert drawn == {f"joint-{number}" for number in every - plain}
