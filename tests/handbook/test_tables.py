"""The handbook's rows: each with its source, and those that follow from others worked out anew."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

import pytest

from benchleaf.handbook.materials import load_materials
from benchleaf.handbook.records import Published
from benchleaf.handbook.tables import (
    load_lateral,
    load_lay_up,
    load_loads,
    load_panels,
    load_rules,
    load_sizes,
    load_table,
    load_withdrawal,
    load_woods,
)
from benchleaf.handbook.units import KG_PER_LB, KPA_PER_PSF, M3_PER_FT3, MPA_PER_PSI, N_PER_LBF
from benchleaf.handbook.wood import coefficient_of_change
from benchleaf.lengths import parse_length

WOODS = load_woods()
MARKS = {
    "read",
    "transcription",
    "secondary",
    "from memory",
    "computed",
    "practice",
    "chosen",
}

# Wood Handbook Table 13-5: these rows stand for groups of species, print another's figures, or fit
# other shrinkages than Table 4-3's; each says so in its notes.
GROUPS = {"oak northern red", "oak white", "hickory shagbark", "birch sweet"}
OLDER_SHRINKAGE = {"mahogany true", "mahogany african", "teak"}
SATURATED_AT_22 = {"cedar western red", "redwood old", "redwood young"}


def _figures() -> Iterator[Published]:
    for wood in WOODS.values():
        yield from wood.shrinkage.values()
        yield from wood.change.values()
        single = (wood.gravity, wood.strength, wood.modulus, wood.hardness)
        yield from (figure for figure in single if figure)
    for panel in load_panels().values():
        yield from (panel.density, panel.modulus, panel.strength)
    yield from (load.published for load in load_loads().values())
    for section in ("rules", "tipping", "movement", "fastener rules"):
        yield from load_rules(section).values()
    yield load_lay_up()[0]
    yield from (material.density for material in load_materials())
    yield from (material.gravity for material in load_materials())


def test_every_figure_has_a_source_and_a_known_status() -> None:
    figures = list(_figures())
    assert len(figures) > 500
    for figure in figures:
        assert figure.source
        assert set(figure.status.split(", ")) <= MARKS
        assert figure.value > 0


def test_formulae_have_a_source_and_a_known_status() -> None:
    for row in (*load_withdrawal().values(), *load_lateral().values()):
        assert re.match(r"Wood Handbook FPL-GTR-282 \(2021\), Eq\. 8-\d+a?", row.source)
        assert set(row.status.split(", ")) <= MARKS


def test_statuses_are_those_of_the_sources_as_they_were_read() -> None:
    # White oak's coefficients were read on the page, softwoods' are from memory and computed.
    assert WOODS["oak white"].change["tangential"].status == "read"
    assert WOODS["pine ponderosa"].change["tangential"].status == "from memory, computed"
    assert WOODS["maple sugar"].shrinkage["radial"].status == "transcription"
    # Sweetgum's strength was read in metric only, and the metric figure is used.
    assert WOODS["sweetgum"].strength == Published(
        value=Fraction(86),
        unit="MPa",
        source="Wood Handbook FPL-GTR-190 (2010), Table 5-3a",
        status="transcription",
    )


# Cells of Tables 5-3a (2010) and 5-3b (2021) that are not one another's rounding.
MISPRINTS = {"hemlock western", "spruce engelmann", "spruce white"}


@pytest.mark.parametrize("name", [name for name, wood in WOODS.items() if wood.metric])
def test_metric_table_is_the_inch_pound_one_rounded(name: str) -> None:
    # Wood Handbook Table 5-3, note a: metric figures are converted from the inch-pound ones. Kept
    # apart here by hand: 1 psi = 6.894757 kPa.
    row = load_table("species.yml")["woods"][name]["strength"]
    printed = WOODS[name].metric
    if WOODS[name].strength.unit and row["status"] != "from memory":
        assert row["mor_psi"] * 6.894757 / 1000 == pytest.approx(
            float(printed["mor_kpa"]) / 1000, abs=0.5
        )
    if name not in MISPRINTS:
        assert row["moe_mpsi"] * 6894.757 == pytest.approx(float(printed["moe_mpa"]), abs=50)


def test_misprints_between_the_editions_are_still_there() -> None:
    for name in MISPRINTS:
        row = load_table("species.yml")["woods"][name]["strength"]
        assert abs(row["moe_mpsi"] * 6894.757 - float(WOODS[name].metric["moe_mpa"])) > 50


@pytest.mark.parametrize("name", [name for name, wood in WOODS.items() if wood.change])
@pytest.mark.parametrize("way", ["radial", "tangential"])
def test_coefficients_follow_from_shrinkage(name: str, way: str) -> None:
    # Wood Handbook Table 13-5 from Table 4-3, on the size at 10 %, fibre saturation at 30 %.
    if name in GROUPS | OLDER_SHRINKAGE:
        assert WOODS[name].notes
        return
    saturation = Fraction(22 if name in SATURATED_AT_22 else 30)
    found = coefficient_of_change(WOODS[name].shrinkage[way].value, saturation)
    assert float(found) == pytest.approx(float(WOODS[name].change[way].value), abs=1.5e-5)


@pytest.mark.parametrize(
    ("name", "shrinkage"),
    # Older shrinkages of mahogany and teak, from memory: they give the printed coefficients.
    [("mahogany true", ("3.7", "5.1")), ("teak", ("2.2", "4.0"))],
)
def test_older_shrinkages_give_the_printed_coefficients(
    name: str, shrinkage: tuple[str, str]
) -> None:
    for way, percent in zip(("radial", "tangential"), shrinkage, strict=True):
        found = coefficient_of_change(Fraction(percent), Fraction(22))
        assert float(found) == pytest.approx(float(WOODS[name].change[way].value), abs=1.5e-5)


def test_wood_moves_more_round_the_rings_than_across_them() -> None:
    # Wood Handbook, chapter 4: tangential shrinkage is the larger, in every species.
    for wood in WOODS.values():
        if wood.change:
            assert wood.change["tangential"].value > wood.change["radial"].value


def test_structural_plywood_is_its_category_give_or_take_a_thirty_second() -> None:
    # PS 1: plus or minus 1/32 in up to 13/16, 5 % of the nominal above; print rounds to 0.001.
    categories = load_sizes()["structural plywood"]["categories"]
    assert len(categories) == 15
    for name, (least, most, label) in categories.items():
        nominal = parse_length(str(name), "in") / Fraction("25.4")
        give = Fraction(1, 32) if nominal <= Fraction(13, 16) else nominal / 20
        assert least == pytest.approx(float(nominal - give), abs=5.1e-4)
        assert most == pytest.approx(float(nominal + give), abs=5.1e-4)
        assert least <= label <= most


def test_dressed_softwood_is_thinner_than_nominal_and_green_thicker_than_dry() -> None:
    # PS 20: dry lumber is dressed below the nominal size, green lumber larger by what it will lose.
    table = load_sizes()["softwood lumber"]
    for kind in ("boards", "dimension", "width"):
        for row in table[kind]:
            nominal, dry, green = (parse_length(str(size), "in") for size in row)
            assert dry < green < nominal


def test_units_are_exact() -> None:
    # NIST SP 811, appendix B.8: 1 psi = 6.894 757 E+00 kPa, 1 lbf = 4.448 222 N, 1 lbf/ft2 =
    # 4.788 026 E+01 Pa, 1 ft3 = 2.831 685 E-02 m3.
    assert Fraction("0.45359237") == KG_PER_LB
    assert float(MPA_PER_PSI) * 1000 == pytest.approx(6.894757, abs=5e-7)
    assert float(N_PER_LBF) == pytest.approx(4.448222, abs=5e-7)
    assert float(KPA_PER_PSF) * 1000 == pytest.approx(47.88026, abs=5e-6)
    assert float(M3_PER_FT3) == pytest.approx(0.02831685, abs=5e-9)
