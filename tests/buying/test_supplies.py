"""How far glue, finish and abrasive go, and what is bought of them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.buying.hardware import spare_of
from benchleaf.buying.supplies import choose_packs
from benchleaf.handbook.supplies import LITRES_PER_FL_OZ, LITRES_PER_GALLON, load_supplies

SUPPLIES = load_supplies()
SQUARE_FOOT_M2 = 0.09290304  # NIST SP 811 (2008), appendix B.8


def sq_ft_to_gallon(m2_to_litre: Fraction) -> float:
    # NIST SP 811 (2008), appendix B.8: 1 gal (US) = 3.785 412 E-03 m3
    return float(m2_to_litre) * 3.785412 / SQUARE_FOOT_M2


def test_a_gallon_and_a_fluid_ounce_are_those_of_the_table() -> None:
    # NIST SP 811 (2008), appendix B.8: gallon 3.785 412 l, fluid ounce 29.573 53 ml.
    assert float(LITRES_PER_GALLON) == pytest.approx(3.785412, rel=1e-6)
    assert float(LITRES_PER_FL_OZ) == pytest.approx(0.02957353, rel=1e-6)


def test_pva_closes_what_its_labels_state() -> None:
    # From memory, of labels: 35 to 50 lb to 1000 sq ft of single glue line. By hand, at 9.1 lb to
    # the gallon: 9100 / 50 = 182 and 9100 / 35 = 260 sq ft to the gallon.
    pva = SUPPLIES.glue["PVA"]
    assert sq_ft_to_gallon(pva.low.value) == pytest.approx(182, rel=1e-4)
    assert sq_ft_to_gallon(pva.high.value) == pytest.approx(260, rel=1e-4)
    # From memory, a maker's "about 6 mil, 250 sq ft to the gallon" lies between.
    assert sq_ft_to_gallon(pva.low.value) < 250 < sq_ft_to_gallon(pva.high.value)


# Published ranges, sq ft to the gallon, one coat on wood. The data sheet of an oil polyurethane
# varnish (read): 300 to 400 for most work. British labels of polyurethane varnish (read): 10 to 12
# m2 to the litre, 407 to 489. A two-part clear (read): 400, up to half less on bare wood. Shellac
# and wiping oils: from memory.
RANGES = {
    "solvent": (300, 489),
    "water": (300, 489),
    "lacquer": (200, 400),
    "shellac": (300, 400),
    "oil": (300, 500),
}


@pytest.mark.parametrize("kind", RANGES)
def test_a_finish_covers_what_labels_state_and_the_list_takes_the_thirsty_end(kind: str) -> None:
    least, most = RANGES[kind]
    reach = SUPPLIES.finish[kind]
    assert sq_ft_to_gallon(reach.low.value) == pytest.approx(least, rel=1e-4)
    assert reach.low.value < reach.high.value
    assert sq_ft_to_gallon(reach.high.value) <= most * 1.0001


def test_no_finish_covers_more_than_its_own_volume_allows() -> None:
    # A gallon is 231 cubic inches: 1604 sq ft at one mil. A brushed coat is not below 3 mil wet
    # (the data sheet of an oil polyurethane varnish, read: 2.9 mil).
    for reach in SUPPLIES.finish.values():
        assert sq_ft_to_gallon(reach.high.value) < 1604.17 / 2.9


def test_every_rate_says_where_it_comes_from() -> None:
    reaches = (*SUPPLIES.glue.values(), *SUPPLIES.finish.values(), SUPPLIES.abrasive)
    known = {"read", "from memory", "practice", "chosen"}
    for reach in reaches:
        assert reach.low.source
        assert set(reach.low.status.split(", ")) <= known


SOLD = (Fraction(1, 4), Fraction(1, 2), Fraction(1), Fraction(5))


@given(st.fractions(min_value=Fraction(1, 1000), max_value=60, max_denominator=1000))
def test_packs_hold_what_is_needed_and_none_is_idle(litres: Fraction) -> None:
    packs = choose_packs(litres, SOLD)
    sizes = [Fraction(p.holds.value) for p in packs for _ in range(p.count) if p.holds]
    assert sum(sizes) >= litres
    assert sum(sizes) - min(sizes) < litres
    assert set(sizes) <= set(SOLD)


def test_what_is_bought_in_packs_by_hand() -> None:
    ounces = tuple(map(Fraction, (8, 16, 32, 128)))
    bought = {
        needed: [(pack.count, pack.holds.value) for pack in choose_packs(Fraction(needed), ounces)
                 if pack.holds]
        for needed in (5, 9, 20, 33, 47, 130)
    }  # fmt: skip
    # 9 of 16 and 20 of 32: one pack. 33 in a gallon would leave three quarters of it over.
    assert bought == {
        5: [(1, 8)],
        9: [(1, 16)],
        20: [(1, 32)],
        33: [(1, 32), (1, 8)],
        47: [(1, 32), (1, 16)],
        130: [(1, 128), (1, 8)],
    }


def test_small_things_have_a_spare_and_hinges_have_none() -> None:
    # Common practice, no source: one screw in ten is spare, one at least.
    assert [spare_of("wood screw", count) for count in (1, 10, 11, 40)] == [1, 1, 2, 4]
    assert spare_of("butt hinge", 3) == 0
    assert spare_of("carriage bolt", 4) == 0
