"""The revised NIOSH lifting equation, against published examples and the manual's own limits."""

from __future__ import annotations

import math

import pytest

from benchleaf.safety.lifting import (
    SHEET_LIFT,
    Coupling,
    Lift,
    carcass_lift,
    lifting_index,
    recommended_limit_kg,
)

# The manual states pounds and inches. Its two sets of constants are no exact conversions of each
# other (51 lb is 23.13 kg, 10 in is 25.4 cm), and its worksheets multiply multipliers rounded to
# two places, so that figures agree within 5 %.
POUND_KG = 0.45359237
INCH_CM = 2.54


def lift_in_inches(across: float, height: float, travel: float, **rest: object) -> Lift:
    return Lift(
        across_cm=across * INCH_CM,
        height_cm=height * INCH_CM,
        travel_cm=travel * INCH_CM,
        **rest,  # type: ignore[arg-type]
    )


# NIOSH 94-110 (rev 9/2021). Example 4, figure 14, p. 46: both limits and the origin's multipliers
# (51 x 1.0 x .94 x .87 x 1.0 x .88 x .95) read in a transcription; heights and reach follow from
# them. Example 1, figure 6, p. 35, from memory.
PUBLISHED = {
    "package inspection, origin": (
        lift_in_inches(10, 22, 37, per_minute=3, coupling=Coupling.FAIR),
        34.9,
    ),
    "package inspection, destination": (
        lift_in_inches(20, 59, 37, per_minute=3, coupling=Coupling.FAIR),
        15.2,
    ),
    "punch press stock, origin": (lift_in_inches(23, 15, 48, coupling=Coupling.FAIR), 16.3),
    "punch press stock, destination": (lift_in_inches(23, 63, 48, coupling=Coupling.FAIR), 14.5),
}


@pytest.mark.parametrize(("lift", "pounds"), PUBLISHED.values(), ids=PUBLISHED)
def test_limit_agrees_with_the_published_examples(lift: Lift, pounds: float) -> None:
    assert recommended_limit_kg(lift) == pytest.approx(pounds * POUND_KG, rel=0.05)


# Worked by hand from the printed formula: 23 x HM x VM x DM x AM x FM x CM.
BY_HAND = [
    (36.4, SHEET_LIFT, 3.45),  # 18 mm birch plywood sheet: 23 x .625 x .895 x .910 x 1 x 1 x .90
    (18.2, SHEET_LIFT, 1.73),
    (9.1, Lift(across_cm=35, height_cm=90, travel_cm=20), 0.64),
    (42.5, SHEET_LIFT, 4.03),  # 19 mm MDF sheet
    (30.0, carcass_lift(450), 2.75),
]


@pytest.mark.parametrize(("mass_kg", "lift", "index"), BY_HAND)
def test_index_agrees_with_the_formula_worked_by_hand(
    mass_kg: float, lift: Lift, index: float
) -> None:
    assert lifting_index(mass_kg, lift) == pytest.approx(index, abs=0.01)


def test_the_best_lift_of_all_is_the_load_constant() -> None:
    # NIOSH 94-110, section 1.3: all multipliers are 1 at H 25, V 75, D 25 cm, no twist.
    best = Lift(across_cm=25, height_cm=75, travel_cm=25, coupling=Coupling.GOOD)
    assert recommended_limit_kg(best) == 23


@pytest.mark.parametrize(
    "lift",
    [
        Lift(across_cm=63.1, height_cm=75, travel_cm=25),
        Lift(across_cm=25, height_cm=175.1, travel_cm=25),
        Lift(across_cm=25, height_cm=75, travel_cm=175.1),
        Lift(across_cm=25, height_cm=75, travel_cm=25, twist_deg=135.1),
        Lift(across_cm=25, height_cm=75, travel_cm=25, per_minute=16),
        Lift(across_cm=25, height_cm=70, travel_cm=25, per_minute=13),
    ],
)
def test_beyond_its_limits_nothing_may_be_lifted(lift: Lift) -> None:
    assert recommended_limit_kg(lift) == 0
    assert math.isinf(lifting_index(1, lift))


def test_a_load_is_never_easier_further_off_lower_or_twisted() -> None:
    base = recommended_limit_kg(Lift(across_cm=30, height_cm=75, travel_cm=30))
    for harder in (
        Lift(across_cm=40, height_cm=75, travel_cm=30),
        Lift(across_cm=30, height_cm=40, travel_cm=30),
        Lift(across_cm=30, height_cm=75, travel_cm=60),
        Lift(across_cm=30, height_cm=75, travel_cm=30, twist_deg=30),
        Lift(across_cm=30, height_cm=75, travel_cm=30, per_minute=2),
    ):
        assert recommended_limit_kg(harder) < base


def test_a_deep_carcass_counts_as_held_at_arms_length() -> None:
    assert carcass_lift(2000) == carcass_lift(900)
