"""Drawers out and doors open: textbook statics, and figures worked out by hand."""

from __future__ import annotations

import pytest

from benchleaf.checking import reckon_piece
from benchleaf.checking.opened import inside_of
from benchleaf.checking.records import Verdict
from benchleaf.checking.survey import take_survey
from benchleaf.frames import Box
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan
from group_plans import CASE
from small_plans import work_small_plan

IN, G = 25.4, 9.80665
# 8.5 lb in a cubic foot, kg/m3: NIST SP 811, appendix B.8.
FILL = 8.5 * 0.45359237 / 0.028316846592


def _opened(**parts):
    given = {
        "units": "mm",
        "overall": {"wide": 400, "deep": 600, "high": 1000},
        "parts": {"base": {"box": "0 200 0 to 400 600 100", "of": "pine"}, **parts},
        "joints": [{"slides on": ["drawer", "base"]}],
    }
    workings = reckon_piece(work_small_plan(given)[0])
    return [own for own in workings if own.title == "Drawers out and doors open"]


def test_a_drawer_out_by_two_thirds_and_filled_tips_as_by_hand():
    # A block for a drawer, 300 deep: out by 200 its middle, at 350, comes to 150, 50 before the
    # feet. Pine at 448 kg/m3; what is in it is reckoned over its whole box, for it has no walls.
    (case,) = _opened(drawer={"box": "0 200 100 to 400 500 200", "of": "pine"})
    drawer, base = 0.4 * 0.3 * 0.1, 0.4 * 0.4 * 0.1
    holding, tipping = base * 448 * 200, drawer * (448 + FILL) * 50
    assert float(case.result.value) == pytest.approx(holding / tipping, rel=1e-6)
    given = {own.name: float(own.value) for own in case.inputs}
    assert given["drawn out"] == pytest.approx(200)
    assert given["weight in the drawers"] == pytest.approx(drawer * FILL * G, rel=1e-6)
    assert given["moment before them"] == pytest.approx(tipping * G / 1000, rel=1e-6)
    assert case.verdict is Verdict.HOLDS


def test_a_drawer_that_stays_behind_the_feet_tips_nothing():
    # 300 deep from 300 on: out by 200 its middle stands at 250, behind the feet at 200.
    (case,) = _opened(drawer={"box": "0 300 100 to 400 600 200", "of": "pine"})
    assert case.verdict is Verdict.HOLDS
    assert float(case.inputs[1].value) == 0


def test_a_piece_without_drawers_is_not_opened():
    given = {
        "units": "mm",
        "parts": {"a": "0 0 0 to 400 300 20", "b": "0 0 20 to 400 300 40"},
        "joints": [{"rests on": ["b", "a"]}],
    }
    titles = [own.title for own in reckon_piece(work_small_plan(given)[0])]
    assert "Drawers out and doors open" not in titles


@pytest.fixture(scope="module")
def survey():
    plan, _ = read_plan(CASE, "plans/case.plan.yml", JOINT_WORDS)
    return take_survey(cut_joints(place_parts(plan)[0])[0])


def test_the_room_in_a_drawer_lies_between_its_walls_and_over_its_bottom(survey):
    # By hand, in inches: the drawer is 18-3/8 wide from 13/16 on, its sides 1/2: 17-3/8 between
    # them. The front is 3/4, the back 1/2 of 15 deep. The bottom is 1/4 from 1/2 up, on a runner
    # at 1-1/2: the room goes from 2-1/4 to the top edge at 5-1/4.
    inside = inside_of(survey, survey.piece.groups[0].marks)
    low, high = (13 / 16 + 1 / 2, 3 / 4, 9 / 4), (20 - 13 / 16 - 1 / 2, 14.5, 21 / 4)
    assert inside.low == pytest.approx(tuple(own * IN for own in low))
    assert inside.high == pytest.approx(tuple(own * IN for own in high))
    assert isinstance(inside, Box)


def test_a_door_square_open_stands_half_its_width_before_its_hinges(survey):
    workings = {own.title: own for own in reckon_piece(survey.joinery)}
    case = workings["Drawers out and doors open"]
    # The door, 18-3/8 wide, has its centre 9-3/16 in before its face, which stands over the feet.
    door = float(workings["Mass of door"].result.value) * G * (20 - 13 / 8 - 1 / 16 + 1 / 8) / 2
    drawers = float(case.inputs[1].value) * 1000 / IN - door
    assert drawers > 0
    # Both drawers are out by 10 in; the middle of what lies in them was 7-5/8 in back.
    drawer = float(workings["Mass of drawer 1"].result.value) * G
    filled = float(case.inputs[3].value)
    words = workings["Mass of drawer 1"].words
    assert "6.799 in from the front" in words
    by_hand = 2 * drawer * (10 - 6.799) + filled * (10 - 7.625)
    assert drawers == pytest.approx(by_hand, rel=2e-3)
