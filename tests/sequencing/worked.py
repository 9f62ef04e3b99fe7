"""Plans worked out from text to the order of work, for the tests of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from benchleaf.cutting.records import CutPlan
from benchleaf.joinery.records import Joinery
from benchleaf.pipeline import WorkedPlan, work_plan
from benchleaf.sequencing.records import Operation, Sequence
from benchleaf.sequencing.workroom import Workroom

PLANS = Path(__file__).parents[2] / "plans"
DEMOS = sorted(path.name.removesuffix(".plan.yml") for path in PLANS.glob("*.plan.yml"))

# A table as its maker would write it: tenoned frame, grooved panel, screwed slats.
TABLE = """
plan: Sorting table
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 800, deep: 400, high: 450}
stock:
  leg stock: {board: 45 x 95, lengths: [2400], of: oak}
  rail stock: {board: 22 x 95, lengths: [2400], of: oak}
  top: {sheet: 2440 x 1220, thickness: 18, of: oak plywood, grain: long, trim: 5}
shop: {kerf: 3, wall: 6, glue: PVA}
parts:
  leg:
    stock: leg stock
    left: 20
    wide: 45
    front: 20
    deep: 45
    bottom: 0
    top: board.bottom
    mirror: [left-right, front-back]
  long rail:
    stock: rail stock
    thickness: deep
    left: leg.right
    right: leg.mirrored(left-right).left
    front: leg.front + 10
    top: leg.top
    high: 80
    mirror: [front-back]
  end rail:
    stock: rail stock
    thickness: wide
    left: leg.left + 10
    front: leg.back
    back: leg.mirrored(front-back).front
    top: leg.top
    high: 80
    mirror: [left-right]
  board:
    stock: top
    left: 0
    right: 800
    front: 0
    back: 400
    top: 450
joints:
  - {mortise and tenon: [long rail, leg]}
  - {mortise and tenon: [end rail, leg]}
  - {rests on: [board, leg]}
  - {rests on: [board, long rail]}
  - {rests on: [board, end rail]}
finish: {coats: 2, of: linseed oil, sand: [120]}
"""


@cache
def work_text(text: str) -> WorkedPlan:
    """Work a plan out; it must be sound."""
    worked = work_plan(text, "plans/trial.plan.yml")
    assert [str(finding) for finding in worked.findings if finding.severity == "error"] == []
    return worked


@cache
def work_demo(name: str) -> WorkedPlan:
    """Work one of the demo plans out."""
    return work_text((PLANS / f"{name}.plan.yml").read_text(encoding="utf-8"))


def all_worked() -> Mapping[str, WorkedPlan]:
    """The demo plans and the table, by name."""
    return {**{name: work_demo(name) for name in DEMOS}, "sorting table": work_text(TABLE)}


def parts_of(worked: WorkedPlan) -> tuple[Joinery, CutPlan, Sequence]:
    """The three results that tests look at."""
    assert worked.joinery is not None
    assert worked.cut_plan is not None
    assert worked.sequence is not None
    return worked.joinery, worked.cut_plan, worked.sequence


def room_of(worked: WorkedPlan) -> Workroom:
    """The workroom of a worked plan."""
    joinery, cut_plan, _ = parts_of(worked)
    return Workroom(joinery=joinery, cut_plan=cut_plan)


def of_kind(worked: WorkedPlan, kind: str) -> tuple[Operation, ...]:
    """Operations of one kind, in order."""
    _, _, sequence = parts_of(worked)
    return tuple(operation for operation in sequence.operations if operation.kind == kind)
