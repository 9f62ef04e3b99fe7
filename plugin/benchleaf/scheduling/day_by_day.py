"""A schedule day by day: which step is worked at when and by whom, and what dries meanwhile.

Takes a Schedule and the steps, gives Days. Must not know how they are shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from benchleaf.scheduling.days import DAY
from benchleaf.scheduling.records import Schedule, Slot
from benchleaf.sequencing.records import Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Work at one step without a break."""

    step: int
    """Its number."""
    person: int
    """From 1."""
    start: int
    end: int
    """Minutes since the shop opened that day."""
    is_critical: bool
    """It holds up the end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drying:
    """What is left to itself on a day: glue that hardens, finish that dries."""

    step: int
    start: int
    end: int
    """Minutes since the shop opened that day, up to 1440."""
    is_critical: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One day."""

    number: int
    """From 1."""
    work: tuple[Stretch, ...]
    """By their start."""
    drying: tuple[Drying, ...]


def list_days(schedule: Schedule, steps: Sequence[Step]) -> tuple[Day, ...]:
    """Tell what is done on each day, and what dries."""
    step_of = {own.id: step.number for step in steps for own in step.operations}
    last = max((slot.ready - 1 for slot in schedule.slots), default=-1) // DAY
    work: dict[int, list[Stretch]] = {day: [] for day in range(last + 1)}
    drying: dict[int, list[Drying]] = {day: [] for day in range(last + 1)}
    for slot in schedule.slots:
        is_critical = slot.id in schedule.critical
        for day, start, end in _parts(slot.start, slot.end, schedule.terms.day_minutes):
            work[day].append(
                Stretch(
                    step=step_of[slot.id],
                    person=slot.person,
                    start=start,
                    end=end,
                    is_critical=is_critical,
                )
            )
        for day, start, end in _parts(slot.end, slot.ready, DAY):
            own = Drying(step=step_of[slot.id], start=start, end=end, is_critical=is_critical)
            drying[day].append(own)
    return tuple(
        Day(number=day + 1, work=tuple(_merged(work[day])), drying=tuple(_longest(drying[day])))
        for day in range(last + 1)
    )


def _parts(start: int, end: int, open_minutes: int) -> Iterator[tuple[int, int, int]]:
    """The parts of a time on each of its days: day, from, to."""
    for day in range(start // DAY, (end - 1) // DAY + 1):
        low, high = max(start - day * DAY, 0), min(end - day * DAY, open_minutes)
        if low < high:
            yield day, low, high


def _merged(work: Sequence[Stretch]) -> list[Stretch]:
    """Work at one step that goes on at once is one stretch."""
    merged: list[Stretch] = []
    last: dict[int, int] = {}
    for own in sorted(work, key=lambda one: (one.start, one.person)):
        index = last.get(own.person)
        before = merged[index] if index is not None else None
        if before is not None and before.step == own.step and before.end == own.start:
            is_critical = before.is_critical or own.is_critical
            merged[index or 0] = replace(before, end=own.end, is_critical=is_critical)
            continue
        last[own.person] = len(merged)
        merged.append(own)
    return merged


def _longest(drying: Sequence[Drying]) -> Iterator[Drying]:
    """Of one step's waits that follow one another or overlap, one for all."""
    held: dict[int, list[Drying]] = {}
    for own in sorted(drying, key=lambda one: (one.step, one.start)):
        runs = held.setdefault(own.step, [])
        if runs and own.start <= runs[-1].end:
            before = runs[-1]
            end = max(before.end, own.end)
            is_critical = before.is_critical or own.is_critical
            runs[-1] = replace(before, end=end, is_critical=is_critical)
        else:
            runs.append(own)
    yield from sorted(
        (own for runs in held.values() for own in runs), key=lambda own: (own.start, own.step)
    )


def steps_meanwhile(
    schedule: Schedule, steps: Sequence[Step], least_minutes: int
) -> Mapping[int, tuple[int, ...]]:
    """Steps that are begun or gone on with while another's glue or finish dries, by its number.

    Args:
        schedule: The schedule.
        steps: All steps.
        least_minutes: Shorter waits are not told of.
    """
    step_of = {own.id: step.number for step in steps for own in step.operations}
    told: dict[int, set[int]] = {}
    for slot in schedule.slots:
        if slot.ready - slot.end < least_minutes:
            continue
        own = told.setdefault(step_of[slot.id], set())
        own |= {step_of[one.id] for one in schedule.slots if _overlap(one, slot)}
    return {step: tuple(sorted(own - {step})) for step, own in sorted(told.items())}


def _overlap(work: Slot, wait: Slot) -> bool:
    return work.start < wait.ready and wait.end < work.end
