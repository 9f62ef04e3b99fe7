"""The straight line from a plan's text to everything that is worked out of it.

Takes the text of a plan file and its name; gives a `WorkedPlan` with what each stage made, up to the
first stage that met an error. Pure: no files, no clock, no log.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.cutting.records import CutPlan
from benchleaf.findings import Finding
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece
from benchleaf.reading.plan import Plan
from benchleaf.safety.records import CallOuts
from benchleaf.sequencing.records import Sequence


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedPlan:
    """A plan with all that was worked out of it; a stage that an error kept from running is None."""

    file: str
    plan: Plan | None
    piece: Piece | None
    joinery: Joinery | None
    cut_plan: CutPlan | None
    sequence: Sequence | None
    call_outs: CallOuts | None
    findings: tuple[Finding, ...]
    """All findings of all stages that ran, sorted by place."""
