"""Which two things fix each axis of a part: the two-of-three rule.

Takes the plan, gives for each part and axis the pair that fixes it, and findings that name the
lines where too much or too little is given. Nothing is worked out here.
"""

from __future__ import annotations

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.piece.faults import error, spot
from benchleaf.piece.quantities import PAIRS, Pair, given_along, is_left_to_stock
from benchleaf.reading.expressions import Expression
from benchleaf.reading.plan import Plan, PlanGroup, PlanPart, StockKind

Fixed = dict[tuple[str, Axis], Pair]


def fix_axes(plan: Plan) -> tuple[Fixed, tuple[Finding, ...]]:
    """Find the pair that fixes each axis of each part.

    Two of low face, high face and extent fix an axis, or a centre and an extent. Where one face
    or a centre stands alone, the stock's thickness is the extent.
    """
    fixed: Fixed = {}
    findings: list[Finding] = []
    for part in plan.parts.values():
        for axis in Axis:
            pair, finding = _fix(part, axis, plan)
            if pair is not None:
                fixed[part.name, axis] = pair
            if finding is not None:
                findings.append(finding)
    for group in plan.groups.values():
        for axis in Axis:
            pair, finding = _fix_group(group, axis, plan)
            if pair is not None:
                fixed[group.name, axis] = pair
            if finding is not None:
                findings.append(finding)
    return fixed, tuple(findings)


def _fix_group(group: PlanGroup, axis: Axis, plan: Plan) -> tuple[Pair | None, Finding | None]:
    """As for a part, but that no stock makes an extent."""
    given = given_along(group.axes[axis])
    pair = next((pair for pair in PAIRS if set(pair) == set(given)), None)
    if pair is not None:
        return pair, None
    if len(given) > 1:
        return None, _over_determined(axis, given)
    low, high, word = axis.low_face, axis.high_face, axis.extent
    needed = f"Needed: two of `{low}`, `{high}` and `{word}`, or `centre {word}` and `{word}`."
    if not given:
        message = f"neither `{low}`, `{high}` nor `{word}` is given"
        return None, error("P031", spot(plan, group.path), message, remedy=needed)
    what, only = next(iter(given.items()))
    message = (
        f"only `{_word(what, axis)}: {only.text.strip()}` is given, and no stock makes a group"
    )
    return None, error("P031", only, message, remedy=needed)


def _fix(part: PlanPart, axis: Axis, plan: Plan) -> tuple[Pair | None, Finding | None]:
    given = given_along(part.axes[axis])
    if tuple(given) in PAIRS or set(given) == {"extent", "centre"}:
        pair = next(pair for pair in PAIRS if set(pair) == set(given))
        return pair, None
    if len(given) > 1:
        return None, _over_determined(axis, given)
    if not is_left_to_stock(part.axes[axis]):
        return None, _under_determined(part, axis, plan)
    left = [other for other in Axis if is_left_to_stock(part.axes[other])]
    named = part.thickness_axis
    # A rod has its diameter both ways; any other stock has one thickness.
    most = 2 if plan.stock[part.stock].kind is StockKind.ROD else 1
    if len(left) > most or (named is not None and named not in left):
        return None, _not_the_thickness(part, axis, plan)
    return (next(iter(given)), "extent"), None


def _word(what: str, axis: Axis) -> str:
    words = {"low": axis.low_face, "high": axis.high_face, "extent": axis.extent}
    return words.get(what, f"centre {axis.extent}")


def _over_determined(axis: Axis, given: dict[str, Expression]) -> Finding:
    lines = [
        f"`{_word(what, axis)}: {expression.text.strip()}` (line {expression.place.line})"
        for what, expression in given.items()
    ]
    last = max(given.values(), key=lambda expression: expression.place)
    is_pair = len(given) == 2
    message = f"{', '.join(lines[:-1])} and {lines[-1]} " + (
        "do not fix it together" if is_pair else f"say more than fixes it along {axis.extent}"
    )
    needed = (
        f"Needed: two of `{axis.low_face}`, `{axis.high_face}` and `{axis.extent}`, or "
        f"`centre {axis.extent}` and `{axis.extent}`."
    )
    return error("P002", last, message, remedy=needed)


def _under_determined(part: PlanPart, axis: Axis, plan: Plan) -> Finding:
    path = f"parts.{part.name}"
    extent = part.axes[axis].extent
    low, high, word = axis.low_face, axis.high_face, axis.extent
    if extent is not None:
        path = extent.path
        message = f"only `{word}: {extent.text.strip()}` (line {extent.place.line}) is given"
        needed = f"Needed: one of `{low}`, `{high}` and `centre {word}` as well."
    else:
        message = f"neither `{low}`, `{high}` nor `{word}` is given"
        needed = f"Needed: two of them, `centre {word}` and `{word}`, or one face."
    return error("P003", spot(plan, path), message, remedy=needed)


def _not_the_thickness(part: PlanPart, axis: Axis, plan: Plan) -> Finding:
    what, given = next(iter(given_along(part.axes[axis]).items()))
    message = (
        f"only `{_word(what, axis)}: {given.text.strip()}` is given {axis.extent}, and the stock's "
        f"thickness "
    )
    if part.thickness_axis is not None:
        line = plan.place(f"parts.{part.name}.thickness").line
        message += f"lies {part.thickness_axis.extent} (line {line})"
    else:
        other = next(
            each for each in Axis if is_left_to_stock(part.axes[each]) and each is not axis
        )
        line = next(iter(given_along(part.axes[other]).values())).place.line
        message += f"cannot lie both {axis.extent} and {other.extent} (line {line})"
    remedy = f"Needed: one more of `{axis.low_face}`, `{axis.high_face}` and `{axis.extent}`."
    return error("P008", given, message, remedy=remedy)
