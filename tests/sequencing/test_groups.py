"""Groups in the order of work: each is put together by itself, slides in or is hung at the end."""

import pytest

from benchleaf.pipeline import work_plan
from group_plans import CASE


@pytest.fixture(scope="module")
def worked():
    worked = work_plan(CASE, "plans/case.plan.yml")
    assert [str(finding) for finding in worked.findings] == []
    return worked


@pytest.fixture(scope="module")
def closing(worked):
    return [own for own in worked.sequence.operations if own.joined]


def test_drawers_go_in_when_the_case_stands_and_the_door_is_hung_last(worked, closing):
    case = {"A1", "A2", "B", "C", "D", "E", "F1", "F2", "F3", "F4"}
    *before, drawers, door_glued, door_hung = closing
    assert drawers.title == "Slide in drawer 1 and drawer 2"
    assert set(drawers.joined) - set(drawers.moved) == case
    assert door_glued.title == "Glue up the door"
    assert door_hung.title == "Hang the door"
    assert set(door_hung.joined) == set(worked.piece.copies)
    assert set(door_hung.moved) == {"K1", "K2", "L1", "L2"}
    # Nothing of the case is together with anything of a group before that.
    for operation in before:
        assert set(operation.joined) <= case or not set(operation.joined) & case


def test_a_drawer_is_glued_before_its_bottom_slides_in_from_the_back(closing):
    titles = [operation.title for operation in closing]
    back = titles.index("Glue the drawer back (I1) to the drawer sides (G1 and G2)")
    bottom = titles.index("Slide in the drawer bottom (J1)")
    assert back < bottom
    assert "Slide J1 in at the back." in closing[bottom].actions
    assert closing[bottom].check == "It lies in its grooves all round, and can move in them."
    # Both drawers are taken as far before either goes on.
    assert titles.index("Glue the drawer back (I2) to the drawer sides (G3 and G4)") < bottom


def test_a_drawer_runs_on_its_own_runners(closing):
    drawers = next(own for own in closing if own.title.startswith("Slide in drawer 1"))
    # By hand: the lower runners are F1 and, mirrored, F3; one step up, F2 and F4.
    assert drawers.actions[1:] == (
        "Slide drawer 1 in at the front, on F1 and F3.",
        "Slide drawer 2 in at the front, on F2 and F4.",
    )
    assert drawers.check == "It runs without catching, and comes out again."
    assert drawers.waiting_hours == 0


def test_a_door_is_held_and_its_hinges_screwed(closing):
    hung = closing[-1]
    assert hung.actions[1:] == (
        "Hold the door in place, with the gaps even, on slips of card.",
        "Lay 2 butt hinges (1-1/2 in) in their mortises, and bore a pilot for every screw.",
        # Two hinges, two screws in each of their leaves.
        "Drive 8 screws, No. 4 x 1/2 in.",
    )
