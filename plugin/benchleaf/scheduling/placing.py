"""Jobs placed one after another, each as early as it can be: a schedule from an order.

Takes jobs and terms, gives slots. Among all orders there is one that leads to a shortest schedule,
because putting a job off never makes anything else earlier. Must not know how orders are found.
"""

from __future__ import annotations

from bisect import bisect
from collections.abc import Iterable, Mapping, Sequence

from benchleaf.scheduling.days import end_of_work, open_from, start_in_one_go
from benchleaf.scheduling.records import Job, Slot, Terms, Use

_Hold = tuple[int, int, int]
"""From, to, how much."""
_Stretch = tuple[int, int]
"""From, to."""


class Timetable:
    """What is placed so far; lives for one schedule."""

    def __init__(self, terms: Terms) -> None:
        self._day = terms.day_minutes
        self._most = dict(terms.capacities)
        self._holds: dict[str, list[_Hold]] = {name: [] for name in self._most}
        self._busy: dict[str, list[_Stretch]] = {
            name: [] for name, most in terms.capacities if most == 1
        }
        self.slots: dict[str, Slot] = {}

    def copied(self) -> Timetable:
        """Make a timetable in the same state, that can be filled apart from this one."""
        own = object.__new__(Timetable)
        own._day, own._most = self._day, self._most
        own._holds = {name: list(held) for name, held in self._holds.items()}
        own._busy = {name: list(held) for name, held in self._busy.items()}
        own.slots = dict(self.slots)
        return own

    def place(self, job: Job) -> Slot:
        """Place a job as early as what it needs and uses lets it; its needs are placed."""
        time = max((self.slots[need].ready for need in job.needs), default=0)
        while True:
            start = self._start(job, time)
            end = end_of_work(start, job.minutes, self._day)
            clash = self._clash(job, start, end)
            if clash is None:
                break
            time = clash
        for use in job.uses:
            self._hold(use, start, end + use.held_minutes)
        slot = Slot(id=job.id, start=start, end=end, ready=end + job.waiting_minutes)
        self.slots[job.id] = slot
        return slot

    def _start(self, job: Job, time: int) -> int:
        if job.in_one_go:
            return start_in_one_go(time, job.minutes, self._day)
        return open_from(time, self._day) if job.minutes else time

    def _hold(self, use: Use, start: int, end: int) -> None:
        if use.name in self._busy:
            self._merge(self._busy[use.name], start, end)
        elif use.name in self._holds and use.count:
            self._holds[use.name].append((start, end, use.count))

    def _merge(self, busy: list[_Stretch], start: int, end: int) -> None:
        """Add a stretch to those in which the only one is busy; what touches becomes one."""
        index = bisect(busy, (start, end))
        if index < len(busy) and open_from(end, self._day) >= busy[index][0]:
            end = busy.pop(index)[1]
        if index and open_from(busy[index - 1][1], self._day) >= start:
            index -= 1
            start = busy.pop(index)[0]
        busy.insert(index, (start, end))

    def _clash(self, job: Job, start: int, end: int) -> int | None:
        """A later time from which it is worth trying, where something is short; None if not."""
        for use in job.uses:
            most = self._most.get(use.name)
            if most is None:
                continue
            until = end + use.held_minutes
            if use.name in self._busy:
                busy = self._busy[use.name]
                index = bisect(busy, (until,)) - 1
                if index >= 0 and busy[index][1] > start:
                    return busy[index][1]
                continue
            over = [hold for hold in self._holds[use.name] if hold[0] < until and start < hold[1]]
            if not over:
                continue
            # What is asked for beyond all there is has all of it.
            count = min(use.count, most)
            times = {start, *(hold[0] for hold in over if hold[0] > start)}
            for time in sorted(times, reverse=True):
                held = [hold for hold in over if hold[0] <= time < hold[1]]
                if sum(hold[2] for hold in held) + count > most:
                    return min(hold[1] for hold in held)
        return None


def place_all(jobs: Iterable[Job], terms: Terms) -> Mapping[str, Slot]:
    """Place jobs in some order, each after what it needs."""
    table = Timetable(terms)
    for job in jobs:
        table.place(job)
    return table.slots


def elapsed_of(slots: Mapping[str, Slot]) -> int:
    """When the last wait is over."""
    return max((slot.ready for slot in slots.values()), default=0)


def in_order_of(ranks: Mapping[str, float], jobs: Sequence[Job]) -> list[Job]:
    """Put jobs in an order, each after what it needs; of those that may come, the highest first."""
    left = {job.id: len(job.needs) for job in jobs}
    after: dict[str, list[Job]] = {job.id: [] for job in jobs}
    for job in jobs:
        for need in job.needs:
            after[need].append(job)
    place = {job.id: index for index, job in enumerate(jobs)}
    ready = [job for job in jobs if not job.needs]
    order: list[Job] = []
    while ready:
        chosen = min(ready, key=lambda job: (-ranks[job.id], place[job.id]))
        ready.remove(chosen)
        order.append(chosen)
        for job in after[chosen.id]:
            left[job.id] -= 1
            if not left[job.id]:
                ready.append(job)
    return order


def tails_of(jobs: Sequence[Job]) -> dict[str, int]:
    """How long after each job's start the end is at the least: its work, its wait, what follows.

    Args:
        jobs: Each after what it needs.
    """
    tails: dict[str, int] = {}
    after: dict[str, int] = {}
    for job in reversed(jobs):
        tails[job.id] = job.minutes + job.waiting_minutes + after.get(job.id, 0)
        for need in job.needs:
            after[need] = max(after.get(need, 0), tails[job.id])
    return tails
