"""The splayed stool against figures worked out by hand from its angles. In inches and degrees.

Source of every figure unless it says otherwise: right triangles, by hand. The legs lean 10 degrees
seen from the front and 7 from the side; they stand 16-1/4 high under a seat 1-3/4 thick.
"""

import math

import pytest

from benchleaf.drawing.part_datums import read_datums
from benchleaf.joinery.solids import placed_solid, solid_of_copy
from benchleaf.site.views.cut_places import place_of_feature
from benchleaf.site.views.sound import take_sound_plan

INCH_MM = 25.4  # NIST SP 811 (2008), appendix B.8: exactly
SIDE, FRONT = math.tan(math.radians(10)), math.tan(math.radians(7))
# tan2 of the lean is the sum of both; 12.1 degrees.
LEAN = math.atan(math.hypot(SIDE, FRONT))


@pytest.fixture
def stool(worked):
    return worked("splayed-stool")


def operation(stool, kind):
    (found,) = [own for own in stool.sequence.operations if own.kind == kind]
    return found


def test_nothing_is_left_to_say(stool):
    assert [str(finding) for finding in stool.findings] == []
    assert stool.is_sound


def test_feet_stand_out_by_the_height_times_the_tangents(stool):
    # The middle of a leg's top is 3-3/4 from the left and 3-1/4 from the front.
    foot = placed_solid(stool.joinery, "B1").slice(1e-3)
    (left, front, right, back) = foot.bounds()
    assert (left + right) / 2 / INCH_MM == pytest.approx(3.75 - 16.25 * SIDE, abs=1e-3)
    assert (front + back) / 2 / INCH_MM == pytest.approx(3.25 - 16.25 * FRONT, abs=1e-3)


def test_a_leg_is_its_section_along_its_slanting_height(stool):
    # A prism cut by two level planes holds its section times the length of its axis; the tenon is a
    # round of 1 in as long as the seat is thick along the same slant, less its slot.
    volume = solid_of_copy(stool.joinery, "B1").volume() / INCH_MM**3
    leg = 1.5 * 1.5 * 16.25 / math.cos(LEAN)
    tenon = math.pi / 4 * 1.75 / math.cos(LEAN)
    slot = 1 / 16 * 1 * 1.75 / math.cos(LEAN) * 2 / 3
    assert volume == pytest.approx(leg + tenon - slot, rel=4e-3)


def test_the_bevel_and_the_sight_line_are_the_resultant(stool):
    bored = operation(stool, "bore-round-mortises")
    angles = {s.name: s.value_deg for s in bored.settings if s.value_deg is not None}
    assert angles["sliding bevel"] == pytest.approx(math.degrees(LEAN), abs=1e-4)
    assert angles["sight line"] == pytest.approx(math.degrees(math.atan2(FRONT, SIDE)), abs=1e-4)
    shown = {s.name: s.text for s in bored.settings if s.text}
    # 90 less each: the complement stands beside the angle.
    assert shown["sliding bevel"] == "12.1° from upright (77.9° to the face)"
    assert shown["sight line"] == "34.9° from the grain (55.1° across it)"


def test_the_feet_are_cut_with_gauge_and_tilt_that_come_to_the_lean(stool):
    cut = operation(stool, "crosscut-at-angle")
    gauge, tilt = (setting.value_deg for setting in cut.settings)
    assert gauge == pytest.approx(10, abs=1e-6)
    # Handbook, splayed legs: cos of the lean = cos of the gauge times cos of the tilt.
    assert math.cos(math.radians(gauge)) * math.cos(math.radians(tilt)) == pytest.approx(
        math.cos(LEAN)
    )
    assert [s.text for s in cut.settings] == [
        "10° (80° from the blade)",
        "6.9° (83.1° to the table)",
    ]
    assert cut.trimmed == tuple((f"B{n}", "bottom") for n in (1, 2, 3, 4))
    assert "Mark the waste: it lies beyond the line, towards the bottom." in cut.actions


def test_four_legs_of_one_shape_in_two_hands(stool):
    (shape,) = [own for own in stool.joinery.shapes if own.part == "leg"]
    assert (shape.as_drawn, shape.mirrored) == (("B1", "B4"), ("B2", "B3"))


def test_each_leg_comes_out_along_its_own_line(stool):
    ways = {
        fit.contact.first: fit.contact.frame.outward_direction(fit.free_directions[0])
        for fit in stool.joinery.fits
    }
    for mark, (across, deep) in {
        "B1": (-1, -1),
        "B2": (1, -1),
        "B3": (-1, 1),
        "B4": (1, 1),
    }.items():
        x, y, z = (float(part) for part in ways[mark])
        assert (x / -z, y / -z) == pytest.approx((across * SIDE, deep * FRONT))


def test_all_legs_are_driven_in_at_one_glue_up(stool):
    # Common practice, no source: wedged legs go in one after the other while the glue is open.
    glued = operation(stool, "assemble")
    assert glued.joined == ("A", "B1", "B2", "B3", "B4")
    assert "Lay A upside down on a flat bench." in glued.actions
    assert "Drive in B1 to B4." in glued.actions
    assert glued.moved == ("B1", "B2", "B3", "B4")


def test_the_stool_stands_up_before_its_wedges_go_in(stool):
    # The slots look at the bench while the seat lies on its top: common practice, no source.
    said = list(operation(stool, "assemble").actions)
    (turned,) = [at for at, action in enumerate(said) if action.startswith("Turn it")]
    (wedged,) = [at for at, action in enumerate(said) if action.startswith("Put glue on 4 wedges")]
    assert said.index("Drive in B1 to B4.") < turned < wedged


def places(stool, mark):
    """Where the part's page says that each cut of a copy is, by role."""
    sound = take_sound_plan(stool, {})
    drawn = stool.joinery.copies[mark]
    datums = read_datums(stool.joinery, mark, drawn.blank)
    return [(own.role, place_of_feature(sound, own, datums)) for own in drawn.features]


def test_leaning_holes_are_placed_by_their_centres_on_the_face(stool):
    # The plan: 3-3/4 in from the ends, 3-1/4 in from the edges, each from its own corner.
    assert {words for role, words in places(stool, "A") if role == "round mortise"} == {
        f"into the bottom; centre 3-3/4 from {end}, 3-1/4 from {edge}"
        for end in ("left", "right")
        for edge in ("front", "back")
    }


def test_a_round_tenon_stands_on_its_end(stool):
    # In the middle of a leg 1-1/2 in square.
    (tenon,) = [words for role, words in places(stool, "B1") if role == "round tenon"]
    assert tenon == "on the top; centre 3/4 from left, 3/4 from front"
