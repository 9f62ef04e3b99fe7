"""What is to be worked out of a plan, and what each quantity needs: the web that solving walks.

Takes the plan's records, gives for each quantity a formula: the quantities it needs and how they
combine. Nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import FACES, Axis
from benchleaf.piece.arithmetic import work_out
from benchleaf.reading.expressions import (
    Expression,
    OverallSize,
    PartSize,
    SizeName,
    StockThickness,
    iterate_terms,
)
from benchleaf.reading.grammar import EXTENTS
from benchleaf.reading.groups import scope_of
from benchleaf.reading.plan import AxisSpec, Plan, PlanGroup, PlanPart, Row


@dataclass(frozen=True, slots=True)
class Quantity:
    """One length to work out."""

    what: str
    """`size`, `overall`, `low`, `high`, `extent`, `centre`, or `step` of a row."""
    name: str
    """Name of the size, part or group; empty for `overall`. Where the parts of a group lie is
    worked out in the group's own axes."""
    axis: Axis | None = None

    def __str__(self) -> str:
        if self.axis is None:
            return self.name
        word = {
            "low": self.axis.low_face,
            "high": self.axis.high_face,
            "centre": f"centre {self.axis.extent}",
            "step": "row",
        }.get(self.what, self.axis.extent)
        return f"{self.name or 'overall'}.{word}"


Values = Mapping[Quantity, Fraction]
"""What is worked out so far, mm."""


@dataclass(frozen=True, slots=True)
class Formula:
    """How a quantity comes about."""

    needs: tuple[Quantity, ...]
    combine: Callable[[Values], Fraction]
    """May raise SolvingError; called once all that is needed is known."""
    expression: Expression | None
    """What the author wrote for it, if anything."""


Pair = tuple[str, str]

# What two of low, high, extent and centre make of the other two.
_HALF: Final = Fraction(1, 2)
_DERIVED: Final[Mapping[Pair, Mapping[str, Callable[[Fraction, Fraction], Fraction]]]] = {
    ("low", "high"): {
        "extent": lambda low, high: high - low,
        "centre": lambda low, high: (low + high) / 2,
    },
    ("low", "extent"): {
        "high": lambda low, extent: low + extent,
        "centre": lambda low, extent: low + extent * _HALF,
    },
    ("high", "extent"): {
        "low": lambda high, extent: high - extent,
        "centre": lambda high, extent: high - extent * _HALF,
    },
    ("centre", "extent"): {
        "low": lambda centre, extent: centre - extent * _HALF,
        "high": lambda centre, extent: centre + extent * _HALF,
    },
}
PAIRS: Final = tuple(_DERIVED)
"""The pairs that fix an axis."""


def given_along(spec: AxisSpec) -> dict[str, Expression]:
    """What the author gives along an axis: low, high, extent, centre, in this order."""
    every = {
        "low": spec.low,
        "high": spec.high,
        "extent": spec.extent,
        "centre": spec.centre,
    }
    return {what: expression for what, expression in every.items() if expression is not None}


def is_left_to_stock(spec: AxisSpec) -> bool:
    """Tell whether only one face or a centre is given, so that the stock makes the extent."""
    given = given_along(spec)
    return len(given) == 1 and "extent" not in given


def gather_formulas(plan: Plan, fixed: Mapping[tuple[str, Axis], Pair]) -> dict[Quantity, Formula]:
    """Gather the formula of every quantity of the plan.

    Args:
        plan: The plan.
        fixed: For each part and axis that is fixed, the pair that fixes it.
    """
    formulas: dict[Quantity, Formula] = {}
    for name, expression in plan.sizes.items():
        formulas[Quantity("size", name)] = _from_expression(expression, plan)
    for axis, expression in zip(Axis, plan.overall, strict=True):
        formulas[Quantity("overall", "", axis)] = _from_expression(expression, plan)
    for (name, axis), pair in fixed.items():
        formulas.update(_axis_formulas(plan, (name, axis), pair))
    placed: tuple[PlanPart | PlanGroup, ...] = (*plan.parts.values(), *plan.groups.values())
    for part in placed:
        if part.row is not None:
            formulas[Quantity("step", part.name, part.row.axis)] = _step_formula(
                plan, part.row, part
            )
    return formulas


def _axis_formulas(plan: Plan, of: tuple[str, Axis], pair: Pair) -> dict[Quantity, Formula]:
    name, axis = of
    part = plan.placed(name)
    given = given_along(part.axes[axis])
    formulas: dict[Quantity, Formula] = {}
    for what in pair:
        formulas[Quantity(what, part.name, axis)] = (
            _from_expression(given[what], plan)
            if what in given
            else _from_stock(plan, plan.parts[name])
        )
    first, second = (Quantity(what, part.name, axis) for what in pair)
    for what, combine in _DERIVED[pair].items():
        formulas[Quantity(what, part.name, axis)] = _derived(first, second, combine)
    return formulas


def _derived(
    first: Quantity, second: Quantity, combine: Callable[[Fraction, Fraction], Fraction]
) -> Formula:
    return Formula((first, second), lambda values: combine(values[first], values[second]), None)


def _from_stock(plan: Plan, part: PlanPart) -> Formula:
    extent_mm = plan.stock[part.stock].thickness_mm * (part.layers or 1)
    return Formula((), lambda _values: extent_mm, None)


def _from_expression(expression: Expression, plan: Plan) -> Formula:
    return Formula(
        needs_of(expression, plan),
        lambda values: evaluate(expression, plan, values),
        expression,
    )


def _step_formula(plan: Plan, row: Row, part: PlanPart | PlanGroup) -> Formula:
    written = row.step or row.gap or row.to
    if written is None:
        raise ValueError("a row has one of step, gap and to: the reader sees to it")
    end = Quantity("extent" if row.gap else "high", part.name, row.axis)
    needs = needs_of(written, plan)

    def combine(values: Values) -> Fraction:
        length_mm = evaluate(written, plan, values)
        if row.gap:
            return length_mm + values[end]
        return (length_mm - values[end]) / (row.count - 1) if row.to else length_mm

    return Formula(needs if row.step else (*needs, end), combine, written)


def evaluate(expression: Expression, plan: Plan, values: Values) -> Fraction:
    """Work an expression out where all that it needs is known, mm."""
    scope = scope_of(expression.path)
    return work_out(
        expression.term, plan.units.value, lambda term: _look_up(term, plan, values, scope=scope)
    )


def needs_of(expression: Expression, plan: Plan) -> tuple[Quantity, ...]:
    """The quantities that an expression needs, each once, in the order written."""
    needs: dict[Quantity, None] = {}
    scope = scope_of(expression.path)
    for term in iterate_terms(expression.term):
        if isinstance(term, SizeName):
            needs[Quantity("size", term.name)] = None
        elif isinstance(term, OverallSize):
            needs[Quantity("overall", "", term.axis)] = None
        elif isinstance(term, PartSize):
            needs.update(dict.fromkeys(_needs_of_part(term, plan, scope)))
    return tuple(needs)


def _measure(term: PartSize) -> tuple[Axis, str]:
    """The axis that a measure lies along, and which of low, high, extent, centre it is."""
    if term.what in FACES:
        axis, is_high = FACES[term.what]
        return axis, "high" if is_high else "low"
    if term.what in EXTENTS:
        return EXTENTS[term.what], "extent"
    return EXTENTS[term.what.removeprefix("centre ")], "centre"


_SWAPPED: Final = {"low": "high", "high": "low", "centre": "centre"}


def _own(term: PartSize) -> tuple[Quantity, bool, bool]:
    """The first copy's quantity behind a measure; whether it is mirrored, and moved by a row."""
    axis, what = _measure(term)
    is_mirrored = axis in term.mirrored and what != "extent"
    own = Quantity(_SWAPPED[what] if is_mirrored else what, term.part, axis)
    return own, is_mirrored, term.copy > 1 and what != "extent"


def _group_around(term: PartSize, plan: Plan) -> str:
    """The group in whose axes a part is placed; empty for parts of the piece and for groups."""
    return "" if term.part in plan.groups else plan.parts[term.part].group


def _half_of(term: PartSize) -> Fraction | None:
    """Where a group's face lies in its own axes, as a share of its extent; None for the extent."""
    _, what = _measure(term)
    return {"low": Fraction(0), "high": Fraction(1), "centre": _HALF}.get(what)


def _needs_of_part(term: PartSize, plan: Plan, scope: str) -> tuple[Quantity, ...]:
    own, is_mirrored, is_moved = _own(term)
    assert own.axis is not None  # noqa: S101 - a measure has an axis
    if term.part == scope:
        return (Quantity("extent", scope, own.axis),)
    group = _group_around(term, plan)
    needs = [own]
    if is_mirrored:
        needs.append(mirrored_in(group, own.axis))
    row = plan.placed(term.part).row
    if is_moved and row is not None and row.axis == own.axis:
        needs.append(Quantity("step", term.part, row.axis))
    if group != scope and own.what != "extent":
        needs.append(Quantity("low", group, own.axis))
    return tuple(needs)


def mirrored_in(group: str, axis: Axis) -> Quantity:
    """The extent of what a copy is mirrored in: its group, or the whole piece."""
    return Quantity("extent", group, axis) if group else Quantity("overall", "", axis)


def _look_up(
    term: SizeName | OverallSize | StockThickness | PartSize,
    plan: Plan,
    values: Values,
    *,
    scope: str,
) -> Fraction:
    if isinstance(term, SizeName):
        return values[Quantity("size", term.name)]
    if isinstance(term, OverallSize):
        return values[Quantity("overall", "", term.axis)]
    if isinstance(term, StockThickness):
        return plan.stock[term.stock].thickness_mm
    return _look_up_part(term, plan, values, scope=scope)


def _look_up_part(term: PartSize, plan: Plan, values: Values, *, scope: str) -> Fraction:
    """A measure of a part or a group: in the axes of the group that it is asked in."""
    own, is_mirrored, is_moved = _own(term)
    assert own.axis is not None  # noqa: S101 - a measure has an axis
    if term.part == scope:
        share = _half_of(term)
        return values[Quantity("extent", scope, own.axis)] * (1 if share is None else share)
    where = values[own]
    group = _group_around(term, plan)
    row = plan.placed(term.part).row
    if is_moved and row is not None and row.axis == own.axis:
        where += (term.copy - 1) * values[Quantity("step", term.part, row.axis)]
    if is_mirrored:
        where = values[mirrored_in(group, own.axis)] - where
    if group != scope and own.what != "extent":
        where += values[Quantity("low", group, own.axis)]
    return where
