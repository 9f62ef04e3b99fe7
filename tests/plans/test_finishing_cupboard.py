"""The finishing cupboard against figures worked out by hand, from the sizes at its head.

Source of every figure unless it says otherwise: arithmetic by hand. In inches.
"""

import pytest

from by_hand import box_of, copies_per_part, finished_sizes, first_boxes, sizes_of

# The opening is 28-1/2 wide, from 3/4. The top is 3/4, its drawer's opening 5, the divider 3/4: it
# lies from 27-1/2 to 28-1/4. The back is 1/4 of 15-1/2: all else ends at 15-1/4. The drawer is 1/16
# clear of the sides and stands 1 before the back: 28-3/8 wide, 14-1/4 deep, 5 - 1/8 high. Each door
# is from 3/4 to 15 - 1/32, and 1/16 clear of the floor, at 3-3/4, and of the divider.
BOXES = {
    # left front bottom, right back top
    "side": "0 0 0, 3/4 15-1/2 34",
    "top": "3/4 0 33-1/4, 29-1/4 15-1/4 34",
    "divider": "3/4 0 27-1/2, 29-1/4 15-1/4 28-1/4",
    "floor": "3/4 0 3, 29-1/4 15-1/4 3-3/4",
    "kick": "3/4 2 0, 29-1/4 2-3/4 3",
    "back": "3/4 15-1/4 3, 29-1/4 15-1/2 34",
    "shelf": "3/4 1-1/2 14, 29-1/4 15 14-3/4",
    "drawer stop": "3/4 14-1/4 28-1/4, 1-5/16 15 29-3/4",
    "door stop": "8 3/4 26, 22 1-1/2 27-1/2",
    "drawer front": "13/16 0 28-1/4, 29-3/16 3/4 33-1/8",
    "drawer side": "13/16 3/4 28-1/4, 1-5/16 14-1/4 33-1/8",
    "drawer back": "1-5/16 13 28-7/8, 28-11/16 13-1/2 32-7/8",
    "drawer bottom": "1-5/16 3/4 28-5/8, 28-11/16 14-1/4 28-7/8",
    "stile": "3/4 0 3-13/16, 3 3/4 27-7/16",
    "rail": "3 0 3-13/16, 12-23/32 3/4 6-1/16",
    "panel": "3 1/4 6-1/16, 12-23/32 3/4 25-3/16",
}
DRAWER = ("J", "K1", "K2", "L", "M")
DOORS = (("N1", "N2", "O1", "O2", "P1"), ("N3", "N4", "O3", "O4", "P2"))


@pytest.fixture
def cupboard(worked):
    return worked("finishing-cupboard")


def test_every_part_stands_where_the_arithmetic_puts_it(cupboard):
    assert first_boxes(cupboard.piece) == {n: box_of(text, "in") for n, text in BOXES.items()}
    twice = ("side", "drawer stop", "drawer side", "panel")
    four = ("stile", "rail")
    assert copies_per_part(cupboard.piece) == {
        name: 2 if name in twice else 4 if name in four else 1 for name in BOXES
    }


def test_a_drawer_and_two_doors_are_groups(cupboard):
    assert [(own.title, own.marks) for own in cupboard.piece.groups] == [
        ("drawer", DRAWER),
        ("door 1", DOORS[0]),
        ("door 2", DOORS[1]),
    ]
    assert cupboard.piece.groups[0].box == box_of("13/16 0 28-1/4, 29-3/16 14-1/4 33-1/8", "in")
    assert cupboard.piece.groups[2].box == box_of("15-1/32 0 3-13/16, 29-1/4 3/4 27-7/16", "in")


def test_the_plan_is_sound_and_nothing_is_found(cupboard):
    assert [str(finding) for finding in cupboard.findings] == []


def test_joints_add_what_goes_into_them(cupboard):
    # The divider goes 1/4 into each side: 28-1/2 and twice that.
    assert finished_sizes(cupboard.joinery, "divider") == sizes_of(["29 15-1/4 3/4"], "in")
    # The drawer's back goes 1/8 into each side, the tails of its sides into the front: common
    # practice, no source: 1/4 of 3/4 stays as the lap, so that they are 9/16 long.
    assert finished_sizes(cupboard.joinery, "drawer back") == sizes_of(["27-5/8 1/2 4"], "in")
    assert finished_sizes(cupboard.joinery, "drawer side") == sizes_of(["1/2 14-1/16 4-7/8"], "in")


def test_a_panel_has_room_for_what_it_swells(cupboard):
    # Wood Handbook FPL-GTR-190 (2010), Eq. 13-2 and Table 13-5: red oak, 0.00369 round the rings,
    # from 6.2 to 10.1 % of moisture: 1.44 % of 10-11/32, tongues and all, is 0.149.
    room = next(own for own in cupboard.workings if own.title == "Room of panel in its grooves")
    assert float(room.limit.value) / 25.4 == pytest.approx(0.149, abs=5e-4)
    assert float(room.result.value) / 25.4 == pytest.approx(2 * 1 / 8)


def test_doors_and_drawer_have_the_room_that_is_left_for_them(cupboard):
    rooms = {own.title: own for own in cupboard.workings if own.code == "K300"}
    found = {title: float(own.result.value) / 25.4 for title, own in rooms.items()}
    # 1/16 at the hinges, and half of 1/16 between the doors; 1/16 above and below them.
    by_hand = {
        "Room of door 2 at left and right": 3 / 32,
        "Room of door 1 at bottom and top": 1 / 8,
        "Room of drawer at left and right": 1 / 8,
        "Room of drawer above it": 1 / 8,
    }
    assert found == pytest.approx(by_hand)
    # Two stiles of 2-1/4 move 1.44 %, the drawer's front, 4-7/8 high, as much.
    assert float(rooms["Room of drawer above it"].limit.value) / 25.4 == pytest.approx(
        4.875 * 0.0144, rel=2e-3
    )


def test_open_and_filled_it_stands(cupboard):
    opened = next(own for own in cupboard.workings if own.title == "Drawers out and doors open")
    given = {own.name: float(own.value) for own in opened.inputs}
    # Two thirds of the drawer, its front's 3/4 counted in, 14-1/4 deep.
    assert given["drawn out"] / 25.4 == pytest.approx(14.25 * 2 / 3)
    # 8.5 lb in each cubic foot (88 Fed. Reg. 28403, secondary): 27-3/8 between the sides, 12-1/4
    # from front to back, 4-1/4 above the bottom; 4.448 N to the pound-force.
    pounds = 27.375 * 12.25 * 4.25 / 1728 * 8.5
    assert given["weight in the drawers"] == pytest.approx(pounds * 4.4482216, rel=1e-4)
    assert float(opened.result.value) > 1.5


def test_the_drawer_is_glued_slid_in_and_the_doors_hung_last(cupboard):
    titles = [own.title for own in cupboard.sequence.steps]
    order = [
        "Dry fit door 1",
        "Dry fit door 2",
        "Glue up the drawer front, the drawer sides and the drawer back",
        "Slide in the drawer bottom",
        "Slide in the drawer",
        "Glue up door 1 and door 2",
        "Hang door 1 and door 2",
    ]
    assert [title for title in titles if title in order] == order
    closing = [own for own in cupboard.sequence.operations if own.joined]
    assert closing[-1].title == "Hang door 1 and door 2"
    assert closing[-1].moved == tuple(sorted((*DOORS[0], *DOORS[1])))
    slid = next(own for own in closing if own.title == "Slide in the drawer")
    assert slid.moved == DRAWER
    assert slid.actions[-1] == "Slide the drawer in at the front, on C."


def test_hinges_are_bought_for_both_doors(cupboard):
    items = {}
    for fit in cupboard.joinery.fits:
        for item in fit.hardware:
            items[item.kind, item.size] = items.get((item.kind, item.size), 0) + item.count
    # Two to a door, three screws to a leaf (common practice, no source); four dowels to each end of
    # the top, five screws along each panel behind; four pins under a shelf.
    assert items["butt hinge", "2"] == 4
    assert items["dowel", "5/16 x 1-1/2"] == 8
    assert items["wood screw", "No. 6 x 3/4"] == 15
    assert sum(count for (kind, _), count in items.items() if kind == "shelf pin") == 4
