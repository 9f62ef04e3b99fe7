"""What the finished piece itself brings: size, mass, how it stands, what it is for.

Takes the joinery, gives facts by name. What a piece is for is read from the author's own words,
which is the careful way: a word too many brings a call-out too many.
"""

from __future__ import annotations

import re
from typing import Final

from benchleaf.checking.standing import how_it_stands
from benchleaf.frames import Axis
from benchleaf.handbook.materials import find_material
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece
from benchleaf.reading.plan import Plan, Stands
from benchleaf.safety.deriving import is_treated
from benchleaf.safety.lifting import carcass_lift, lifting_index
from benchleaf.sequencing.finishes import find_finish
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.workroom import mass_of_mm3

_MM3_PER_LITRE: Final = 1_000_000
_SAID: Final = {
    "piece.stores_clothes": r"clothes|clothing|dresser|wardrobe|chest of drawers",
    "piece.for_children": (
        r"child|children|child's|children's|toddlers?|nursery|babies|baby|toys?|kids?"
    ),
    "piece.for_food": (
        r"food|feed|feeder|bread|fruit|vegetables?|(?:cutting|chopping|serving) boards?|"
        r"counter ?tops?|worktops?|beehives?|hives?"
    ),
    "piece.bunk": r"bunks?|bunk beds?|(?:loft|cabin|high) beds?",
    "piece.crib": r"cribs?|cots?|cradles?|bassinets?",
}
_WORDS: Final = {
    name: re.compile(rf"\b(?:{words})\b", re.IGNORECASE) for name, words in _SAID.items()
}
_GLASS: Final = re.compile(r"\b(?:glass|mirror)\b", re.IGNORECASE)


def piece_facts(joinery: Joinery) -> dict[str, Fact]:
    """What the finished piece itself states."""
    piece = joinery.piece
    size = piece.overall.size
    deep = float(min(size[Axis.WIDE], size[Axis.DEEP]))
    facts: dict[str, Fact] = {
        "piece.high_mm": float(size[Axis.HIGH]),
        "piece.deep_mm": deep,
        "piece.litres": float(size[0] * size[1] * size[2]) / _MM3_PER_LITRE,
        **_stands(piece.plan),
        **_holds(joinery),
        **_says(piece.plan),
    }
    mass = _mass_kg(joinery)
    if mass is not None:
        facts["piece.mass_kg"] = mass
        facts["piece.lift_index"] = lifting_index(mass, carcass_lift(deep))
    return facts


def is_wall_hung(plan: Plan) -> bool:
    """Tell from the author's words whether the piece hangs on a wall."""
    return how_it_stands(plan) is Stands.HUNG


def _stands(plan: Plan) -> dict[str, Fact]:
    stands = how_it_stands(plan)
    return {
        "piece.wall_hung": stands is Stands.HUNG,
        "piece.anchored": stands is Stands.ANCHORED,
    }


def _holds(joinery: Joinery) -> dict[str, Fact]:
    """What the piece is made of and has, from its parts, stock, joints and finish."""
    piece = joinery.piece
    materials = [part.stock.material for part in piece.parts.values()]
    finish = piece.plan.finish
    return {
        "piece.has_drawers": any("drawer" in name for name in piece.parts),
        "piece.has_lid": _has_lid(joinery),
        "piece.has_glass": any(_GLASS.search(material) for material in materials),
        "piece.treated": any(map(is_treated, materials)),
        "piece.loaded": _is_loaded(piece),
        "piece.oiled": finish is not None and find_finish(finish.material).kind == "oil",
    }


def _has_lid(joinery: Joinery) -> bool:
    """Tell whether a part that is called a lid hangs on hinges."""
    marks = (
        mark
        for fit in joinery.fits
        if fit.kind == "hinges"
        for mark in (fit.contact.first, fit.contact.second)
    )
    return any("lid" in joinery.piece.part_of(mark).name.split() for mark in marks)


def _is_loaded(piece: Piece) -> bool:
    return any(part.load is not None for part in piece.plan.parts.values())


def _says(plan: Plan) -> dict[str, Fact]:
    texts = (plan.title, plan.summary, *plan.notes)
    return {name: any(words.search(text) for text in texts) for name, words in _WORDS.items()}


def _mass_kg(joinery: Joinery) -> float | None:
    total = 0.0
    for mark, copy in joinery.copies.items():
        material = find_material(joinery.piece.part_of(mark).stock.material)
        if material is None:
            return None
        total += mass_of_mm3(copy.blank.volume_mm3, material)
    return total
