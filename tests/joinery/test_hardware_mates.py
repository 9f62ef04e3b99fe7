"""What holds for joints with hardware and for mitres, whatever their sizes.

Sources stand beside each check; where none is named it is geometry or arithmetic.
"""

import math
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchleaf.forms import Bore, Prism, box_round
from benchleaf.frames import Box
from benchleaf.joinery.records import Feature, Joinery
from benchleaf.joinery.solids import placed_solid, solid_of_copy
from benchleaf.lengths import MM_PER_INCH
from benchleaf.outlines import area_mm2
from benchleaf.piece.solids import solid_of_form
from small_plans import show_findings, work_small_plan
from strategies import sixteenths

# Hypothesis works a whole plan for each example; eight keep a test under a second.
FEW = settings(max_examples=8, deadline=None)
# Bores are polygons of a circle's area; sums over their triangles lose some ten of 16 digits.
CLOSE = 1e-6


def _work(parts: dict, joint: dict, *more: dict) -> Joinery:
    joinery, findings = work_small_plan({"units": "in", "parts": parts, "joints": [joint, *more]})
    assert [f for f in show_findings(findings) if f.startswith("error")] == []
    return joinery


def _text(*inches: Fraction | int) -> str:
    return " to ".join(" ".join(map(_show, half)) for half in (inches[:3], inches[3:]))


def _show(inches: Fraction | int) -> str:
    whole, part = divmod(Fraction(inches), 1)
    return f"{whole}-{part}" if whole and part else str(part or whole)


def _placed(joinery: Joinery, mark: str, role: str) -> list[Bore]:
    """Bores with a role, where they stand in the piece."""
    frame = joinery.piece.copies[mark].frame
    found = [f.shape for f in joinery.copies[mark].features if f.role == role]
    assert all(isinstance(shape, Bore) for shape in found)
    return [
        Bore(frame.outward(b.mouth), frame.outward_direction(b.direction), b.diameter_mm,
             b.depth_mm, b.end_diameter_mm)
        for b in found
    ]  # fmt: skip


def _shared_mm3(joinery: Joinery) -> float:
    return (placed_solid(joinery, "A") ^ placed_solid(joinery, "B")).volume()


def _cut_once(joinery: Joinery, mark: str) -> bool:
    """Tell whether what is cut and what is left of a copy make up its blank: by the solids."""
    part, cut = joinery.piece.part_of(mark), joinery.copies[mark]
    left = solid_of_copy(joinery, mark)
    waste = [solid_of_form(f.shape) for f in cut.features if not f.adds]
    added = [solid_of_form(f.shape) for f in cut.features if f.adds]
    whole = solid_of_form(Box((0, 0, 0), part.box.size))
    for form in added:
        whole = whole + form
    taken = whole
    for form in waste:
        taken = taken - form
    return math.isclose(taken.volume(), left.volume(), rel_tol=CLOSE)


def _inside(feature: Feature, body: Box) -> bool:
    return body.contains(box_round(feature.shape))


# Mitres.


sides = st.tuples(sixteenths("1", "3"), sixteenths("1", "3"), sixteenths("1/2", "1-1/2"))


@FEW
@given(sides, st.sampled_from(["mitre", "keyed mitre", "splined mitre"]))
def test_halves_of_a_mitre_part_the_corner_between_them(corner, kind):
    first, second, thick = corner
    # The first part is `second` wide and the corner reaches `first` along it.
    joinery = _work(
        {
            "rail": {"box": _text(0, 0, 0, 20, thick, second), "grain": "wide"},
            "stile": {"box": _text(0, 0, 0, first, thick, 30), "grain": "high"},
        },
        {kind: ["rail", "stile"]},
    )
    assert _shared_mm3(joinery) < 1e-3
    if kind == "mitre":
        together = placed_solid(joinery, "A") + placed_solid(joinery, "B")
        outer = 20 * second + first * 30 - first * second
        assert together.volume() == pytest.approx(float(outer * thick * MM_PER_INCH**3), rel=CLOSE)
        # Half of the corner each: the cut is its diagonal.
        rail = 20 * second - first * second / 2
        assert placed_solid(joinery, "A").volume() == pytest.approx(
            float(rail * thick * MM_PER_INCH**3), rel=CLOSE
        )
    assert all(_cut_once(joinery, mark) for mark in "AB")


@FEW
@given(sides)
def test_a_spline_groove_is_as_deep_in_both_parts_as_the_spline_and_its_clearance(corner):
    width, _, thick = corner
    # A frame's parts lie flat: thicker than wide, they would be the boards of a box.
    assume(width > thick)
    joinery = _work(
        {
            "rail": {"box": _text(0, 0, 0, 20, thick, width), "grain": "wide"},
            "stile": {"box": _text(0, 0, 0, width, thick, 30), "grain": "high"},
        },
        {"splined mitre": ["rail", "stile"]},
    )
    (fit,) = joinery.fits
    sizes = {size.name: size.value_mm for size in fit.sizes}
    grooves = [
        f.shape
        for features in (fit.first_features, fit.second_features)
        for f in features
        if f.role == "spline groove"
    ]
    assert all(isinstance(groove, Prism) for groove in grooves)
    low, high = sorted(area_mm2(groove.outline) for groove in grooves)
    # The same figure on either side of the cut: one runs the other way round.
    assert low == pytest.approx(-high)
    deep = sizes["spline into each part"] + sizes["clearance in each groove"]
    assert sizes["groove depth"] == deep
    assert {groove.depth_mm for groove in grooves} == {sizes["spline thickness"]}


@FEW
@given(sixteenths("1-3/4", "4"), sixteenths("3/4", "1-1/2"))
def test_dowels_of_a_mitre_face_one_another_and_stay_in_the_wood(width, thick):
    joinery = _work(
        {
            "rail": {"box": _text(0, 0, 0, 20, thick, width), "grain": "wide"},
            "stile": {"box": _text(0, 0, 0, width, thick, 30), "grain": "high"},
        },
        {"dowelled mitre": ["rail", "stile"]},
    )
    holes = {mark: _placed(joinery, mark, "mitre dowel hole") for mark in "AB"}
    for one, other in zip(
        sorted(holes["A"], key=lambda b: b.mouth), sorted(holes["B"], key=lambda b: b.mouth),
        strict=True,
    ):  # fmt: skip
        assert one.mouth == pytest.approx(other.mouth)
        assert [a + b for a, b in zip(one.direction, other.direction, strict=True)] == (
            pytest.approx([0, 0, 0])
        )
    for mark in "AB":
        body = Box((0, 0, 0), joinery.piece.part_of(mark).box.size)
        bored = [f for f in joinery.copies[mark].features if f.role == "mitre dowel hole"]
        assert bored
        assert all(_inside(feature, body) for feature in bored)


# Bolts.


lumber = st.tuples(sixteenths("3/4", "3-1/2"), sixteenths("3/4", "3-1/2"), sixteenths("2", "6"))


@FEW
@given(lumber)
def test_a_bolt_goes_through_both_parts_in_one_line(sizes):
    leg, rail, high = sizes
    joinery = _work(
        {
            "leg": {"box": _text(0, 0, 0, 3, leg, 30), "thickness": "deep"},
            "rail": {"box": _text(0, leg, 10, 40, leg + rail, 10 + high), "thickness": "deep"},
        },
        {"carriage bolts": ["leg", "rail"]},
    )
    first, second = (_placed(joinery, mark, "bolt hole") for mark in "AB")
    assert [b.mouth[0] for b in first] == [b.mouth[0] for b in second]
    assert [b.mouth[2] for b in first] == [b.mouth[2] for b in second]
    assert sum(b.depth_mm for b in (first[0], second[0])) == (leg + rail) * MM_PER_INCH
    bolt = joinery.fits[0].hardware[0]
    # NDS, clause 12.1.3, from memory: the hole 1/32 to 1/16 in larger.
    assert first[0].diameter_mm - bolt.diameter_mm == MM_PER_INCH / 32
    # Common practice, no source: washer, nut and threads take a diameter at the very least.
    assert bolt.length_mm >= (leg + rail) * MM_PER_INCH + bolt.diameter_mm


@FEW
@given(sixteenths("1-1/8", "3"), sixteenths("3/4", "2"), sixteenths("2-1/2", "6"))
def test_a_cross_dowel_lies_square_across_its_bolt_and_within_the_rail(thick, leg, high):
    joinery = _work(
        {
            "leg": {"box": _text(0, 0, 0, leg, thick + 1, 30), "thickness": "wide"},
            "rail": {"box": _text(leg, 0, 10, 40, thick, 10 + high), "grain": "wide"},
        },
        {"bolt and cross dowel": ["leg", "rail"], "count": 2},
    )
    bolts = _placed(joinery, "B", "bolt hole")
    crossing = _placed(joinery, "B", "cross dowel hole")
    assert len(bolts) == len(crossing) == 2
    (fit,) = joinery.fits
    bolt, dowel = fit.hardware
    body = joinery.piece.part_of("B").box
    for one, other in zip(bolts, crossing, strict=True):
        along, across = (next(a for a in range(3) if b.direction[a]) for b in (one, other))
        assert along != across
        third = 3 - along - across
        assert one.mouth[third] == other.mouth[third]
        # Its middle, where the thread is, lies on the bolt's axis.
        end = other.mouth[across] + other.direction[across] * other.depth_mm
        middle = end - other.direction[across] * dowel.length_mm / 2
        assert middle == one.mouth[across]
        assert body.low[across] < end < body.high[across]
        # The bolt reaches past the dowel.
        reach = bolt.length_mm - leg * MM_PER_INCH
        assert reach >= abs(other.mouth[along] - one.mouth[along]) + dowel.diameter_mm / 2
        assert one.depth_mm > reach


# Tenons.


posts = st.tuples(sixteenths("1-1/2", "3"), sixteenths("3/4", "1-1/4"), sixteenths("2", "6"))


def _rail_and_post(post, thick, high):
    return {
        "post": {"box": _text(0, 0, 0, post, post, 30), "grain": "high"},
        "rail": {"box": _text(post, 0, 8, post + 20, thick, 8 + high), "grain": "wide"},
    }


@FEW
@given(posts, st.sampled_from(["wedged tenon", "drawbored tenon", "twin tenons"]))
def test_further_forms_of_tenon_share_no_wood_with_their_posts(sizes, kind):
    joinery = _work(_rail_and_post(*sizes), {kind: ["rail", "post"]})
    assert _shared_mm3(joinery) < 1e-3
    assert all(_cut_once(joinery, mark) for mark in "AB")


@FEW
@given(posts)
def test_a_drawn_hole_stands_towards_the_shoulder_by_the_draw(sizes):
    joinery = _work(_rail_and_post(*sizes), {"drawbored tenon": ["rail", "post"]})
    (fit,) = joinery.fits
    draw = next(size.value_mm for size in fit.sizes if size.name == "draw")
    through = _placed(joinery, "A", "peg hole")
    drawn = _placed(joinery, "B", "drawn peg hole")
    for one, other in zip(through, drawn, strict=True):
        # The shoulder lies at the post's right face, and the tenon points to the left.
        assert other.mouth[0] - one.mouth[0] == draw
        assert other.mouth[2] == one.mouth[2]


@FEW
@given(posts)
def test_a_loose_tenon_has_its_clearance_at_both_ends(sizes):
    joinery = _work(_rail_and_post(*sizes), {"loose tenon": ["rail", "post"]})
    (fit,) = joinery.fits
    (tenon,) = fit.hardware
    mortises = [
        box_round(features[0].shape) for features in (fit.first_features, fit.second_features)
    ]
    deep = sum(box.size[2] for box in mortises)
    # common practice, no source: 1/16 in in each.
    assert deep - tenon.length_mm == MM_PER_INCH / 8
    assert mortises[0].size[:2] == mortises[1].size[:2]


# Pockets, biscuits, pins and hinges.


@FEW
@given(sixteenths("1/2", "1-1/2"), sixteenths("2", "8"))
def test_a_pocket_screw_leaves_in_the_middle_of_the_thickness_and_never_through_the_far_face(
    thick, high
):
    joinery = _work(
        {
            "stile": {"box": _text(0, 0, 0, 2, thick, 30), "grain": "high", "thickness": "deep"},
            "rail": {"box": _text(2, 0, 8, 20, thick, 8 + high), "grain": "wide",
                     "thickness": "deep"},
        },
        {"pocket screws": ["rail", "stile"]},
    )  # fmt: skip
    pockets = _placed(joinery, "B", "screw pocket")
    pilots = _placed(joinery, "B", "pocket pilot")
    middle = float(thick * MM_PER_INCH) / 2
    for pocket, pilot in zip(pockets, pilots, strict=True):
        # Common practice, no source: 15 degrees.
        assert math.degrees(math.asin(abs(pocket.direction[1]))) == pytest.approx(15)
        steps = (float(2 * MM_PER_INCH) - pilot.mouth[0]) / pilot.direction[0]
        assert pilot.mouth[1] + steps * pilot.direction[1] == pytest.approx(middle)
        bottom = pocket.mouth[1] + float(pocket.depth_mm) * pocket.direction[1]
        rim = float(pocket.diameter_mm) / 2 * math.cos(math.radians(15))
        assert bottom - rim > 0


@FEW
@given(sixteenths("5/8", "1-1/2"), sixteenths("3", "12"))
def test_slots_for_biscuits_are_segments_of_the_cutter(thick, high):
    joinery = _work(
        {
            "stile": {"box": _text(0, 0, 0, 3, thick, 30), "grain": "high", "thickness": "deep"},
            "rail": {"box": _text(3, 0, 8, 20, thick, 8 + high), "grain": "wide",
                     "thickness": "deep"},
        },
        {"biscuits": ["rail", "stile"]},
    )  # fmt: skip
    (fit,) = joinery.fits
    sizes = {size.name: float(size.value_mm) for size in fit.sizes}
    chord, deep = sizes["slot length"], sizes["slot depth"]
    # Euclid III.35: half the chord squared is p (D - p); a cutter of 100 mm, from memory.
    assert (chord / 2) ** 2 == pytest.approx(deep * (100 - deep), rel=1e-3)
    for mark in "AB":
        body = Box((0, 0, 0), joinery.piece.part_of(mark).box.size)
        assert all(_inside(feature, body) for feature in joinery.copies[mark].features)


@FEW
@given(sixteenths("5/8", "1"), sixteenths("0", "1/8"))
def test_a_shelf_on_pins_is_short_by_its_clearance_and_stands_on_them(thick, clearance):
    joinery = _work(
        {
            "side": {"box": _text(0, 0, 0, thick, 11, 36), "grain": "high"},
            "shelf": {"box": _text(thick, 0, 12, 30, 11, 12 + thick), "grain": "wide"},
        },
        {"shelf pins": ["shelf", "side"], "clearance": _show(clearance)},
    )
    low_x = placed_solid(joinery, "B").bounding_box()[0]
    assert low_x == pytest.approx(float((thick + clearance) * MM_PER_INCH))
    holes = _placed(joinery, "A", "pin hole")
    # The shelf as drawn lies on the top of pins in holes of its own.
    tops = {b.mouth[2] + b.diameter_mm / 2 for b in holes}
    assert 12 * MM_PER_INCH in tops


@FEW
@given(sixteenths("5/8", "1-1/2"), sixteenths("12", "60"), sixteenths("0", "1/8"))
def test_two_leaves_and_the_gap_close_to_the_thickness_of_the_hinge(thick, high, gap):
    joinery = _work(
        {
            "post": {"box": _text(0, 0, 0, 2, thick, high), "grain": "high", "thickness": "deep"},
            "door": {"box": _text(2, 0, 0, 18, thick, high), "grain": "high",
                     "thickness": "deep"},
        },
        {"hinges": ["door", "post"], "gap": _show(gap)},
    )  # fmt: skip
    (fit,) = joinery.fits
    hinge = fit.hardware[0]
    deep = [
        next(box_round(f.shape).size[2] for f in features if f.role == "hinge mortise")
        for features in (fit.first_features, fit.second_features)
    ]
    assert sum(deep) + gap * MM_PER_INCH == hinge.diameter_mm
    assert _shared_mm3(joinery) < 1e-3
