"""One sheet replayed: each cut made on the piece it is made on, and each blank measured.

Takes a layout, its stock and the blanks by label, gives what is wrong. Shares no code with the
planner.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from benchleaf.cutting.records import Blank, CutDirection, CutNode, Rectangle, SheetLayout
from benchleaf.reading.plan import Grain, Stock, StockKind

Spot = tuple[str, Rectangle, bool]
"""Label, where, whether turned."""


def replay_sheet(layout: SheetLayout, stock: Stock, blanks: Mapping[str, Blank]) -> tuple[str, ...]:
    """Say what is wrong with the layout of a sheet."""
    problems = list(_check_stock(layout, stock))
    replay = _Replay(layout, [], [], [], [])
    replay.run()
    problems += replay.problems
    problems += _check_numbers(replay.numbers)
    for spot in replay.kept:
        problems += _check_blank(spot, layout, stock, blanks)
    problems += _check_gaps(layout.placed, layout.kerf_mm)
    if layout.placed != tuple(sorted(replay.kept, key=lambda spot: spot[0])):
        problems.append("what is placed is not what the cuts free")
    if sorted(layout.offcuts, key=_place) != sorted(_offcuts(replay.left, layout), key=_place):
        problems.append("the offcuts are not what the cuts leave")
    areas = [area.wide * area.high for area in layout.offcuts]
    if areas != sorted(areas, reverse=True):
        problems.append("the offcuts do not stand largest first")
    return tuple(problems)


def _check_stock(layout: SheetLayout, stock: Stock) -> Iterator[str]:
    if stock.kind is not StockKind.SHEET:
        yield "it is laid out as a sheet, and is none"
    sold = [(one.length_mm, one.width_mm, one.is_offcut) for one in stock.offers]
    if not sold:
        sold = [(length, stock.width_mm, False) for length in stock.lengths_mm]
    if (layout.length_mm, layout.width_mm, layout.is_offcut) not in sold:
        yield f"{layout.length_mm} x {layout.width_mm} mm is not the size it is sold in"
    if layout.trim_mm != stock.trim_mm:
        yield f"{layout.trim_mm} mm is not what is to be trimmed"
    if layout.kerf_mm < 0:
        yield "its kerf is below zero"


@dataclass(slots=True)
class _Replay:
    """State of the replay of one sheet."""

    layout: SheetLayout
    problems: list[str]
    kept: list[Spot]
    left: list[Rectangle]
    numbers: list[tuple[int, int]]
    """Number of each cut, and of the cut that freed the piece it is made on, or 0."""

    def run(self) -> None:
        """Make every cut."""
        whole = Rectangle(
            x=Fraction(0), y=Fraction(0), wide=self.layout.length_mm, high=self.layout.width_mm
        )
        waiting: list[tuple[CutNode | None, Rectangle | None, int]] = [(self.layout.tree, whole, 0)]
        while waiting:
            node, piece, after = waiting.pop()
            if node is None and piece is None:
                continue
            if node is None or piece is None or node.area != piece:
                self.problems.append(f"after cut {after} a piece is not as the cut leaves it")
                continue
            if node.direction is None:
                self._keep(node)
                continue
            self.numbers.append((node.number, after))
            for child, part in zip((node.first, node.second), self._cut(node), strict=True):
                waiting.append((child, part, node.number))

    def _keep(self, node: CutNode) -> None:
        if node.first or node.second or node.number or node.at_mm:
            self.problems.append(f"{node.blank or 'an offcut'} is cut on, and says not how")
        if node.blank:
            self.kept.append((node.blank, node.area, node.is_turned))
        else:
            self.left.append(node.area)

    def _cut(self, node: CutNode) -> tuple[Rectangle | None, Rectangle | None]:
        """The two pieces that a cut makes; None for one that is all kerf."""
        kerf, at, area = self.layout.kerf_mm, node.at_mm, node.area
        if node.blank:
            self.problems.append(f"{node.blank} is cut up by cut {node.number}")
        across = node.direction is CutDirection.ACROSS
        extent = area.wide if across else area.high
        if not -kerf < at < extent:
            self.problems.append(f"cut {node.number} misses its piece")
        beyond = extent - at - kerf
        if across:
            near = Rectangle(x=area.x, y=area.y, wide=at, high=area.high)
            far = Rectangle(x=area.x + at + kerf, y=area.y, wide=beyond, high=area.high)
        else:
            near = Rectangle(x=area.x, y=area.y, wide=area.wide, high=at)
            far = Rectangle(x=area.x, y=area.y + at + kerf, wide=area.wide, high=beyond)
        return near if at > 0 else None, far if beyond > 0 else None


def _check_numbers(numbers: list[tuple[int, int]]) -> Iterator[str]:
    if sorted(number for number, _ in numbers) != list(range(1, len(numbers) + 1)):
        yield "the cuts are not numbered from 1 without gaps"
    for number, after in numbers:
        if number <= after:
            yield f"cut {number} is made before cut {after} frees its piece"


def _check_blank(
    spot: Spot, layout: SheetLayout, stock: Stock, blanks: Mapping[str, Blank]
) -> Iterator[str]:
    label, area, is_turned = spot
    blank = blanks.get(label)
    if blank is None or blank.stock != stock.name:
        yield f"{label} is no blank of this stock"
        return
    size = (area.high, area.wide) if is_turned else (area.wide, area.high)
    if size != (blank.length_mm, blank.width_mm):
        yield f"{label} comes out at {size[0]} x {size[1]} mm"
    if not blank.may_turn and is_turned is not (stock.grain is Grain.SHORT):
        yield f"{label} lies across the grain"
    trim = layout.trim_mm
    if min(area.x, area.y) < trim or (
        area.x + area.wide > layout.length_mm - trim or area.y + area.high > layout.width_mm - trim
    ):
        yield f"{label} reaches into the trimmed edge"


def _check_gaps(placed: Sequence[Spot], kerf_mm: Fraction) -> Iterator[str]:
    """Any two blanks lie at least a kerf apart, in x or in y."""
    ordered = sorted(placed, key=lambda spot: (spot[1].x, spot[1].y))
    for index, (label, area, _) in enumerate(ordered):
        reach = area.x + area.wide + kerf_mm
        for other, near, _ in ordered[index + 1 :]:
            if near.x >= reach:
                break
            if area.y < near.y + near.high + kerf_mm and near.y < area.y + area.high + kerf_mm:
                yield f"{label} and {other} lie less than a kerf apart"
    for (label, _, _), (other, _, _) in pairwise(sorted(placed, key=lambda spot: spot[0])):
        if label == other:
            yield f"{label} is cut twice"


def _offcuts(left: list[Rectangle], layout: SheetLayout) -> list[Rectangle]:
    """What is left and reaches a kerf or more into the sheet within its trimmed edges."""
    trim = layout.trim_mm
    far_x, far_y = layout.length_mm - trim, layout.width_mm - trim
    offcuts = []
    for area in left:
        wide = min(area.x + area.wide, far_x) - max(area.x, trim)
        high = min(area.y + area.high, far_y) - max(area.y, trim)
        if min(wide, high) > 0 and min(wide, high) >= layout.kerf_mm:
            offcuts.append(area)
    return offcuts


def _place(area: Rectangle) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return area.x, area.y, area.wide, area.high
