"""Every line is marked on a face that its cut opens to: looked at on the finished solids."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
import yaml
from tests.sequencing.worked import all_worked, room_of, work_demo
from tests.small_plans import work_small_plan

from benchleaf.cutting import plan_cuts
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
    if isinstance(feature.shape, Box):
        return feature.shape
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
    skin = skin_under(cut, own, face)
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
