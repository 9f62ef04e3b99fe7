"""Arithmetic over lengths, as trees: what a plan writes where a length is wanted.

`parse_expression` (in `grammar`) makes these from text; `piece.solving` works them out. They hold
no text to be parsed again. Bounds on size and depth are the parser's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Place
from benchleaf.frames import Axis


@dataclass(frozen=True, slots=True)
class Literal:
    """A length written out, or a bare factor."""

    value: Fraction
    """Millimetres if `is_length`, else a plain number."""
    is_length: bool
    """False for a bare number; it is read in the plan's units where a length is wanted."""


@dataclass(frozen=True, slots=True)
class SizeName:
    """A named size of the plan."""

    name: str


@dataclass(frozen=True, slots=True)
class OverallSize:
    """`overall.wide`, `overall.deep` or `overall.high`."""

    axis: Axis


@dataclass(frozen=True, slots=True)
class StockThickness:
    """`ply.thickness`: the thickness of a line of stock."""

    stock: str


@dataclass(frozen=True, slots=True)
class PartSize:
    """`leg.wide`, `leg.right`, `leg.mirrored(left-right).left`, `slat.copy(3).top`.

    `what` is a face (left right front back bottom top), an extent (wide deep high) or a centre
    (`centre wide` and so on). `mirrored` lists the axes mirrored across; `copy` counts from 1
    along the part's row.
    """

    part: str
    what: str
    mirrored: tuple[Axis, ...] = ()
    copy: int = 1


@dataclass(frozen=True, slots=True)
class Negative:
    """Minus an expression."""

    of: Term


@dataclass(frozen=True, slots=True)
class Sum:
    """Two terms with `+` or `-`, `*` or `/` between them."""

    operator: str
    left: Term
    right: Term


Term = Literal | SizeName | OverallSize | StockThickness | PartSize | Negative | Sum


def iterate_terms(term: Term) -> Iterator[Term]:
    """Every term of a tree, left to right; depth is bounded by the parser."""
    if isinstance(term, Negative):
        yield from iterate_terms(term.of)
    elif isinstance(term, Sum):
        yield from iterate_terms(term.left)
        yield from iterate_terms(term.right)
    else:
        yield term


@dataclass(frozen=True, slots=True, kw_only=True)
class Expression:
    """A whole expression: its tree, its text as the author wrote it, and where."""

    term: Term
    text: str
    place: Place
    path: str
    """Path in the plan, such as `parts.leg.wide`."""
