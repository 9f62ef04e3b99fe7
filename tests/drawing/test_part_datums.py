"""Sheets and steps measure from the same ends: what a step sets out by stands on the sheet."""

from __future__ import annotations

from fractions import Fraction

import pytest
from tests.drawing import sheet_parts
from tests.drawing.demo_plans import NAMES, joinery_of
from tests.drawing.legibility import texts_of

from benchleaf.drawing.part_datums import read_datums
from benchleaf.drawing.part_features import group_spots, read_spots
from benchleaf.drawing.part_sections import group_sections, read_sections
from benchleaf.drawing.part_sheet import draw_part_sheet
from benchleaf.drawing.scene import Line, Role, Text
from benchleaf.forms import Bore
from benchleaf.frames import Axis, Box
from benchleaf.joinery.corner import KEYED
from benchleaf.lengths import format_length


def shapes() -> list[tuple[str, int]]:
    return [(name, index) for name in NAMES for index in range(len(joinery_of(name).shapes))]


def sheet_texts(plan: str, part: str) -> list[str]:
    joinery = joinery_of(plan)
    shape = next(shape for shape in joinery.shapes if shape.name == part)
    return texts_of(draw_part_sheet(shape, joinery))


@pytest.mark.parametrize(("plan", "index"), shapes())
def test_every_distance_that_a_step_sets_out_by_stands_on_the_sheet(plan: str, index: int) -> None:
    joinery = joinery_of(plan)
    shape = joinery.shapes[index]
    texts = texts_of(draw_part_sheet(shape, joinery))
    rows = [row for fit in joinery.fits for row in fit.setting_out if row.copy == shape.drawn.mark]
    units = joinery.piece.plan.units.value
    # Depths go into the wood from the face that the mate meets; the rest lie along a face.
    rows = [row for row in rows if "depth of" not in row.what]
    # What a key on the sled spaces is not set out; its pitch is.
    rows = [row for row in rows if row.spacer != KEYED]
    # A shoulder lies a tenon's length from the end, which the tenon's own words say.
    told = {word.strip(",") for text in texts if " long" in text for word in text.split()}
    for row in rows:
        shown = set(texts) | told if row.what.startswith("shoulder line") else set(texts)
        assert format_length(row.distance_mm, units) in shown


def test_a_housed_board_is_measured_from_its_end_and_not_from_a_shoulder_that_is_none() -> None:
    # From the plan: the top is 964 between the sides and 6 deep in each: 976. The divider's
    # housing, 18 wide, is in its middle: 976 / 2 - 9 and 976 / 2 + 9 from the end.
    texts = sheet_texts("wall-bookcase", "top")
    assert {"976", "479", "497"} <= set(texts)
    assert not {"964", "970", "473", "485"} & set(texts)


def test_a_leg_is_measured_from_the_faces_that_the_steps_name() -> None:
    texts = sheet_texts("hall-bench", "leg")
    # The dowels' line stands 27/32 from the front; from the back it would be 1-5/16.
    assert "27/32" in texts
    assert "1-5/16" not in texts


def test_housings_near_both_ends_are_measured_each_from_its_own() -> None:
    # From the plan: horns of 31, a housing of 18 beyond each; one row runs from each end.
    joinery = joinery_of("wall-bookcase")
    sheet = draw_part_sheet(joinery.shapes[0], joinery)
    texts = texts_of(sheet)
    assert (texts.count("31"), texts.count("49")) == (2, 2)
    assert "991" not in texts
    above, below = sorted(m.at[1] for m in sheet.marks if isinstance(m, Text) and m.text == "31")
    outline = [
        point[1]
        for mark in sheet.marks
        if isinstance(mark, Line) and mark.role is Role.OUTLINE
        for point in mark.points
    ]
    assert above < min(outline) < below


def test_a_post_lists_its_sections_and_has_its_holes_measured_across() -> None:
    # From the plan: 3 becomes 2-1/4, then 1-1/2, then 3/4.
    texts = sheet_texts("plant-stand", "post")
    for words in ("2-1/4 × 2-1/4, for E", "1-1/2 × 1-1/2, for F", "3/4 × 3/4, for G"):
        assert f"section {words}" in texts
    # Geometry: two dowels on one line that is square to a side: two places along it, one across.
    joinery = joinery_of("plant-stand")
    shape = next(shape for shape in joinery.shapes if shape.name == "post")
    holes = [f.shape for f in shape.drawn.features if isinstance(f.shape, Bore)]
    across = {hole.mouth[axis] for hole in holes for axis in (0, 1)}
    assert len(across) == 3
    post = Fraction(762, 10)
    for at in across:
        ends = {format_length(Fraction(at), "in"), format_length(post - Fraction(at), "in")}
        assert ends & set(texts)


def test_what_is_left_between_waste_on_four_sides_is_the_section() -> None:
    body = Box((0, 0, 0), (4, 4, 20))
    waste = [
        Box((0, 0, 12), (1, 4, 20)),
        Box((3, 0, 12), (4, 4, 20)),
        Box((1, 0, 12), (3, 1, 20)),
        Box((1, 3, 12), (3, 4, 20)),
    ]
    assert read_sections(waste, body, Axis.HIGH) == (Box((1, 1, 12), (3, 3, 20)),)
    assert read_sections([], body, Axis.HIGH) == ()


def test_a_part_that_no_joint_sets_out_is_measured_from_its_low_ends() -> None:
    shape, joinery = sheet_parts.slat()
    datums = read_datums(joinery, shape.drawn.mark, shape.drawn.blank)
    for axis in Axis:
        assert datums.ends_for(axis, shape.drawn.blank.high[axis] / 3) == (False,)
    groups = group_spots(read_spots(shape.drawn, shape.drawn.blank, "in"))
    sections = group_sections(
        (spot for group in groups for spot in group.spots),
        shape.drawn.blank,
        Axis.WIDE,
        units="in",
        before=len(groups),
    )
    assert sections == ()
