"""Proof of an order of work: a bench on which every operation is done in thought, one by one.

Takes operations in some order, the joinery and the cut plan; gives what is impossible. It keeps the
state of every blank and copy itself and does not look at the operations' needs, so that it stands
apart from what planned them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.cutting.records import CutPlan
from benchleaf.joinery.records import Joinery
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying.bench import Bench
from benchleaf.sequencing.replaying.blanks import cut_at_angles, glue_layers, saw, true_up
from benchleaf.sequencing.replaying.joining import fit_dry, hold_for_pilots, is_interrupted, join
from benchleaf.sequencing.replaying.jointing import (
    begin,
    cut_features,
    finish_first,
    mark_from_mates,
    set_out,
    shape,
    smooth_faces,
)
from benchleaf.sequencing.replaying.views import needs_work

__all__ = ["Bench", "do", "left_undone", "replay"]


def replay(operations: Iterable[Operation], joinery: Joinery, cut_plan: CutPlan) -> tuple[str, ...]:
    """Do the operations in thought.

    Returns:
        What could not be done, in the order met; empty for a sound order.
    """
    in_order = tuple(operations)
    bench = Bench.of(joinery, cut_plan, in_order)
    refusals: list[str] = []
    for operation in in_order:
        refusals += [f"{operation.title}: {why}" for why in do(operation, bench)]
    return (*refusals, *left_undone(bench))


_BY_KIND = {
    "set-out": set_out,
    "mark-pins": mark_from_mates,
    "glue-up": glue_layers,
    "glue-panel": glue_layers,
    "sand-inside": smooth_faces,
    "prefinish-panels": finish_first,
    "drill-pilots": hold_for_pilots,
    "dry-fit": fit_dry,
}
"""What some kinds of operation do besides cutting, shaping and joining."""


def do(operation: Operation, bench: Bench) -> Iterator[str]:
    """Do one operation in thought; give what stands against it."""
    yield from is_interrupted(operation, bench)
    yield from saw(operation, bench)
    yield from cut_at_angles(operation, bench)
    if operation.kind.startswith("true-"):
        yield from true_up(operation, bench)
    elif operation.kind in _BY_KIND:
        yield from _BY_KIND[operation.kind](operation, bench)
    yield from begin(operation, bench)
    yield from cut_features(operation, bench)
    yield from shape(operation, bench)
    if operation.joined:
        yield from join(operation, bench)
    if operation.kind == "sand-outside":
        yield from _clean(bench)
    elif operation.kind == "coat":
        yield from _coat(operation, bench)
    elif operation.kind == "prefinish-panels":
        yield from _coat_panels(operation, bench)


# Finish, and the end.


def _clean(bench: Bench) -> Iterator[str]:
    if len(bench.closed) < len(bench.joinery.fits):
        yield "the piece is not together yet"
    if bench.is_clean:
        yield "the piece is cleaned up twice"
    bench.is_clean = True


def _coat(operation: Operation, bench: Bench) -> Iterator[str]:
    bench.coats += 1
    if not bench.is_clean:
        yield "the piece is not clean yet"
    if operation.id != f"coat-{bench.coats}":
        yield f"it comes as coat {bench.coats}"


def _coat_panels(operation: Operation, bench: Bench) -> Iterator[str]:
    for mark in operation.copies:
        if mark not in bench.smooth:
            yield f"{mark} has its first coat before it is sanded"
        bench.coated.add(mark)


def left_undone(bench: Bench) -> Iterator[str]:
    """Tell what is missing when all operations are done."""
    for label in sorted(bench.blanks - bench.free):
        yield f"{label} is never cut free"
    for mark in bench.joinery.copies:
        yield from _left_on(mark, bench)
    if len(bench.closed) < len(bench.joinery.fits):
        yield "some joint is never closed"
    if not bench.is_clean:
        yield "the piece is never cleaned up"
    if bench.coats < bench.coats_wanted:
        yield f"coat {bench.coats + 1} is never put on"


def _left_on(mark: str, bench: Bench) -> Iterator[str]:
    for face in sorted(bench.to_trim[mark]):
        yield f"the {face} of {mark} is never cut at its angle"
    for index, feature in enumerate(bench.joinery.copies[mark].features):
        if needs_work(mark, feature, bench.joinery) and (mark, index) not in bench.cut:
            yield f"the {feature.role} of {mark} is never cut"
    if bench.unshaped[mark]:
        yield f"{mark} is never shaped"
    if any(bench.to_set_out(mark, joint) for own, joint in bench.lines if own == mark):
        yield f"some line of {mark} is never set out"
