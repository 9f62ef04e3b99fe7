"""The reader's desk: what is gathered while one plan is read.

State, and so the exception: a desk lives for one call of `read_plan` and is seen by nobody else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Protocol

from benchleaf.findings import Finding, Place, Severity
from benchleaf.lengths import UnitName
from benchleaf.reading.expressions import Expression

# chosen: nobody mends more than a hundred slips before checking again.
MAX_FINDINGS: Final = 100
THE_PLAN: Final = "the plan"
"""Subject of a finding about the whole; `plan` alone is the key of the title."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FileKind:
    """How findings speak of a file: plans are read here, and shops."""

    whole: str = THE_PLAN
    keys: str = "the keys of a plan, from `plan:` to `parts:`"
    """What it holds."""
    too_much: str = "Split the piece into several plans."
    """What to do where it is too large."""

    @property
    def noun(self) -> str:
        """What one of them is called."""
        return self.whole.removeprefix("the ")


PLAN_FILE: Final = FileKind()


class Located(Protocol):
    """Anything with a place in the file and a path in the plan: nodes, expressions, spots."""

    @property
    def place(self) -> Place:
        """Where it stands."""

    @property
    def path(self) -> str:
        """What it is; empty for the whole plan."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place and a path that belong together for one finding."""

    place: Place
    path: str


class Desk:
    """Gathers findings, places and expressions of one plan."""

    def __init__(self, file: str, kind: FileKind = PLAN_FILE) -> None:
        self.file = file
        self.kind = kind
        self.units: UnitName = "in"
        """Unit of bare numbers, set as soon as it is read."""
        self.findings: list[Finding] = []
        self.places: dict[str, Place] = {}
        self.expressions: list[Expression] = []

    @property
    def top(self) -> Spot:
        """The first place of the file, for what concerns the whole plan."""
        return Spot(Place(file=self.file, line=1, column=1), "")

    def spot(self, path: str) -> Spot:
        """The place of a path, or the first of the file where the path has none."""
        return Spot(self.places.get(path, self.top.place), path)

    @property
    def is_full(self) -> bool:
        """Tell whether more findings would not be shown; loops over strangers' keys end then."""
        return len(self.findings) >= MAX_FINDINGS

    def report(self, code: str, at: Located, message: str, *, remedy: str) -> None:
        """Report an error at a node, an expression or any other spot of the plan."""
        self._find(Severity.ERROR, code, at, message=message, remedy=remedy)

    def warn(self, code: str, at: Located, message: str, *, remedy: str) -> None:
        """Report what is probably a slip but can be read."""
        self._find(Severity.WARNING, code, at, message=message, remedy=remedy)

    def _find(
        self, severity: Severity, code: str, at: Located, *, message: str, remedy: str
    ) -> None:
        self.add(
            Finding(
                code=code,
                severity=severity,
                place=at.place,
                subject=at.path or self.kind.whole,
                message=message,
                remedy=remedy,
            )
        )

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
