"""What holds up the end: from the last job back to what each one waited for.

Takes jobs and their slots, gives ids. Must not know how the schedule was found.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchleaf.scheduling.days import open_from
from benchleaf.scheduling.records import Job, Slot, Terms


def critical_path(jobs: Sequence[Job], slots: Mapping[str, Slot], terms: Terms) -> tuple[str, ...]:
    """Trace the jobs that hold up the end, from first to last.

    Each waited for the one before it: for its work and its wait where it needs that, else for
    hands, clamps or tools that it let go.
    """
    if not jobs:
        return ()
    by_id = {job.id: job for job in jobs}
    own = max(slots.values(), key=lambda slot: slot.ready)
    path = [own.id]
    while True:
        held = _held_by(by_id[path[-1]], by_id, slots, terms)
        if held is None:
            return tuple(reversed(path))
        path.append(held)


def _held_by(
    job: Job, by_id: Mapping[str, Job], slots: Mapping[str, Slot], terms: Terms
) -> str | None:
    start = slots[job.id].start
    if start == 0:
        return None
    for need in sorted(job.needs, key=lambda own: -slots[own].ready):
        if open_from(slots[need].ready, terms.day_minutes) == start:
            return need
    frees = [
        (_free_at(by_id[slot.id], job, slot), slot.start, slot.id)
        for slot in slots.values()
        if slot.start < start and _shares(by_id[slot.id], job)
    ]
    before = [own for own in frees if own[0] <= start]
    return max(before)[2] if before else None


def _shares(one: Job, other: Job) -> bool:
    return bool({use.name for use in one.uses} & {use.name for use in other.uses})


def _free_at(before: Job, job: Job, slot: Slot) -> int:
    """When a job lets go of what another one takes up, the last of it that is free in time."""
    asked = {use.name for use in job.uses}
    return max(slot.end + use.held_minutes for use in before.uses if use.name in asked)
