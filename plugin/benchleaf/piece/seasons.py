"""How much a copy swells and shrinks along each axis, between the driest and the dampest season.

Takes a piece, gives the room's two moistures and a copy's rate of change along an axis of the
piece. Must not know joints or checks.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.frames import Axis
from benchleaf.handbook.materials import find_material
from benchleaf.handbook.records import Published
from benchleaf.handbook.tables import load_rules
from benchleaf.handbook.wood import (
    LINEAR_FROM,
    LINEAR_TO,
    equilibrium_moisture,
    wide_change_of_size,
)
from benchleaf.piece.records import Piece
from benchleaf.reading.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Seasons:
    """The air of a room, and the wood's moisture in it, percent."""

    driest: float
    """Relative humidity."""
    dampest: float
    dry_moisture: float
    """Of the wood in the driest season."""
    damp_moisture: float
    source: str
    """Where the humidities come from."""
    built_moisture: float | None = None
    """Of the wood when the piece is built; None where the plan does not say."""

    @property
    def is_linear(self) -> bool:
        """Tell whether all moistures lie where the coefficients hold."""
        built = () if self.built_moisture is None else (self.built_moisture,)
        moistures = (self.dry_moisture, self.damp_moisture, *built)
        return bool(min(moistures) >= LINEAR_FROM and max(moistures) <= LINEAR_TO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """How a copy changes along one axis."""

    part: float
    """Growth from the driest to the dampest season, as a part of the size; 0 along the grain."""
    coefficient: float
    source: str
    way: str
    """`round the rings`, `across the rings`, or empty along the grain."""
    swells: float = 0.0
    """Growth from when it is built to the dampest season; all of it where that is not known."""
    shrinks: float = 0.0
    """Loss from when it is built to the driest season; all of it where that is not known."""


_STILL = Change(part=0.0, coefficient=0.0, source="", way="")


def find_seasons(plan: Plan) -> Seasons:
    """The seasons of a plan's room, or the usual ones."""
    rules = load_rules("movement")
    driest, dampest = float(rules["driest"].value), float(rules["dampest"].value)
    source = f"{rules['driest'].cited}; {rules['dampest'].cited}"
    if plan.room:
        driest, dampest, source = plan.room.driest, plan.room.dampest, "the plan"
    warmth = float(rules["warmth"].value)
    return Seasons(
        driest=driest,
        dampest=dampest,
        dry_moisture=equilibrium_moisture(warmth, driest),
        damp_moisture=equilibrium_moisture(warmth, dampest),
        source=source,
        built_moisture=plan.room.built_at if plan.room else None,
    )


def change_along(piece: Piece, mark: str, axis: Axis, seasons: Seasons) -> Change | None:
    """How a copy changes along an axis of the piece; None where its wood or its turn is not known.

    A board is taken as flat-sawn: its width moves round the rings, its thickness across them.
    """
    copy = piece.copies[mark]
    part = piece.parts[copy.part]
    if not copy.frame.is_square:
        return None
    material = find_material(part.stock.material)
    if material is None:
        return None
    own = next(a for a in Axis if copy.frame.axes[a][axis])
    if material.panel or own == part.grain_axis:
        return _STILL
    way = "radial" if own == part.thickness_axis else "tangential"
    assert material.wood is not None  # noqa: S101 - what is no panel is a wood
    coefficient = material.wood.change.get(way)
    if coefficient is None:
        return None
    return _change(coefficient, material.wood.shrinkage.get(way), way, seasons=seasons)


_WAYS = {"radial": "across the rings", "tangential": "round the rings"}


def _change(
    coefficient: Published, shrinkage: Published | None, way: str, *, seasons: Seasons
) -> Change:
    def grown(first: float, second: float) -> float:
        if seasons.is_linear or shrinkage is None:
            return float(coefficient.value) * (second - first)
        return float(wide_change_of_size(1.0, float(shrinkage.value), (first, second)))

    dry, damp, built = seasons.dry_moisture, seasons.damp_moisture, seasons.built_moisture
    whole = grown(dry, damp)
    return Change(
        part=whole,
        coefficient=float(coefficient.value),
        source=coefficient.cited,
        way=_WAYS[way],
        swells=whole if built is None else max(grown(built, damp), 0.0),
        shrinks=whole if built is None else max(-grown(built, dry), 0.0),
    )
