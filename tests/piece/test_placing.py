"""Copies, their frames and marks."""

from fractions import Fraction

from benchleaf.frames import Axis
from pieces import box, build_piece


def test_a_part_mirrored_twice_has_four_copies_in_the_corners():
    piece = build_piece({"leg": box(0, 0, 0, 50, 50, 400)}, mirror={"leg": (Axis.WIDE, Axis.DEEP)})
    lows = {mark: copy.box.low for mark, copy in piece.copies.items()}
    assert lows == {
        "A1": (0, 0, 0),
        "A2": (950, 0, 0),
        "A3": (0, 950, 0),
        "A4": (950, 950, 0),
    }


def test_mirrored_copies_alternate_in_hand():
    piece = build_piece({"leg": box(0, 0, 0, 50, 50, 400)}, mirror={"leg": (Axis.WIDE, Axis.DEEP)})
    hands = [copy.frame.is_mirrored for copy in piece.copies.values()]
    assert hands == [False, True, True, False]


def test_a_frame_takes_the_own_box_to_where_the_copy_stands():
    piece = build_piece({"leg": box(10, 20, 30, 60, 70, 430)}, mirror={"leg": (Axis.WIDE,)})
    own = box(0, 0, 0, 50, 50, 400)
    assert [copy.frame.box_outward(own) for copy in piece.copies.values()] == [
        box(10, 20, 30, 60, 70, 430),
        box(940, 20, 30, 990, 70, 430),
    ]


def test_a_row_is_mirrored_whole():
    piece = build_piece(
        {"slat": box(0, 0, 0, 20, 100, 10)},
        rows={"slat": (Axis.WIDE, (0, 30))},
        mirror={"slat": (Axis.WIDE,)},
    )
    assert [copy.box.low[0] for copy in piece.copies.values()] == [0, 30, 980, 950]


def test_a_lone_copy_carries_no_number():
    piece = build_piece({"seat": box(0, 0, 0, 900, 300, 20), "lid": box(0, 0, 20, 9, 9, 30)})
    assert list(piece.copies) == ["A", "B"]


def test_marks_go_on_past_z():
    piece = build_piece({f"part {n}": box(n * 10, 0, 0, n * 10 + 5, 5, 5) for n in range(28)})
    assert list(piece.copies)[25:] == ["Z", "AA", "AB"]


def test_contacts_of_a_joint_look_from_its_first_part():
    piece = build_piece(
        {"leg": box(0, 0, 0, 50, 50, 400), "rail": box(50, 10, 300, 500, 30, 380)},
        [("dowels", "rail", "leg")],
    )
    (contact,) = piece.joints[0].contacts
    assert (contact.first, contact.second) == ("B", "A")
    assert contact.frame.axes[2] == (-1, 0, 0)
    assert (contact.u_mm, contact.v_mm) == (80, 20)
    assert contact.first_box == box(0, 0, -450, 80, 20, 0)
    assert contact.second_box == box(-300, -10, 0, 100, 40, 50)


def test_unnamed_contacts_are_kept_apart():
    piece = build_piece({"box": box(0, 0, 0, 50, 50, 40), "lid": box(0, 0, 40, 50, 50, 44)})
    assert [(c.first, c.second, c.u_mm, c.v_mm) for c in piece.loose_contacts] == [
        ("A", "B", Fraction(50), Fraction(50))
    ]
