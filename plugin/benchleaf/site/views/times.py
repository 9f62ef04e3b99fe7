"""How long the work takes, and how long glue and finish keep it waiting.

Takes operations; gives minutes and hours. Work adds up: it is done by hand, one thing after the
other. Waits do not: what was glued side by side dries side by side, so a wait is the longest chain
of waits in which each comes after the one before it. That is the least there can be; clamps enough
for all that dries at once are taken for granted.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from fractions import Fraction

from benchleaf.sequencing.records import Operation, Step


def work_minutes(operations: Iterable[Operation]) -> int:
    """Minutes of work, all in all."""
    return sum(operation.active_minutes for operation in operations)


def waiting_hours(ordered: Iterable[Operation], counted: Collection[str]) -> Fraction:
    """The longest chain of waits, in which each operation needs the one before it.

    Args:
        ordered: All operations, each after what it needs.
        counted: Ids of those whose waits count; the others only pass on what they waited for.
    """
    none = Fraction(0)
    until: dict[str, Fraction] = {}
    for operation in ordered:
        before = max(
            (until.get(need, Fraction(0)) for need in operation.needs), default=Fraction(0)
        )
        own = operation.waiting_hours if operation.id in counted else none
        until[operation.id] = before + own
    return max(until.values(), default=none)


def ids_of(steps: Iterable[Step]) -> frozenset[str]:
    """Ids of the operations of some steps."""
    return frozenset(operation.id for step in steps for operation in step.operations)
