"""The replay catches every operation that is left out, done twice, or done before what it needs.

Every one of every demo plan is tried. A bench is copied at each place in the order, so that a trial
goes on from there and ends at the first refusal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import pytest
from tests.sequencing.worked import all_worked, parts_of

from benchleaf.pipeline import WorkedPlan
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying import Bench, do, left_undone, replay

WORKED = all_worked()
every_plan = pytest.mark.parametrize("worked", WORKED.values(), ids=WORKED)


def first_refusal(bench: Bench, operations: Iterable[Operation]) -> str:
    """The first thing that stands against some operations, to the end of the work."""
    own = bench.copied()
    for operation in operations:
        for why in do(operation, own):
            return why
    return next(left_undone(own), "")


def benches(worked: WorkedPlan) -> Iterator[tuple[Bench, tuple[Operation, ...]]]:
    """The bench as each operation finds it, and the operations that are left, that one first."""
    joinery, cut_plan, sequence = parts_of(worked)
    bench = Bench.of(joinery, cut_plan, sequence.operations)
    for index, operation in enumerate(sequence.operations):
        yield bench, sequence.operations[index:]
        assert list(do(operation, bench)) == []
    assert list(left_undone(bench)) == []


@every_plan
def test_no_operation_can_be_left_out_or_done_twice(worked: WorkedPlan) -> None:
    accepted = []
    for bench, (operation, *others) in benches(worked):
        if not first_refusal(bench, others):
            accepted.append(f"without {operation.id}")
        if not first_refusal(bench, (operation, operation, *others)):
            accepted.append(f"twice {operation.id}")
    assert accepted == []


def is_convenience(operation: Operation, need: Operation) -> bool:
    """Dry fits, and the glue-ups after them, wait for other copies too, and could do without.

    A run of dry fits waits for what the last of them needs; a door need not wait for the other.
    """
    is_of_others = not set(need.copies) & set(operation.copies)
    return operation.kind in {"dry-fit", "assemble"} and is_of_others


@every_plan
def test_no_operation_can_be_moved_before_what_it_needs(worked: WorkedPlan) -> None:
    accepted = []
    for bench, left in benches(worked):
        need = left[0].id
        for operation in left[1:]:
            if need in operation.needs and not is_convenience(operation, left[0]):
                others = (one for one in left if one is not operation)
                if not first_refusal(bench, (operation, *others)):
                    accepted.append(f"{operation.id} before {need}")
    assert accepted == []


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
