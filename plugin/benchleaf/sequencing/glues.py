"""What glue asks for: how long it stays open, how long it stays clamped, when it may be worked.

Takes the author's words for a glue, gives a row. Must not know operations.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue:
    """One family of glue."""

    kind: str
    """`PVA`, `polyurethane`, `epoxy` or `other`."""
    words: tuple[str, ...]
    open_minutes: int
    clamp_hours: Fraction
    work_hours: Fraction
    """From closing the clamps until the joint may be sawn, planed or loaded."""


# Figures from memory, of usual labels: PVA 10 min open, 1 h clamped, 24 h to full strength. A
# product's own label goes first, and the steps say so.
_GLUES: Final = (
    Glue(
        kind="epoxy",
        words=("epoxy",),
        open_minutes=30,
        clamp_hours=Fraction(12),
        work_hours=Fraction(24),
    ),
    Glue(
        kind="polyurethane",
        words=("polyurethane", "pu"),
        open_minutes=20,
        clamp_hours=Fraction(4),
        work_hours=Fraction(24),
    ),
    Glue(
        kind="PVA",
        words=("pva", "wood glue", "white glue", "yellow glue", "aliphatic"),
        open_minutes=10,
        clamp_hours=Fraction(1),
        work_hours=Fraction(24),
    ),
)
_OTHER: Final = Glue(
    kind="other",
    words=(),
    open_minutes=10,
    clamp_hours=Fraction(2),
    work_hours=Fraction(24),
)


def find_glue(text: str) -> Glue:
    """Find the family of a glue; a careful guess where its words are not known.

    >>> find_glue("waterproof PVA").kind, find_glue("hide").kind
    ('PVA', 'other')
    """
    said = f" {text.lower()} "
    return next(
        (glue for glue in _GLUES if any(f" {word} " in said for word in glue.words)), _OTHER
    )


# chosen: a minute to spread and close each joint, and two for the clamps.
_MINUTES_FOR_CLAMPS: Final = 2


def closing_minutes(joints: int) -> int:
    """How long it takes to spread glue in some joints and to close them."""
    return _MINUTES_FOR_CLAMPS + joints


def joints_in_time(glue: Glue) -> int:
    """How many joints one person spreads and closes while a glue stays open; one at least.

    >>> joints_in_time(find_glue("PVA"))
    8
    """
    return max(1, glue.open_minutes - _MINUTES_FOR_CLAMPS)


def clamp_minutes(kind: object) -> int:
    """How long clamps stay on, by the kind of glue.

    >>> clamp_minutes("PVA"), clamp_minutes("epoxy")
    (60, 720)
    """
    row = next((glue for glue in _GLUES if glue.kind == kind), _OTHER)
    return math.ceil(row.clamp_hours * 60)
