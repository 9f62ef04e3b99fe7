"""Groups: parts placed in axes of their own, and copied as one."""

from fractions import Fraction

from benchleaf.frames import Box
from benchleaf.piece.placing import place_parts
from plan_texts import read

IN = Fraction(254, 10)  # NIST SP 811, appendix B.8
PLAN = """\
plan: Drawers
by: Fernhill community workshop
licence: CC BY 4.0
units: in
overall: {wide: 40, deep: 16, high: 30}
stock:
  ply: {sheet: 48 x 96, thickness: 1/2, of: birch plywood}
parts:
  post: {stock: ply, left: 19, wide: 1, front: 0, bottom: 0, high: drawer front.top}
groups:
  drawer:
    left: 2
    right: post.left - 1
    front: 0
    back: 15
    bottom: 3
    high: 5
    mirror: left-right
    row: {along: high, count: 2, gap: 1}
    parts:
      drawer side:
        stock: ply
        left: 0
        front: drawer front.back
        back: drawer.back
        bottom: 0
        top: drawer.high
        mirror: left-right
      drawer front:
        {stock: ply, left: 0, right: drawer.wide, front: 0, bottom: 0, high: post.wide * 4}
      drawer back:
        stock: ply
        left: drawer side.right
        right: drawer side.mirrored(left-right).left
        back: drawer.deep
        bottom: 1
        top: drawer.top
"""


def _box(corners: str) -> Box:
    low, high = (
        tuple(IN * Fraction(number) for number in corner.split())
        for corner in corners.split(" to ")
    )
    return Box(low, high)


def _piece(text=PLAN):
    plan, findings = read(text)
    assert plan is not None, [str(finding) for finding in findings]
    piece, findings = place_parts(plan)
    assert piece is not None, [str(finding) for finding in findings]
    return piece, findings


# By hand, in inches: a drawer is 2 to 18 wide, 16; the second stands 5 + 1 above the first; their
# images lie from 40 - 18 = 22 to 40 - 2 = 38.
BY_HAND = {
    "B1": "2 1/2 3 to 5/2 15 8",
    "B2": "35/2 1/2 3 to 18 15 8",
    "B3": "2 1/2 9 to 5/2 15 14",
    "B5": "75/2 1/2 3 to 38 15 8",
    "B6": "22 1/2 3 to 45/2 15 8",
    "C1": "2 0 3 to 18 1/2 7",
    "C4": "22 0 9 to 38 1/2 13",
    "D2": "5/2 29/2 10 to 35/2 15 14",
}


def test_parts_of_a_group_stand_where_arithmetic_by_hand_puts_them():
    piece, findings = _piece()
    assert findings == ()
    found = {mark: copy.box for mark, copy in piece.copies.items()}
    assert len(found) == 1 + 4 * 2 + 4 + 4
    assert {mark: found[mark] for mark in BY_HAND} == {m: _box(c) for m, c in BY_HAND.items()}
    # Named from outside, a group's part is where the first copy of the group has it: 3 + 4.
    assert piece.parts["post"].box.high[2] == 7 * IN


def test_copies_of_a_group_know_their_parts_and_their_box():
    piece, _ = _piece()
    assert [(group.title, group.called, group.marks) for group in piece.groups] == [
        ("drawer 1", "drawer 1", ("B1", "B2", "C1", "D1")),
        ("drawer 2", "drawer 2", ("B3", "B4", "C2", "D2")),
        ("drawer 3", "drawer 3", ("B5", "B6", "C3", "D3")),
        ("drawer 4", "drawer 4", ("B7", "B8", "C4", "D4")),
    ]
    assert piece.groups[3].box == _box("22 0 9 to 38 15 14")
    assert piece.group_of("B7") is piece.groups[3]
    assert piece.group_of("A") is None


def test_a_mirrored_group_has_its_parts_as_mirror_images():
    piece, _ = _piece()
    # B1 is the left side of the first drawer; B6 is its right side's image, at the left of its own.
    assert not piece.copies["B1"].frame.is_mirrored
    assert piece.copies["B5"].frame.is_mirrored
    assert not piece.copies["B6"].frame.is_mirrored


def test_a_lone_group_is_called_by_its_name():
    piece, _ = _piece(
        PLAN.replace("    mirror: left-right\n    row: {along: high, count: 2, gap: 1}\n", "")
    )
    assert [(group.title, group.called) for group in piece.groups] == [("drawer", "the drawer")]


def test_a_splayed_part_of_a_group_goes_out_from_the_middle_of_its_group():
    text = PLAN.replace(
        "        bottom: 1\n        top: drawer.top\n",
        "        bottom: 1\n        top: drawer.top\n"
        "      foot:\n        {stock: ply, left: 1, wide: 2, front: 2, bottom: 0, high: 4,"
        " grain: high, splay: {side: 5}, mirror: left-right}\n",
    )
    piece, _ = _piece(text)
    # Standing left of its drawer's middle, its foot goes out to the left, though all drawers on the
    # right stand right of the middle of the piece.
    first, second = (piece.copies[mark].frame.axes[2] for mark in ("E5", "E6"))
    assert piece.copies["E5"].box.high[0] > piece.copies["E6"].box.high[0]
    assert float(first[0]) < 0 < float(second[0])
