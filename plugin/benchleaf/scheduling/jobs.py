"""Operations as jobs: what each takes up, and what may be laid down in the evening.

Takes operations, gives jobs and terms. Must not know how they are placed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from benchleaf.scheduling.records import HANDS, Job, Terms, Use
from benchleaf.sequencing.glues import clamp_minutes
from benchleaf.sequencing.records import Operation

CLAMPS: Final = "clamps"
# What everybody has, or makes do without.
_NO_TOOL: Final = frozenset({"by hand", "clamps"})


def make_jobs(operations: Sequence[Operation], *, has_help: bool) -> tuple[Job, ...]:
    """Make a job of each operation.

    Args:
        operations: In order, each after what it needs.
        has_help: Several people work at once, so that two may want one tool.
    """
    return tuple(_job(operation, has_help=has_help) for operation in operations)


def _job(operation: Operation, *, has_help: bool) -> Job:
    uses = [Use(name=HANDS, count=1)]
    clamps = operation.facts.get("clamp.count", 0)
    if isinstance(clamps, int) and clamps:
        held = clamp_minutes(operation.facts.get("glue.kind"))
        uses.append(Use(name=CLAMPS, count=clamps, held_minutes=held))
    if has_help and operation.tool not in _NO_TOOL:
        uses.append(Use(name=operation.tool, count=1))
    waiting = math.ceil(operation.waiting_hours * 60)
    return Job(
        id=operation.id,
        minutes=operation.active_minutes,
        waiting_minutes=waiting,
        needs=operation.needs,
        uses=tuple(uses),
        # Glue and wet finish do not wait for the morning.
        in_one_go=waiting > 0,
    )


def terms_of(jobs: Sequence[Job], *, people: int, day_minutes: int, clamps: int | None) -> Terms:
    """The terms of the work; one of each tool that jobs ask for."""
    asked: dict[str, int] = {}
    for use in (use for job in jobs for use in job.uses):
        asked[use.name] = max(asked.get(use.name, 0), use.count)
    held = {**asked, HANDS: people}
    if clamps is not None and CLAMPS in asked:
        held[CLAMPS] = clamps
    return Terms(day_minutes=day_minutes, capacities=tuple(sorted(held.items())))
