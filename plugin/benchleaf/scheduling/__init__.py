"""Scheduling: when each operation is done, by how many hands, and how soon the piece is finished.

Takes the order of work and its terms, gives a Schedule: as short as it can be, or with the gap to
what is proved. Must not know pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from benchleaf.scheduling.critical import critical_path
from benchleaf.scheduling.jobs import make_jobs, terms_of
from benchleaf.scheduling.records import Schedule, Slot
from benchleaf.scheduling.searching import find_schedule
from benchleaf.sequencing.records import Sequence

__all__ = ["schedule_work"]


def schedule_work(
    sequence: Sequence, *, people: int = 1, day_minutes: int = 360, clamps: int | None = None
) -> Schedule:
    """Time all operations, so that the piece is finished as soon as it can be.

    Args:
        sequence: The order of work.
        people: How many work at it; each operation is one person's.
        day_minutes: Of work in a day.
        clamps: How many there are; as many as the largest glue-up asks for, if None.
    """
    jobs = make_jobs(sequence.operations, has_help=people > 1)
    terms = terms_of(jobs, people=people, day_minutes=day_minutes, clamps=clamps)
    slots, least = find_schedule(jobs, terms)
    places = {job.id: index for index, job in enumerate(jobs)}
    in_time = sorted(slots.values(), key=lambda slot: (slot.start, places[slot.id]))
    return Schedule(
        terms=terms,
        slots=tuple(_hand_out(in_time, people)),
        elapsed=max((slot.ready for slot in slots.values()), default=0),
        least=least,
        critical=critical_path(jobs, slots, terms),
    )


def _hand_out(slots: Iterable[Slot], people: int) -> Iterator[Slot]:
    """Say who does what: the first who is free."""
    free = [0] * people
    for slot in slots:
        person = next(own for own, time in enumerate(free) if time <= slot.start)
        free[person] = slot.end
        yield replace(slot, person=person + 1)
