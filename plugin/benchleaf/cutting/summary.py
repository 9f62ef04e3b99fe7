"""Figures of a cut plan for its pages: stock used, fence settings, and the cuts in order.

Takes a `CutPlan`, gives records of lengths, counts and labels. Must not word or format anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from benchleaf.cutting.boardtrees import board_tree
from benchleaf.cutting.records import (
    Blank,
    CutDirection,
    CutNode,
    CutPlan,
    LengthLayout,
    Rectangle,
    SheetLayout,
)
from benchleaf.cutting.trees import NamedCut, labels_in, name_cuts
from benchleaf.reading.plan import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStep:
    """One cut of a sheet, board or rod."""

    number: int
    """Order on its sheet, board or rod, from 1."""
    direction: CutDirection
    setting_mm: Fraction
    """Fence or stop from the blade: the extent of the piece that is measured."""
    is_from_far_side: bool
    """True where the piece beyond the cut is the one measured: the cut squares an edge or end."""
    piece: Rectangle
    """What is cut."""
    source: str
    """What that piece is called; empty for the whole sheet, board or rod."""
    first: str | None
    """What comes off at its near edge or left end; None for waste (see `NamedCut`)."""
    second: str | None
    """What lies beyond the cut."""
    frees: tuple[str, ...]
    """Labels of blanks that are free once it is made."""
    measured: tuple[str, ...]
    """Labels of all blanks in the piece that is measured, sorted."""

    @property
    def trimmed_mm(self) -> Fraction:
        """What a cut that squares an edge or end takes off, kerf counted in."""
        extent = _extent(self.piece, self.direction)
        return extent - self.setting_mm if self.is_from_far_side else Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCuts:
    """The cuts of one sheet, board or rod, in order."""

    stock: str
    number: int
    cuts: tuple[CutStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FenceSetting:
    """One setting, and what it serves."""

    direction: CutDirection
    setting_mm: Fraction
    count: int
    """Cuts made at it."""
    labels: tuple[str, ...]
    """Labels of blanks in the pieces measured, in order of the cuts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockUse:
    """How much of one stock is needed, and how it is cut."""

    stock: Stock
    pieces: tuple[tuple[Fraction, int], ...]
    """(length, how many), longest first."""
    count: int
    fewest: int
    """The fewest pieces that any layout could need."""
    used: Fraction
    """Share of the area (of boards and sheets) or length (of rods) that becomes blanks, 0 to 1."""
    settings: tuple[FenceSetting, ...]
    """In the order in which they first come up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSummary:
    """The figures of a cut plan."""

    uses: tuple[StockUse, ...]
    """In the plan's order of stock."""
    cuts: tuple[StockCuts, ...]
    """Sheets first, then boards and rods."""


def summarise_cuts(cut_plan: CutPlan) -> CutSummary:
    """Work out the figures of a cut plan."""
    stock = {one.name: one for one in cut_plan.stock}
    cuts = (
        *(_sheet_cuts(layout) for layout in cut_plan.sheets),
        *(_length_cuts(layout, stock[layout.stock]) for layout in cut_plan.lengths),
    )
    uses = tuple(_use(one, cut_plan, cuts) for one in cut_plan.stock)
    return CutSummary(uses=uses, cuts=cuts)


def _use(stock: Stock, cut_plan: CutPlan, cuts: Sequence[StockCuts]) -> StockUse:
    every: tuple[SheetLayout | LengthLayout, ...] = (*cut_plan.sheets, *cut_plan.lengths)
    layouts = [layout for layout in every if layout.stock == stock.name]
    lengths = sorted((layout.length_mm for layout in layouts), reverse=True)
    placed = {label for layout in layouts for label, *_ in layout.placed}
    taken = sum(_area(blank) for blank in cut_plan.blanks if blank.label in placed)
    steps = [step for one in cuts if one.stock == stock.name for step in one.cuts]
    return StockUse(
        stock=stock,
        pieces=tuple((length, len(list(own))) for length, own in groupby(lengths)),
        count=len(layouts),
        fewest=dict(cut_plan.lower_bounds).get(stock.name, 0),
        used=Fraction(taken) / (sum(lengths) * stock.width_mm) if lengths else Fraction(0),
        settings=_settings(steps),
    )


def _area(blank: Blank) -> Fraction:
    return blank.length_mm * blank.width_mm


def _settings(steps: Iterable[CutStep]) -> tuple[FenceSetting, ...]:
    held: dict[tuple[CutDirection, Fraction], list[CutStep]] = {}
    for step in steps:
        held.setdefault((step.direction, step.setting_mm), []).append(step)
    return tuple(
        FenceSetting(
            direction=direction,
            setting_mm=setting,
            count=len(own),
            labels=tuple(dict.fromkeys(label for step in own for label in step.measured)),
        )
        for (direction, setting), own in held.items()
    )


def _sheet_cuts(layout: SheetLayout) -> StockCuts:
    return StockCuts(stock=layout.stock, number=layout.number, cuts=_steps(layout.tree))


def _length_cuts(layout: LengthLayout, stock: Stock) -> StockCuts:
    tree = board_tree(layout, stock.width_mm)
    return StockCuts(stock=layout.stock, number=layout.number, cuts=_steps(tree))


def _steps(tree: CutNode) -> tuple[CutStep, ...]:
    return tuple(sorted(map(_step, name_cuts(tree)), key=lambda step: step.number))


def _step(named: NamedCut) -> CutStep:
    node = named.node
    direction = node.direction or CutDirection.ACROSS
    is_from_far_side = named.first is None and named.second is not None
    measured = node.second if is_from_far_side else node.first
    return CutStep(
        number=node.number,
        direction=direction,
        setting_mm=_extent(measured.area, direction) if measured else node.at_mm,
        is_from_far_side=is_from_far_side,
        piece=node.area,
        source=named.source,
        first=named.first,
        second=named.second,
        frees=tuple(child.blank for child in (node.first, node.second) if child and child.blank),
        measured=tuple(sorted(labels_in(measured))),
    )


def _extent(area: Rectangle, direction: CutDirection) -> Fraction:
    return area.wide if direction is CutDirection.ACROSS else area.high
