"""Beams against the handbook's table, others' frame solver, and a published table of shelves."""

from __future__ import annotations

import csv
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from Pynite import FEModel3D

from benchleaf.checking.beams import Beam, Bent, Support, bend
from benchleaf.handbook.tables import load_rules
from benchleaf.handbook.units import KPA_PER_PSF, MPA_PER_PSI

HERE = Path(__file__).parent
LONG, EI = 1000.0, 2.0e9
SIMPLE = (Support(at_mm=0), Support(at_mm=LONG))
CLAMPED = (Support(at_mm=0, is_fixed=True), Support(at_mm=LONG, is_fixed=True))
CANTILEVER = (Support(at_mm=0, is_fixed=True),)
WHOLE = ((0.0, LONG, 0.5),)  # 500 N in all
SUPPORTS = {
    "both simply supported": SIMPLE,
    "both clamped": CLAMPED,
    "cantilever": CANTILEVER,
}
LOADS = {
    "uniform": {"spread": WHOLE},
    "concentrated midspan": {"points": ((LONG / 2, 500.0),)},
    "concentrated outer quarter points": {"points": ((LONG / 4, 250.0), (3 * LONG / 4, 250.0))},
    "concentrated free end": {"points": ((LONG, 500.0),)},
}


def _rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _beam(ends: str, loading: str) -> Beam:
    return Beam(length_mm=LONG, stiffness_n_mm2=EI, supports=SUPPORTS[ends], **LOADS[loading])


@pytest.mark.parametrize("row", _rows("wh21_table_9_1.csv"), ids=lambda r: " ".join(r.values()))
def test_sag_is_that_of_table_9_1(row: dict[str, str]) -> None:
    # Wood Handbook FPL-GTR-282 (2021), Table 9-1, p. 9-3 (transcription): kb of W L3 / (E I).
    beam = _beam(row["ends"], row["loading"])
    expected = float(Fraction(row["kb"])) * 500 * LONG**3 / EI
    if row["deflection_at"] == "load point":
        # A transcription has this row as clamped; by statics, P a2 (3 L - 4 a) / (6 E I) with P =
        # W/2 and a = L/4, 1/96 is that of simple supports. The middle sags more: 11/768.
        assert abs(_model(beam).nodes["n1"].DY["Combo 1"]) == pytest.approx(expected, rel=1e-6)
        expected = 11 / 768 * 500 * LONG**3 / EI
    assert bend(beam).sag_mm == pytest.approx(expected, rel=1e-4)


def _model(beam: Beam) -> FEModel3D:
    """A beam, solved by a general-purpose frame solver; its nodes are numbered along it."""
    model = FEModel3D()
    model.add_material("m", 1.0, 1.0, 0.3, 1.0)
    # Bending alone: the modulus is 1 and the second moment is E I.
    model.add_section("s", 1e6, EI, EI, EI)
    places = sorted(
        {0.0, beam.length_mm, *(s.at_mm for s in beam.supports)}
        | {at for at, _ in beam.points}
        | {end for start, stop, _ in beam.spread for end in (start, stop)}
    )
    names = {place: f"n{index}" for index, place in enumerate(places)}
    for place, name in names.items():
        model.add_node(name, place, 0, 0)
        model.def_support(name, False, False, True, True, True, False)
    for support in beam.supports:
        model.def_support(names[support.at_mm], True, True, True, True, True, support.is_fixed)
    for start, stop in pairwise(places):
        name = f"m{start}"
        model.add_member(name, names[start], names[stop], "m", "s")
        load = sum(w for low, high, w in beam.spread if low <= start and stop <= high)
        model.add_member_dist_load(name, "FY", -load, -load)
    for at_mm, load in beam.points:
        model.add_node_load(names[at_mm], "FY", -load)
    model.analyze(check_statics=False)
    return model


def _solved_by_others(beam: Beam) -> tuple[list[float], float]:
    """Reactions, and the largest sag."""
    model = _model(beam)
    at = {node.X: node for node in model.nodes.values()}
    reactions = [at[s.at_mm].RxnFY["Combo 1"] for s in beam.supports]
    sags = [
        abs(value)
        for member in model.members.values()
        for value in (member.max_deflection("dy"), member.min_deflection("dy"))
    ]
    return reactions, max(sags)


CASES = {
    **{
        f"{row['loading']}, {row['ends']}": _beam(row["ends"], row["loading"])
        for row in _rows("wh21_table_9_1.csv")
    },
    "two spans": Beam(
        length_mm=LONG,
        stiffness_n_mm2=EI,
        supports=(*SIMPLE, Support(at_mm=500)),
        spread=WHOLE,
    ),
    "three spans, one of them long": Beam(
        length_mm=LONG,
        stiffness_n_mm2=EI,
        supports=tuple(Support(at_mm=at) for at in (0.0, 250.0, 500.0, 1000.0)),
        spread=WHOLE,
    ),
    "standing out at both ends": Beam(
        length_mm=LONG,
        stiffness_n_mm2=EI,
        supports=(Support(at_mm=200), Support(at_mm=700)),
        spread=((100.0, 900.0, 0.4),),
        points=((1000.0, 60.0),),
    ),
}


@pytest.mark.parametrize("beam", CASES.values(), ids=CASES)
def test_a_frame_solver_of_others_agrees(beam: Beam) -> None:
    bent = bend(beam)
    reactions, sag = _solved_by_others(beam)
    assert list(bent.reactions_n) == pytest.approx(reactions, rel=1e-6, abs=1e-6)
    # It looks at fewer places along a member than the largest sag may lie between.
    assert bent.sag_mm == pytest.approx(sag, rel=2e-3)


def test_two_and_three_equal_spans_sag_as_beam_tables_say() -> None:
    # Beam tables: 0.0054 w L4 / (E I) for two equal spans (1/185), 0.0069 for three.
    for spans, constant in ((2, 1 / 185), (3, 0.0069)):
        at = [LONG * index / spans for index in range(spans + 1)]
        beam = Beam(
            length_mm=LONG,
            stiffness_n_mm2=EI,
            supports=tuple(Support(at_mm=place) for place in at),
            spread=WHOLE,
        )
        expected = constant * 0.5 * (LONG / spans) ** 4 / EI
        assert bend(beam).sag_mm == pytest.approx(expected, rel=4e-3)


def test_moments_are_those_of_textbooks() -> None:
    # Statics: W L / 8 spread and W L / 4 in the middle of a simple span; W L / 12 where clamped.
    assert bend(_beam("both simply supported", "uniform")).moment_n_mm == pytest.approx(
        500 * LONG / 8
    )
    assert bend(
        _beam("both simply supported", "concentrated midspan")
    ).moment_n_mm == pytest.approx(500 * LONG / 4)
    assert bend(_beam("both clamped", "uniform")).moment_n_mm == pytest.approx(500 * LONG / 12)


@given(
    st.floats(0.05, 0.95),
    st.floats(0, 0.4),
    st.floats(0.6, 1),
    st.floats(0.01, 5),
)
def test_supports_bear_what_lies_on_the_beam(
    at: float, left: float, right: float, load: float
) -> None:
    # Statics: forces and moments balance.
    beam = Beam(
        length_mm=LONG,
        stiffness_n_mm2=EI,
        supports=(Support(at_mm=left * LONG), Support(at_mm=right * LONG)),
        spread=((0.0, LONG, load),),
        points=((at * LONG, 100.0),),
    )
    first, second = bend(beam).reactions_n
    # Places nearer than 0.1 mm count as one, which shifts a moment by so much of the length.
    assert first + second == pytest.approx(load * LONG + 100, rel=1e-4)
    about_zero = first * left * LONG + second * right * LONG
    assert about_zero == pytest.approx(load * LONG**2 / 2 + 100 * at * LONG, rel=1e-3)


def _longest(bent_at_one: Bent, limit: float) -> float:
    """Span at which a shelf sags just its limit: sag goes with L4, limit with L."""
    return (limit / bent_at_one.sag_mm) ** (1 / 3)


@pytest.mark.parametrize("row", _rows("aws09_shelf_lengths.csv"), ids=lambda r: r["material"])
def test_shelves_are_as_long_as_the_trade_standard_lets_them(row: dict[str, str]) -> None:
    # Architectural Woodwork Standards (2009), 4.4.14.10, p. 279 (read): longest shelf in whole
    # inches, for 40 and 50 lb on a square foot, L/144. A strip of 12 in, in N and mm.
    thickness = float(row["thickness_in"]) * 25.4
    stiffness = float(row["moe_psi"]) * float(MPA_PER_PSI) * 304.8 * thickness**3 / 12
    for psf, column in ((40, "max_len_in_at_40psf"), (50, "max_len_in_at_50psf")):
        load = psf * float(KPA_PER_PSF) / 1000 * 304.8
        one = Beam(
            length_mm=1.0,
            stiffness_n_mm2=stiffness,
            supports=(Support(at_mm=0), Support(at_mm=1)),
            spread=((0.0, 1.0, load),),
        )
        longest = _longest(bend(one), float(load_rules("rules")["sag"].value)) / 25.4
        assert abs(longest - float(row[column])) < 1
