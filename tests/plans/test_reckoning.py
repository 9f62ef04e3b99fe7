"""What is reckoned of the demo plans, against arithmetic on paper."""

from __future__ import annotations

from pathlib import Path

import pytest

NAMES = [
    path.name.removesuffix(".plan.yml")
    for path in sorted((Path(__file__).parents[2] / "plans").glob("*.plan.yml"))
]


def _result(plan, title: str) -> float:
    (found,) = (working for working in plan.workings if working.title == title)
    return float(found.result.value)


@pytest.mark.parametrize("name", NAMES)
def test_no_demo_plan_passes_a_limit(worked, name: str) -> None:
    plan = worked(name)
    assert [str(finding) for finding in plan.findings if finding.code.startswith("K22")] == []
    assert plan.workings


def test_the_bookcases_shelves_sag_as_on_paper(worked) -> None:
    # 50 lb on a square foot is 2.394 kPa; on 473 x 274 mm 310.3 N. E 1.8 million psi, 12,411 MPa; I
    # 274 x 18^3 / 12 = 133,164 mm4: 5 x 310.3 x 473^3 / (384 x 12,411 x 133,164) = 0.2587 mm.
    assert _result(worked("wall-bookcase"), "Sag of small shelf under books") == pytest.approx(
        0.2587, abs=5e-4
    )


def test_the_bookcase_weighs_what_its_notes_say(worked) -> None:
    # The notes of the plan: some 31 kg.
    assert _result(worked("wall-bookcase"), "Mass of the piece") == pytest.approx(31, abs=0.5)


def test_the_benchs_seat_weighs_what_its_plywood_does(worked) -> None:
    # 44 x 15 in of two layers of 23/32: 948.75 in3; at 680 kg/m3, 24.567 lb to 1,000 in3, that is
    # 23.31 lb, less ten pilot holes.
    seat = _result(worked("hall-bench"), "Mass of seat") / 0.45359237
    assert 23.2 < seat < 23.31


def test_the_bench_stands_in_the_middle_of_its_width_and_depth(worked) -> None:
    # It is mirrored across both planes, so it balances over their crossing: 22 and 7-1/2 in.
    (whole,) = (w for w in worked("hall-bench").workings if w.title == "Mass of the piece")
    assert "balances 22 in from the left, 7.5 in from the front" in whole.words
