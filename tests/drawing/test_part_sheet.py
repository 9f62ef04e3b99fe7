"""Part sheets: what they show is there, each size once, nothing on anything else."""

from __future__ import annotations

from fractions import Fraction

import pytest
from tests.drawing import sheet_parts
from tests.drawing.demo_plans import NAMES, joinery_of
from tests.drawing.legibility import faults_of, texts_of

from benchleaf.drawing.bodies import Body
from benchleaf.drawing.bodies import body_of as ready
from benchleaf.drawing.orthographic import Facing, Round, look, third_angle
from benchleaf.drawing.page import TITLE_HEIGHT_MM
from benchleaf.drawing.part_features import group_spots, read_spots
from benchleaf.drawing.part_sheet import draw_part_sheet
from benchleaf.drawing.part_views import choose_views
from benchleaf.drawing.scene import Circle, Line, Role, Scene
from benchleaf.frames import FACES, Box, direction_name, scale
from benchleaf.joinery.records import Joinery, Shape
from benchleaf.joinery.solids import solid_of_copy
from benchleaf.lengths import format_length

FRONT = Facing(right=(1, 0, 0), up=(0, 0, 1), toward=(0, -1, 0))


def demo_shapes() -> list[tuple[str, int]]:
    return [(name, index) for name in NAMES for index in range(len(joinery_of(name).shapes))]


def body_of(shape: Shape, joinery: Joinery) -> Box:
    size = joinery.piece.parts[shape.part].box.size
    return Box((Fraction(0),) * 3, size)


def wood_of(shape: Shape, joinery: Joinery) -> Body:
    return ready(solid_of_copy(joinery, shape.drawn.mark), "")


def views_of(shape: Shape, joinery: Joinery) -> tuple[str, ...]:
    part = joinery.piece.parts[shape.part]
    spots = read_spots(shape.drawn, body_of(shape, joinery), "in")
    return tuple(choose_views(part, spots, is_mirrored=False).facings)


def check_sheet(sheet: Scene, shape: Shape, joinery: Joinery) -> None:
    assert faults_of(sheet) == []
    # chosen safe box: what A4 and Letter both print.
    assert sheet.width == 180
    assert sheet.height <= 250
    texts = texts_of(sheet)
    units = joinery.piece.plan.units.value
    body = body_of(shape, joinery)
    spots = read_spots(shape.drawn, body, units)
    for group in group_spots(spots):
        count = f"{len(group.spots)} × " if len(group.spots) > 1 else ""
        assert any(text.startswith(f"{count}{group.words}") for text in texts)
        assert group.letter in texts


@pytest.mark.parametrize("name", sheet_parts.ALL)
def test_a_sheet_is_legible_and_lists_every_feature(name: str) -> None:
    shape, joinery = sheet_parts.ALL[name]()
    check_sheet(draw_part_sheet(shape, joinery), shape, joinery)


@pytest.mark.parametrize(("plan", "index"), demo_shapes())
def test_every_sheet_of_the_demo_plans_is_legible(plan: str, index: int) -> None:
    joinery = joinery_of(plan)
    shape = joinery.shapes[index]
    check_sheet(draw_part_sheet(shape, joinery), shape, joinery)


@pytest.mark.parametrize("name", sheet_parts.ALL)
def test_whole_sizes_stand_on_the_sheet_once(name: str) -> None:
    shape, joinery = sheet_parts.ALL[name]()
    texts = texts_of(draw_part_sheet(shape, joinery))
    length = format_length(Fraction(max(shape.drawn.blank.size)), "in")
    # ISO 129-1:2018: each size once.
    assert texts.count(length) == 1


def test_the_same_part_is_drawn_the_same() -> None:
    assert draw_part_sheet(*sheet_parts.side()) == draw_part_sheet(*sheet_parts.side())


def test_a_leg_shows_both_its_mortises_open_in_two_views() -> None:
    shape, joinery = sheet_parts.leg()
    assert views_of(shape, joinery) == ("front", "top")
    texts = texts_of(draw_part_sheet(shape, joinery))
    # From the part as given: mortises 3/8 by 2-1/2 from 7/8 (or 3/4) to the face, 6 up the leg.
    assert "2 × mortise 3/8 × 2-1/2, 1-3/8 deep, for B" in texts
    assert "2 × dowel hole 3/8 dia, 1-1/16 deep, for B" in texts
    assert {"6", "15", "16-1/2", "18"} <= set(texts)
    assert "A2, A3: the mirror image of this drawing" in texts


def test_a_shelf_shows_one_end_for_both() -> None:
    shape, joinery = sheet_parts.shelf()
    assert views_of(shape, joinery) == ("front", "right")
    texts = texts_of(draw_part_sheet(shape, joinery))
    assert "4 × tenon 3/8 × 2, 1/2 long, for B" in texts
    # Between shoulders, and over the tenons.
    assert {"36", "37", "11", "3/4"} <= set(texts)


def test_evenly_spaced_mortises_are_measured_one_by_one_from_one_end() -> None:
    texts = texts_of(draw_part_sheet(*sheet_parts.row_rail()))
    assert "12 × mortise 1/2 × 1/2, 3/4 deep, 2-1/2 apart, for B" in texts
    # From the part as given: the near cheeks stand at 2 + 2-1/2 n, n from 0 to 11.
    assert {"2", "4-1/2", "7", "9-1/2", "12", "27", "29-1/2"} <= set(texts)


def test_a_long_thin_rail_is_broken_and_says_so() -> None:
    sheet = draw_part_sheet(*sheet_parts.rail())
    assert "The length is broken, not to scale" in texts_of(sheet)
    assert sheet.scale == "1:4"
    whole = draw_part_sheet(*sheet_parts.panel())
    assert "The length is broken, not to scale" not in texts_of(whole)


def test_a_bore_is_drawn_as_a_circle_with_centre_lines() -> None:
    sheet = draw_part_sheet(*sheet_parts.slat())
    views = sheet.height - TITLE_HEIGHT_MM
    circles = [
        mark
        for mark in sheet.marks
        if isinstance(mark, Circle) and mark.role is Role.FINE and mark.centre[1] < views
    ]
    # Clearance hole 3/16 and countersink 3/8 in diameter, at 1:4, four of each.
    radii = sorted(round(circle.radius, 3) for circle in circles)
    assert radii == [round(3 / 32 * 25.4 / 4, 3)] * 4 + [round(3 / 16 * 25.4 / 4, 3)] * 4
    centres = [m for m in sheet.marks if isinstance(m, Line) and m.role is Role.CENTRE]
    assert len(centres) >= 8


def test_what_is_no_box_is_told_by_its_outline() -> None:
    shape, joinery = sheet_parts.drawer_side()
    assert "front" in views_of(shape, joinery)
    texts = texts_of(draw_part_sheet(shape, joinery))
    # From the part as given; the sides fall 1/8 in 3/4: atan(1/6) is 9.46 degrees.
    assert "3 × socket 3/4 to 1 × 3/4, sides at 9.5°, through, for B" in texts
    assert "pull hole 1 dia, through, for B" in texts
    # A slope of 3 in 4 is 36.87 degrees.
    assert "spline slot 1/2 × 1-1/2 × 1/8, leaning 36.9°, for B" in texts


def test_a_rod_has_one_diameter_and_its_middle_needs_no_finding() -> None:
    texts = texts_of(draw_part_sheet(*sheet_parts.peg()))
    assert texts.count("1 dia") == 1
    assert "1/2" not in texts


def test_words_of_the_sheet_say_its_figures() -> None:
    sheet = draw_part_sheet(*sheet_parts.panel())
    assert "36 × 14 × 23/32 in" in sheet.description
    assert "4 × through hole 1-1/2 × 1-1/2, for B" in sheet.description


def test_views_stand_on_the_side_that_they_are_seen_from() -> None:
    # Third angle (ISO 5456-2, by geometry): what is nearest to a neighbouring view is the face
    # that both share. Seen from above, the front face lies lowest; from the right, leftmost.
    views = third_angle(FRONT)
    front_point, back_point = (0, 0, 0), (0, 1, 0)
    assert views["top"].flat(front_point)[1] < views["top"].flat(back_point)[1]
    assert views["right"].flat(front_point)[0] < views["right"].flat(back_point)[0]
    assert views["left"].flat(front_point)[0] > views["left"].flat(back_point)[0]
    assert views["bottom"].flat(front_point)[1] > views["bottom"].flat(back_point)[1]
    for view in views.values():
        determinant = (
            view.right[0] * (view.up[1] * view.toward[2] - view.up[2] * view.toward[1])
            - view.right[1] * (view.up[0] * view.toward[2] - view.up[2] * view.toward[0])
            + view.right[2] * (view.up[0] * view.toward[1] - view.up[1] * view.toward[0])
        )
        assert determinant == 1, "no view is a mirror image"


def test_a_mortise_in_a_hidden_face_is_dashed() -> None:
    shape, joinery = sheet_parts.sheet_of(
        "block",
        (8, 2, 2),
        [sheet_parts.cut("mortise", sheet_parts.block((2, 1, "1/2"), (4, 2, "1 1/2")))],
    )
    sight = look(wood_of(shape, joinery), FRONT)
    inch = 25.4
    # The mortise opens on the back; from the front its four edges lie hidden, 2 to 4 wide.
    hidden = {
        tuple(round(v / inch, 3) for point in segment for v in point) for segment in sight.hidden
    }
    assert hidden == {
        (2.0, 0.5, 4.0, 0.5),
        (2.0, 1.5, 4.0, 1.5),
        (2.0, 0.5, 2.0, 1.5),
        (4.0, 0.5, 4.0, 1.5),
    }
    assert len(sight.visible) == 4


def test_a_visible_line_covers_a_hidden_one_on_the_same_place() -> None:
    shape, joinery = sheet_parts.sheet_of("block", (8, 2, 2))
    sight = look(wood_of(shape, joinery), FRONT)
    assert (len(sight.visible), len(sight.hidden)) == (4, 0)


def test_a_circle_half_covered_is_not_taken_for_a_circle() -> None:
    # A bore at the very edge of the wood is open at the side: its mouth is half a circle.
    shape, joinery = sheet_parts.sheet_of(
        "block",
        (8, 2, 2),
        [
            sheet_parts.cut(
                "dowel hole", sheet_parts.bore((4, 0, 2), sheet_parts.BACK, dia="1", deep="1")
            )
        ],
    )
    sight = look(wood_of(shape, joinery), FRONT, [Round((4 * 25.4, 2 * 25.4), 12.7)])
    assert sight.visible_rounds == ()
    assert len(sight.visible) > 8


def test_a_left_handed_copy_is_drawn_as_it_lies_on_the_bench() -> None:
    # In left-handed axes a true view's right, up and toward turn the other way.
    shape, joinery = sheet_parts.leg()
    part = joinery.piece.parts[shape.part]
    spots = read_spots(shape.drawn, body_of(shape, joinery), "in")
    for is_mirrored, turn in ((False, 1), (True, -1)):
        front = choose_views(part, spots, is_mirrored=is_mirrored).facings["front"]
        right, up = front.right, front.up
        toward = (
            right[1] * up[2] - right[2] * up[1],
            right[2] * up[0] - right[0] * up[2],
            right[0] * up[1] - right[1] * up[0],
        )
        assert tuple(turn * value for value in toward) == front.toward


def test_a_part_with_more_holes_than_room_stays_legible_and_says_so() -> None:
    holes = [
        sheet_parts.cut(
            "pilot hole",
            sheet_parts.bore(
                (f"{3 + 7 * index}/10", f"{1 + index % 11}", "3/4"),
                sheet_parts.DOWN,
                dia=f"{1 + index % 30}/64",
                deep="1/2",
            ),
        )
        for index in range(90)
    ]
    sheet = draw_part_sheet(*sheet_parts.sheet_of("board", (72, 12, "3/4"), holes))
    assert faults_of(sheet) == []
    assert sheet.height <= 250
    texts = texts_of(sheet)
    assert "Places too many to draw: see setting out" in texts
    assert "6 kinds more than drawn: see setting out" in texts


@pytest.mark.parametrize("name", ["shelf", "panel", "side"])
def test_the_four_sides_of_a_broad_view_are_named(name: str) -> None:
    shape, joinery = sheet_parts.ALL[name]()
    texts = texts_of(draw_part_sheet(shape, joinery))
    front = choose_views(
        joinery.piece.parts[shape.part],
        read_spots(shape.drawn, body_of(shape, joinery), "in"),
        is_mirrored=False,
    ).facings["front"]
    shown = direction_name(front.toward)
    assert f"{shown} face" in texts
    opposite = direction_name(scale(front.toward, -1))
    assert set(FACES) - {shown, opposite} <= set(texts)


@pytest.mark.parametrize(("plan", "index"), demo_shapes())
def test_what_stands_or_lies_in_the_piece_is_drawn_right_way_up(plan: str, index: int) -> None:
    joinery = joinery_of(plan)
    shape = joinery.shapes[index]
    part = joinery.piece.parts[shape.part]
    spots = read_spots(shape.drawn, body_of(shape, joinery), "in")
    mirrored = joinery.piece.copies[shape.drawn.mark].frame.is_mirrored
    front = choose_views(part, spots, is_mirrored=mirrored).facings["front"]
    # By geometry: of a face that looks to a side, up is the piece's up; of one that looks up or
    # down, the back lies above, as for a person who stands before the piece.
    if front.right[2] == 0:
        assert max(front.up) == 1


def test_faces_of_mirrored_copies_are_named_as_on_the_first() -> None:
    joinery = joinery_of("wall-bookcase")
    second = next(shape for shape in joinery.shapes if shape.drawn.mark == "A2")
    assert "Faces are named as they stand on A1" in texts_of(draw_part_sheet(second, joinery))
    first = next(shape for shape in joinery.shapes if shape.drawn.mark == "A1")
    assert not any("named" in text for text in texts_of(draw_part_sheet(first, joinery)))
