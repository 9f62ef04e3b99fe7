"""Formulae of the Wood Handbook against its own tables and worked examples.

WH10 is FPL-GTR-190 (2010), WH21 is FPL-GTR-282 (2021). Golden tables are named after theirs.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.handbook.wood import (
    change_of_size,
    density_kg_m3,
    equilibrium_moisture,
    gravity_from_basic,
    strength_at,
    wide_change_of_size,
)
from benchleaf.lengths import MM_PER_INCH

HERE = Path(__file__).parent
WHITE_FIR_TANGENTIAL = Fraction("0.00245")


def _rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_equilibrium_moisture_is_that_of_all_190_cells_of_table_4_2() -> None:
    # WH10 Table 4-2, p. 4-4 (read), against WH21 Eq. 4-5: within the table's rounding and 0.01.
    cells = 0
    for row in _rows("wh10_table_4_2.csv"):
        celsius = (float(row.pop("temp_f")) - 32) / 1.8
        for humidity, printed in row.items():
            assert equilibrium_moisture(celsius, float(humidity)) == pytest.approx(
                float(printed), abs=0.06
            )
            cells += 1
    assert cells == 190


@given(st.floats(0, 45), st.floats(1, 97), st.floats(0.1, 2))
def test_damper_air_makes_damper_wood(warmth: float, humidity: float, more: float) -> None:
    assert equilibrium_moisture(warmth, humidity) < equilibrium_moisture(warmth, humidity + more)


def test_white_fir_widens_as_in_the_worked_example() -> None:
    # WH10 p. 13-15 and 13-17: 232 mm (9.15 in) at 8 %, to 11 %: 1.705 mm, to 233.7 mm, 9.217 in.
    grown = change_of_size(Fraction(232), WHITE_FIR_TANGENTIAL, (8, 11))
    assert grown == Fraction("1.7052")
    assert round(float(232 + grown), 1) == 233.7
    inches = Fraction("9.15") + change_of_size(Fraction("9.15"), WHITE_FIR_TANGENTIAL, (8, 11))
    assert round(float(inches), 3) == 9.217


def test_both_forms_of_change_agree_where_both_hold() -> None:
    # Eq. 13-3 with white fir's tangential shrinkage of 7.0 %: 1.712 mm (computed).
    assert float(wide_change_of_size(232, Fraction(7), (8, 11))) == pytest.approx(1.712, abs=5e-4)


def test_no_wood_moves_above_fibre_saturation() -> None:
    assert wide_change_of_size(Fraction(100), Fraction(7), (30, 60)) == 0


def test_red_oak_flooring_moves_as_a_trade_paper_reckons() -> None:
    # hardwoodfloorsmag.com, 2016-12-06 (secondary): red oak, 5 in, 3 %, 0.00369: 0.055 in.
    width = 5 * MM_PER_INCH
    grown = change_of_size(width, Fraction("0.00369"), (6, 9)) / MM_PER_INCH
    assert float(grown) == pytest.approx(0.055, abs=5e-4)


def test_density_is_that_of_the_worked_example() -> None:
    # WH10 p. 4-10 to 4-12, quoted by public forestry functions: G 0.40 at 12 % is 27.968 lb/ft3.
    assert density_kg_m3(Fraction("0.40")) == 448
    assert float(density_kg_m3(Fraction("0.40"))) / 1000 * 62.43 == pytest.approx(27.968, abs=1e-3)


def test_gravity_of_imported_woods_is_raised_to_dry_volume() -> None:
    # Computed from WH21 Eq. 4-13 by hand: 0.45 / (1 - 0.265 x 0.45 x 0.6) = 0.48468.
    assert float(gravity_from_basic(Fraction("0.45"), Fraction(12))) == pytest.approx(0.48468, 1e-4)


def test_strength_of_dry_ash_is_that_of_the_worked_example() -> None:
    # WH21 p. 5-34: white ash, 8 %, 103,000 and 66,000 kPa, Mp 24: 119,500 kPa.
    found = strength_at(8, at_12=103_000, green=66_000, joined_at=24)
    assert found == pytest.approx(119_500, abs=50)


def test_strength_at_twelve_percent_is_the_tables() -> None:
    assert strength_at(12, at_12=85.5, green=53) == 85.5
