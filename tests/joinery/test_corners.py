"""Corners, frames and sliding joints, whatever their sizes: mates fit, and no tail is a sliver."""

import math
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchleaf.checking import check_piece
from benchleaf.forms import Prism
from benchleaf.joinery.records import Joinery
from benchleaf.joinery.solids import placed_solid
from benchleaf.lengths import MM_PER_INCH
from benchleaf.outlines import area_mm2
from small_plans import show_findings, work_small_plan
from strategies import sixteenths

# Hypothesis works a whole plan for each example; thirty keep a test under two seconds.
FEW = settings(max_examples=30, deadline=None)
CORNERS = ("front left", "front right", "back left", "back right")

thicknesses = st.tuples(sixteenths("3/8", "1"), sixteenths("3/8", "1"))
widths = sixteenths("3", "11")
corners = st.sampled_from(CORNERS)


def _show(inches: Fraction | int) -> str:
    whole, part = divmod(Fraction(inches), 1)
    return f"{whole}-{part}" if whole and part else str(part or whole)


def _box(*numbers: Fraction | int) -> str:
    return " to ".join(" ".join(map(_show, corner)) for corner in (numbers[:3], numbers[3:]))


def _boards(corner: str, side, end, wide, *, is_face: bool = False) -> dict:
    """A side 16 long and an end 10 long that meet at one corner of a box standing on z = 0."""
    back, right = "back" in corner, "right" in corner
    inset = end if is_face else 0
    x = (0, 16 - inset) if right else (inset, 16)
    y = (10 - side, 10) if back else (0, side)
    x_end = (16 - end, 16) if right else (0, end)
    return {
        "side": {"box": _box(x[0], y[0], 0, x[1], y[1], wide), "grain": "wide",
                 "thickness": "deep", "of": "oak"},
        "end": {"box": _box(x_end[0], 0, 0, x_end[1], 10, wide), "grain": "deep",
                "thickness": "wide", "of": "oak"},
    }  # fmt: skip


def _work(parts: dict, joint: dict) -> Joinery:
    joinery, findings = work_small_plan(
        {"units": "in", "parts": parts, "joints": [joint],
         "overall": {"wide": 16, "deep": 10, "high": parts["end"]["box"].split()[-1]}}
    )  # fmt: skip
    assert [f for f in show_findings(findings) if f.startswith("error")] == []
    return joinery


def _size(joinery: Joinery, name: str) -> Fraction:
    return next(size.value_mm for size in joinery.fits[0].sizes if size.name == name)


def _volume_mm3(shape) -> float:
    if isinstance(shape, Prism):
        return abs(area_mm2(shape.outline)) * abs(float(shape.depth_mm))
    return float(shape.volume_mm3)


def _check_wood(joinery: Joinery) -> None:
    """Blank, and what is added, less what is cut, is the part; mates share nothing."""
    solids = {mark: placed_solid(joinery, mark) for mark in "AB"}
    for mark, solid in solids.items():
        left = float(joinery.piece.part_of(mark).box.volume_mm3)
        for feature in joinery.copies[mark].features:
            left += _volume_mm3(feature.shape) * (1 if feature.adds else -1)
        assert solid.volume() == pytest.approx(left, rel=1e-9)
        assert len(solid.decompose()) == 1
    assert (solids["A"] ^ solids["B"]).volume() < 0.01
    assert check_piece(joinery) == ()


@FEW
@given(corners, thicknesses, widths, st.booleans(), sixteenths("0", "1/16"))
def test_fingers_fill_the_width_and_stand_off_by_the_clearance(
    corner, thick, wide, ends_start, room
):
    joinery = _work(
        _boards(corner, *thick, wide),
        {"box joint": ["side", "end"], "starts": "end" if ends_start else "side",
         "clearance": _show(room)},
    )  # fmt: skip
    _check_wood(joinery)
    count = wide * MM_PER_INCH / _size(joinery, "finger width")
    assert count.denominator == 1
    assert count >= 3
    # Common practice, no source: fingers from half to the whole of the thinner board.
    thin = min(thick) * MM_PER_INCH
    assert thin / 2 <= _size(joinery, "finger width") <= thin or count == 3
    # Every wall between two fingers is open by half of what a socket is wider.
    crossing = wide * thick[0] * thick[1] * MM_PER_INCH**3
    gaps = (count - 1) * room / 2 * thick[0] * thick[1] * MM_PER_INCH**3
    cut = sum(_volume_mm3(f.shape) for mark in "AB" for f in joinery.copies[mark].features)
    assert cut == pytest.approx(float(crossing + gaps), rel=1e-9)


@FEW
@given(corners, thicknesses, widths)
def test_sockets_are_wider_than_the_fingers_by_the_clearance(corner, thick, wide):
    joinery = _work(
        _boards(corner, *thick, wide), {"box joint": ["side", "end"], "clearance": "1/32"}
    )
    spans = {
        mark: sorted(
            (f.shape.low[2], f.shape.high[2])
            for f in joinery.copies[mark].features
        )
        for mark in "AB"
    }  # fmt: skip
    for mark, mate in ("AB", "BA"):
        fingers = [(a[1], b[0]) for a, b in zip(spans[mark], spans[mark][1:], strict=False)]
        sockets = [s for s in spans[mate] if s[0] > 0 and s[1] < wide * MM_PER_INCH]
        for low, high in sockets:
            (finger,) = [f for f in fingers if low <= f[0] and f[1] <= high]
            assert (high - low) - (finger[1] - finger[0]) == MM_PER_INCH / 32


@FEW
@given(corners, thicknesses, widths)
def test_tails_fill_the_pins_and_none_is_a_sliver(corner, thick, wide):
    joinery = _work(_boards(corner, *thick, wide), {"through dovetail": ["side", "end"]})
    _check_wood(joinery)
    crossing = float(wide * thick[0] * thick[1] * MM_PER_INCH**3)
    cut = sum(_volume_mm3(f.shape) for mark in "AB" for f in joinery.copies[mark].features)
    assert cut == pytest.approx(crossing, rel=1e-9)
    _check_tails(joinery, wide)


@FEW
@given(corners, thicknesses, widths)
def test_half_blind_tails_stop_at_the_lap(corner, thick, wide):
    assume(thick[1] >= Fraction(1, 2))
    joinery = _work(
        _boards(corner, *thick, wide, is_face=True), {"half blind dovetail": ["side", "end"]}
    )
    _check_wood(joinery)
    _check_tails(joinery, wide)
    blank = joinery.copies["A"].blank
    lap = _size(joinery, "lap")
    assert blank.size[0] == 16 * MM_PER_INCH - lap
    # Common practice, no source: an eighth of an inch at the least.
    assert lap >= MM_PER_INCH / 8


def _check_tails(joinery: Joinery, wide: Fraction) -> None:
    least = MM_PER_INCH / 4
    tail, pin = _size(joinery, "tail width at the end"), _size(joinery, "pin at its narrow side")
    half, flare = _size(joinery, "half pin at the edge"), _size(joinery, "flare of each side")
    assert half >= least
    assert tail - 2 * flare >= least
    count = (wide * MM_PER_INCH - 2 * half + pin) / (tail + pin)
    assert count.denominator == 1
    # 1:8 in hardwood, which is 7.13 degrees: common practice, no source.
    lean = math.degrees(math.atan(flare / _size(joinery, "tail length")))
    assert lean == pytest.approx(7.13, abs=0.005)


@pytest.mark.parametrize("code", ["box joint", "through dovetail", "half blind dovetail"])
def test_copies_of_a_mirrored_box_are_of_one_shape(code):
    sides = {"box": "0 0 0 to 300 12 90", "grain": "wide", "mirror": ["front-back"]}
    ends = {"box": "0 0 0 to 12 200 90", "grain": "deep", "mirror": ["left-right"]}
    if code == "half blind dovetail":
        sides["box"] = "12 0 0 to 288 12 90"
    joinery, findings = work_small_plan(
        {
            "units": "mm",
            "parts": {"side": sides, "end": ends},
            "joints": [{code: ["side", "end"]}],
            "overall": {"wide": 300, "deep": 200, "high": 90},
        }
    )
    assert show_findings(findings) == []
    assert [shape.name for shape in joinery.shapes] == ["side", "end"]
    assert len(joinery.fits) == 4
    assert check_piece(joinery) == ()


# Joints in a plane, and those that slide.


def _work_pair(boxes: tuple[str, str], joint: dict, **more) -> Joinery:
    joinery, findings = work_small_plan(
        {
            "units": "in",
            "parts": {"one": {"box": boxes[0], "of": "oak"} | more.get("one", {}),
                      "other": {"box": boxes[1], "of": "oak"} | more.get("other", {})},
            "joints": [joint],
        }
    )  # fmt: skip
    assert [f for f in show_findings(findings) if f.startswith("error")] == []
    return joinery


def _cut_mm3(joinery: Joinery, mark: str, *, adds: bool = False) -> float:
    features = [f for f in joinery.copies[mark].features if f.adds == adds]
    return sum(_volume_mm3(feature.shape) for feature in features)


def _check_volumes(joinery: Joinery) -> None:
    solids = {mark: placed_solid(joinery, mark) for mark in "AB"}
    for mark, solid in solids.items():
        left = float(joinery.piece.part_of(mark).box.volume_mm3)
        left += _cut_mm3(joinery, mark, adds=True) - _cut_mm3(joinery, mark)
        assert solid.volume() == pytest.approx(left, rel=1e-9)
        assert len(solid.decompose()) == 1
    assert (solids["A"] ^ solids["B"]).volume() < 0.01


@FEW
@given(sixteenths("5/8", "2"), sixteenths("1", "4"), sixteenths("1", "4"), sixteenths("0", "1/16"))
def test_a_bridle_fills_its_crossing_but_for_the_clearance(thick, wide, deep, room):
    joinery = _work_pair(
        (_box(0, 0, 0, 20, wide, thick), _box(0, 0, 0, deep, 24, thick)),
        {"bridle": ["one", "other"], "clearance": _show(room)},
        one={"grain": "wide", "thickness": "high"},
        other={"grain": "deep", "thickness": "high"},
    )
    _check_volumes(joinery)
    # What is cut from both is the crossing, and the room on both sides of the tongue.
    cut = _cut_mm3(joinery, "A") + _cut_mm3(joinery, "B")
    assert cut == pytest.approx(float(wide * deep * (thick + room) * MM_PER_INCH**3), rel=1e-9)


@FEW
@given(sixteenths("1/2", "1-1/2"), sixteenths("2", "8"), sixteenths("0", "1/8"))
def test_a_tongue_fills_its_groove_but_for_the_clearance(thick, wide, room):
    joinery = _work_pair(
        (_box(0, 0, 0, 24, wide, thick), _box(0, wide, 0, 24, 2 * wide, thick)),
        {"tongue and groove": ["one", "other"], "clearance": _show(room)},
        one={"grain": "wide", "thickness": "high"},
        other={"grain": "wide", "thickness": "high"},
    )
    _check_volumes(joinery)
    left = _cut_mm3(joinery, "B") - _cut_mm3(joinery, "A", adds=True)
    tongue = _size(joinery, "tongue thickness")
    assert left == pytest.approx(float(24 * room * MM_PER_INCH**2 * tongue), abs=1e-6)


@FEW
@given(
    sixteenths("5/8", "1-1/4"), sixteenths("5/8", "1-1/4"), sixteenths("5", "11"),
    sixteenths("0", "1/16"), st.sampled_from([(), ("front",), ("back",)]),
)  # fmt: skip
def test_a_sliding_tail_fills_its_socket_but_for_the_clearance(side, shelf, deep, room, stopped):
    joinery = _work_pair(
        (_box(0, 0, 0, side, deep, 30), _box(side, 0, 10, 24, deep, 10 + shelf)),
        {"sliding dovetail": ["other", "one"], "clearance": _show(room)}
        | ({"stopped": list(stopped)} if stopped else {}),
        one={"grain": "high", "thickness": "wide"},
        other={"grain": "wide", "thickness": "high"},
    )
    _check_volumes(joinery)
    (fit,) = joinery.fits
    assert len(fit.free_directions) == 2 - len(stopped)
    # The room at the bottom is a strip as wide as the socket there, and a little less at its top.
    length = (deep - Fraction(len(stopped), 2)) * MM_PER_INCH
    left = _cut_mm3(joinery, "A") - _cut_mm3(joinery, "B", adds=True)
    bit, gap = _size(joinery, "bit"), room * MM_PER_INCH
    lean = math.tan(math.radians(14))
    assert left == pytest.approx(float(length * gap) * (float(bit) - lean * float(gap)), rel=1e-4)


@settings(max_examples=6, deadline=None)
@given(
    stile=sixteenths("1-1/2", "3"), rail=sixteenths("1-1/2", "4"), panel=sixteenths("1/4", "3/4"),
    wide=sixteenths("4", "20"), joint=st.sampled_from(("haunched", "stub", "through no")),
)  # fmt: skip
def test_a_framed_panel_has_its_clearance_all_round_and_shares_no_wood(
    stile, rail, panel, wide, joint
):
    right, back = stile + wide, Fraction(3, 8) + panel / 2
    given_plan = {
        "units": "in",
        "overall": {"wide": _show(right + stile), "deep": "3/4", "high": "20"},
        "parts": {
            "stile": {"box": _box(0, 0, 0, stile, Fraction(3, 4), 20), "mirror": ["left-right"]},
            "rail": {"box": _box(stile, 0, 20 - rail, right, Fraction(3, 4), 20),
                     "mirror": ["bottom-top"]},
            "panel": {"box": _box(stile, back - panel, rail, right, back, 20 - rail),
                      "grain": "high", "thickness": "deep", "of": "red oak"},
        },
        "joints": [
            {"mortise and tenon": ["rail", "stile"]} | ({"stub": True} if joint == "stub" else {}),
            *({"frame and panel": ["panel", other]}
              | ({"through": False} if joint == "through no" else {})
              for other in ("stile", "rail")),
        ],
    }  # fmt: skip
    joinery, findings = work_small_plan(given_plan)
    assert [f for f in show_findings(findings) if f.startswith("error")] == []
    solids = {mark: placed_solid(joinery, mark) for mark in joinery.copies}
    for one, other in (("A1", "B1"), ("A1", "C"), ("B1", "C"), ("A2", "B2"), ("A2", "C")):
        assert (solids[one] ^ solids[other]).volume() < 1e-3
    # From below the frame is whole: a haunch fills the groove, or a stub but for its 1/32.
    # A haunch in a place of its own has the mortise's 1/8 below it.
    frame = sum((solids[mark] for mark in ("A2", "B1", "B2")), solids["A1"])
    width = next(s.value_mm for s in joinery.fits[0].sizes if s.name == "tenon thickness")
    parts = {"haunched": 0, "stub": Fraction(1, 32), "through no": Fraction(1, 8)}
    room = 2 * width * MM_PER_INCH * parts[joint]
    whole = (right + stile) * Fraction(3, 4) * MM_PER_INCH**2
    assert frame.slice(0.001).area() == pytest.approx(float(whole - room))
    # Half of what it swells, and no less than 1/16 in: Wood Handbook Eq. 13-2, red oak.
    edges = [f for f in joinery.fits if f.kind == "frame and panel" and f.contact.second == "A1"]
    swells = float(wide + Fraction(3, 4)) * 0.00369 * 3.9
    for fit in edges:
        left = fit.second_features[0].shape.high[2] - fit.first_features[0].shape.high[2]
        assert swells / 2 * 0.98 <= left / MM_PER_INCH < max(swells / 2 + 1 / 16, 0.063)
