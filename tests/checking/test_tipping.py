"""Tipping: textbook statics, and the scope of the rule on clothing storage units."""

from __future__ import annotations

import math

import pytest

from benchleaf.checking import reckon_piece, tipping
from benchleaf.checking.records import Verdict
from benchleaf.checking.survey import take_survey
from benchleaf.checking.tipping import find_footing, in_scope_of_storage_units
from small_plans import work_small_plan

IN, LB, FT3 = 25.4, 0.45359237, 0.028316846592


@pytest.mark.parametrize(
    ("high_in", "mass_lb", "storage_ft3", "is_in"),
    # 16 CFR 1261: from 27 in, 30 lb and 3.2 ft3 on.
    [
        (27, 30, 3.2, True),
        (26.99, 30, 3.2, False),
        (27, 29.99, 3.2, False),
        (27, 30, 3.199, False),
        (40, 90, 9, True),
    ],
)
def test_scope_begins_at_its_three_limits(high_in, mass_lb, storage_ft3, is_in) -> None:
    found = in_scope_of_storage_units(high_in * IN, mass_lb * LB, storage_ft3 * FT3)
    assert found is is_in


def _case(**more):
    given = {
        "units": "mm",
        "overall": {"wide": 418, "deep": 200, "high": 1500},
        "parts": {
            "side": {"box": "0 0 0 to 18 200 1500", "mirror": ["left-right"], "of": "pine"},
            "shelf": {"box": "18 0 700 to 400 200 718", "of": "pine", "thickness": "high"},
        },
        "joints": [{"housing": ["shelf", "side"], "depth": 6}],
    }
    return work_small_plan({**given, **more})[0]


def test_a_pushed_case_is_reckoned_as_by_hand() -> None:
    joinery = _case()
    # Pine at 448 kg/m3: two sides of 5.4e6 mm3 less two housings of 6 x 18 x 200, a shelf of 394 x
    # 200 x 18; 9.80665 m/s2; 10 lbf is 44.482 N at 56 in, 1,422.4 mm.
    volume = 2 * (18 * 200 * 1500 - 6 * 18 * 200) + 394 * 200 * 18
    factor = volume * 448e-9 * 9.80665 * 100 / (44.482216 * 1422.4)
    (pushed,) = (w for w in reckon_piece(joinery) if w.title.startswith("Pushed"))
    assert float(pushed.result.value) == pytest.approx(factor, rel=1e-4)
    assert pushed.verdict is Verdict.OVER


def test_a_chest_with_drawers_is_judged_by_its_size_and_not_by_its_slenderness() -> None:
    # 28 in high, 20 deep: 1.4 times; half of 28 x 40 x 20 in is 6.5 ft3.
    parts = {
        "side": {"box": "0 0 0 to 1 20 28", "mirror": ["left-right"], "of": "white pine"},
        "top": {"box": "1 0 27 to 39 20 28", "of": "white pine", "thickness": "high"},
        "tray": {"box": "1 0 2 to 39 20 3", "of": "white pine", "thickness": "high"},
    }
    given = {
        "units": "in",
        "overall": {"wide": 40, "deep": 20, "high": 28},
        "joints": [{"housing": ["top", "side"]}, {"housing": ["tray", "side"]}],
    }
    open_chest = _case(**given, parts=parts)
    closed = {**parts, "drawer": parts["tray"]}
    del closed["tray"]
    given["joints"] = [{"housing": ["top", "side"]}, {"housing": ["drawer", "side"]}]
    chest = _case(**given, parts=closed)
    for joinery, judged in ((open_chest, False), (chest, True)):
        survey = take_survey(joinery)
        footing = find_footing(survey)
        assert footing is not None
        assert footing.weight.mass_kg / LB > 30
        assert tipping._is_judged(survey, footing) is judged


def test_a_case_leans_by_the_angle_from_its_feet_to_its_centre() -> None:
    survey = take_survey(_case())
    footing = find_footing(survey)
    assert footing is not None
    height = footing.weight.centre_mm[2]
    (lean,) = (w for w in reckon_piece(_case()) if w.title.startswith("How far"))
    assert float(lean.result.value) == pytest.approx(math.degrees(math.atan(100 / height)))
    # The centre lies in the middle of its width and depth, its feet at the outside.
    assert footing.ways[0] == pytest.approx(("front", 100, 0)) or footing.ways[0][1] == (
        pytest.approx(100)
    )
