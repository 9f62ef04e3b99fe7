"""From a plan with expressions to a plan with exact lengths.

Takes a `Plan`, gives a `SolvedPlan` and findings P0xx. Straight line: which pair fixes each axis,
what each quantity needs, work all out, make parts up of their stock, and check the copies. Must not
know marks, frames or contacts: those are `placing`'s.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from benchleaf.findings import Finding, has_errors, sort_findings
from benchleaf.frames import Axis, Box, add
from benchleaf.lengths import format_length
from benchleaf.piece.arithmetic import SolvingError
from benchleaf.piece.copying import CopyCheck, Span, row_offsets
from benchleaf.piece.faults import error
from benchleaf.piece.fixing import fix_axes
from benchleaf.piece.layering import make_up
from benchleaf.piece.quantities import (
    Quantity,
    evaluate,
    gather_formulas,
    given_along,
    mirrored_in,
    needs_of,
)
from benchleaf.piece.records import (
    Choice,
    ChosenShaping,
    SolvedFastener,
    SolvedPair,
    SolvedRound,
)
from benchleaf.piece.solved import SolvedGroup, SolvedJoint, SolvedPart, SolvedPlan
from benchleaf.piece.walking import describe_fault, work_out_all
from benchleaf.reading.expressions import Expression
from benchleaf.reading.plan import (
    Fastener,
    Pair,
    Plan,
    PlanGroup,
    PlanJoint,
    PlanPart,
    PlanShaping,
    PlanValue,
    Round,
)

Values = Mapping[Quantity, Fraction]
Spans = tuple[Span, Span, Span]


def solve_sizes(plan: Plan) -> tuple[SolvedPlan | None, tuple[Finding, ...]]:
    """Work out every size, part and joint choice of a plan.

    Args:
        plan: The plan as read, with every name known.

    Returns:
        The solved plan, or None where an error was found; and all findings, sorted by place.
    """
    fixed, findings = fix_axes(plan)
    values, faults = work_out_all(gather_formulas(plan, fixed))
    bench = _Bench(plan, values, [*findings, *faults])
    overall = bench.solve_overall()
    groups = {group.name: bench.solve_group(group) for group in plan.groups.values()}
    parts = {part.name: bench.solve_part(part) for part in plan.parts.values()}
    joints = tuple(bench.solve_joint(joint) for joint in plan.joints)
    sizes = {name: values.get(Quantity("size", name)) for name in plan.sizes}
    found = sort_findings(bench.findings)
    if has_errors(found):
        return None, found
    solved = SolvedPlan(
        plan=plan,
        sizes={name: length_mm for name, length_mm in sizes.items() if length_mm is not None},
        overall=Box((Fraction(0),) * 3, overall),
        parts={name: part for name, part in parts.items() if part is not None},
        joints=joints,
        groups={name: group for name, group in groups.items() if group is not None},
    )
    return solved, found


@dataclass(slots=True)
class _Bench:
    """What is at hand while one plan is solved; lives for one call of `solve_sizes`."""

    plan: Plan
    values: Values
    findings: list[Finding] = field(default_factory=list)

    def solve_overall(self) -> tuple[Fraction, Fraction, Fraction]:
        """The overall box's extents, mm; 0 with a finding where one could not be worked out."""
        wide, deep, high = (self._overall_along(axis) for axis in Axis)
        return wide, deep, high

    def _overall_along(self, axis: Axis) -> Fraction:
        extent_mm = self.values.get(Quantity("overall", "", axis))
        expression = self.plan.overall[axis]
        if extent_mm is not None and extent_mm <= 0:
            message = f"the piece comes to {self._show(extent_mm)} {axis.extent}"
            self.findings.append(error("P004", expression, message, remedy=_MORE_THAN_0))
        return extent_mm if extent_mm is not None else Fraction(0)

    def solve_part(self, part: PlanPart) -> SolvedPart | None:
        """One part, or None with findings where it could not be worked out."""
        spans = self._spans(part)
        allowance_mm = self._allowance(part)
        if spans is None:
            return None
        wide, deep, high = spans
        extents_mm = (wide[1] - wide[0], deep[1] - deep[0], high[1] - high[0])
        made, findings = make_up(part, extents_mm, self.plan)
        self.findings += findings
        offsets_mm = self._check_copies(part, spans)
        is_glued = made.layers > 1 or part.is_edge_glued
        usual_mm = self.plan.shop.allowance_mm if is_glued else Fraction(0)
        return SolvedPart(
            name=part.name,
            stock=part.stock,
            box=self._box(spans, part.group),
            layers=made.layers,
            thickness_axis=made.thickness_axis,
            grain_axis=made.grain_axis,
            allowance_mm=usual_mm if allowance_mm is None else allowance_mm,
            row_axis=part.row.axis if part.row else None,
            row_offsets_mm=offsets_mm,
            mirror=part.mirror,
            turns=part.turns,
            splay=part.splay,
            trims=part.trims,
            group=part.group,
            shaping=tuple(self._solve_shaping(shaping) for shaping in part.shaping),
        )

    def solve_group(self, group: PlanGroup) -> SolvedGroup | None:
        """One group, or None with findings where it could not be worked out."""
        spans = self._spans(group)
        if spans is None:
            return None
        return SolvedGroup(
            name=group.name,
            box=self._box(spans),
            row_axis=group.row.axis if group.row else None,
            row_offsets_mm=self._check_copies(group, spans),
            mirror=group.mirror,
            parts=group.parts,
        )

    def _box(self, spans: Spans, group: str = "") -> Box:
        """The box of three spans, of a group's part where the first copy of the group stands."""
        box = Box(tuple(low for low, _ in spans), tuple(high for _, high in spans))  # type: ignore[arg-type]
        if not group:
            return box
        at = tuple(self.values.get(Quantity("low", group, axis), Fraction(0)) for axis in Axis)
        return Box(add(box.low, at), add(box.high, at))  # type: ignore[arg-type]

    def _spans(self, placed: PlanPart | PlanGroup) -> Spans | None:
        wide, deep, high = (self._span(placed, axis) for axis in Axis)
        return (wide, deep, high) if wide and deep and high else None

    def _solve_shaping(self, shaping: PlanShaping) -> ChosenShaping:
        choices = {name: self._choose(value) for name, value in shaping.choices.items()}
        return ChosenShaping(
            index=shaping.index,
            kind=shaping.kind,
            places=shaping.places,
            choices={name: choice for name, choice in choices.items() if choice is not None},
            note=shaping.note,
        )

    def _span(self, part: PlanPart | PlanGroup, axis: Axis) -> Span | None:
        low = self.values.get(Quantity("low", part.name, axis))
        high = self.values.get(Quantity("high", part.name, axis))
        if low is None or high is None:
            return None
        if high > low:
            return low, high
        self._report_no_extent(part, axis, high - low)
        return None

    def _report_no_extent(
        self, part: PlanPart | PlanGroup, axis: Axis, extent_mm: Fraction
    ) -> None:
        given = given_along(part.axes[axis])
        expression = given.get("extent") or max(given.values(), key=lambda each: each.place)
        message = f"it comes to {self._show(extent_mm)} {axis.extent}"
        if "extent" in given:
            message = f"`{expression.text.strip()}` comes to {self._show(extent_mm)}"
        else:
            sums = [
                f"{word} `{each.text.strip()}` = {self._show(self.values[quantity])}"
                for word, each, quantity in (
                    (axis.high_face, given["high"], Quantity("high", part.name, axis)),
                    (axis.low_face, given["low"], Quantity("low", part.name, axis)),
                )
            ]
            message += f": {' less '.join(sums)}"
        self.findings.append(error("P004", expression, message, remedy=_MORE_THAN_0))

    def _check_copies(self, part: PlanPart | PlanGroup, spans: Spans) -> tuple[Fraction, ...]:
        step_mm = None
        if part.row is not None:
            step_mm = self.values.get(Quantity("step", part.name, part.row.axis))
            if step_mm is None:
                return (Fraction(0),)
        around = part.group if isinstance(part, PlanPart) else ""
        overall = [self.values.get(mirrored_in(around, axis)) for axis in Axis]
        offsets_mm = row_offsets(part, step_mm)
        if all(extent is not None and extent > 0 for extent in overall):
            wide, deep, high = (extent or Fraction(0) for extent in overall)
            check = CopyCheck(part, self.plan, spans, offsets_mm, (wide, deep, high))
            self.findings += check.findings()
        return offsets_mm

    def _allowance(self, part: PlanPart) -> Fraction | None:
        if part.allowance is None:
            return None
        allowance_mm = self._work_out(part.allowance)
        if allowance_mm is not None and allowance_mm < 0:
            message = f"the allowance comes to {self._show(allowance_mm)}"
            remedy = "Needed: 0 or more."
            self.findings.append(error("P017", part.allowance, message, remedy=remedy))
        return allowance_mm

    def solve_joint(self, joint: PlanJoint) -> SolvedJoint:
        """One joint; choices that could not be worked out are left out, with findings."""
        choices = {name: self._choose(value) for name, value in joint.choices.items()}
        return SolvedJoint(
            index=joint.index,
            kind=joint.kind,
            first=joint.first,
            second=joint.second,
            choices={name: choice for name, choice in choices.items() if choice is not None},
            note=joint.note,
        )

    def _choose(self, value: PlanValue) -> Choice | None:
        if isinstance(value, Expression):
            return self._work_out(value)
        if isinstance(value, Fastener):
            length_mm = self._work_out_positive(value.length, "the screw's length")
            return SolvedFastener(gauge=value.gauge, length_mm=length_mm) if length_mm else None
        if isinstance(value, Round):
            return self._work_out_round(value)
        if isinstance(value, Pair):
            return self._work_out_pair(value)
        return self._choose_list(value) if isinstance(value, tuple) else value

    def _work_out_round(self, value: Round) -> SolvedRound | None:
        diameter_mm = self._work_out_positive(value.diameter, "the diameter")
        length_mm = self._work_out_positive(value.length, "the length")
        if not diameter_mm or not length_mm:
            return None
        return SolvedRound(diameter_mm=diameter_mm, length_mm=length_mm)

    def _work_out_pair(self, pair: Pair) -> SolvedPair | None:
        first_mm, second_mm = self._work_out(pair.first), self._work_out(pair.second)
        if first_mm is None or second_mm is None:
            return None
        return SolvedPair(first_mm=first_mm, second_mm=second_mm)

    def _choose_list(
        self, values: tuple[str, ...] | tuple[Expression, ...] | tuple[Pair, ...]
    ) -> tuple[str, ...] | tuple[Fraction, ...] | tuple[SolvedPair, ...]:
        pairs = [self._work_out_pair(each) for each in values if isinstance(each, Pair)]
        if pairs:
            return tuple(pair for pair in pairs if pair is not None)
        lengths = [self._work_out(each) for each in values if isinstance(each, Expression)]
        if lengths:
            return tuple(length_mm for length_mm in lengths if length_mm is not None)
        return tuple(each for each in values if isinstance(each, str))

    def _work_out_positive(self, expression: Expression, what: str) -> Fraction | None:
        length_mm = self._work_out(expression)
        if length_mm is None or length_mm > 0:
            return length_mm
        message = f"{what} comes to {self._show(length_mm)}"
        self.findings.append(error("P017", expression, message, remedy=_MORE_THAN_0))
        return None

    def _work_out(self, expression: Expression) -> Fraction | None:
        """An expression that nothing else needs; None if what it needs has failed."""
        if not all(need in self.values for need in needs_of(expression, self.plan)):
            return None
        try:
            return evaluate(expression, self.plan, self.values)
        except SolvingError as fault:
            self.findings.append(describe_fault(expression, fault))
            return None

    def _show(self, length_mm: Fraction) -> str:
        return format_length(length_mm, self.plan.units.value)


_MORE_THAN_0 = "Needed: more than 0."
