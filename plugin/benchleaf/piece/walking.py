"""Walking the web of quantities: each after those it needs, circles told as the loops they are.

Takes formulas, gives values and findings. Walks with a stack of its own, because a stranger's plan
may chain its sizes deeper than Python calls go. A quantity that needs a failed one fails silently:
the cause is told once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.piece.arithmetic import SolvingError
from benchleaf.piece.faults import error
from benchleaf.piece.quantities import Formula, Quantity
from benchleaf.reading.expressions import Expression


def work_out_all(
    formulas: Mapping[Quantity, Formula],
) -> tuple[dict[Quantity, Fraction], tuple[Finding, ...]]:
    """Work out every quantity that can be.

    Args:
        formulas: How each comes about; a need that has no formula counts as failed.

    Returns:
        The values, mm, of those that could be worked out, and findings about the others.
    """
    walk = _Walk(formulas)
    for quantity in formulas:
        walk.visit(quantity)
    return walk.values, tuple(walk.findings)


class _Walk:
    """One walk over a web; lives for one call of `work_out_all`."""

    def __init__(self, formulas: Mapping[Quantity, Formula]) -> None:
        self.formulas = formulas
        self.values: dict[Quantity, Fraction] = {}
        self.findings: list[Finding] = []
        self.done: set[Quantity] = set()

    def visit(self, start: Quantity) -> None:
        """Work out a quantity and all that it needs."""
        open_path: dict[Quantity, Iterator[Quantity]] = {}
        self._enter(start, open_path)
        while open_path:
            current = next(reversed(open_path))
            need = next(open_path[current], None)
            if need is None:
                del open_path[current]
                self._finish(current)
            elif need in open_path:
                self._report_circle(list(open_path), need)
                self.done.update(open_path)
                return
            else:
                self._enter(need, open_path)

    def _enter(self, quantity: Quantity, open_path: dict[Quantity, Iterator[Quantity]]) -> None:
        if quantity in self.done or quantity not in self.formulas:
            return
        open_path[quantity] = iter(self.formulas[quantity].needs)

    def _finish(self, quantity: Quantity) -> None:
        self.done.add(quantity)
        formula = self.formulas[quantity]
        if not all(need in self.values for need in formula.needs):
            return
        try:
            self.values[quantity] = formula.combine(self.values)
        except SolvingError as fault:
            if formula.expression is None:
                raise
            self.findings.append(describe_fault(formula.expression, fault))

    def _report_circle(self, path: list[Quantity], again: Quantity) -> None:
        loop = path[path.index(again) :]
        written = [
            (quantity, expression)
            for quantity in loop
            if (expression := self.formulas[quantity].expression) is not None
        ]
        # The loop is told from its first line on, whichever way the walk came upon it.
        first = min(written, key=lambda pair: pair[1].place)
        turn = loop.index(first[0])
        steps = [self._name_step(quantity) for quantity in (*loop[turn:], *loop[:turn])]
        message = f"sizes go round in a circle: {' -> '.join((*steps, f'`{first[0]}`'))}"
        remedy = "Give one of them without the others."
        self.findings.append(error("P001", first[1], message, remedy=remedy))

    def _name_step(self, quantity: Quantity) -> str:
        expression = self.formulas[quantity].expression
        line = f" (line {expression.place.line})" if expression is not None else ""
        return f"`{quantity}`{line}"


def describe_fault(expression: Expression, fault: SolvingError) -> Finding:
    """Tell what is wrong with an expression that comes to no length."""
    message = f"in `{expression.text.strip()}`, {fault.what}"
    return error(fault.code, expression, message, remedy=fault.needed)
