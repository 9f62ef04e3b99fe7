"""Blanks and stock in, layouts and a tree of cuts out. Made by `lay_out_stock`.

Nothing here knows parts or joints: a blank carries the marks it is for, and the planner only sizes.
Sheet axes: x along the sheet's long side, y along its short side, origin at a corner, mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.reading.plan import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """One rough piece of stock to be cut out, before shaping."""

    label: str
    """Unique: the copy's mark, with the layer where there are layers: `A1`, `A1.2`."""
    part: str
    copy: str
    """Mark of the copy it is for; for hardware from rods, the joint's words."""
    layer: int
    """1 and up; 1 for a plain part."""
    length_mm: Fraction
    """Rough, along the grain where grain is fixed, else the longer side."""
    width_mm: Fraction
    """Rough, across. For rods the diameter."""
    final_length_mm: Fraction
    final_width_mm: Fraction
    stock: str
    """Name of its stock."""
    may_turn: bool
    """True where grain does not matter."""
    is_hardware: bool = False
    """True for a length cut from rod for a joint: it belongs to no part."""
    is_strip: bool = False
    """True for one of the boards that are glued edge to edge; `layer` is its place among them."""


class Run(StrEnum):
    """How the figure of the wood runs from one blank to the next."""

    SIDE = "side by side"
    """Across the grain: the blanks have one length, and lie edge to edge."""
    END = "end to end"
    """Along the grain: the blanks have one width, and lie end to end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond:
    """Blanks that are cut together."""

    path: str
    """Path in the plan: `grain matched[0]`."""
    labels: tuple[str, ...]
    """Of the blanks; for a run in its order."""
    run: Run | None
    """How a run lies, a kerf between neighbours; None where one piece of stock is all they ask."""


class CutDirection(StrEnum):
    """Which way a cut runs on the sheet."""

    ALONG = "along"
    """Parallel to the sheet's long side (x)."""
    ACROSS = "across"
    """Parallel to the short side (y)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A rectangle on a sheet, mm."""

    x: Fraction
    y: Fraction
    wide: Fraction
    """Along x."""
    high: Fraction
    """Along y."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutNode:
    """A piece of sheet and what becomes of it: cut in two, kept as a blank, or left over.

    A cut at `at_mm` from the piece's low edge takes a kerf from `at_mm` to `at_mm + kerf`; the
    first child lies before it, the second after it. A child that is thinner than nothing (the cut
    only trims) is None. Where less than a kerf is trimmed off the low edge, part of the blade runs
    outside and `at_mm` is below zero, but by less than a kerf.
    """

    area: Rectangle
    blank: str
    """Label of the blank that this is; empty otherwise."""
    is_turned: bool
    """True where the blank's length lies along y."""
    direction: CutDirection | None
    """Direction of the cut; None for a blank or an offcut."""
    at_mm: Fraction
    """Distance of the cut from the piece's low edge (x for ACROSS, y for ALONG); or 0."""
    number: int
    """Order of the cut on this sheet, from 1; 0 without a cut."""
    first: CutNode | None
    second: CutNode | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLayout:
    """One sheet (or offcut) and how it is cut."""

    stock: str
    number: int
    """1 and up within the stock."""
    length_mm: Fraction
    """Along x."""
    width_mm: Fraction
    kerf_mm: Fraction
    trim_mm: Fraction
    tree: CutNode
    placed: tuple[tuple[str, Rectangle, bool], ...]
    """(label, where, is_turned), sorted by label."""
    offcuts: tuple[Rectangle, ...]
    """What is left, largest first, up to the sheet's own edge where that was not trimmed; without
    what reaches less than a kerf beyond what is to be trimmed off the edges."""
    is_offcut: bool = False
    """True for a piece from the rack."""
    store: tuple[int, ...] = ()
    """Numbers of the cuts that are made before the sheet is hauled, ascending."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthLayout:
    """One board or rod and the lengths cut from it, from one end."""

    stock: str
    number: int
    length_mm: Fraction
    kerf_mm: Fraction
    trim_mm: Fraction
    placed: tuple[tuple[str, Fraction, Fraction], ...]
    """(label, start, length), in order along the stock; strips ripped side by side from one
    length of a board share their start."""
    offcut_mm: Fraction
    """What is left beyond the last cut, up to the trim at the far end."""
    strips: tuple[tuple[str, Fraction, Fraction], ...] = ()
    """For boards: (label, distance of the strip's near edge from the board's edge, width), in the
    order of `placed`. Empty for rods."""
    is_offcut: bool = False
    """True for a piece from the rack."""
    defects_mm: tuple[tuple[Fraction, Fraction], ...] = ()
    """Stretches that nothing is cut from, (from, to), in order."""


class Measure(StrEnum):
    """What is made least of a stock."""

    PIECES = "pieces"
    """Sheets, boards or rods, all of one size."""
    SIZE = "size"
    """Area of sheets bought, mm2, or length of boards and rods, mm."""
    PRICE = "price"
    """What is bought costs, in the author's money."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """How much of a stock is bought, and how little any layout could need."""

    stock: str
    measure: Measure
    used: Fraction
    least: Fraction

    @property
    def is_proved(self) -> bool:
        """Tell whether no layout could need less."""
        return self.used <= self.least

    @property
    def gap(self) -> Fraction:
        """What might be saved at most, as a share of what is used."""
        return Fraction(0) if self.is_proved else (self.used - self.least) / self.used


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """All stock needed and how each piece of it is cut."""

    blanks: tuple[Blank, ...]
    sheets: tuple[SheetLayout, ...]
    lengths: tuple[LengthLayout, ...]
    stock: tuple[Stock, ...]
    """Lines of stock used, in the plan's order."""
    lower_bounds: tuple[tuple[str, int], ...]
    """For each line of stock, the fewest pieces that any layout could need."""
    findings: tuple[Finding, ...]
    """C3xx: a blank larger than its stock, and the like."""
    proofs: tuple[Proof, ...] = ()
    """For each line of stock that is laid out, in order: what is bought, and the least that any
    layout could need."""
    haul_mm: tuple[Fraction, Fraction] | None = None
    """Both sides of the largest piece of a sheet that can be hauled; None for any."""
    haul_kg: Fraction | None = None
    """Mass of the heaviest piece of a sheet that one person lifts; None for any."""
    bonds: tuple[Bond, ...] = ()
    """Blanks that are cut together; those that no stock can yield so are found instead."""
