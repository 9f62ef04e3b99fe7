"""What a part carries: what the plan says, or what is usual for what the part is called.

Takes a piece and a part, gives a `Carried` with its source, or None for a part that carries
nothing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from benchleaf.handbook.tables import load_loads, load_rules
from benchleaf.handbook.units import GRAVITY_M_S2
from benchleaf.piece.records import Part, Piece
from benchleaf.reading.loads import NO_LOAD
from benchleaf.reading.plan import Plan

_SEAT: Final = re.compile(r"\b(seat|bench)\b")
_SHELF: Final = re.compile(r"\b(shelf|shelves|slat|tier)\b")
# chosen: what names a part of a seat or shelf that is not the seat or shelf itself.
_NOT_ITSELF: Final = re.compile(r"\b(rail|cleat|lip|lipping|edge|pin|support|bearer|bracket)\b")
_BOOKS: Final = re.compile(r"\bbook", re.IGNORECASE)
_PLANTS: Final = re.compile(r"\b(plant|pot)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A load on one copy of a part."""

    words: str
    """What it is, to follow `under`: `books`, `one person`, `the load of the plan`."""
    spread_kpa: float
    """Spread over the whole of it; 0 for a person."""
    person_n: float
    """All at one place; 0 for what is spread."""
    most_n: float
    """Most that is reckoned on one part, however large."""
    lasts: bool
    """True where it stands for months."""
    source: str

    def total_n(self, area_mm2: float) -> float:
        """The whole load on an area, N."""
        return self.person_n or min(self.spread_kpa * area_mm2 / 1000, self.most_n)


_WORDS: Final = {"people": "one person", "general": "a general load"}


def load_of(piece: Piece, part: Part) -> Carried | None:
    """The load on each copy of a part; None where it carries nothing."""
    written = piece.plan.parts[part.name].load if part.name in piece.plan.parts else None
    if written and written.mass_kg == 0:
        return None
    if written and written.mass_kg is not None:
        size = part.box.size
        area = float(size[0] * size[1] * size[2] / size[part.thickness_axis])
        weight = float(written.mass_kg * GRAVITY_M_S2)
        return Carried(
            words="the load that the plan gives it",
            spread_kpa=weight / area * 1000,
            person_n=0,
            most_n=weight,
            lasts=True,
            source="the plan",
        )
    word = written.word if written else _proposed(piece.plan, part.name)
    return _usual(word, is_proposed=written is None) if word and word != NO_LOAD else None


def _proposed(plan: Plan, name: str) -> str:
    """The word for a part that is plainly a seat or a shelf; empty for any other."""
    if _NOT_ITSELF.search(name):
        return ""
    if _SEAT.search(name):
        return "people"
    if not _SHELF.search(name):
        return ""
    about = f"{plan.title} {plan.summary}"
    if _BOOKS.search(about):
        return "books"
    return "plants" if _PLANTS.search(about) else "general"


def _usual(word: str, *, is_proposed: bool) -> Carried:
    load = load_loads()[word]
    most = load_rules("rules")["most on a shelf"]
    why = "proposed by the part's name; " if is_proposed else ""
    return Carried(
        words=_WORDS.get(word, word),
        spread_kpa=float(load.spread.value) if load.spread else 0.0,
        person_n=float(load.person.value) if load.person else 0.0,
        most_n=float(most.value * GRAVITY_M_S2),
        lasts=load.lasts,
        source=f"{why}{load.published.cited}",
    )
