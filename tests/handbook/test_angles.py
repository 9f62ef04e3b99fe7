"""Compound cuts against a saw's printed chart and against turning vectors."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.handbook.angles import canted_cut

# A saw operator's manual, model 315.21212, p. 24, compound-angle setting chart (read).
CHART = Path(__file__).parent / "saw_manual_315_21212_p24.csv"
# The manual prints 23.56 there; its neighbours and the formula give 23.58.
MISPRINT = ("25", "7")


def _cells() -> list[tuple[str, str, float, float]]:
    with CHART.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return [
        (row["slope"], sides, *map(float, cell.split("/")))
        for row in rows
        for sides, cell in row.items()
        if sides != "slope"
    ]


def test_settings_are_those_of_the_chart() -> None:
    cells = _cells()
    assert len(cells) == 77
    for slope, sides, gauge, tilt in cells:
        cut = canted_cut(int(sides), float(slope))
        close = 0.03 if (slope, sides) == MISPRINT else 0.006
        assert cut.gauge_deg == pytest.approx(gauge, abs=close)
        assert cut.tilt_deg == pytest.approx(tilt, abs=0.006)


def test_four_sides_at_thirty_are_as_a_magazine_works_them() -> None:
    # Popular Woodworking 119 (2000), p. 46: 49.1074 degrees, from the blade's line.
    assert 90 - canted_cut(4, 30).gauge_deg == pytest.approx(49.1074, abs=1e-3)


def _outward(turn: float, slope: float) -> np.ndarray:
    """Normal of a side that leans out by its slope, turned about the upright axis."""
    return np.array(
        [math.sin(slope) * math.cos(turn), math.sin(slope) * math.sin(turn), -math.cos(slope)]
    )


@given(st.integers(3, 12), st.floats(1, 89))
def test_angle_between_sides_is_that_of_their_normals(sides: int, slope_deg: float) -> None:
    slope = math.radians(slope_deg)
    one, other = _outward(0, slope), _outward(2 * math.pi / sides, slope)
    between = 180 - math.degrees(math.acos(np.clip(one @ other, -1, 1)))
    cut = canted_cut(sides, slope_deg)
    assert cut.dihedral_deg == pytest.approx(between, abs=1e-6)
    # Two ends tilted alike meet in a mitre: each takes half of what is left to a flat angle.
    assert 2 * cut.tilt_deg == pytest.approx(180 - between, abs=1e-6)
