"""Whole plans on the calendar: nothing too early, nobody at two places, nothing lost."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from tests.sequencing.worked import all_worked, parts_of, work_demo

from benchleaf.pipeline import WorkedPlan
from benchleaf.scheduling import schedule_work
from benchleaf.scheduling.day_by_day import list_days, steps_meanwhile
from benchleaf.scheduling.days import DAY, open_minutes
from benchleaf.scheduling.records import Schedule

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)


def schedule_of(worked: WorkedPlan) -> Schedule:
    assert worked.schedule is not None
    return worked.schedule


@every_plan
def test_every_operation_is_worked_for_its_minutes_after_what_it_needs(
    worked: WorkedPlan,
) -> None:
    schedule, operations = schedule_of(worked), parts_of(worked)[2].operations
    slots = {slot.id: slot for slot in schedule.slots}
    assert set(slots) == {operation.id for operation in operations}
    for operation in operations:
        slot = slots[operation.id]
        worked_for = open_minutes(slot.start, slot.end, schedule.terms.day_minutes)
        assert worked_for == operation.active_minutes
        assert slot.ready - slot.end == operation.waiting_hours * 60
        assert all(slots[need].ready <= slot.start for need in operation.needs)


@every_plan
def test_one_pair_of_hands_is_at_one_operation_at_a_time(worked: WorkedPlan) -> None:
    slots = sorted(schedule_of(worked).slots, key=lambda slot: slot.start)
    assert all(one.end <= other.start for one, other in itertools.pairwise(slots))
    assert {slot.person for slot in slots} == {1}


@every_plan
def test_glue_and_finish_are_not_laid_down_in_the_evening(worked: WorkedPlan) -> None:
    operations = {o.id: o for o in parts_of(worked)[2].operations}
    day = schedule_of(worked).terms.day_minutes
    for slot in schedule_of(worked).slots:
        if operations[slot.id].waiting_hours and slot.end - slot.start <= day:
            assert slot.start // DAY == (slot.end - 1) // DAY


@every_plan
def test_the_gap_is_a_gap_and_the_end_is_the_last_wait(worked: WorkedPlan) -> None:
    schedule = schedule_of(worked)
    assert 0 < schedule.least <= schedule.elapsed
    assert schedule.elapsed == max(slot.ready for slot in schedule.slots)
    # No plan is done before its work is, nor before its longest chain of waits.
    work = sum(operation.active_minutes for operation in parts_of(worked)[2].operations)
    days = (work - 1) // schedule.terms.day_minutes
    assert schedule.least >= days * DAY


@every_plan
def test_the_critical_path_leads_without_a_gap_from_the_start_to_the_end(
    worked: WorkedPlan,
) -> None:
    schedule = schedule_of(worked)
    slots = {slot.id: slot for slot in schedule.slots}
    path = [slots[own] for own in schedule.critical]
    assert path[0].start == 0
    assert path[-1].ready == schedule.elapsed
    assert all(one.end <= other.start for one, other in itertools.pairwise(path))


@every_plan
def test_days_hold_all_work_and_no_more(worked: WorkedPlan) -> None:
    steps = parts_of(worked)[2].steps
    days = list_days(schedule_of(worked), steps)
    for step in steps:
        minutes = sum(
            own.end - own.start for day in days for own in day.work if own.step == step.number
        )
        assert minutes == sum(operation.active_minutes for operation in step.operations)
    assert [day.number for day in days] == list(range(1, len(days) + 1))


def test_glue_ups_share_the_clamps_there_are() -> None:
    """The plant stand's stacks and frames ask for clamps; two at once for no more than all."""
    sequence = parts_of(work_demo("plant-stand"))[2]
    asked = {o.id: int(o.facts.get("clamp.count", 0)) for o in sequence.operations}
    few = schedule_work(sequence, people=2, clamps=max(asked.values()))
    # From memory, as in the table of glues: PVA is clamped for an hour.
    holds = [(s.start, s.end + 60, asked[s.id]) for s in few.slots if asked[s.id]]
    for time in {start for start, _, _ in holds}:
        held = sum(count for start, end, count in holds if start <= time < end)
        assert held <= max(asked.values())


def test_two_people_are_never_slower_and_share_one_table_saw() -> None:
    sequence = parts_of(work_demo("keepsake-box"))[2]
    one, two = (schedule_work(sequence, people=people) for people in (1, 2))
    assert two.elapsed <= one.elapsed
    tools = {operation.id: operation.tool for operation in sequence.operations}
    saws = sorted((s.start, s.end) for s in two.slots if tools[s.id] == "table saw")
    assert all(a[1] <= b[0] for a, b in itertools.pairwise(saws))
    assert {slot.person for slot in two.slots} == {1, 2}


def test_work_goes_on_while_glue_dries() -> None:
    """The plant stand's posts are glued up of layers first; other parts are sawn meanwhile."""
    worked = work_demo("plant-stand")
    meanwhile = steps_meanwhile(schedule_of(worked), parts_of(worked)[2].steps, 30)
    stacks = [
        step.number
        for step in parts_of(worked)[2].steps
        if any(operation.kind == "glue-up" for operation in step.operations)
    ]
    assert stacks
    assert all(meanwhile[number] for number in stacks)


def test_longer_days_are_fewer() -> None:
    sequence = parts_of(work_demo("hall-bench"))[2]
    short, long = (schedule_work(sequence, day_minutes=hours * 60) for hours in (2, 8))
    assert long.elapsed < short.elapsed


def test_the_same_work_gives_the_same_schedule() -> None:
    sequence = parts_of(work_demo("tool-chest"))[2]
    assert schedule_work(sequence) == schedule_work(sequence)


def test_a_piece_of_work_longer_than_a_day_goes_on_in_the_morning() -> None:
    sequence = parts_of(work_demo("splayed-stool"))[2]
    long = [replace(one, active_minutes=600) for one in sequence.operations]
    schedule = schedule_work(replace(sequence, operations=tuple(long)), day_minutes=240)
    assert all(open_minutes(slot.start, slot.end, 240) == 600 for slot in schedule.slots)
