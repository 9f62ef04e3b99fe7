"""Densities of materials, against figures worked out elsewhere."""

from __future__ import annotations

from fractions import Fraction

import pytest

from benchleaf.handbook.materials import find_material, load_materials

# Wood Handbook Eq. 4-14 at 12 % moisture: G = 0.40 gives 27.968 lb/ft3 = 448 kg/m3 (worked example
# of public forestry functions that cite WH10 p. 4-10 to 4-12); red oak 0.63 gives 705.6 kg/m3.
KNOWN = {"pine": 448, "red oak": Fraction(7056, 10), "birch plywood": 680, "MDF": 750}


@pytest.mark.parametrize(("words", "density"), KNOWN.items())
def test_density_is_that_of_the_handbook(words: str, density: Fraction) -> None:
    material = find_material(words)
    assert material is not None
    assert material.density_kg_m3 == density


def test_the_row_with_the_most_words_wins() -> None:
    assert find_material("white oak") != find_material("oak")
    assert find_material("Baltic birch plywood, 9 ply").kind == "hardwood plywood"  # type: ignore[union-attr]
    assert find_material("exterior plywood").group == "panel"  # type: ignore[union-attr]


def test_unknown_words_are_no_material() -> None:
    assert find_material("bamboo") is None
    assert find_material("") is None


def test_every_density_is_that_of_wood() -> None:
    # Wood Handbook: balsa lies near 150, the heaviest woods below 1300 kg/m3.
    for row in load_materials():
        assert 250 < row.density_kg_m3 < 1000
        assert row.group in {"hardwood", "softwood", "panel"}
