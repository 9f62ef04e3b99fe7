"""The replay catches every operation that is done before something it needs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.sequencing.worked import all_worked, parts_of

from benchleaf.pipeline import WorkedPlan
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying import replay

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)


def is_convenience(operation: Operation, need: Operation) -> bool:
    """Needs that make the work easier and not possible, so that the replay lets them be.

    A pilot hole can be drilled as soon as its two parts exist, but is planned when they are held in
    place; and a large dry fit can be tried before the small one, or before a lipping is glued. The
    dry fits of a run wait for one another's parts.
    """
    if operation.kind == "drill-pilots":
        return True
    is_of_others = bool(need.copies) and not set(need.copies) & set(operation.copies)
    joins = {"dry-fit", "assemble", "screw-together", "set-in-place"}
    return operation.kind == "dry-fit" and (need.kind in joins or is_of_others)


def needs_of(worked: WorkedPlan) -> list[tuple[int, int]]:
    """Pairs of places in the order: what is needed, and what needs it."""
    operations = parts_of(worked)[2].operations
    place = {operation.id: index for index, operation in enumerate(operations)}
    return [
        (place[need], index)
        for index, operation in enumerate(operations)
        for need in operation.needs
        if not is_convenience(operation, operations[place[need]])
    ]


def moved(operations: tuple[Operation, ...], source: int, target: int) -> tuple[Operation, ...]:
    """One operation moved up, to just before another."""
    left = list(operations)
    left.insert(target, left.pop(source))
    return tuple(left)


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_no_operation_can_be_moved_before_what_it_needs(data: st.DataObject) -> None:
    worked = WORKED[data.draw(st.sampled_from(sorted(WORKED)))]
    joinery, cut_plan, sequence = parts_of(worked)
    need, operation = data.draw(st.sampled_from(needs_of(worked)), label="need and operation")
    shuffled = moved(sequence.operations, operation, need)
    assert replay(shuffled, joinery, cut_plan), (
        f"{sequence.operations[operation].id} before {sequence.operations[need].id}"
    )


@given(st.data())
@settings(max_examples=30, deadline=None)
def test_no_operation_can_be_left_out_or_done_twice(data: st.DataObject) -> None:
    worked = WORKED[data.draw(st.sampled_from(sorted(WORKED)))]
    joinery, cut_plan, sequence = parts_of(worked)
    # A coat more or less is no fault of order; the rest is.
    indices = [i for i, o in enumerate(sequence.operations) if o.kind not in {"coat", "dry-fit"}]
    index = data.draw(st.sampled_from(indices))
    without = sequence.operations[:index] + sequence.operations[index + 1 :]
    own = sequence.operations[index]
    is_felt = own.cuts or own.features or own.joined or own.blanks
    if is_felt:
        assert replay(without, joinery, cut_plan)
    if own.cuts or own.features:
        twice = (*sequence.operations[: index + 1], *sequence.operations[index:])
        assert replay(twice, joinery, cut_plan)


@every_plan
def test_a_joint_that_does_not_slide_is_refused(worked: WorkedPlan) -> None:
    joinery, cut_plan, sequence = parts_of(worked)
    locked = replace(joinery, fits=tuple(replace(fit, free_directions=()) for fit in joinery.fits))
    said = replay(sequence.operations, locked, cut_plan)
    assert any("no order of straight slides" in why for why in said)


@every_plan
def test_an_empty_order_leaves_everything_undone(worked: WorkedPlan) -> None:
    joinery, cut_plan, _ = parts_of(worked)
    said = replay((), joinery, cut_plan)
    assert "some joint is never closed" in said
    assert "the piece is never cleaned up" in said
