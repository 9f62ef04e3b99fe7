"""A short schedule: orders tried by rules, by small changes, and one by one where there are few.

Takes jobs and terms, gives slots and a bound. The effort is counted, never timed, so that the same
work gives the same schedule everywhere. Must not know what jobs are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from benchleaf.scheduling.bounds import earliest_starts, least_elapsed
from benchleaf.scheduling.placing import (
    Timetable,
    elapsed_of,
    in_order_of,
    place_all,
    tails_of,
)
from benchleaf.scheduling.records import Job, Slot, Terms

# chosen: jobs placed in all trials together; some tenths of a second where nothing is proved.
MOST_PLACED: Final = 2000
# chosen: jobs placed to bring a schedule back to the planned order where that costs no time.
_MOST_SETTLED: Final = 4000
# chosen: of more jobs than this there are too many orders to try them all.
_FEW: Final = 24


def find_schedule(
    jobs: Sequence[Job], terms: Terms, *, most_placed: int = MOST_PLACED
) -> tuple[Mapping[str, Slot], int]:
    """Find a short schedule.

    Args:
        jobs: Each after what it needs.
        terms: What they are done under.
        most_placed: How many jobs may be placed in all trials.

    Returns:
        Its slots, and a time than which no schedule is shorter.
    """
    search = _Search(jobs, terms, most_placed)
    search.try_rules()
    search.least = least_elapsed(jobs, terms, search.elapsed)
    search.try_changes()
    search.try_all()
    search.settle()
    return search.slots, search.least


class _Search:
    """The best schedule so far, and what is left of the effort; lives for one search."""

    def __init__(self, jobs: Sequence[Job], terms: Terms, most_placed: int) -> None:
        self._jobs, self._terms, self._left = jobs, terms, most_placed
        self._tails = tails_of(jobs)
        self._order = list(jobs)
        self.slots: Mapping[str, Slot] = place_all(jobs, terms)
        self.elapsed = elapsed_of(self.slots)
        self.least = 0
        self._series = 0

    @property
    def _is_over(self) -> bool:
        return self.elapsed <= self.least or self._left <= 0

    def _try(self, order: Sequence[Job], *, is_drifting: bool = False) -> None:
        self._left -= len(order)
        slots = place_all(order, self._terms)
        elapsed = elapsed_of(slots)
        if elapsed < self.elapsed or (elapsed == self.elapsed and is_drifting):
            self.slots, self.elapsed, self._order = slots, elapsed, list(order)

    def try_rules(self) -> None:
        """What has most to come after it goes first; or what has most of others behind it."""
        self._try(in_order_of(self._tails, self._jobs))
        behind = {job.id: float(job.minutes) for job in self._jobs}
        for job in reversed(self._jobs):
            for need in job.needs:
                behind[need] += job.minutes
        self._try(in_order_of(behind, self._jobs))

    def try_changes(self) -> None:
        """Move one job at a time up or down in the order, and keep what is no longer."""
        enough = self._left // 2 if len(self._jobs) <= _FEW else 0
        while not self._is_over and self._left > enough:
            self._try(self._moved(), is_drifting=True)

    def _moved(self) -> list[Job]:
        """The order with one job somewhere else, between what it needs and what needs it."""
        order = list(self._order)
        index = self._draw(len(order))
        job = order.pop(index)
        places = {one.id: place for place, one in enumerate(order)}
        first = max((places[need] + 1 for need in job.needs), default=0)
        last = min((places[one.id] for one in order if job.id in one.needs), default=len(order))
        order.insert(first + self._draw(last - first + 1), job)
        return order

    def _draw(self, count: int) -> int:
        """A number below some count, the next of a series that is the same everywhere."""
        # D. E. Knuth, The Art of Computer Programming 2, 3.3.4, table 1, line 26: MMIX's generator.
        self._series = (self._series * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self._series >> 32) * count >> 32

    def settle(self) -> None:
        """Go back to the planned order wherever that makes nothing later.

        What is planned next after the job at hand is preferred, then what is planned first.
        """
        table = Timetable(self._terms)
        place = {job.id: index for index, job in enumerate(self._jobs)}
        rest = sorted(self._jobs, key=lambda job: (self.slots[job.id].start, place[job.id]))
        left, last = _MOST_SETTLED, -1
        while rest:
            ready = [job for job in rest if all(need in table.slots for need in job.needs)]
            ready.sort(key=lambda job: (place[job.id] != last + 1, place[job.id]))
            chosen = rest[0]
            for job in ready[:2]:
                if job is chosen or left <= 0:
                    break
                left -= len(rest)
                if self._is_in_time(table, job, rest):
                    chosen = job
                    break
            table.place(chosen)
            rest.remove(chosen)
            last = place[chosen.id]
        if elapsed_of(table.slots) <= self.elapsed:
            self.slots = table.slots

    def _is_in_time(self, table: Timetable, job: Job, rest: Sequence[Job]) -> bool:
        own = table.copied()
        own.place(job)
        for other in rest:
            if other is not job and own.place(other).ready > self.elapsed:
                return False
        return True

    def try_all(self) -> None:
        """All orders, one by one, but those that cannot become shorter than the best."""
        if self._is_over or len(self._jobs) > _FEW:
            return
        heads = earliest_starts(self._jobs, self._terms)
        is_whole = self._go_on(Timetable(self._terms), list(self._jobs), heads)
        if is_whole:
            self.least = self.elapsed

    def _go_on(self, table: Timetable, left: list[Job], heads: Mapping[str, int]) -> bool:
        """Try all orders of what is left; False where the effort ran out."""
        if not left:
            elapsed = elapsed_of(table.slots)
            if elapsed < self.elapsed:
                self.elapsed, self.slots = elapsed, table.slots
            return True
        if not self._may_be_shorter(table, left, heads):
            return True
        ready = [job for job in left if all(need in table.slots for need in job.needs)]
        ready.sort(key=lambda job: -self._tails[job.id])
        for job in ready:
            if self._left <= 0:
                return False
            if self.elapsed <= self.least:
                return True
            own = table.copied()
            own.place(job)
            self._left -= 1
            if not self._go_on(own, [one for one in left if one is not job], heads):
                return False
        return True

    def _may_be_shorter(
        self, table: Timetable, left: Sequence[Job], heads: Mapping[str, int]
    ) -> bool:
        """Tell whether what is left can end before the best does, as if nothing were short."""
        starts: dict[str, int] = {}
        for job in left:
            start = heads[job.id]
            for need in job.needs:
                slot = table.slots.get(need)
                start = max(start, slot.ready if slot else starts[need])
            if start + self._tails[job.id] >= self.elapsed:
                return False
            starts[job.id] = start + job.minutes + job.waiting_minutes
        return elapsed_of(table.slots) < self.elapsed
