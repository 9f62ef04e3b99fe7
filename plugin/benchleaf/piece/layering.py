"""How a part is made up of its stock: thickness axis, layers, grain axis, allowance.

Takes a part's exact extents and its stock, gives which way the stock lies in it, with findings
where the stock does not make the part. Must not know where the part stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.lengths import format_length
from benchleaf.piece.faults import Spot, error, spot, warning
from benchleaf.piece.quantities import is_left_to_stock
from benchleaf.reading.plan import Plan, PlanPart, Stock, StockKind

Extents = tuple[Fraction, Fraction, Fraction]

# chosen: cases and rails mostly lie with their thickness to the front, panels on edge to the side.
_PREFERENCE: Final = (Axis.DEEP, Axis.WIDE, Axis.HIGH)


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeUp:
    """How the stock lies in a part."""

    layers: int
    thickness_axis: Axis
    grain_axis: Axis


def make_up(part: PlanPart, extents_mm: Extents, plan: Plan) -> tuple[MakeUp, tuple[Finding, ...]]:
    """Find out which way the stock lies in a part, and whether it makes its thickness.

    Args:
        part: The part as the plan writes it.
        extents_mm: Its exact extents, all positive.
        plan: For the stock, the units and places.
    """
    stock = plan.stock[part.stock]
    thickness_axis = _thickness_axis(part, extents_mm, stock)
    needed = _layers_for(extents_mm[thickness_axis], stock)
    layers = part.layers or needed
    made = MakeUp(
        layers=layers,
        thickness_axis=thickness_axis,
        grain_axis=part.grain_axis
        if part.grain_axis not in (None, thickness_axis)
        else _longest(extents_mm, thickness_axis),
    )
    report = _Report(part, plan, extents_mm[thickness_axis], made)
    return made, tuple(
        finding
        for finding in (
            report.check_grain(),
            report.check_layers(needed),
            report.check_rod(extents_mm[3 - thickness_axis - made.grain_axis]),
        )
        if finding is not None
    )


def _layers_for(extent_mm: Fraction, stock: Stock) -> int:
    return max(1, ceil(extent_mm / stock.thickness_mm))


def _thickness_axis(part: PlanPart, extents_mm: Extents, stock: Stock) -> Axis:
    if part.thickness_axis is not None:
        return part.thickness_axis
    left = [axis for axis in _PREFERENCE if is_left_to_stock(part.axes[axis])]
    if left:
        return left[0]
    candidates = [axis for axis in _PREFERENCE if axis != part.grain_axis]

    def rank(axis: Axis) -> tuple[int, bool]:
        count = _layers_for(extents_mm[axis], stock)
        off = abs(count - part.layers) if part.layers else count
        return off, bool(extents_mm[axis] % stock.thickness_mm)

    # Fewest layers (or nearest to those asked for), then an exact multiple; at a tie `min` keeps
    # the order of preference.
    return min(candidates, key=rank)


def _longest(extents_mm: Extents, thickness_axis: Axis) -> Axis:
    others = [axis for axis in Axis if axis != thickness_axis]
    return max(others, key=lambda axis: extents_mm[axis])


@dataclass(frozen=True, slots=True)
class _Report:
    """Words the findings about one part's make-up."""

    part: PlanPart
    plan: Plan
    extent_mm: Fraction
    made: MakeUp

    def _show(self, length_mm: Fraction) -> str:
        return format_length(length_mm, self.plan.units.value)

    def _spot(self, key: str) -> Spot:
        return spot(self.plan, f"parts.{self.part.name}.{key}")

    def check_grain(self) -> Finding | None:
        """Grain never runs through the thickness of sawn stock or sheets."""
        axis = self.part.grain_axis
        if axis is None or axis != self.made.thickness_axis:
            return None
        others = " or ".join(f"`{other.extent}`" for other in Axis if other != axis)
        message = f"the grain is to run {axis.extent}, and so does the stock's thickness"
        remedy = f"Needed: {others}, or another `thickness`."
        return error("P012", self._spot("grain"), message, remedy=remedy)

    def check_layers(self, needed: int) -> Finding | None:
        """The layers must make the thickness; a plain part must be just as thick as its stock."""
        stock = self.plan.stock[self.part.stock]
        thick = self._show(stock.thickness_mm)
        extent, word = self._show(self.extent_mm), self.made.thickness_axis.extent
        layers, total_mm = self.made.layers, self.made.layers * stock.thickness_mm
        if layers == 1 and self.extent_mm != stock.thickness_mm:
            key = word if self.part.axes[self.made.thickness_axis].extent else "stock"
            message = f"it is {extent} {word}, and {self.part.stock} is {thick} thick"
            remedy = f"Needed: {thick} {word}, other stock, or another `thickness`."
            if needed > 1:
                remedy = f"Needed: {thick} {word}, or `layers: {needed}`."
            return error("P011", self._spot(key), message, remedy=remedy)
        if needed > layers:
            total = self._show(total_mm)
            message = f"{layers} layers of {thick} come to {total}, and it is {extent} {word}"
            remedy = f"Needed: `layers: {needed}`, or at most {total} {word}."
            return error("P009", self._spot("layers"), message, remedy=remedy)
        if needed < layers:
            message = f"{layers} layers of {thick} where {needed} would make {extent} {word}"
            remedy = f"Write `layers: {needed}`, or leave `layers` out."
            return warning("P010", self._spot("layers"), message, remedy=remedy)
        return None

    def check_rod(self, width_mm: Fraction) -> Finding | None:
        """A part made from rod has the rod's diameter both ways."""
        stock = self.plan.stock[self.part.stock]
        if stock.kind is not StockKind.ROD:
            return None
        if self.made.layers == 1 and width_mm == stock.width_mm:
            return None
        across = self._show(width_mm)
        message = f"it is {self._show(self.extent_mm)} x {across} across its length"
        remedy = f"Needed: {self._show(stock.thickness_mm)} both ways, as {self.part.stock} is."
        return error("P016", self._spot("stock"), message, remedy=remedy)
