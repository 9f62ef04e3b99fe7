"""What follows from an operation's own facts, against published charts and lists."""

from __future__ import annotations

import pytest

from benchleaf.safety.deriving import (
    derived_facts,
    fastest_rpm,
    is_reclaimed,
    is_sensitiser,
    is_treated,
    widest_blade_mm,
)

INCH = 25.4
# Published charts of most turns a minute: to 1 in 24 000, to 2 in 18 000, to 2-1/2 in 16 000, to
# 3-1/2 in 12 000 (a trade site's safety page; a home-repair site prints the same steps).
MOST_ALLOWED = ((1.0, 24_000), (2.0, 18_000), (2.5, 16_000), (3.5, 12_000))


@pytest.mark.parametrize(("inches", "most"), MOST_ALLOWED)
def test_no_bit_is_sent_faster_than_the_charts_allow(inches: float, most: int) -> None:
    for share in (0.2, 0.6, 0.99, 1.0):
        assert fastest_rpm(inches * INCH * share) <= 24_000
    assert fastest_rpm(inches * INCH) <= most


def test_a_larger_bit_is_never_sent_faster() -> None:
    speeds = [fastest_rpm(mm) for mm in range(3, 120)]
    assert speeds == sorted(speeds, reverse=True)


# Least radius for each width of blade, inches: the manuals of two bandsaws and a guide for home
# workshops, all read. Where they differ all are listed.
CHART = {
    0.1875: (0.3125, 0.375),
    0.25: (0.625,),
    0.375: (1.25, 1.375, 1.5),
    0.5: (2.5,),
    0.75: (5.5,),
    1.0: (7.0, 7.625),
}


@pytest.mark.parametrize(("blade", "radii"), CHART.items())
def test_no_blade_is_sent_round_a_radius_that_a_chart_forbids(
    blade: float, radii: tuple[float, ...]
) -> None:
    tighter = (max(radii) - 0.13) * INCH
    assert widest_blade_mm(tighter) < blade * INCH
    assert widest_blade_mm((max(radii) + 0.01) * INCH) >= blade * INCH


@pytest.mark.parametrize(
    "words",
    ["pressure-treated pine", "Pressure treated fir", "treated 2x4", "CCA pine", "tanalised"],
)
def test_treated_wood_is_known_by_its_words(words: str) -> None:
    assert is_treated(words)


@pytest.mark.parametrize("words", ["pine", "untreated pine", "heat-treated ash", "heat treated"])
def test_other_wood_is_not_taken_for_treated(words: str) -> None:
    assert not is_treated(words)


def test_reclaimed_wood_is_known_by_its_words() -> None:
    assert is_reclaimed("Reclaimed oak")
    assert is_reclaimed("pallet wood")
    assert not is_reclaimed("oak")


# ACGIH, as OSHA's sampling page of 2012 lists it: western red cedar is a sensitiser. UK Parliament,
# written answer of 2 August 1978, names iroko, cocobolo, rosewood, mansonia, satinwood, yew.
@pytest.mark.parametrize(
    "words",
    ["western red cedar", "cedar", "iroko", "Cocobolo", "Indian rosewood", "yew"],
)
def test_woods_of_the_lists_are_named(words: str) -> None:
    assert is_sensitiser(words)


@pytest.mark.parametrize("words", ["pine", "birch plywood", "eastern red cedar", "poplar", ""])
def test_woods_that_no_list_marks_so_are_not(words: str) -> None:
    assert not is_sensitiser(words)


def test_an_operation_that_states_nothing_derives_nothing() -> None:
    assert derived_facts({}) == {}


def test_a_dado_head_takes_what_the_bit_would_have() -> None:
    facts = {"op.dado_head": True, "bit.diameter_mm": 22.0}
    assert derived_facts(facts)["cut.width_mm"] == 22.0
    assert "cut.width_mm" not in derived_facts({"bit.diameter_mm": 22.0})
