"""What a finish asks for: how long a coat dries, what lies between coats, abrasives.

Takes the author's words for a finish, gives a row or grits. Must not know operations.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.reading.plan import Finish


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishKind:
    """One family of finishes."""

    kind: str
    """`oil`, `solvent`, `lacquer`, `shellac`, `water` or `other`."""
    words: tuple[str, ...]
    drying_hours: Fraction
    is_wiped: bool
    """Put on and wiped off with a rag; brushed otherwise."""


# Drying times from memory, of usual labels; a product's own label goes first, and the step says so.
# The first row with a word in the author's text decides.
_FINISHES: Final = (
    FinishKind(
        kind="water",
        words=("water-based", "waterborne", "water based", "acrylic"),
        drying_hours=Fraction(3),
        is_wiped=False,
    ),
    FinishKind(kind="shellac", words=("shellac",), drying_hours=Fraction(1), is_wiped=False),
    FinishKind(kind="lacquer", words=("lacquer",), drying_hours=Fraction(1), is_wiped=False),
    FinishKind(
        kind="oil",
        words=("linseed", "tung", "danish", "teak oil", "hardwax", "wiping oil"),
        drying_hours=Fraction(24),
        is_wiped=True,
    ),
    FinishKind(
        kind="solvent",
        words=("varnish", "polyurethane", "oil-based", "enamel"),
        drying_hours=Fraction(24),
        is_wiped=False,
    ),
    FinishKind(kind="oil", words=("oil",), drying_hours=Fraction(24), is_wiped=True),
)
_OTHER: Final = FinishKind(kind="other", words=(), drying_hours=Fraction(24), is_wiped=False)


def find_finish(text: str) -> FinishKind:
    """Find the family of a finish; a careful guess where its words are not known.

    >>> find_finish("water-based polyurethane").kind, find_finish("exterior varnish").kind
    ('water', 'solvent')
    """
    said = text.lower()
    return next((row for row in _FINISHES if any(word in said for word in row.words)), _OTHER)


# chosen: usual for bare wood.
_USUAL_GRITS: Final = (120, 180)
# chosen: between coats, where the author names no finer.
_BETWEEN_GRIT: Final = 320


def sanding_grits(finish: Finish | None) -> tuple[int, ...]:
    """Grits for the bare wood, coarse to fine: the author's, or the usual ones.

    >>> sanding_grits(None)
    (120, 180)
    """
    return finish.grits if finish and finish.grits else _USUAL_GRITS


def grit_between_coats(finish: Finish) -> int:
    """The grit that a dry coat is rubbed down with: never coarser than the last on bare wood."""
    return max(*finish.grits, _BETWEEN_GRIT) if finish.grits else _BETWEEN_GRIT
