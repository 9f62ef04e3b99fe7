"""What stock is made of: its kind, its group and its density, from the author's words.

Takes words such as `birch plywood`, gives a row of the table shipped with the package, or None
where no row fits. Must not know plans.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files

import yaml

# Wood Handbook FPL-GTR-282 (2021), Eq. 4-14: density = 1000 kg/m3 x specific gravity x (1 + x/100),
# at x = 12 % moisture content.
KG_M3_PER_SG12 = 1000 * (1 + Fraction(12, 100))


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A material that stock is made of."""

    words: tuple[str, ...]
    """Words that name it, all of which stand in the author's text."""
    kind: str
    """`solid wood`, `hardwood plywood`, `softwood plywood`, `mdf` or `particleboard`."""
    group: str
    """`hardwood`, `softwood`, or `panel` where it is neither."""
    density_kg_m3: Fraction


@cache
def load_materials() -> tuple[Material, ...]:
    """Load the table, in its own order."""
    text = files("benchleaf.handbook").joinpath("materials.yml").read_text(encoding="utf-8")
    return tuple(_read_row(row) for row in yaml.safe_load(text))


def _read_row(row: dict[str, object]) -> Material:
    words = row["words"]
    assert isinstance(words, list)  # noqa: S101 - our own file; the test of the table reads it
    if "sg12" in row:
        density = Fraction(str(row["sg12"])) * KG_M3_PER_SG12
    else:
        density = Fraction(str(row["density_kg_m3"]))
    return Material(
        words=tuple(words),
        kind=str(row.get("kind", "solid wood")),
        group=str(row["group"]),
        density_kg_m3=density,
    )


def find_material(text: str) -> Material | None:
    """Find the row that fits an author's words best.

    >>> find_material("exterior birch plywood").density_kg_m3
    Fraction(680, 1)
    >>> find_material("moon rock") is None
    True
    """
    said = set(re.findall(r"[a-z]+", text.lower()))
    fitting = [row for row in load_materials() if said.issuperset(row.words)]
    return max(fitting, key=lambda row: len(row.words), default=None)
