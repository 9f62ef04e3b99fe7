"""Every line is marked on a face that its cut opens to: looked at on the finished solids."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
import yaml
from tests.sequencing.worked import all_worked, of_kind, room_of, work_demo
from tests.small_plans import work_small_plan

from benchleaf.cutting import plan_cuts
from benchleaf.forms import Prism
from benchleaf.forms import box_round as form_box
from benchleaf.frames import FACES, Box
from benchleaf.joinery import JOINT_KINDS
from benchleaf.joinery.records import CutCopy, Feature, JointFit, SettingOut
from benchleaf.joinery.solids import solid_of_copy
from benchleaf.piece.solids import solid_of_box
from benchleaf.sequencing.kinds.setting_out import marked_face
from benchleaf.sequencing.workroom import Workroom

WORKED = all_worked()
CASES = Path(__file__).parents[1] / "cases"
# Deep enough for the solids' arithmetic, shallower than any cut. mm
SKIN_MM = 0.5


def cases() -> Iterator[tuple[str, Mapping]]:
    for code in JOINT_KINDS:
        path = CASES / f"{code.replace(' ', '_')}.yml"
        for case in yaml.safe_load(path.read_text(encoding="utf-8")):
            if "expect" in case:
                yield f"{code}: {case['name']}", case["given"]


def box_round(feature: Feature) -> Box:
    if isinstance(feature.shape, Box | Prism):
        return form_box(feature.shape)
    bore, half = feature.shape, feature.shape.diameter_mm / 2
    ends = [(m, m + d * bore.depth_mm) for m, d in zip(bore.mouth, bore.direction, strict=True)]
    grow = [0 if d else half for d in bore.direction]
    return Box(
        tuple(min(end) - extra for end, extra in zip(ends, grow, strict=True)),
        tuple(max(end) + extra for end, extra in zip(ends, grow, strict=True)),
    )


def skin_under(cut: CutCopy, features: list[Feature], face: str) -> Box:
    """What lies just under a face of the blank, as far as some features go.

    Where wood is added, its end is all that stands of the part there: the whole face is looked at.
    """
    axis, is_high = FACES[face]
    whole = cut.blank
    if not any(feature.adds for feature in features):
        whole = box_round(features[0])
        for feature in features[1:]:
            whole = whole.join(box_round(feature))
    low, high = list(map(float, whole.low)), list(map(float, whole.high))
    end = float(cut.blank.face_mm(face))
    low[axis], high[axis] = (end - SKIN_MM, end) if is_high else (end, end + SKIN_MM)
    return Box(tuple(low), tuple(high)).meet(cut.blank)


def lines_of(room: Workroom) -> Iterator[tuple[SettingOut, JointFit, str]]:
    for fit in room.joinery.fits:
        for out in fit.setting_out:
            face = marked_face(out, fit, room)
            if face and not out.what.startswith("depth"):
                yield out, fit, face


def is_open(room: Workroom, out: SettingOut, fit: JointFit, face: str) -> bool:
    """Tell whether some wood is missing under a face, where a joint meets a copy."""
    contact = fit.contact
    mate = contact.second if contact.first == out.copy else contact.first
    cut = room.copy(out.copy)
    own = [f for f in cut.features if f.joint == fit.joint and f.mate == mate]
    # A stub tenon goes into what another joint has cut: the groove of a panel.
    skin = skin_under(cut, own or list(cut.features), face)
    wood = (solid_of_copy(room.joinery, out.copy) ^ solid_of_box(skin)).volume()
    return bool(wood < float(skin.volume_mm3) - 1e-3)


def check_lines(room: Workroom) -> int:
    """Look at the wood under every line; the number of faces looked at."""
    seen: set[tuple[str, int, str]] = set()
    for out, fit, face in lines_of(room):
        if (out.copy, id(fit), face) not in seen:
            seen.add((out.copy, id(fit), face))
            open_there = is_open(room, out, fit, face)
            assert open_there, f"{out.copy}: {out.what} is marked on its {face}, which stays whole"
    return len(seen)


@pytest.mark.parametrize("name", WORKED)
def test_each_marked_face_is_one_that_the_cut_opens_to(name: str) -> None:
    assert check_lines(room_of(WORKED[name])) > 0


@pytest.mark.parametrize("given", [pytest.param(given, id=name) for name, given in cases()])
def test_each_family_marks_faces_that_its_cuts_open_to(given: Mapping) -> None:
    joinery, _ = work_small_plan(given)
    check_lines(Workroom(joinery=joinery, cut_plan=plan_cuts(joinery)))


def faces_of(name: str, part: str, joint: int) -> set[str]:
    room = room_of(work_demo(name))
    return {
        face
        for out, fit, face in lines_of(room)
        if room.copy(out.copy).part == part and fit.joint == joint
    }


def test_laps_of_the_stand_are_marked_where_foot_and_stretcher_meet() -> None:
    # Seen on paper: the stretcher lies in the feet from below, its own laps in its top.
    assert faces_of("plant-stand", "foot", 0) == {"bottom"}
    assert faces_of("plant-stand", "stretcher", 0) == {"top"}


def test_screw_holes_are_marked_where_the_heads_come() -> None:
    # The plan's note: "Screw up through these into the seat".
    assert faces_of("hall-bench", "seat cleat", 4) == {"bottom"}
    # Screws go down through a slat, and through a pad from below.
    assert faces_of("hall-bench", "slat", 6) == {"top"}
    assert faces_of("plant-stand", "pad", 1) == {"bottom"}


# What faces are called on copies that stand mirrored.


def actions_on(name: str, mark: str) -> list[str]:
    operations = of_kind(work_demo(name), "set-out")
    return [action for o in operations if mark in o.copies for action in o.actions]


def test_faces_of_a_mirrored_cleat_are_said_to_change_places() -> None:
    # F2 is F1 mirrored front to back and its own mirror image: nothing but a word tells its faces.
    said = "Faces are named as on F1; on F2 front and back change places."
    assert said in actions_on("hall-bench", "F2")


def test_nothing_is_said_of_faces_that_do_for_one_another() -> None:
    # Dowels of a rail stand in the middle of its thickness: 23/32 of 1-7/16, from either face.
    assert not any("change places" in action for action in actions_on("hall-bench", "B2"))


def test_a_mirrored_side_of_a_shape_of_its_own_is_told_as_well() -> None:
    # A2 alone is housed for the tall shelves; what is its right face stands left in the piece.
    said = "Faces are named as on A1; on A2 left and right change places."
    assert said in actions_on("wall-bookcase", "A2")


def test_four_mirrored_legs_are_told_apart_in_two_sentences() -> None:
    assert actions_on("hall-bench", "A4")[:2] == [
        "Faces are named as on A1; mark A2 and A3 as its mirror images.",
        "On A2 left and right change places, on A3 front and back, on A4 both.",
    ]


def test_slats_in_a_row_are_all_marked_from_one_side() -> None:
    centres = [a for a in actions_on("hall-bench", "G10") if "each screw" in a]
    assert centres == ["Mark the centre of each screw, 3/4 and 2-1/4 in from the left."]


def test_a_spacer_goes_on_the_face_that_is_measured_from() -> None:
    # Rails stand 1/8 behind the faces of the legs: `reveal` in the plan.
    said = "Use a gauge set to 27/32 in, with a 1/8 in spacer on its front."
    assert said in actions_on("hall-bench", "B1")


def test_screw_holes_are_sunk_on_the_side_they_were_marked_on() -> None:
    (operation,) = of_kind(work_demo("plant-stand"), "countersink")
    said = "Countersink the holes in A1 to A4 on the marked side, for the heads."
    assert said in operation.actions
    assert faces_of("plant-stand", "pad", 1) == {"bottom"}
