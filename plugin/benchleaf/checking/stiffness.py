"""How stiff and strong a part is in one direction, by its material and its grain.

Takes a part, the axis that it spans and whether it bends flat or on edge; gives modulus and
strength with their sources, or None where the material is in no table.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.frames import Axis
from benchleaf.handbook.materials import Material, find_material
from benchleaf.handbook.records import Panel, Published
from benchleaf.handbook.tables import load_lay_up, load_rules
from benchleaf.piece.records import Part
from benchleaf.reading.plan import Grain, StockKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """What a part sets against bending in one direction."""

    modulus_mpa: float
    modulus_source: str
    strength_mpa: float
    strength_source: str
    creep: float
    """Sag after years to sag at once."""
    creep_source: str


def stuff_of(part: Part, span: Axis, *, is_on_edge: bool) -> Stuff | None:
    """Stiffness and strength of a part that spans an axis."""
    material = find_material(part.stock.material)
    if material is None:
        return None
    ratio, why = _share(material, part, span, is_on_edge=is_on_edge)
    modulus, strength = _along(material)
    if modulus is None or strength is None:
        return None
    # Crossed plies creep more than boards.
    creep = load_rules("rules")["creep in panels" if material.panel else "creep in solid wood"]
    return Stuff(
        modulus_mpa=float(modulus.value) * ratio,
        modulus_source=modulus.cited + why,
        strength_mpa=float(strength.value) * ratio,
        strength_source=strength.cited + why,
        creep=float(creep.value),
        creep_source=creep.cited,
    )


def _along(material: Material) -> tuple[Published | None, Published | None]:
    if material.panel:
        return material.panel.modulus, material.panel.strength
    if material.wood:
        return material.wood.modulus, material.wood.strength
    return None, None


def _share(material: Material, part: Part, span: Axis, *, is_on_edge: bool) -> tuple[float, str]:
    """What is left of the figures along the grain, and why, to follow their source."""
    is_along = span == part.grain_axis
    # The maker may turn such a sheet either way, so it counts as spanning the weaker one.
    if part.stock.kind is StockKind.SHEET and part.stock.grain is Grain.NONE:
        is_along = False
    if material.panel:
        return _share_of_panel(material.panel, part, is_along=is_along, is_on_edge=is_on_edge)
    if is_along:
        return 1.0, ""
    across = load_rules("rules")["across the grain"]
    return float(across.value), f"; across the grain {across.cited}"


def _share_of_panel(
    panel: Panel, part: Part, *, is_along: bool, is_on_edge: bool
) -> tuple[float, str]:
    if panel.is_plied:
        return _share_of_plies(part.stock.thickness_mm, is_along=is_along, is_on_edge=is_on_edge)
    if is_along or panel.modulus_across is None:
        return 1.0, ""
    ratio = float(panel.modulus_across.value / panel.modulus.value)
    return ratio, f"; across, {panel.modulus_across.cited}"


def _share_of_plies(
    thickness_mm: Fraction, *, is_along: bool, is_on_edge: bool
) -> tuple[float, str]:
    """Plies of one thickness, each stiff along its grain only, glued into one section.

    >>> round(_share_of_plies(Fraction(18), is_along=False, is_on_edge=False)[0], 3)
    0.447
    """
    if is_along and not is_on_edge:
        return 1.0, ""
    across_ply, plies = load_lay_up()
    count = plies["thick"] if thickness_mm >= plies["thick_from_mm"] else plies["thin"]
    soft = float(across_ply.value)
    flat = _flat_share(count)
    edge = (count + 1) / 2 / count
    along = flat + soft * (1 - flat)
    turned = edge if is_on_edge else flat
    own = turned if is_along else 1 - turned
    ratio = (own + soft * (1 - own)) / along
    way = ("on edge" if is_on_edge else "flat") + (", along" if is_along else ", across the faces")
    return ratio, f"; {way}: x {ratio:.2f} for {count} equal plies (computed)"


def _flat_share(count: int) -> float:
    """Share of the section's second moment of area in plies that run like the faces.

    >>> round(_flat_share(3), 4)  # 1 - 1/27
    0.963
    """
    outside_in = range(count, 0, -2)  # where each pair of plies, or the last one, begins
    like_faces = list(outside_in)[::2]
    return sum(layer**3 - max(layer - 2, 0) ** 3 for layer in like_faces) / count**3
