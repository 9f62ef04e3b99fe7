"""Whatever stands in a plan, reckoning it ends, and what it says can be shown."""

from __future__ import annotations

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchleaf.checking import CHECKS
from benchleaf.checking.showing import show_quantity
from benchleaf.checking.survey import take_survey
from benchleaf.checking.weights import reckon_weights
from benchleaf.reading.plan import Units
from small_plans import work_small_plan

NAMES = ("seat", "shelf", "slat", "rail", "side", "leg", "tier")
KINDS = ("butt", "dowels", "housing", "rests on", "groove", "mortise and tenon")
WOODS = ("pine", "birch plywood", "red oak", "moon rock", "mdf")
CORNERS = st.integers(0, 12)


@st.composite
def boxes(draw: st.DrawFn) -> str:
    low = [draw(CORNERS) * 20 for _ in range(3)]
    size = [draw(st.integers(1, 12)) * 20 for _ in range(3)]
    high = [a + b for a, b in zip(low, size, strict=True)]
    return " to ".join(" ".join(map(str, corner)) for corner in (low, high))


@st.composite
def plans(draw: st.DrawFn) -> dict[str, object]:
    names = draw(st.lists(st.sampled_from(NAMES), min_size=2, max_size=5, unique=True))
    parts = {name: {"box": draw(boxes()), "of": draw(st.sampled_from(WOODS))} for name in names}
    pairs = [(a, b) for a in names for b in names if a != b]
    joints = [
        {draw(st.sampled_from(KINDS)): list(pair)}
        for pair in draw(st.lists(st.sampled_from(pairs), max_size=6, unique=True))
    ]
    # the piece stands on the floor, from 0 to the farthest corner
    return {"units": "mm", "parts": parts, "joints": joints}


@given(plans())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_piece_is_reckoned_or_refused(given_plan: dict[str, object]) -> None:
    try:
        joinery, _ = work_small_plan(given_plan)
    except AssertionError:
        return  # the reader or the placing has something to say: no piece to look at
    # also of pieces that do not go together, which no plan gets as far as this with
    survey = take_survey(joinery)
    reckoners = [reckon_weights, *(check.reckon for check in CHECKS.values() if check.reckon)]
    for working in (working for reckon in reckoners for working in reckon(survey)):
        for quantity in (working.result, *working.inputs):
            assert math.isfinite(float(quantity.value)), working.title
            for units in Units:
                assert show_quantity(quantity, units)
