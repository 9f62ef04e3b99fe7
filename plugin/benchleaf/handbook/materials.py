"""What stock is made of: its kind, its group and its density, from the author's words.

Takes words such as `birch plywood`, gives a row of the table shipped with the package, or None
where no row fits. Must not know plans.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, Final

from benchleaf.handbook.records import Panel, Published, Wood
from benchleaf.handbook.tables import load_panels, load_table, load_woods
from benchleaf.handbook.wood import density_kg_m3

SOLID_WOOD: Final = "solid wood"
"""Kind of all materials that are no panel."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A material that stock is made of: a wood or a panel."""

    words: tuple[str, ...]
    """Words that name it, all of which stand in the author's text."""
    group: str
    """`hardwood`, `softwood`, or `panel` where it is neither."""
    wood: Wood | None
    """The species, of solid wood."""
    panel: Panel | None
    """The kind of panel, of a panel."""

    @property
    def kind(self) -> str:
        """`solid wood`, `hardwood plywood`, `softwood plywood`, `mdf`, `particleboard`..."""
        return self.panel.name if self.panel else SOLID_WOOD

    @property
    def density(self) -> Published:
        """Density at 12 % moisture, kg/m3, with its source."""
        if self.panel:
            return self.panel.density
        gravity = self.gravity
        return Published(
            value=density_kg_m3(gravity.value),
            unit="kg/m3",
            source=f"{gravity.source}, by Eq. 4-14",
            status=f"{gravity.status}, computed",
        )

    @property
    def density_kg_m3(self) -> Fraction:
        """Density at 12 % moisture, kg/m3."""
        return self.density.value

    @property
    def gravity(self) -> Published:
        """Specific gravity at 12 % moisture; of a panel, what its density comes to."""
        if self.wood and self.wood.gravity:
            return self.wood.gravity
        density = self.density
        return Published(
            value=density.value / density_kg_m3(Fraction(1)),
            unit="",
            source=density.source,
            status=f"{density.status}, computed",
        )


@cache
def load_materials() -> tuple[Material, ...]:
    """Load the table, in its own order."""
    return tuple(_read_row(row) for row in load_table("materials.yml"))


def _read_row(row: dict[str, Any]) -> Material:
    wood = load_woods()[row["wood"]] if "wood" in row else None
    return Material(
        words=tuple(row["words"]),
        group=wood.group if wood else row["group"],
        wood=wood,
        panel=None if wood else load_panels()[row["panel"]],
    )


# chosen: more materials than any plan names; what strangers write is not kept for ever.
@lru_cache(maxsize=256)
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
