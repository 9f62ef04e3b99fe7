"""The reader's desk: what is gathered while one plan is read.

State, and so the exception: a desk lives for one call of `read_plan` and is seen by nobody else.
"""

from __future__ import annotations

from typing import Final

from benchleaf.findings import Finding, Place, Severity
from benchleaf.lengths import UnitName
from benchleaf.reading.expressions import Expression

# chosen: nobody mends more than a hundred slips before checking again.
MAX_FINDINGS: Final = 100
THE_PLAN: Final = "the plan"
"""Subject of a finding about the whole; `plan` alone is the key of the title."""


class Desk:
    """Gathers findings, places and expressions of one plan."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.units: UnitName = "in"
        """Unit of bare numbers, set as soon as it is read."""
        self.findings: list[Finding] = []
        self.places: dict[str, Place] = {}
        self.expressions: list[Expression] = []

    @property
    def start(self) -> Place:
        """The first place of the file."""
        return Place(file=self.file, line=1, column=1)

    @property
    def is_full(self) -> bool:
        """Tell whether more findings would not be shown; loops over strangers' keys end then."""
        return len(self.findings) >= MAX_FINDINGS

    def report(self, code: str, place: Place, path: str, message: str, remedy: str) -> None:
        """Report an error at a place, about a path of the plan."""
        finding = Finding(
            code=code,
            severity=Severity.ERROR,
            place=place,
            subject=path or THE_PLAN,
            message=message,
            remedy=remedy,
        )
        self.add(finding)

    def warn(self, code: str, place: Place, path: str, message: str, remedy: str) -> None:
        """Report what is probably a slip but can be read."""
        finding = Finding(
            code=code,
            severity=Severity.WARNING,
            place=place,
            subject=path or THE_PLAN,
            message=message,
            remedy=remedy,
        )
        self.add(finding)

    def add(self, finding: Finding) -> None:
        """Put a finding on the desk; the last one says that there are more."""
        if len(self.findings) < MAX_FINDINGS - 1:
            self.findings.append(finding)
        elif not self.is_full:
            self.findings.append(
                Finding(
                    code="R099",
                    severity=Severity.ERROR,
                    place=finding.place,
                    subject=finding.subject,
                    message=f"there are more than {MAX_FINDINGS - 1} findings",
                    remedy="Mend the ones shown and check again.",
                )
            )
