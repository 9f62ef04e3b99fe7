"""How the piece goes together: groups, their order, clamps, diagonals, places."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from tests.sequencing.worked import (
    TABLE,
    all_worked,
    of_kind,
    parts_of,
    room_of,
    work_demo,
    work_text,
)

from benchleaf.frames import Axis, Box
from benchleaf.lengths import parse_length
from benchleaf.pipeline import WorkedPlan
from benchleaf.reading.plan import Units
from benchleaf.sequencing.clamping import PAD_MM, Pressed, clamp_joints, clamp_stack
from benchleaf.sequencing.gathering import gather
from benchleaf.sequencing.glues import find_glue, joints_in_time
from benchleaf.sequencing.groups import Group, groups_in
from benchleaf.sequencing.placing_words import Laid, place_words, row_words
from benchleaf.sequencing.squaring import find_diagonals
from benchleaf.sequencing.wording import Say

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)
MM = Say(Units.MILLIMETRE)


def inches(text: str) -> Fraction:
    return parse_length(text, "in")


def groups_of(worked: WorkedPlan) -> list[Group]:
    return [group for group in groups_in(gather(room_of(worked))) if group.fits]


# Groups.


@every_plan
def test_every_joint_closes_in_exactly_one_group(worked: WorkedPlan) -> None:
    fits = [fit for group in groups_of(worked) for fit in group.fits]
    assert len(fits) == len(room_of(worked).joinery.fits)
    assert all(fit in fits for fit in room_of(worked).joinery.fits)


@every_plan
def test_smaller_groups_come_before_those_that_hold_them(worked: WorkedPlan) -> None:
    seen: list[frozenset[str]] = []
    for group in groups_of(worked):
        own = frozenset(group.copies)
        assert all(own.isdisjoint(before) or before < own for before in seen)
        seen.append(own)


@every_plan
def test_no_glue_up_closes_more_joints_than_the_glue_waits_for(worked: WorkedPlan) -> None:
    glue = find_glue(room_of(worked).plan.shop.glue)
    for group in groups_of(worked):
        count = sum(fit.is_glued for fit in group.fits)
        # One part alone, such as a back, cannot be put on in two goes.
        assert count <= joints_in_time(glue) or len(group.members) == 2


def _parts(worked: WorkedPlan, group: Group) -> set[str]:
    return {part.name for part, _ in room_of(worked).parts_among(group.copies)}


def test_end_frames_are_made_before_the_long_rails_join_them() -> None:
    # Common practice, no source: flat frames first, then the whole.
    copies = [group.copies for group in groups_of(work_text(TABLE)) if group.is_glued]
    assert copies[:2] == [("A1", "A3", "C1"), ("A2", "A4", "C2")]
    assert set(copies[2]) == {"A1", "A2", "A3", "A4", "B1", "B2", "C1", "C2"}


def test_a_back_goes_on_last_and_a_seat_from_above() -> None:
    bookcase = groups_of(work_demo("wall-bookcase"))[-1]
    assert bookcase.members[-1].copies == ("G",)
    assert bookcase.axis is Axis.DEEP
    bench = groups_of(work_demo("hall-bench"))[-1]
    assert bench.members[-1].copies == ("H",)
    assert bench.axis is Axis.HIGH


def test_panels_of_the_stand_go_on_from_the_lowest_up() -> None:
    upright = [g for g in groups_of(work_demo("plant-stand")) if g.axis is Axis.HIGH]
    order = [member.copies[0] for group in upright for member in group.members[1:]]
    # Lower shelf, middle shelf, top: the plan's own order.
    assert [mark for mark in order if mark in "EFG"] == ["E", "F", "G"]


def test_pads_go_onto_the_feet_before_the_feet_go_onto_anything() -> None:
    first = [group.copies for group in groups_of(work_demo("plant-stand"))][:2]
    assert first == [("A1", "A3", "B1"), ("A2", "A4", "B2")]
    said = of_kind(work_demo("plant-stand"), "drill-pilots")[0].actions
    # Seen on paper: their screws go up into the foot.
    assert said[0] == "Lay B1 upside down on a flat bench."


def test_a_case_grows_side_by_side_and_cleats_come_when_it_stands() -> None:
    groups = groups_of(work_demo("wall-bookcase"))
    brought = [[member.copies for member in group.members[1:]] for group in groups]
    assert brought == [
        [("D",), ("B",)],
        [("E1",), ("E2",), ("E3",), ("A1",)],
        [("F1",), ("F2",), ("A2",)],
        [("H1",), ("H2",)],
        [("H3",), ("H4",)],
        [("G",)],
    ]


def test_cleats_are_placed_by_what_they_stand_between() -> None:
    said = of_kind(work_demo("wall-bookcase"), "drill-pilots")[0].actions
    # Sides, divider and top hold them on three sides; the plan has them flush with the back edges.
    assert (
        "Set H1 between A1 and D, against B, and H2 between A2 and D, against B, flush at the back."
    ) in said


def test_a_seat_that_is_screwed_from_below_is_laid_on_its_face() -> None:
    said = of_kind(work_demo("hall-bench"), "drill-pilots")[-1].actions
    # Overhang 1 in and nosing 1/2 in, the plan's own sizes, from the legs' outer faces.
    assert said[:3] == (
        "Lay H upside down on a flat bench.",
        "Set the assembly with the long rails on H.",
        "Line it up 1 in from left and right and 1/2 in from front and back.",
    )
    (screwed,) = (o for o in of_kind(work_demo("hall-bench"), "screw-together") if "H" in o.moved)
    assert screwed.actions[-1] == "Turn it the right way up again."


@every_plan
def test_nothing_is_clamped_in_a_place_that_is_not_said(worked: WorkedPlan) -> None:
    for operation in of_kind(worked, "drill-pilots"):
        said = operation.actions
        assert said[0].startswith(("Lay ", "Do the same"))
        if not said[0].startswith("Do the same"):
            placed = [i for i, a in enumerate(said) if a.startswith(("Set ", "Push on", "Put on"))]
            assert placed
            assert placed[-1] < said.index("Clamp it so that nothing moves.")


@every_plan
def test_glue_is_spread_when_all_else_is_laid_out(worked: WorkedPlan) -> None:
    for operation in of_kind(worked, "assemble"):
        said = [action.split()[0] for action in operation.actions]
        if "Spread" in said:
            before = said[: said.index("Spread")]
            assert set(before) <= {"Lay", "Glue"}
            assert not {"Lay", "Glue"} & set(said[said.index("Spread") :])


# Dry fits.


@every_plan
def test_nothing_that_goes_in_is_glued_before_it_was_tried_dry(worked: WorkedPlan) -> None:
    dry = {operation.copies for operation in of_kind(worked, "dry-fit")}
    for group in groups_of(worked):
        assert (group.copies in dry) == group.needs_dry_fit


@every_plan
def test_a_dry_fit_starts_only_with_what_still_stands(worked: WorkedPlan) -> None:
    """Whatever a dry fit puts together is glued by then, or was left together before it."""
    standing: list[frozenset[str]] = []
    for operation in parts_of(worked)[2].operations:
        if operation.joined:
            standing.append(frozenset(operation.joined))
        if operation.kind == "dry-fit":
            group = next(g for g in groups_of(worked) if g.copies == operation.copies)
            for member in group.members:
                # What is only glued on after it, such as a cleat, stays away from a dry fit.
                own = set(member.copies)
                assert len(own) == 1 or any(there <= own for there in standing)
            standing.append(frozenset(operation.copies))
            if any(action.startswith("Take everything apart") for action in operation.actions):
                standing = [s for s in standing if s in joined_so_far(worked, operation.id)]


def joined_so_far(worked: WorkedPlan, id_: str) -> set[frozenset[str]]:
    found = set()
    for operation in parts_of(worked)[2].operations:
        if operation.id == id_:
            break
        if operation.joined:
            found.add(frozenset(operation.joined))
    return found


@every_plan
def test_a_run_of_dry_fits_comes_apart_once_at_its_end(worked: WorkedPlan) -> None:
    runs = [o for o in parts_of(worked)[2].operations if o.kind == "dry-fit"]
    for operation in runs:
        holders = [o for o in runs if set(operation.copies) < set(o.copies)]
        apart = [a for a in operation.actions if "apart" in a]
        assert len(apart) == (0 if holders or operation.actions[0].startswith("Do the same") else 1)


@every_plan
def test_a_dry_fit_is_about_no_joint_that_is_only_screwed_or_glued(worked: WorkedPlan) -> None:
    joints = room_of(worked).joinery.piece.joints
    for operation in of_kind(worked, "dry-fit"):
        assert operation.joints
        assert not {joints[index].kind for index in operation.joints} & {"butt", "rests on"}


def test_the_second_of_two_frames_is_done_like_the_first() -> None:
    first, second = of_kind(work_text(TABLE), "assemble")[:2]
    assert second.actions == ("Do the same with A2, A4 and C2, as the mirror image.",)
    assert len(first.actions) > 5


# Clamps.


def pressed(width: float, *, start: float = 0, along: tuple[float, float] = (0, 400)) -> Pressed:
    return Pressed(((start, start + width), (0, 20)), along)


def test_a_frame_takes_one_clamp_for_each_rail_behind_which_all_joints_lie() -> None:
    (clamps,) = clamp_joints([pressed(60, along=(0, 200)), pressed(60, along=(160, 400))])
    assert clamps.count == 1
    assert clamps.opening_mm == 400 + 2 * PAD_MM


def test_wide_joints_take_a_clamp_every_200_mm() -> None:
    # Common practice, no source: no further apart than 8 in.
    assert [own.count for own in clamp_joints([pressed(600)])] == [3]
    assert [own.count for own in clamp_joints([pressed(601)])] == [4]


def test_small_joints_take_small_clamps_of_their_own() -> None:
    joints = [pressed(60, along=(0, 50)), pressed(60, start=100), pressed(60, start=200)]
    assert [(own.count, own.opening_mm) for own in clamp_joints(joints)] == [
        (1, 50 + 2 * PAD_MM),
        (2, 400 + 2 * PAD_MM),
    ]


def test_laps_of_the_stand_take_small_clamps_and_its_posts_long_ones() -> None:
    settings = [s for o in of_kind(work_demo("plant-stand"), "assemble") for s in o.settings]
    openings = {s.value_mm / inches("1") for s in settings if s.name == "clamp opening"}
    # Feet are 2-1/4 high, posts 28-3/4 on top of them; 3/4 of pad at each jaw.
    assert {Fraction(15, 4), Fraction(65, 2)} <= openings


@every_plan
def test_clamps_open_no_less_than_what_stands_between_their_jaws(worked: WorkedPlan) -> None:
    for operation in of_kind(worked, "assemble"):
        openings = [s.value_mm for s in operation.settings if s.name == "clamp opening"]
        boxes = [room_of(worked).stood_box(mark) for mark in operation.copies]
        whole = [max(b.high[a] for b in boxes) - min(b.low[a] for b in boxes) for a in Axis]
        for opening in openings:
            assert opening > 2 * PAD_MM
            assert opening < max(whole) + 2 * PAD_MM + inches("1/8")


def test_a_wide_stack_takes_a_row_of_clamps_along_each_edge() -> None:
    narrow = clamp_stack(Fraction(600), Fraction(100), Fraction(54))
    wide = clamp_stack(Fraction(600), Fraction(101), Fraction(54))
    # 600 at 150 apart: 4 spaces, 5 clamps.
    assert (narrow.count, wide.count) == (5, 10)
    assert narrow.opening_mm == 54 + 2 * PAD_MM


# Diagonals.


def box(*sides: int) -> Box:
    return Box(tuple(map(Fraction, sides[:3])), tuple(map(Fraction, sides[3:])))


def test_diagonals_are_those_of_the_outer_corners() -> None:
    frame = {"A1": box(0, 0, 0, 40, 40, 400), "A2": box(260, 0, 0, 300, 40, 400)}
    holders = {"A1": 0, "A2": 1}
    (front,) = [d for d in find_diagonals(frame, holders) if d.side == "front"]
    # 300 by 400: Pythagoras' own triangle.
    assert front.length_mm == 500
    assert front.corners == ("A1", "A2", "A1", "A2")


def test_a_board_alone_has_no_diagonals_to_measure() -> None:
    assert find_diagonals({"A": box(0, 0, 0, 300, 18, 400)}, {"A": 0}) == ()


def test_a_panel_that_fills_the_side_keeps_it_square() -> None:
    lipped = {"A": box(0, 20, 0, 300, 380, 18), "B1": box(0, 0, 0, 300, 20, 18)}
    lipped["B2"] = box(0, 380, 0, 300, 400, 18)
    assert find_diagonals(lipped, {"A": 0, "B1": 1, "B2": 2}) == ()


def test_corners_of_one_member_say_nothing_of_this_closing() -> None:
    frame = {"A1": box(0, 0, 0, 40, 40, 400), "A2": box(260, 0, 0, 300, 40, 400)}
    assert find_diagonals(frame, {"A1": 0, "A2": 0}) == ()


def test_the_bench_is_measured_across_its_outer_corners() -> None:
    operation = of_kind(work_demo("hall-bench"), "assemble")[-1]
    # 42 x 16-9/16 in seen from the front, legs outer faces and heights: worked by hand.
    shown = math.hypot(42, 16.5625)
    (front,) = (action for action in operation.actions if "On the front" in action)
    assert front.endswith("outer corner to outer corner: 45-1/8 in.")
    assert abs(45.125 - shown) < 1 / 16


def test_a_case_is_measured_between_its_true_corners() -> None:
    # Top and bottom are 964 between the sides and 6 in the housing at each end; they stand 31 in
    # from the ends of sides 1040 high: the plan's own sizes.
    shown = math.hypot(964 + 2 * 6, 1040 - 2 * 31)
    said = [a for o in of_kind(work_demo("wall-bookcase"), "assemble") for a in o.actions]
    (front,) = (action for action in said if f"{round(shown)} mm" in action)
    assert round(shown) == 1382
    assert front.startswith("On the front, measure both diagonals")


# Places.


def test_a_part_is_placed_by_what_is_flush_and_how_far_the_rest_is() -> None:
    base = box(0, 18, 0, 100, 36, 80)
    assert place_words(box(0, 0, 0, 100, 18, 80), base, {Axis.DEEP}, MM) == ("flush all round")
    assert place_words(box(-5, 18, -5, 105, 36, 85), base, {Axis.DEEP}, MM) == (
        "5 mm over on every side"
    )
    assert place_words(box(10, 0, 0, 90, 18, 50), base, {Axis.DEEP}, MM) == (
        "10 mm from left and right and flush at the bottom"
    )
    assert place_words(box(-5, 0, 30, 90, 18, 80), base, {Axis.DEEP}, MM) == (
        "5 mm past the left and flush at the top"
    )


def test_a_row_is_placed_by_its_first_and_its_gap() -> None:
    base = box(0, 0, 0, 200, 400, 20)
    laid = [
        Laid(
            mark=f"G{n + 1}",
            how="on F",
            box=box(10 + 50 * n, 0, 20, 40 + 50 * n, 400, 38),
            on=base,
            settled=frozenset({Axis.HIGH}),
        )
        for n in range(3)
    ]
    assert row_words(laid, MM) == [
        "Set G1 on F, 10 mm from the left and flush at front and back.",
        "Set G2 and G3 after it in a row, with gaps of 20 mm.",
    ]


def test_slats_of_the_bench_lie_three_quarters_apart() -> None:
    (operation,) = (o for o in of_kind(work_demo("hall-bench"), "drill-pilots") if "F1" in o.copies)
    # `slat gap: 3/4` in the plan.
    assert "Set G2 to G10 after it in a row, with gaps of 3/4 in." in operation.actions
