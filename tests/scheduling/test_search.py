"""Schedules against known optima, and against every schedule there is where there are few."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.scheduling.instances import (
    FT06,
    FT06_OPTIMUM,
    J30_1_1,
    J30_1_1_CAPACITIES,
    J30_1_1_OPTIMUM,
    NO_NIGHT,
    job_shop,
    project,
)

from benchleaf.scheduling.placing import elapsed_of
from benchleaf.scheduling.records import Job, Slot, Terms, Use
from benchleaf.scheduling.searching import find_schedule

HOUR = 60
DAY = 24 * HOUR


def is_open(minute: int, terms: Terms) -> bool:
    return minute % DAY < terms.day_minutes


def faults(jobs: Sequence[Job], slots: Mapping[str, Slot], terms: Terms) -> list[str]:
    """What a schedule does that cannot be done; hour by hour, as all times here are whole hours."""
    found = []
    most = dict(terms.capacities)
    step = HOUR if terms.day_minutes < NO_NIGHT else 1
    held: dict[tuple[str, int], int] = {}
    for job in jobs:
        slot = slots[job.id]
        worked = [t for t in range(slot.start, slot.end, step) if is_open(t, terms)]
        if len(worked) * step != job.minutes:
            found.append(f"{job.id} is worked for {len(worked) * step}")
        if job.in_one_go and slot.end - slot.start != job.minutes:
            found.append(f"{job.id} is interrupted")
        if any(slots[need].ready > slot.start for need in job.needs):
            found.append(f"{job.id} is too early")
        for use in job.uses:
            for t in range(slot.start, slot.end + use.held_minutes, step):
                held[use.name, t] = held.get((use.name, t), 0) + use.count
    found += [f"too many {name} at {t}" for (name, t), n in held.items() if n > most[name]]
    return found


def shortest(jobs: Sequence[Job], terms: Terms, most_hours: int) -> int:
    """The shortest schedule, by trying every start of every job on whole hours."""
    best = most_hours * HOUR
    starts = [t for t in range(0, best, HOUR) if is_open(t, terms)]

    def go_on(index: int, slots: dict[str, Slot]) -> None:
        nonlocal best
        if index == len(jobs):
            if not faults(jobs, slots, terms):
                best = min(best, elapsed_of(slots))
            return
        job = jobs[index]
        for start in starts:
            end, left = start, job.minutes
            while left:
                left -= HOUR if is_open(end, terms) else 0
                end += HOUR
            ready = end + job.waiting_minutes
            if ready >= best:
                return
            own = {**slots, job.id: Slot(id=job.id, start=start, end=end, ready=ready)}
            comes_after = all(slots[need].ready <= start for need in job.needs)
            if comes_after and not faults(jobs[: index + 1], own, terms):
                go_on(index + 1, own)

    go_on(0, {})
    return best


@st.composite
def small_projects(draw: st.DrawFn) -> tuple[list[Job], Terms]:
    """Up to four jobs of one or two hours, with waits and clamps, in days of two hours or more."""
    jobs: list[Job] = []
    for index in range(draw(st.integers(1, 4))):
        clamps = draw(st.integers(0, 2))
        wait = draw(st.sampled_from([0, 0, 1, 5, 23])) * HOUR
        needs = [job.id for job in jobs if draw(st.booleans())]
        held = min(wait, HOUR)
        uses = [Use(name="hands", count=1)]
        if clamps:
            uses.append(Use(name="clamps", count=clamps, held_minutes=held))
        jobs.append(
            Job(
                id=str(index),
                minutes=draw(st.integers(1, 2)) * HOUR,
                waiting_minutes=wait,
                needs=tuple(needs),
                uses=tuple(uses),
                in_one_go=draw(st.booleans()),
            )
        )
    hands, clamps = draw(st.integers(1, 2)), draw(st.integers(2, 3))
    capacities = (("clamps", clamps), ("hands", hands))
    hours = draw(st.sampled_from([2, 3, 24]))
    return jobs, Terms(day_minutes=hours * HOUR, capacities=capacities)


@given(small_projects())
@settings(max_examples=40, deadline=None)
def test_small_projects_are_as_short_as_the_shortest_of_all(
    given_project: tuple[list[Job], Terms],
) -> None:
    jobs, terms = given_project
    slots, least = find_schedule(jobs, terms)
    assert faults(jobs, slots, terms) == []
    # One hour more than was found, so that what was found is among the schedules tried.
    optimum = shortest(jobs, terms, elapsed_of(slots) // HOUR + 1)
    assert elapsed_of(slots) == optimum
    assert least == optimum


# The example of resource-constrained project scheduling in the manual of Python-MIP
# (docs.python-mip.com, Examples; data from memory of that page): ten jobs, two resources of 6 and
# 8. Its optimum there is 21.
TEN_JOBS = {
    0: (0, (0, 0), (1, 2, 3)),
    1: (3, (5, 1), (4, 5)),
    2: (2, (0, 4), (9, 10)),
    3: (5, (1, 4), (8,)),
    4: (4, (1, 3), (6, 7)),
    5: (2, (3, 2), (9, 10)),
    6: (3, (3, 1), (8, 9)),
    7: (4, (2, 4), (8,)),
    8: (2, (4, 0), (11,)),
    9: (4, (5, 2), (11,)),
    10: (6, (2, 5), (11,)),
    11: (0, (0, 0), ()),
}


def test_ten_jobs_of_a_manual_take_its_optimum_and_that_is_proved() -> None:
    jobs, terms = project(TEN_JOBS, (6, 8))
    slots, least = find_schedule(jobs, terms, most_placed=20_000)
    assert faults(jobs, slots, terms) == []
    assert elapsed_of(slots) == least == 21


def test_an_instance_of_the_library_lies_between_bound_and_schedule() -> None:
    jobs, terms = project(J30_1_1, J30_1_1_CAPACITIES)
    slots, least = find_schedule(jobs, terms)
    assert faults(jobs, slots, terms) == []
    assert least <= J30_1_1_OPTIMUM <= elapsed_of(slots)
    # The file's own MPM-time, the longest chain, is 38: a bound is no worse.
    assert least >= 38
    # chosen: within a twentieth of the optimum, as rules and small changes are.
    assert elapsed_of(slots) <= J30_1_1_OPTIMUM * 1.05


def test_a_famous_job_shop_lies_between_bound_and_schedule() -> None:
    jobs, terms = job_shop(FT06)
    slots, least = find_schedule(jobs, terms)
    assert faults(jobs, slots, terms) == []
    assert least <= FT06_OPTIMUM <= elapsed_of(slots) <= FT06_OPTIMUM * 1.1
    # The longest job of the six is 47 minutes long.
    assert least >= max(sum(minutes for _, minutes in row) for row in FT06) == 47


@pytest.mark.parametrize("people", [1, 2, 3])
def test_work_without_waits_is_shared_out_evenly(people: int) -> None:
    jobs = [
        Job(
            id=str(number),
            minutes=HOUR,
            waiting_minutes=0,
            needs=(),
            uses=(Use(name="hands", count=1),),
            in_one_go=False,
        )
        for number in range(6)
    ]
    terms = Terms(day_minutes=NO_NIGHT, capacities=(("hands", people),))
    slots, least = find_schedule(jobs, terms)
    assert elapsed_of(slots) == least == 6 * HOUR // people


def test_no_work_takes_no_time() -> None:
    slots, least = find_schedule([], Terms(day_minutes=360, capacities=()))
    assert (dict(slots), least) == ({}, 0)


def test_two_machines_by_johnsons_rule() -> None:
    """S. M. Johnson (1954): jobs through two machines; his rule gives the optimum."""
    first, second = (3, 5, 1, 6, 7), (6, 2, 2, 6, 5)
    rows = tuple(((0, a), (1, b)) for a, b in zip(first, second, strict=True))
    jobs, terms = job_shop(rows)

    def makespan(order: Sequence[int]) -> int:
        one = two = 0
        for number in order:
            one += first[number]
            two = max(one, two) + second[number]
        return two

    optimum = min(makespan(order) for order in itertools.permutations(range(5)))
    slots, least = find_schedule(jobs, terms)
    assert elapsed_of(slots) == least == optimum == 24
