"""Turned, splayed and trimmed parts, against matrices, solids and the arithmetic of a saw bench."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchleaf.frames import Axis
from benchleaf.handbook.angles import canted_cut
from benchleaf.joinery.solids import solid_of_blank
from benchleaf.piece.contacts import contact_box
from benchleaf.piece.records import ContactKind, own_box
from benchleaf.piece.solids import place_solid
from benchleaf.piece.trim_angles import trim_angles
from benchleaf.piece.turning import resultant_rad
from turned_plans import SEAT, place_turned, placed

LEG = (
    "  leg: {stock: square, left: 60, wide: 40, front: 60, deep: 40, bottom: 0, top: seat.bottom, "
    "grain: high, mirror: [left-right, front-back], splay: {side: %s, front: %s}}\n"
)
_angles = st.integers(-300, 300).map(lambda tenths: Fraction(tenths, 10))


def place_copy(piece, mark):
    return place_solid(solid_of_blank(piece.part_of(mark)), piece.copies[mark].frame)


def grain_way(piece, mark):
    way = piece.copies[mark].frame.axes[piece.part_of(mark).grain_axis]
    return np.array([float(part) for part in way])


# Where things go.


@pytest.mark.parametrize(
    ("about", "goes", "to"),
    [("wide", "top", "front"), ("deep", "top", "right"), ("high", "right", "back")],
)
def test_a_part_turns_the_way_that_the_page_says(about, goes, to):
    # Source: the right-hand rule, as docs/plan-format.md puts it in words.
    piece = placed(
        "  post: {stock: square, left: 200, wide: 40, front: 200, deep: 40, bottom: 100, high: 200,"
        f" turn: {{about: {about}, by: 10}}}}\n"
    )
    words = {"top": (2, 1), "right": (0, 1), "front": (1, -1), "back": (1, 1)}
    own, _ = words[goes]
    axis, sign = words[to]
    assert piece.copies["A"].frame.axes[own][axis] * sign == pytest.approx(
        math.sin(math.radians(10))
    )


@given(_angles, _angles, _angles)
@settings(max_examples=25, deadline=None)
def test_turns_follow_one_another_as_matrices_do(one, two, three):
    # Source: turns about fixed axes multiply from the left; the matrices are written out here.
    piece, _ = place_turned(
        "  post: {stock: square, left: 280, wide: 40, front: 180, deep: 40, bottom: 100, high: 200,"
        f" turn: [{{about: wide, by: {float(one)}}}, {{about: deep, by: {float(two)}}},"
        f" {{about: high, by: {float(three)}}}]}}\n"
    )
    a, b, c = (math.radians(angle) for angle in (one, two, three))
    x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    z = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    axes = np.array([[float(v) for v in axis] for axis in piece.copies["A"].frame.axes])
    assert pytest.approx(z @ y @ x, abs=1e-12) == axes.T
    middle = piece.copies["A"].frame.outward((20, 20, 100))
    assert [float(v) for v in middle] == pytest.approx([300, 200, 200])


def test_the_corner_named_stays_where_it_is():
    piece = placed(
        "  back: {stock: lath, left: 100, wide: 90, back: 300, deep: 18, bottom: 0, high: 400, "
        "turn: {about: wide, by: -12, at: [bottom, back]}}\n"
    )
    frame, size = piece.copies["A"].frame, piece.parts["back"].box.size
    assert [float(v) for v in frame.outward((0, size[1], 0))] == pytest.approx([100, 300, 0])
    assert float(frame.outward((0, size[1], size[2]))[1]) == pytest.approx(
        300 + 400 * math.sin(math.radians(12))
    )


def test_a_right_angle_is_exact():
    piece = placed(
        "  rail: {stock: lath, left: 100, wide: 18, front: 100, deep: 90, bottom: 0, high: 300, "
        "turn: {about: deep, by: 90}}\n"
    )
    copy = piece.copies["A"]
    assert copy.frame.is_square
    assert copy.box.size == (300, 90, 18)


def test_mirrored_copies_follow():
    piece = placed(SEAT + LEG % (8, 5))
    feet = {
        mark: [float(v) > 0 for v in -grain_way(piece, mark)[:2]]
        for mark in ("B1", "B2", "B3", "B4")
    }
    # Out is away from the middle: to the left and the front for the first.
    assert feet == {
        "B1": [False, False],
        "B2": [True, False],
        "B3": [False, True],
        "B4": [True, True],
    }


# Splayed legs.


# Handbook section on compound angles: identities of splayed legs, worked for these pairs.
@pytest.mark.parametrize(
    ("side", "front", "lean", "line"),
    [
        (5, 5, 7.0532, 45),
        (8, 8, 11.2413, 45),
        (10, 14, 16.9815, 54.7317),
        (12, 7, 13.7918, 30.0131),
    ],
)
def test_a_splayed_leg_leans_as_the_identities_say(side, front, lean, line):
    piece = placed_wide(side, front)
    way = grain_way(piece, "B1")
    assert math.degrees(math.acos(way[2])) == pytest.approx(lean, abs=1e-4)
    assert math.degrees(math.atan2(way[1], way[0])) == pytest.approx(line, abs=1e-4)
    assert [math.degrees(a) for a in resultant_rad(math.radians(side), math.radians(front))] == (
        pytest.approx([lean, line], abs=1e-4)
    )


@given(st.integers(0, 400).map(lambda n: n / 10), st.integers(0, 400).map(lambda n: n / 10))
def test_either_splay_alone_is_the_whole_lean(one, other):
    # Source: tan2 of the whole = tan2 + tan2; with one at 0 the whole is the other.
    a, b = math.radians(one), math.radians(other)
    assert resultant_rad(a, 0.0)[0] == pytest.approx(a)
    assert resultant_rad(a, b)[0] == pytest.approx(resultant_rad(b, a)[0])
    assert resultant_rad(a, b)[0] >= max(a, b) - 1e-12


@given(st.integers(0, 30), st.integers(0, 30))
@settings(max_examples=25, deadline=None)
def test_a_splayed_legs_axis_is_its_height_over_the_cosine(side, front):
    # Source: the right triangle of height, run and leg; handbook, splayed legs.
    piece = placed_wide(side, front)
    part = piece.parts["leg"]
    lean = resultant_rad(math.radians(side), math.radians(front))[0]
    along = 420 / math.cos(lean)
    # From the farthest corner of one end to that of the other: half a section's slant at each.
    frame = piece.copies["B1"].frame
    slant = sum(20 * abs(float(frame.axes[axis][2])) for axis in (0, 1)) / math.cos(lean)
    assert float(part.box.size[2]) == pytest.approx(along + 2 * slant, abs=1e-5)


def placed_wide(side, front):
    piece, _ = place_turned(SEAT + LEG % (side, front))
    assert piece is not None
    return piece


@given(st.integers(1, 30), st.integers(1, 30))
@settings(max_examples=20, deadline=None)
def test_the_ends_of_a_splayed_leg_are_level(side, front):
    piece = placed_wide(side, front)
    solid = place_copy(piece, "B1")
    assert solid.bounding_box()[2] == pytest.approx(0, abs=1e-5)
    assert solid.bounding_box()[5] == pytest.approx(420, abs=1e-5)
    # A level cut through a square section that leans is its area over the cosine.
    lean = resultant_rad(math.radians(side), math.radians(front))[0]
    assert solid.slice(1e-4).area() == pytest.approx(1600 / math.cos(lean), rel=1e-4)
    touching = [c for c in piece.loose_contacts if "B1" in (c.first, c.second)]
    assert [float(c.area_mm2) for c in touching] == pytest.approx([1600 / math.cos(lean)], rel=1e-6)


# Trims.


RAIL = (
    "  rail: {stock: lath, left: 250, wide: 100, front: 195, deep: 18, bottom: 150, high: 60, "
    "trim: {left: post.right, right: post.mirrored(left-right).left}}\n"
)
POST = (
    "  post: {stock: square, left: 80, wide: 40, front: 180, deep: 40, bottom: 20, high: 400, "
    "mirror: left-right, turn: [{about: deep, by: %s}, {about: wide, by: %s}]}\n"
)


@given(st.integers(-200, 200).map(lambda n: n / 10), st.integers(-80, 80).map(lambda n: n / 10))
@settings(max_examples=25, deadline=None)
def test_a_trimmed_end_lies_in_the_face_that_it_meets(lean, tip):
    piece = place_turned(POST % (lean, tip) + RAIL)[0]
    frame = piece.copies["A1"].frame
    solid = place_copy(piece, "B")
    corners = solid.to_mesh().vert_properties[:, :3]
    depth = [float(frame.inward(tuple(map(float, p)))[0]) - 40 for p in corners]
    # Four corners in the post's face, none behind it.
    assert min(depth) == pytest.approx(0, abs=1e-4)
    assert sum(abs(d) < 1e-3 for d in depth) == 4


@given(st.integers(-200, 200).map(lambda n: n / 10), st.integers(-80, 80).map(lambda n: n / 10))
@settings(max_examples=25, deadline=None)
def test_contacts_are_as_large_as_the_solids_touch(lean, tip):
    # Outside: the second solid pushed a little into the first, volume over depth (manifold3d).
    piece = place_turned(POST % (lean, tip) + RAIL)[0]
    found = [c for c in piece.loose_contacts if {c.first, c.second} == {"A1", "B"}]
    post, rail = place_copy(piece, "A1"), place_copy(piece, "B")
    way = np.array([float(v) for v in piece.copies["A1"].frame.axes[0]])
    depth = 0.01
    pushed = (post ^ rail.translate(tuple(-way * depth))).volume() / depth
    assert [float(c.area_mm2) for c in found] == pytest.approx([pushed], rel=2e-3)
    assert all(c.kind is ContactKind.FACE for c in found)
    assert abs(float(np.dot([float(v) for v in found[0].frame.axes[2]], way))) == pytest.approx(1)


@given(st.integers(-200, 200).map(lambda n: n / 10), st.integers(-80, 80).map(lambda n: n / 10))
@settings(max_examples=25, deadline=None)
def test_a_trimmed_part_is_its_blank_less_what_lies_beyond(lean, tip):
    piece = place_turned(POST % (lean, tip) + RAIL)[0]
    part = piece.parts["rail"]
    solid = solid_of_blank(part)
    box = solid.bounding_box()
    # The blank is the least box round it.
    assert [float(v) for v in own_box(part).high] == pytest.approx(list(box[3:]), abs=1e-4)
    assert list(box[:3]) == pytest.approx([0, 0, 0], abs=1e-4)
    # Two planes through a prism: its volume is its section times the length in the middle.
    middle = np.array([float(v) for v in own_box(part).high]) / 2
    ends = [
        (float(t.offset_mm) - t.normal[1] * middle[1] - t.normal[2] * middle[2]) / t.normal[0]
        for t in sorted(part.trims, key=lambda t: t.face)
    ]
    if len(part.trims) == 2:
        assert solid.volume() == pytest.approx(18 * 60 * (ends[1] - ends[0]), rel=1e-6)


def test_a_square_trim_only_draws_the_part_out():
    piece = placed(
        "  post: {stock: square, left: 0, wide: 40, front: 0, deep: 40, bottom: 0, high: 400, "
        "mirror: left-right}\n"
        "  rail: {stock: lath, left: 250, wide: 100, front: 11, deep: 18, bottom: 150, high: 60, "
        "trim: {left: post.right, right: post.mirrored(left-right).left}}\n"
    )
    assert piece.parts["rail"].trims == ()
    assert piece.copies["B"].box.low == (40, 11, 150)
    assert piece.copies["B"].box.size == (520, 18, 60)


def test_a_part_trimmed_to_the_floor_stands_on_it():
    piece = placed(
        "  brace: {stock: lath, left: 300, wide: 90, front: 180, deep: 18, bottom: 30, high: 300, "
        "turn: {about: deep, by: 20}, trim: {bottom: floor}}\n"
    )
    assert float(piece.copies["A"].box.low[Axis.HIGH]) == pytest.approx(0, abs=1e-6)


# Crossings, as the corners of canted boxes are.


@given(st.integers(5, 40), st.integers(5, 40))
@settings(max_examples=20, deadline=None)
def test_boards_that_cross_share_what_the_solids_share(one, other):
    # Outside: manifold3d.
    piece = place_turned(
        "  front: {stock: lath, left: 150, wide: 300, front: 100, deep: 18, bottom: 100, high: 90, "
        f"grain: wide, turn: {{about: wide, by: {one}, at: bottom}}}}\n"
        "  side: {stock: lath, left: 160, wide: 18, front: 60, deep: 250, bottom: 100, high: 90, "
        f"grain: deep, turn: {{about: deep, by: -{other}, at: bottom}}}}\n"
    )[0]
    shared = (place_copy(piece, "A") ^ place_copy(piece, "B")).volume()
    assume(shared > 1)
    (contact,) = piece.loose_contacts
    assert contact.kind is ContactKind.CROSSING
    assert contact.common_mm3 == pytest.approx(shared, rel=1e-4)
    assert contact_box(contact).volume_mm3 >= shared * 0.999


# What cannot be.

_POST = "  post: {stock: square, left: 100, wide: 40, front: 180, deep: 40, bottom: 0, high: 400"
_CORNER = (
    "  side: {stock: lath, left: 100, right: 500, front: 60, deep: 18, bottom: 0, high: 90, "
    "grain: wide, trim: {left: %s}}\n"
    "  end: {stock: lath, left: 100, wide: 18, front: 60, deep: 250, bottom: 0, high: 90, "
    "grain: deep}\n"
    "  beside: {stock: lath, left: 20, wide: 60, front: 60, deep: 18, bottom: 0, high: 90, "
    "grain: wide}\n"
)
CASES = {
    "P020": (
        _POST + ", trim: {top: rail.front}}\n" + RAIL.replace(", trim: {left: post.right, right: "
        "post.mirrored(left-right).left}", ""),
        ("parts.post.trim.top: `rail.front` runs along it, and would not cut its top off\n"
        "  Needed: a face that crosses the part.   [P020]"),
    ),
    "P021": (
        _POST + ", trim: {top: floor}}\n",
        ("parts.post.trim: its trims leave nothing of it\n"
        "  Needed: faces further apart, or a part that lies between them.   [P021]"),
    ),
    "P022": (
        _POST + ", trim: {top: other.bottom}}\n"
        + _POST.replace("post", "other").replace("0, high: 400", "300, high: 99")
        + ", trim: {bottom: post.top}}\n",
        ("parts.other.trim.bottom: `post.top` waits for this part in turn\n"
        "  Trim one of the two to another face.   [P022]"),
    ),
    "P040": (
        _CORNER % "mitre with end.right",
        ("parts.side.trim.left: `mitre with end.right` does not name the outer face of end\n"
        "  Needed: the broad face of end that looks out of the corner.   [P040]"),
    ),
    "P041": (
        _CORNER % "mitre with beside.front",
        ("parts.side.trim.left: side and beside lie in one line and make no corner to mitre\n"
        "  Needed: parts that stand at an angle to one another.   [P041]"),
    ),
    "P023": (
        ("  lath: {stock: lath, left: 100, wide: 90, front: 180, deep: 18, bottom: 0, high: 400, "
        "trim: {front: floor}}\n"),
        ("parts.lath.trim.front: its front is a face of the stock: it lies across the thickness\n"
        "  Needed: an end or an edge, or another `thickness`.   [P023]"),
    ),
    "P024": (
        ("  leg: {stock: square, centre wide: 300, wide: 40, front: 60, deep: 40, bottom: 0, "
        "high: 400, splay: {side: 8}}\n"),
        ("parts.leg.splay.side: it stands in the middle of the piece, which has no side to go out "
        "to\n"
        "  Needed: 0, or `turn` in place of `splay`.   [P024]"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("code", CASES)
def test_what_cannot_be_is_said_word_for_word(code):
    parts, expected = CASES[code]
    piece, said = place_turned(parts)
    assert piece is None
    assert [str(finding).split(": ", 1)[1] for finding in said] == [expected]


def test_a_foot_outside_the_box_of_the_piece_is_said():
    parts = SEAT + (LEG % (20, 0)).replace("left: 60, wide", "left: 10, wide")
    said = place_turned(parts)[1]
    assert [finding.code for finding in said] == ["P015"]
    assert said[0].message == (
        "as it stands it reaches from -144.2 to 744.2, and the piece is 600 wide, from 0"
    )


# Canted boxes: a butt joint at the corner, against the formulae and the printed chart behind them.


@given(st.integers(30, 85))
@settings(max_examples=15, deadline=None)
def test_the_butt_end_of_a_canted_side_is_cut_as_the_handbook_says(slope):
    # Source: Snyder and Gottesman (2014), butt joints of N = 4; handbook.angles holds the chart.
    lean = 90 - slope
    piece = place_turned(
        "  front: {stock: lath, left: 150, wide: 300, front: 100, deep: 18, bottom: 200, high: 90, "
        f"grain: wide, turn: {{about: wide, by: {lean}, at: [bottom, back]}}, "
        "trim: {left: side.right}}\n"
        "  side: {stock: lath, left: 120, wide: 18, front: 60, deep: 250, bottom: 200, high: 90, "
        f"grain: deep, turn: {{about: deep, by: -{lean}, at: [bottom, right]}}}}\n"
    )[0]
    part = piece.parts["front"]
    angles = trim_angles(part, part.trims[0])
    expected = canted_cut(4, slope)
    assert angles.gauge_deg == pytest.approx(expected.gauge_deg, abs=1e-6)
    assert angles.tilt_deg == pytest.approx(expected.butt_tilt_deg, abs=1e-6)
    # A compound cut's angle from square: cos = cos gauge x cos tilt.
    normal = abs(float(part.trims[0].normal[0]))
    assert math.cos(math.radians(angles.gauge_deg)) * math.cos(
        math.radians(angles.tilt_deg)
    ) == pytest.approx(normal)


# Canted boxes mitred at the corner: by turned vectors, and for equal slopes by the handbook.


def _canted(lean_front: int, lean_side: int) -> str:
    return (
        "  front: {stock: lath, left: 150, wide: 300, front: 100, deep: 18, bottom: 200, high: 90, "
        f"grain: wide, turn: {{about: wide, by: {lean_front}, at: [bottom, back]}}, "
        "trim: {left: mitre with side.left}}\n"
        "  side: {stock: lath, left: 132, wide: 18, front: 118, deep: 200, bottom: 200, high: 90, "
        f"grain: deep, turn: {{about: deep, by: -{lean_side}, at: [bottom, right]}}, "
        "trim: {front: mitre with front.front}}\n"
    )


def _turned(about: int, degrees: float) -> np.ndarray:
    """The matrix of a turn by the right-hand rule about one of the three axes."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    rows = {0: [[1, 0, 0], [0, c, -s], [0, s, c]], 1: [[c, 0, s], [0, 1, 0], [-s, 0, c]]}
    return np.array(rows[about], dtype=float)


@given(st.integers(1, 60), st.integers(1, 60))
@settings(max_examples=15, deadline=None)
def test_the_mitred_ends_of_a_canted_corner_are_cut_as_turned_vectors_say(one, other):
    piece = place_turned(_canted(one, other), "  - {mitre: [front, side]}\n")[0]
    lean_front, lean_side = _turned(0, one), _turned(1, -other)
    # Boards of one thickness: the cut lies half way between the two outer faces.
    normal = lean_front @ [0, -1, 0] - lean_side @ [-1, 0, 0]
    normal /= np.linalg.norm(normal)
    for name, turn, along in (("front", lean_front, 0), ("side", lean_side, 1)):
        own = turn.T @ normal
        part = piece.parts[name]
        angles = trim_angles(part, part.trims[0])
        assert angles.gauge_deg == pytest.approx(
            math.degrees(math.atan(abs(own[2] / own[along]))), abs=1e-6
        )
        assert angles.tilt_deg == pytest.approx(
            math.degrees(math.asin(abs(own[1 - along]))), abs=1e-6
        )
        if one == other:
            expected = canted_cut(4, 90 - one)
            assert angles.gauge_deg == pytest.approx(expected.gauge_deg, abs=1e-6)
            assert angles.tilt_deg == pytest.approx(expected.tilt_deg, abs=1e-6)
    (contact,) = piece.joints[0].contacts
    # The cut faces meet over a parallelogram: as high as the board runs, as wide as the mitre is.
    between = math.radians(180) - math.acos(
        float(np.clip((lean_front @ [0, -1, 0]) @ (lean_side @ [-1, 0, 0]), -1, 1))
    )
    assert contact.kind is ContactKind.FACE
    assert (
        0
        < float(contact.area_mm2)
        <= 18 / math.sin(between / 2) * 90 / math.cos(math.radians(max(one, other))) * 1.2
    )


def test_the_ends_of_an_equal_canted_corner_are_the_printed_ones():
    # A saw operator's manual, model 315.21212, p. 24 (read): slope 60, four sides, 26.57 and 37.76.
    piece = place_turned(_canted(30, 30))[0]
    angles = trim_angles(piece.parts["front"], piece.parts["front"].trims[0])
    assert (round(angles.gauge_deg, 2), round(angles.tilt_deg, 2)) == (26.57, 37.76)
