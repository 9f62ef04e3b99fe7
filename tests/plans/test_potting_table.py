"""The potting table against figures worked out by hand, on paper, from the sizes at its head.

Source of every figure unless it says otherwise: arithmetic by hand. In inches.
"""

import pytest

from by_hand import MM, box_of, copies_per_part, finished_sizes, first_boxes, number, sizes_of

# The frame stands 1 behind the boards' ends: 22-3/4 - 2 is 20-3/4 deep. Eight boards of 5-1/2 and
# seven gaps of 1/2 are 47-1/2. Legs stand from 2-1/2 to 6; between them 47-1/2 - 12 is 35-1/2, and
# six boards with five gaps of 3/8 are 34-7/8, which leaves 5/16 at each side.
BOXES = {
    # left front bottom, right back top
    "leg": "2-1/2 1 0, 6 2-1/2 35",
    "apron": "0 1 31-1/2, 47-1/2 2-1/2 35",
    "stretcher": "2-1/2 1 6, 45 2-1/2 9-1/2",
    "end rail": "1 1 25-1/2, 2-1/2 21-3/4 29",
    "low rail": "1 1 11, 2-1/2 21-3/4 14-1/2",
    "top board": "0 0 35, 5-1/2 22-3/4 36",
    "shelf board": "6-5/16 0 9-1/2, 11-13/16 22-3/4 10-1/2",
    "back board": "0 18-3/4 36, 47-1/2 19-3/4 41-1/2",
}
COPIES = {
    "leg": 4,
    "apron": 2,
    "stretcher": 2,
    "end rail": 2,
    "low rail": 2,
    "top board": 8,
    "shelf board": 6,
    "back board": 1,
}


@pytest.fixture
def table(worked):
    return worked("potting-table")


def test_every_part_stands_where_the_arithmetic_puts_it(table):
    assert first_boxes(table.piece) == {name: box_of(text, "in") for name, text in BOXES.items()}
    assert copies_per_part(table.piece) == COPIES


def test_the_plan_is_sound_and_nothing_is_found(table):
    assert [str(finding) for finding in table.findings] == []


def test_boards_end_where_the_table_ends(table):
    last = table.piece.copies_of("top board")[-1].box
    assert last.high[0] == number("47-1/2") * MM["in"]
    shelf = table.piece.copies_of("shelf board")[-1].box
    assert shelf.high[0] == (number("6-5/16") + number("34-7/8")) * MM["in"]


def test_laps_add_nothing_to_the_lumber(table):
    assert finished_sizes(table.joinery, "apron") == sizes_of(["47-1/2 1-1/2 3-1/2"], "in")
    assert finished_sizes(table.joinery, "leg") == sizes_of(["3-1/2 1-1/2 35"], "in")


def test_bolts_and_screws_are_counted_over_all_joints(table):
    bought = {}
    for fit in table.joinery.fits:
        for item in fit.hardware:
            bought[item.kind, item.size] = bought.get((item.kind, item.size), 0) + item.count
    # Eight laps with a bolt through 1-1/2; four end rails on two legs each, two bolts through 5.
    # A washer, a nut and two threads take 9/16: 2-1/16 and 5-9/16, and the next lengths sold.
    # Eight boards on two aprons and six on two stretchers, two screws each; eight into the back.
    assert bought == {
        ("carriage bolt", "3/8 x 2-1/2"): 8,
        ("carriage bolt", "3/8 x 6"): 16,
        ("nut", "3/8"): 24,
        ("washer", "3/8"): 24,
        ("wood screw", "No. 8 x 2"): 2 * 2 * 8 + 2 * 2 * 6 + 8,
    }
