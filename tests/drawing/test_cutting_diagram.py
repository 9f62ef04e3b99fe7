"""Cutting diagrams: everything placed is drawn, to scale, named, and legible."""

from __future__ import annotations

from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.drawing.demo_plans import NAMES, joinery_of
from tests.drawing.layouts import (
    board,
    boards,
    busy_sheet,
    cut_plan_of,
    plan_of,
    rods,
    sheet_of_strips,
)
from tests.drawing.legibility import faults_of, texts_of

from benchleaf.cutting.planning import plan_cuts
from benchleaf.cutting.trees import name_cuts
from benchleaf.drawing.clearance import box_of_marks
from benchleaf.drawing.cutting_diagram import cuts_of, draw_sheet_layout
from benchleaf.drawing.length_diagram import draw_length_layout, draw_length_layouts
from benchleaf.drawing.scene import Area, Line, Role, Scene

BUSY, BUSY_PLAN = busy_sheet()


def busy() -> Scene:
    return draw_sheet_layout(BUSY, BUSY_PLAN, plan_of())


def area_of(marks: list[Area]) -> float:
    """Area of level rectangles, mm2 on paper."""
    boxes = [box_of_marks([mark]) for mark in marks]
    return sum((b.right - b.left) * (b.bottom - b.top) for b in boxes if b)


def areas(scene: Scene, role: Role) -> list[Area]:
    return [mark for mark in scene.marks if isinstance(mark, Area) and mark.role is role]


def named(texts: list[str], label: str) -> bool:
    """Tell whether a label stands on a drawing, alone or before its size."""
    return any(text == label or text.startswith(f"{label}  ") for text in texts)


def test_a_sheet_is_legible() -> None:
    assert faults_of(busy()) == []


def test_every_blank_is_named_on_its_place() -> None:
    texts = texts_of(busy())
    assert [label for label, _, _ in BUSY.placed if not named(texts, label)] == []


def test_every_blank_has_its_size_beside_it_or_below() -> None:
    # By hand: F1 is 38 x 1-1/2 and finds no room on its strip, B1 is 36 x 11 and does.
    texts = texts_of(busy())
    assert "36 × 11" in texts
    assert any("F1, F2: 38 × 1-1/2" in text for text in texts)


def test_every_cut_has_its_number_once() -> None:
    texts = texts_of(busy())
    numbers = [cut.number for cut in cuts_of(BUSY.tree)]
    assert numbers == list(range(1, len(numbers) + 1))
    # 48 and 96 are the sheet's own sizes; no cut has such a number here.
    assert [texts.count(str(number)) for number in numbers] == [1] * len(numbers)


def test_a_sheet_names_the_sides_that_tables_and_steps_measure_from() -> None:
    assert {"left end", "near edge"} <= set(texts_of(busy()))


def test_pieces_to_be_cut_further_are_named_where_there_is_room() -> None:
    named = name_cuts(BUSY.tree)
    known = {name for cut in named for name in (cut.first, cut.second) if name}
    said = [text for text in texts_of(busy()) if text[0].isdigit() and text[-1] in "ab"]
    assert len(set(said)) == len(said)
    assert set(said) <= known
    # By hand: cut 1 rips the strip of A1 and A2, which is crosscut later.
    assert "1a" in said


def test_blanks_and_offcuts_are_drawn_to_scale() -> None:
    scene = busy()
    assert scene.scale == "1:16"
    blanks = sum(area.wide * area.high for _, area, _ in BUSY.placed)
    offcuts = sum(area.wide * area.high for area in BUSY.offcuts)
    assert area_of(areas(scene, Role.PART)) == pytest.approx(float(blanks) / 16**2)
    assert area_of(areas(scene, Role.WASTE)) == pytest.approx(float(offcuts) / 16**2)


def test_offcuts_are_told_from_blanks_without_colour() -> None:
    scene = busy()
    assert {mark.hatch for mark in areas(scene, Role.PART)} == {0}
    assert 0 not in {mark.hatch for mark in areas(scene, Role.WASTE)}


def test_cuts_run_beside_blanks_not_through_them() -> None:
    scene = busy()
    lines = [mark for mark in scene.marks if isinstance(mark, Line) and mark.role is Role.CUT]
    assert len(lines) == len(list(cuts_of(BUSY.tree)))
    for blank in areas(scene, Role.PART):
        box = box_of_marks([blank])
        assert box
        assert not any(box.is_crossed_by(*line.points) for line in lines)


def test_the_words_of_a_sheet_say_every_blank() -> None:
    description = busy().description
    assert description.startswith("33 cuts give 26 blanks: A1 42-3/4 × 14-1/4")
    assert all(f"{label} " in description for label, _, _ in BUSY.placed)


@given(
    st.lists(
        st.tuples(
            st.integers(2, 12).map(str),
            st.lists(st.integers(5, 40).map(str), min_size=1, max_size=4),
        ),
        min_size=1,
        max_size=4,
    ).filter(
        lambda strips: (
            sum(int(width) + 1 for width, _ in strips) < 48
            and all(sum(int(size) + 1 for size in sizes) < 96 for _, sizes in strips)
        )
    )
)
@settings(max_examples=40, deadline=None)
def test_any_sheet_with_blanks_of_a_hand_s_breadth_is_legible(
    strips: list[tuple[str, list[str]]],
) -> None:
    layout, cut_plan = sheet_of_strips(strips)
    scene = draw_sheet_layout(layout, cut_plan, plan_of())
    assert faults_of(scene) == []
    texts = texts_of(scene)
    assert all(named(texts, label) for label, _, _ in layout.placed)


@pytest.mark.parametrize("layouts", [boards(), rods()], ids=["boards", "rods"])
def test_boards_and_rods_are_legible_on_one_drawing(layouts: tuple) -> None:
    scenes = draw_length_layouts(layouts, cut_plan_of([], layouts), plan_of())
    assert len(scenes) == 1
    assert faults_of(scenes[0]) == []


def test_every_length_is_named_with_its_size() -> None:
    layouts = boards()
    texts = texts_of(draw_length_layouts(layouts, cut_plan_of([], layouts), plan_of())[0])
    for layout in layouts:
        assert [label for label, _, _ in layout.placed if not named(texts, label)] == []
    assert "C1  40 × 2-1/2" in texts
    assert {"1 of 3: 96 long", "2 of 3: 96 long", "3 of 3: 96 long"} <= set(texts)


def test_dowels_alike_are_counted_not_named_one_by_one() -> None:
    layouts = rods()
    texts = texts_of(draw_length_layouts(layouts, cut_plan_of([], layouts), plan_of())[0])
    assert "22 × 2" in texts
    assert "10 × 1-1/2" in texts
    assert not any(text.startswith("dowel ") for text in texts)


def test_lengths_are_drawn_to_scale() -> None:
    layout = board(1, [("A1", "42"), ("A2", "30")])
    scene = draw_length_layout(layout, cut_plan_of([], [layout]), plan_of())
    widths = [box.right - box.left for m in areas(scene, Role.PART) if (box := box_of_marks([m]))]
    divisor = int(scene.scale.removeprefix("1:"))
    assert widths == pytest.approx([42 * 25.4 / divisor, 30 * 25.4 / divisor])


def test_more_boards_than_a_page_holds_go_on_the_next() -> None:
    layouts = [board(n, [(f"A{n}", "42")]) for n in range(1, 31)]
    scenes = draw_length_layouts(layouts, cut_plan_of([], layouts), plan_of())
    assert len(scenes) > 1
    assert all(scene.height <= 250 for scene in scenes)
    assert len({scene.id for scene in scenes}) == len(scenes)
    texts = [text for scene in scenes for text in texts_of(scene)]
    assert all(f"{n} of 30: 96 long" in texts for n in range(1, 31))


@pytest.mark.parametrize("name", NAMES)
def test_every_layout_of_the_demo_plans_is_legible(name: str) -> None:
    joinery = joinery_of(name)
    plan = joinery.piece.plan
    cut_plan = plan_cuts(joinery)
    scenes = [draw_sheet_layout(sheet, cut_plan, plan) for sheet in cut_plan.sheets]
    for _, alike in groupby(cut_plan.lengths, key=lambda layout: layout.stock):
        scenes += draw_length_layouts(tuple(alike), cut_plan, plan)
    assert {scene.id: faults_of(scene) for scene in scenes} == {scene.id: [] for scene in scenes}
    assert all((scene.width, scene.height <= 250) == (180, True) for scene in scenes)
