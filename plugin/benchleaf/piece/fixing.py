"""Which two things fix each axis of a part: the two-of-three rule.

Takes the plan, gives for each part and axis the pair that fixes it, and findings that name the
lines where too much or too little is given. Nothing is worked out here.
"""

from __future__ import annotations

from benchleaf.findings import Finding, Severity
from benchleaf.frames import Axis
from benchleaf.piece.quantities import PAIRS, Pair, given_along, is_left_to_stock
from benchleaf.reading.expressions import Expression
from benchleaf.reading.plan import Plan, PlanPart, StockKind

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
    return fixed, tuple(findings)


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
        return None, _not_the_thickness(part, axis, named, plan)
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
    return Finding(
        code="P002",
        severity=Severity.ERROR,
        place=last.place,
        subject=last.path,
        message=message,
        remedy=needed,
    )


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
    return Finding(
        code="P003",
        severity=Severity.ERROR,
        place=plan.place(path),
        subject=path,
        message=message,
        remedy=needed,
    )


def _not_the_thickness(part: PlanPart, axis: Axis, named: Axis | None, plan: Plan) -> Finding:
    given = next(iter(given_along(part.axes[axis]).items()))
    word = _word(given[0], axis)
    message = (
        f"only `{word}: {given[1].text.strip()}` is given {axis.extent}, and the stock's thickness "
    )
    left = [other for other in Axis if is_left_to_stock(part.axes[other]) and other != axis]
    if named is not None:
        line = plan.place(f"parts.{part.name}.thickness").line
        message += f"lies {named.extent} (line {line})"
    else:
        other = given_along(part.axes[left[0]])
        line = next(iter(other.values())).place.line
        message += f"cannot lie both {axis.extent} and {left[0].extent} (line {line})"
    return Finding(
        code="P008",
        severity=Severity.ERROR,
        place=given[1].place,
        subject=given[1].path,
        message=message,
        remedy=f"Needed: one more of `{axis.low_face}`, `{axis.high_face}` and `{axis.extent}`.",
    )
