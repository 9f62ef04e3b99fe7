"""Joint figures: every joint of the demo plans, its sizes, its hatches, and all legible."""

from __future__ import annotations

import pytest
from tests.drawing.demo_plans import NAMES, first_fits, joinery_of
from tests.drawing.legibility import faults_of, texts_of

from benchleaf.drawing.joint_close_up import close_up
from benchleaf.drawing.joint_figure import draw_joint
from benchleaf.drawing.joint_views import see_faces
from benchleaf.drawing.scene import Area, Circle, Role
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
    scene = draw_joint(fit, joinery_of(name))
    assert faults_of(scene) == []
    assert scene.height <= 250
    texts = texts_of(scene)
    assert {fit.contact.first, fit.contact.second} <= set(texts)
    for size in fit.sizes:
        assert any(text.startswith(f"{size.name} ") for text in texts), size.name


@pytest.mark.parametrize(("name", "index"), ALL)
def test_the_two_parts_of_a_section_do_not_share_wood(name: str, index: int) -> None:
    # At home, no wood of one part lies where the other's is: joints are cut to fit.
    faces = see_faces(close_up(fit_of(name, index), joinery_of(name)))
    for first, second in (faces.across, faces.along):
        assert first.intersection(second).area < 0.01 * min(first.area, second.area) + 0.01


def test_the_parts_of_a_section_are_hatched_against_each_other() -> None:
    # ISO 128-3 (from memory): neighbours are hatched in opposed directions.
    name, fit = first_of_kind("dowels")
    scene = draw_joint(fit, joinery_of(name))
    hatches = {m.hatch for m in scene.marks if isinstance(m, Area) and m.hatch}
    assert hatches == {1, 2}


def test_dowels_are_drawn_in_their_holes() -> None:
    name, fit = first_of_kind("dowels")
    scene = draw_joint(fit, joinery_of(name))
    pins = [m for m in scene.marks if isinstance(m, Area) and m.tone == 3]
    # One in the section across, and each of the row in the section along.
    assert len(pins) == 1 + sum(item.count for item in fit.hardware if item.kind == "dowel")
    seat = [m for m in scene.marks if isinstance(m, Circle) and m.role is Role.OUTLINE]
    assert len(seat) == len(pins) - 1


def test_a_housing_shows_how_far_the_end_enters() -> None:
    name, fit = first_of_kind("housing")
    depth = next(size.value_mm for size in fit.sizes if size.name == "housing depth")
    faces = see_faces(close_up(fit, joinery_of(name)))
    # Across, the entering part ends at the bottom of the housing: n, to the right, is its depth.
    assert faces.across[0].bounds[2] == pytest.approx(float(depth))
