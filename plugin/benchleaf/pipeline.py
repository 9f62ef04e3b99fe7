"""The straight line from a plan's text to everything that is worked out of it.

Takes the text of a plan file and its name; gives a `WorkedPlan` with what each stage made, up to the
first stage that met an error. Pure: no files, no clock, no log.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.cutting.records import CutPlan
from benchleaf.findings import Finding, has_errors
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece
from benchleaf.reading.plan import Plan
from benchleaf.safety.records import CallOuts
from benchleaf.sequencing.records import Sequence


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedPlan:
    """A plan with all that was worked out of it; a stage kept from running by an error is None."""

    file: str
    plan: Plan | None = None
    piece: Piece | None = None
    joinery: Joinery | None = None
    cut_plan: CutPlan | None = None
    sequence: Sequence | None = None
    call_outs: CallOuts | None = None
    findings: tuple[Finding, ...] = ()
    """All findings of all stages that ran, sorted by place."""

    @property
    def is_sound(self) -> bool:
        """Tell whether every stage ran and none met an error: fit to be built from."""
        return self.call_outs is not None and not has_errors(self.findings)
