"""Bolts in single shear against a published table and against statics."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.handbook.bolts import Member, bearing_mpa, bolt_lateral_n
from benchleaf.handbook.units import N_PER_LBF

INCH = 25.4


def _plank(angle: float = 0, thick: float = 1.5) -> Member:
    return Member(gravity=0.50, thickness_mm=thick * INCH, angle_deg=angle)


# NDS Table 12A, from memory: Douglas fir-larch (G 0.50), 1-1/2 in members, printed to 10 lbf.
@pytest.mark.parametrize(("diameter", "printed"), [(0.5, 480), (0.625, 600), (0.75, 720)])
def test_bolts_along_the_grain_carry_what_the_table_prints(diameter: float, printed: int) -> None:
    carried = bolt_lateral_n(_plank(), _plank(), diameter_mm=diameter * INCH)
    assert carried / float(N_PER_LBF) == pytest.approx(printed, abs=6)


def test_bearing_is_the_codes_in_its_own_units() -> None:
    # NDS, from memory: G 0.50 gives 5,600 psi along, and 3,150 across for 1/2 in.
    psi = 6.894757e-3
    assert bearing_mpa(_plank(), INCH / 2) / psi == pytest.approx(5600, rel=2e-3)
    assert bearing_mpa(_plank(90), INCH / 2) / psi == pytest.approx(3150, rel=4e-3)


@given(st.floats(4, 20), st.floats(0.3, 0.7), st.floats(12, 90), st.floats(0, 90))
def test_a_bolt_never_carries_more_than_the_wood_is_crushed_by(d, g, thick, angle) -> None:
    # Statics: what the bolt bears on is diameter by thickness.
    one = Member(gravity=g, thickness_mm=thick, angle_deg=angle)
    other = Member(gravity=g, thickness_mm=2 * thick, angle_deg=0)
    carried = bolt_lateral_n(other, one, diameter_mm=d)
    assert 0 < carried <= d * thick * bearing_mpa(one, d) / 4
