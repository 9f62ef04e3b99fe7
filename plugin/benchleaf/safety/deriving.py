"""What follows from an operation's own facts: lifting, speed of a bit, blade for a curve, wood.

Takes the facts that an operation states, gives more of them. Must not know rules or plans.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Final

from benchleaf.handbook.data_files import read_data_file
from benchleaf.handbook.materials import find_material
from benchleaf.safety.lifting import SHEET_LIFT, carcass_lift, lifting_index
from benchleaf.sequencing.records import Fact

_MM_PER_INCH: Final = 25.4
# Largest diameter (mm) and turns a minute. Three published charts allow 24 000 to 1 in, 18 000 to
# 2 in, 12 000 to 16 000 beyond; one that advises speeds names 16 000 at 1 in, 10 000 at 2 in and
# 8 000 from 3 in. The more careful stands, but for bits to 1 in: 22 000, the top of usual routers.
_FASTEST: Final = ((25.4, 22_000), (50.8, 16_000), (63.5, 10_000))
_FASTEST_BEYOND: Final = 8_000
# Width of a bandsaw's blade and the least radius that it turns, inches: manuals of two machines and
# a guide; where they differ, the larger radius.
_BLADES: Final = (
    (1.0, 7.625),
    (0.75, 5.5),
    (0.5, 2.5),
    (0.375, 1.5),
    (0.25, 0.625),
    (0.1875, 0.375),
)
# 1/8 in blades turn 3/16 in (a guide); tighter lines are sawn in slices.
_NARROWEST: Final = 0.125

_TREATED: Final = re.compile(
    r"\b(?:pressure[- ]treated|preservative|tanali[sz]ed|cca|acq|creosoted?)\b"
    r"|(?<!heat[- ])\btreated\b",
    re.IGNORECASE,
)
_RECLAIMED: Final = re.compile(r"\b(?:reclaimed|salvaged|recycled|pallets?)\b", re.IGNORECASE)


def derived_facts(facts: Mapping[str, Fact]) -> dict[str, Fact]:
    """The facts that follow from those that an operation states."""
    derived = lifting_facts(facts)
    said = facts.get("material.all", facts.get("material.name"))
    if isinstance(said, str):
        derived |= _material_facts(said.split("; "))
    if "bit.diameter_mm" in facts:
        derived["bit.fastest_rpm"] = fastest_rpm(as_number(facts["bit.diameter_mm"]))
    # A dado head is made up to what the router's bit would have been.
    if facts.get("op.dado_head") and "bit.diameter_mm" in facts and "cut.width_mm" not in facts:
        derived["cut.width_mm"] = facts["bit.diameter_mm"]
    # Blanks are brought to thickness at one setting, whether of a fence or of a planer's table.
    if facts.get("op.tool") == "planer" and "cut.fence_gap_mm" in facts:
        derived["stock.final_mm"] = facts["cut.fence_gap_mm"]
    if "cut.radius_mm" in facts:
        derived["blade.widest_mm"] = widest_blade_mm(as_number(facts["cut.radius_mm"]))
    return derived


def _material_facts(names: list[str]) -> dict[str, Fact]:
    """What the words for all materials under a tool tell of them."""
    harmful = next(filter(is_sensitiser, names), "")
    facts: dict[str, Fact] = {
        "material.treated": any(map(is_treated, names)),
        "material.reclaimed": any(map(is_reclaimed, names)),
        "material.sensitiser": bool(harmful),
    }
    return facts | ({"material.harmful": harmful} if harmful else {})


def lifting_facts(facts: Mapping[str, Fact]) -> dict[str, Fact]:
    """The lifting index of the heaviest thing that an operation moves; empty if not known."""
    loads = []
    part, assembly = facts.get("part.mass_kg"), facts.get("assembly.mass_kg")
    if part is not None:
        loads.append((lifting_index(as_number(part), SHEET_LIFT), part))
    if assembly is not None:
        deep = as_number(facts.get("assembly.deep_mm", 0))
        loads.append((lifting_index(as_number(assembly), carcass_lift(deep)), assembly))
    if not loads:
        return {}
    index, mass = max(loads, key=lambda load: load[0])
    return {"lift.index": index, "lift.mass_kg": mass}


def as_number(fact: Fact) -> float:
    """A fact as a number; 0 for a word."""
    return 0.0 if isinstance(fact, str) else float(fact)


def fastest_rpm(diameter_mm: float) -> int:
    """The fastest that a router bit may turn, by its diameter.

    >>> fastest_rpm(19), fastest_rpm(38), fastest_rpm(90)
    (22000, 16000, 8000)
    """
    return next((rpm for most, rpm in _FASTEST if diameter_mm <= most), _FASTEST_BEYOND)


def widest_blade_mm(radius_mm: float) -> float:
    """The widest bandsaw blade that turns a radius, mm.

    >>> widest_blade_mm(100), widest_blade_mm(20)
    (12.7, 6.35)
    """
    radius = radius_mm / _MM_PER_INCH
    return _MM_PER_INCH * next((wide for wide, least in _BLADES if radius >= least), _NARROWEST)


def is_treated(material: str) -> bool:
    """Tell from an author's words whether wood is treated with preservative.

    >>> is_treated("pressure-treated pine"), is_treated("heat-treated ash"), is_treated("untreated")
    (True, False, False)
    """
    return _TREATED.search(material) is not None


def is_reclaimed(material: str) -> bool:
    """Tell from an author's words whether wood has been used before.

    >>> is_reclaimed("reclaimed oak"), is_reclaimed("oak")
    (True, False)
    """
    return _RECLAIMED.search(material) is not None


@cache
def _sensitisers() -> tuple[tuple[frozenset[str], str], ...]:
    rows = read_data_file("benchleaf.safety", "woods.yaml")
    return tuple((frozenset(row["words"]), row.get("species", "")) for row in rows)


def is_sensitiser(material: str) -> bool:
    """Tell whether lists of harmful woods name what an author calls a material.

    >>> is_sensitiser("western red cedar"), is_sensitiser("cedar"), is_sensitiser("spanish cedar")
    (True, True, False)
    """
    said = set(re.findall(r"[a-z]+", material.lower()))
    found = find_material(material)
    species = found.wood.name if found and found.wood else None
    return any(said >= words or species == own for words, own in _sensitisers())
