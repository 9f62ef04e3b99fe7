"""The wall bookcase against figures worked out by hand, on paper, from the sizes at its head.

Source of every figure unless it says otherwise: arithmetic by hand. In millimetres.
"""

from fractions import Fraction

import pytest

from by_hand import (
    blanks_of,
    box_of,
    copies_per_part,
    counted,
    finished_sizes,
    first_boxes,
    sizes_of,
)

# Between horns and panels of 18: 1040 - 2 x 31 - 2 x 18 = 942 clear. Three small shelves leave
# (942 - 54) / 4 = 222; two tall ones leave (942 - 36) / 3 = 302. Across, 1000 - 2 x 18 = 964, and
# (964 - 18) / 2 = 473 to either side of the divider. The back, 6 thick, closes 280 - 6 = 274.
BOXES = {
    # left front bottom, right back top
    "side": "0 0 0, 18 280 1040",
    "top": "18 0 991, 982 274 1009",
    "bottom": "18 0 31, 982 274 49",
    "divider": "491 0 49, 509 274 991",
    "small shelf": "18 0 271, 491 274 289",
    "tall shelf": "509 0 351, 982 274 369",
    "back": "18 274 0, 982 280 1040",
    "cleat": "18 256 911, 491 274 991",
}
COPIES = {
    "side": 2,
    "top": 1,
    "bottom": 1,
    "divider": 1,
    "small shelf": 3,
    "tall shelf": 2,
    "back": 1,
    "cleat": 4,
}
# With what stands in the housings and rebates, 6 at each end: wide deep high.
FINISHED = {
    "side": "18 280 1040",
    "top": "976 274 18",
    "bottom": "976 274 18",
    "divider": "18 274 954",
    "small shelf": "485 274 18",
    "tall shelf": "485 274 18",
    "back": "976 6 1040",
    "cleat": "473 18 80",
}


@pytest.fixture
def bookcase(worked):
    return worked("wall-bookcase")


def test_every_part_stands_where_the_arithmetic_puts_it(bookcase):
    assert first_boxes(bookcase.piece) == {name: box_of(text, "mm") for name, text in BOXES.items()}
    assert copies_per_part(bookcase.piece) == COPIES


def test_shelves_and_back_grow_by_what_stands_in_housings_and_rebates(bookcase):
    got = {name: finished_sizes(bookcase.joinery, name) for name in FINISHED}
    assert got == {name: sizes_of([text], "mm") for name, text in FINISHED.items()}


def test_tall_books_stand_upright(bookcase):
    # ISO 216: A4 is 297 mm tall, A5 is 210 mm.
    piece = bookcase.piece
    for part, tallest in (("small shelf", 210), ("tall shelf", 297)):
        levels = [piece.parts["bottom"].box.high[2]]
        for copy in piece.copies_of(part):
            assert copy.box.low[2] - levels[-1] > tallest
            levels.append(copy.box.high[2])
        assert piece.parts["top"].box.low[2] - levels[-1] > tallest


def test_no_two_housings_in_the_divider_lie_back_to_back(bookcase):
    # Two housings of 6 at one height would leave 6 of the divider's 18.
    small = {copy.box.low[2] for copy in bookcase.piece.copies_of("small shelf")}
    tall = {copy.box.low[2] for copy in bookcase.piece.copies_of("tall shelf")}
    assert all(abs(a - b) > 18 for a in small for b in tall)


def test_blanks_carry_what_stands_in_housings_and_rebates(bookcase):
    # Nothing is glued up, so nothing is left over: finished sizes, 6 more for each housed end.
    assert blanks_of(bookcase.cut_plan, "mm") == counted(
        {
            "side": "2 of 1040 x 280",
            "top": "1 of 976 x 274",
            "bottom": "1 of 976 x 274",
            "divider": "1 of 954 x 274",
            "small shelf": "3 of 485 x 274",
            "tall shelf": "2 of 485 x 274",
            "back": "1 of 1040 x 976",
            "cleat": "4 of 473 x 80",
        }
    )


def test_one_sheet_of_each_is_enough(bookcase):
    # A strip of 280, three of 274 and three kerfs of 3 are 1111 of 1210 across the trimmed sheet.
    # Along its 2430: side, side (2083); top, bottom (1955); divider and three shelves (2418); two
    # shelves (973), which leaves 1454 x 274 for four cleats of 473 x 80, two abreast.
    assert sorted(sheet.stock for sheet in bookcase.cut_plan.sheets) == ["back ply", "ply"]


def test_setting_out_starts_where_the_wood_ends(bookcase):
    # The top's own end stands 6 in the side, 12 from the left of the piece; the divider's faces at
    # 491 and 509 are 479 and 497 from there. The divider's own foot stands 6 in the bottom, at 43;
    # the lowest small shelf from 271 to 289 is 228 and 246 from there.
    rows = [row for fit in bookcase.joinery.fits for row in fit.setting_out if "wall" in row.what]
    part_of = {copy.mark: copy.part for copy in bookcase.piece.copies.values()}
    top = [row.distance_mm for row in rows if part_of[row.copy] == "top"]
    assert top == [479, 497]
    divider = [
        (row.reference, row.distance_mm)
        for row in rows
        if part_of[row.copy] == "divider" and row.what.startswith("near")
    ]
    assert divider[0] == ("bottom", 228)


def test_screws_into_the_wall_reach_well_into_a_stud(bookcase):
    # Through a cleat of 18, the back's 6 and plasterboard of 12.5 (a usual thickness, from memory),
    # 80 - 36.5 = 43.5 is left; common practice, no source: 40 or more in the stud.
    cleat, back = (bookcase.piece.parts[name].box.size[1] for name in ("cleat", "back"))
    (length,) = {80 for note in bookcase.plan.notes if "wood screws 6 x 80" in note}
    assert length - cleat - back - Fraction("12.5") == Fraction("43.5")
    assert any("43 into the stud" in note for note in bookcase.plan.notes)


def test_the_weight_said_in_the_notes_is_the_one_worked_out(bookcase):
    # Plywood: sides 2 x 280 x 1040, top and bottom 2 x 964 x 274, divider 942 x 274, shelves
    # 5 x 473 x 274, cleats 4 x 473 x 80, all 18 thick; the back 964 x 1040 x 6: 0.0444 m3 in all.
    # Birch plywood of some 680 kg/m3 (Finnish plywood handbook, from memory): 30 kg.
    boards = 2 * 280 * 1040 + 2 * 964 * 274 + 942 * 274 + 5 * 473 * 274 + 4 * 473 * 80
    litres = (boards * 18 + 964 * 1040 * 6) / 1e6
    assert 0.9 * 31 < litres * 0.68 < 1.1 * 31
    said = [c.control for c in bookcase.call_outs.cards["the piece"] if "weighs" in c.control]
    assert said
    assert all("31 kg" in control for control in said)
    assert any("weighs some 31 kg" in note for note in bookcase.plan.notes)
    # Shelves between the sides: the bottom and five shelves, in mm: more than three metres.
    assert 2 * 473 + 5 * 473 > 3000


def test_it_is_hung_when_the_last_coat_is_on(bookcase):
    last = bookcase.sequence.steps[-1]
    assert last.title == "Oil the bookcase, then hang it"
    assert {operation.kind for operation in last.operations} == {"coat"}
    assert any("two hold, one drives the screws" in note for note in last.notes)


def test_nobody_is_told_to_lay_down_what_lies_already(bookcase):
    # 1040 high on 280 is more than 3 to 1, and past 15 kg once the first side is on; but every step
    # from there on lays the case on its front.
    steps = bookcase.sequence.steps
    heavy = [step for step in steps if any("Lay the assembly" in a for a in actions_of(step))]
    assert len(heavy) >= 4
    for step in heavy:
        assert any("on its front on a flat bench" in action for action in actions_of(step))
    hazards = {call.hazard for calls in bookcase.call_outs.by_step.values() for call in calls}
    assert "tall assembly falls over" not in hazards


def actions_of(step):
    return [action for operation in step.operations for action in operation.actions]
