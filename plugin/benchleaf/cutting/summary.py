"""Figures of a cut plan for its pages: stock used, fence settings, and the cuts in order.

Takes a `CutPlan`, gives records of lengths, counts and labels. Must not word or format anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from benchleaf.cutting.records import (
    Blank,
    CutDirection,
    CutNode,
    CutPlan,
    LengthLayout,
    Rectangle,
    SheetLayout,
)
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
    frees: tuple[str, ...]
    """Labels of blanks that are free once it is made."""
    measured: tuple[str, ...]
    """Labels of all blanks in the piece that is measured, sorted."""


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
    nodes = sorted(_cut_nodes(layout.tree), key=lambda node: node.number)
    steps = tuple(_step(node) for node in nodes)
    return StockCuts(stock=layout.stock, number=layout.number, cuts=steps)


def _nodes(tree: CutNode) -> Iterator[CutNode]:
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        yield node
        waiting += [child for child in (node.second, node.first) if child is not None]


def _cut_nodes(tree: CutNode) -> Iterator[CutNode]:
    return (node for node in _nodes(tree) if node.direction is not None)


def _step(node: CutNode) -> CutStep:
    first, second = _labels(node.first), _labels(node.second)
    direction = node.direction or CutDirection.ACROSS
    is_from_far_side = bool(second) and not first
    measured = node.second if is_from_far_side else node.first
    return CutStep(
        number=node.number,
        direction=direction,
        setting_mm=_extent(measured, direction) if measured else node.at_mm,
        is_from_far_side=is_from_far_side,
        piece=node.area,
        frees=tuple(child.blank for child in (node.first, node.second) if child and child.blank),
        measured=second if is_from_far_side else first,
    )


def _labels(node: CutNode | None) -> tuple[str, ...]:
    return tuple(sorted(one.blank for one in _nodes(node) if one.blank)) if node else ()


def _extent(node: CutNode, direction: CutDirection) -> Fraction:
    return node.area.wide if direction is CutDirection.ACROSS else node.area.high


def _length_cuts(layout: LengthLayout, stock: Stock) -> StockCuts:
    """Cuts of a board: lengths first, then strips, then strips to their own lengths."""
    rows = _rows(layout, stock)
    made = [
        *_square_end(layout, stock),
        *(one for row in rows for one in row.crosscut()),
        *(one for row in rows for one in row.rips()),
        *(one for row in rows for one in row.trims()),
    ]
    # A blank is free once the last cut that touches it is made.
    last = {label: index for index, (_, touched) in enumerate(made) for label in touched}
    steps = tuple(
        replace(
            step,
            number=index + 1,
            frees=tuple(label for label in touched if last[label] == index),
        )
        for index, (step, touched) in enumerate(made)
    )
    return StockCuts(stock=layout.stock, number=layout.number, cuts=steps)


_Made = tuple[CutStep, tuple[str, ...]]
"""A cut, and the labels of all blanks in the piece that is cut and still needs this cut."""


def _square_end(layout: LengthLayout, stock: Stock) -> Iterator[_Made]:
    if layout.trim_mm and layout.placed:
        labels = tuple(label for label, _, _ in layout.placed)
        whole = Rectangle(x=Fraction(0), y=Fraction(0), wide=layout.length_mm, high=stock.width_mm)
        step = _make(CutDirection.ACROSS, layout.length_mm - layout.trim_mm, whole, labels)
        yield replace(step, is_from_far_side=True), labels


def _rows(layout: LengthLayout, stock: Stock) -> list[_Row]:
    across = {label: (edge, width) for label, edge, width in layout.strips}
    rows = []
    for start, own in groupby(layout.placed, key=lambda one: one[1]):
        held = tuple(
            _Held(label, length, *across.get(label, (Fraction(0), stock.width_mm)))
            for label, _, length in own
        )
        rows.append(_Row(layout.length_mm, stock.width_mm, start, held))
    return rows


@dataclass(frozen=True, slots=True)
class _Held:
    """A blank in a length of board."""

    label: str
    length_mm: Fraction
    edge_mm: Fraction
    width_mm: Fraction


@dataclass(frozen=True, slots=True)
class _Row:
    """A length of board with what lies side by side on it."""

    board_mm: Fraction
    width_mm: Fraction
    start_mm: Fraction
    held: tuple[_Held, ...]

    @property
    def long_mm(self) -> Fraction:
        """Length of the longest blank."""
        return max(one.length_mm for one in self.held)

    def crosscut(self) -> Iterator[_Made]:
        """The cut that takes this length off the board; none where the board ends with it."""
        left = self.board_mm - self.start_mm
        if self.long_mm < left:
            labels = tuple(one.label for one in self.held)
            area = Rectangle(x=self.start_mm, y=Fraction(0), wide=left, high=self.width_mm)
            yield _make(CutDirection.ACROSS, self.long_mm, area, labels), labels

    def rips(self) -> Iterator[_Made]:
        """The cuts that part the strips; none for a strip that ends at the board's edge."""
        for index, one in enumerate(self.held):
            left = self.width_mm - one.edge_mm
            if one.width_mm < left:
                labels = tuple(held.label for held in self.held[index:])
                area = Rectangle(x=self.start_mm, y=one.edge_mm, wide=self.long_mm, high=left)
                yield _make(CutDirection.ALONG, one.width_mm, area, labels[:1]), labels

    def trims(self) -> Iterator[_Made]:
        """The cuts that bring shorter strips to their lengths."""
        for one in self.held:
            if one.length_mm < self.long_mm:
                area = Rectangle(
                    x=self.start_mm, y=one.edge_mm, wide=self.long_mm, high=one.width_mm
                )
                labels = (one.label,)
                yield _make(CutDirection.ACROSS, one.length_mm, area, labels), labels


def _make(
    direction: CutDirection, setting_mm: Fraction, piece: Rectangle, measured: tuple[str, ...]
) -> CutStep:
    return CutStep(
        number=0,
        direction=direction,
        setting_mm=setting_mm,
        is_from_far_side=False,
        piece=piece,
        frees=(),
        measured=measured,
    )
