"""Pictures of steps: dry fits as glue-ups, one of each part worked on, names in captions."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from tests.drawing.demo_plans import NAMES, PLANS, joinery_of

from benchleaf.drawing.book import bodies_of, stage_of
from benchleaf.drawing.captions import name_copies
from benchleaf.drawing.exploding import restrict
from benchleaf.drawing.projection import ISOMETRIC, from_left
from benchleaf.drawing.scene import Area, Role, Scene, Text
from benchleaf.drawing.step_pictures import draw_steps, draw_work
from benchleaf.pipeline import work_plan
from benchleaf.sequencing.records import Step
from benchleaf.sequencing.wording import pluralise


@cache
def steps_of(name: str) -> tuple[Step, ...]:
    path = Path(PLANS / f"{name}.plan.yml")
    worked = work_plan(path.read_text(encoding="utf-8"), path.name)
    assert worked.sequence is not None, worked.findings
    return worked.sequence.steps


@cache
def pictures_of(name: str) -> dict[str, Scene]:
    joinery = joinery_of(name)
    return dict(draw_steps(steps_of(name), stage_of(joinery, bodies_of(joinery))))


def shown_in(scene: Scene, role: Role = Role.PART) -> set[str]:
    return {m.id.split("-face-")[0] for m in scene.marks if isinstance(m, Area) and m.role is role}


@pytest.mark.parametrize("name", NAMES)
def test_a_dry_fit_shows_what_the_glue_up_after_it_shows(name: str) -> None:
    pictures, found = pictures_of(name), 0
    for step in steps_of(name):
        for operation in step.operations:
            if operation.kind == "dry-fit":
                scene = pictures[f"step-{step.slug}"]
                drawn = shown_in(scene) | shown_in(scene, Role.GHOST)
                assert drawn <= {mark for o in step.operations for mark in o.copies}
                # Geometry: a copy may hide behind others, so that a few of many may be missing.
                assert len(drawn) > 0.6 * len(operation.copies)
                found += 1
    # What is bolted or screwed without glue is not tried dry.
    assert found or not any(fit.is_glued for fit in joinery_of(name).fits)


@pytest.mark.parametrize("name", NAMES)
def test_a_step_that_works_on_several_parts_shows_one_of_each(name: str) -> None:
    joinery, pictures, found = joinery_of(name), pictures_of(name), 0
    for step in steps_of(name):
        working = [o for o in step.operations if o.joints]
        if step.joined or not working or any(o.kind == "dry-fit" for o in working):
            continue
        parts = {joinery.copies[mark].part for o in working for mark in o.copies}
        drawn = [joinery.copies[mark].part for mark in shown_in(pictures[f"step-{step.slug}"])]
        assert sorted(drawn) == sorted(parts)
        found += 1
    assert found


@pytest.mark.parametrize("name", NAMES)
def test_captions_name_the_parts_and_balloons_bear_their_marks(name: str) -> None:
    joinery = joinery_of(name)
    for scene in pictures_of(name).values():
        assert "taken apart" not in scene.title
        balloons = [m.text for m in scene.marks if isinstance(m, Text)]
        assert balloons
        for text in balloons:
            assert any(mark.startswith(text) for mark in joinery.copies)
        shown = {joinery.copies[m].part for m in shown_in(scene)}
        if len(shown) <= 4:
            assert all(part in scene.title or pluralise(part) in scene.title for part in shown)


def test_the_housings_of_a_side_are_seen_from_the_side_that_they_open_to() -> None:
    # From the plan: the left side's housings look to the right, which the usual view shows; the
    # right side's look to the left. Joint 0 is that of the top in the sides.
    joinery = joinery_of("wall-bookcase")
    stage = stage_of(joinery, bodies_of(joinery))
    left, right = (draw_work((mark,), frozenset({0}), stage) for mark in ("A1", "A2"))
    assert left.title == f"Worked on: side A1, with top B pale, {ISOMETRIC.name}"
    assert right.title == f"Worked on: side A2, with top B pale, {from_left(ISOMETRIC).name}"


def test_a_tree_cut_down_to_some_copies_keeps_what_joins_them() -> None:
    tree = joinery_of("hall-bench").assembly
    kept = restrict(tree, {"A1", "B1", "H"})
    assert set(kept.copies) == {"A1", "B1", "H"}
    assert any(kept.direction)
    assert restrict(tree, {"H"}).moved is None


def test_copies_are_named_by_part_in_the_plan_s_order() -> None:
    joinery = joinery_of("hall-bench")
    assert name_copies(["C1", "A3", "A1"], joinery) == "legs A1 and A3 and end rail C1"
    assert name_copies(joinery.copies, joinery) == (
        "A1 to A4, B1, B2, C1, C2, D1, D2, E1, E2, F1, F2, G1 to G10 and H"
    )
