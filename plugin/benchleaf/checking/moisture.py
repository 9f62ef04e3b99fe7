"""How much a copy swells and shrinks along each axis, between the driest and the dampest season.

Takes a piece, gives the room's two moistures and a copy's rate of change along an axis of the
piece.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.checking.records import Quantity
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

    @property
    def is_linear(self) -> bool:
        """Tell whether both moistures lie where the coefficients hold."""
        return self.dry_moisture >= LINEAR_FROM and self.damp_moisture <= LINEAR_TO


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """How a copy changes along one axis."""

    part: float
    """Growth from the driest to the dampest season, as a part of the size; 0 along the grain."""
    coefficient: float
    source: str
    way: str
    """`round the rings`, `across the rings`, or empty along the grain."""


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
    moistures = (seasons.dry_moisture, seasons.damp_moisture)
    part = float(coefficient.value) * (moistures[1] - moistures[0])
    if not seasons.is_linear and shrinkage:
        part = float(wide_change_of_size(1.0, float(shrinkage.value), moistures))
    return Change(
        part=part,
        coefficient=float(coefficient.value),
        source=coefficient.cited,
        way=_WAYS[way],
    )


def inputs_of_change(size: Quantity, change: Change, seasons: Seasons) -> tuple[Quantity, ...]:
    """What the change of one size is worked out from, as a working shows it."""
    return (size, coefficient_of(change), *inputs_of_seasons(seasons))


def coefficient_of(change: Change, of_what: str = "") -> Quantity:
    """The coefficient of a change, `of the first part` where there are two."""
    return Quantity(
        symbol="C",
        name=" ".join(filter(None, ("change", of_what, f"for 1 % of moisture, {change.way}"))),
        value=change.coefficient,
        unit="",
        source=change.source,
    )


def inputs_of_seasons(seasons: Seasons) -> tuple[Quantity, ...]:
    """The seasons as a working shows them."""
    figures = (
        ("", "humidity in the driest season", seasons.driest, seasons.source),
        ("", "humidity in the dampest season", seasons.dampest, ""),
        ("M₁", "moisture of the wood then", seasons.dry_moisture, _BY_AIR),
        ("M₂", "moisture of the wood in the dampest", seasons.damp_moisture, ""),
    )
    return tuple(
        Quantity(symbol=symbol, name=name, value=value, unit="%", source=source)
        for symbol, name, value, source in figures
    )


_BY_AIR = "Wood Handbook FPL-GTR-282 (2021), Eq. 4-5 (transcription)"
_FORMULA = "Δ = D C (M₂ \N{MINUS SIGN} M₁)"
_WIDE_FORMULA = "Δ = D (M₂ \N{MINUS SIGN} M₁) / (3000 / S \N{MINUS SIGN} 30 + M₁)"


def formula_of(seasons: Seasons) -> str:
    """Wood Handbook Eq. 13-2, or 13-3 where a moisture is beyond 6 to 14 %."""
    return _FORMULA if seasons.is_linear else _WIDE_FORMULA
