"""Proof that no schedule is shorter than some time.

Takes jobs and terms, gives a time. An end is tried: each job then has a first start and a last end,
and what must be done between two times must find room there. The least end for which there is room
everywhere is a bound. Must not know how schedules are found.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchleaf.scheduling.days import (
    end_of_work,
    open_from,
    open_minutes,
    start_in_one_go,
    start_of_work,
)
from benchleaf.scheduling.records import Job, Terms


def earliest_starts(jobs: Sequence[Job], terms: Terms) -> dict[str, int]:
    """The first start of each job, as if there were enough of everything."""
    day = terms.day_minutes
    starts: dict[str, int] = {}
    readies: dict[str, int] = {}
    for job in jobs:
        time = max((readies[need] for need in job.needs), default=0)
        start = start_in_one_go(time, job.minutes, day) if job.in_one_go else open_from(time, day)
        starts[job.id] = start = start if job.minutes else time
        readies[job.id] = end_of_work(start, job.minutes, day) + job.waiting_minutes
    return starts


def least_elapsed(jobs: Sequence[Job], terms: Terms, found: int) -> int:
    """A time than which no schedule is shorter.

    Args:
        jobs: Each after what it needs.
        terms: What they are done under.
        found: How long a schedule takes that is there already.
    """
    starts = earliest_starts(jobs, terms)
    low = max(
        (
            end_of_work(starts[job.id], job.minutes, terms.day_minutes) + job.waiting_minutes
            for job in jobs
        ),
        default=0,
    )
    high = found
    while low < high:
        tried = (low + high) // 2
        if _has_room(jobs, terms, starts, tried):
            high = tried
        else:
            low = tried + 1
    return low


def _has_room(jobs: Sequence[Job], terms: Terms, starts: Mapping[str, int], end: int) -> bool:
    ends = _latest_ends(jobs, terms, end)
    day = terms.day_minutes
    if any(end_of_work(starts[job.id], job.minutes, day) > ends[job.id] for job in jobs):
        return False
    for name, most in terms.capacities:
        work = [
            (starts[job.id], ends[job.id], job.minutes, min(use.count, most), use.held_minutes)
            for job in jobs
            for use in job.uses
            if use.name == name and use.count
        ]
        if not _fits([w[:4] for w in work], most, day):
            return False
        if any(w[4] for w in work) and not _fits_held(work, most):
            return False
    return True


def _latest_ends(jobs: Sequence[Job], terms: Terms, end: int) -> dict[str, int]:
    """The last end of each job's work, if all is to be over by some time."""
    ends: dict[str, int] = {}
    readies: dict[str, int] = {}
    for job in reversed(jobs):
        ends[job.id] = own = readies.get(job.id, end) - job.waiting_minutes
        start = start_of_work(own, job.minutes, terms.day_minutes)
        for need in job.needs:
            readies[need] = min(readies.get(need, end), start)
    return ends


def _fits(work: Sequence[tuple[int, ...]], most: int, day: int) -> bool:
    """Tell whether the work that must lie within any two times finds hands there."""
    for first in sorted({own[0] for own in work}):
        within = sorted((own for own in work if own[0] >= first), key=lambda own: own[1])
        asked = 0
        for _, last, minutes, count in within:
            asked += minutes * count
            if asked > most * open_minutes(first, last, day):
                return False
    return True


def _fits_held(work: Sequence[tuple[int, ...]], most: int) -> bool:
    """The same for what is held on after the work, by the clock."""
    for first in sorted({own[0] for own in work}):
        within = sorted((w for w in work if w[0] >= first), key=lambda own: own[1] + own[4])
        asked = 0
        for _, last, minutes, count, held in within:
            asked += (minutes + held) * count
            if asked > most * (last + held - first):
                return False
    return True
