"""What Benchleaf has to say about a plan: place, what was found, what is needed, the next act.

Takes nothing; every stage makes findings and passes them up as data. Must not know files or logs.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters: an error stops the plan from being published with numbers."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Place:
    """A place in a plan file."""

    file: str
    """Path as the author would type it, with forward slashes."""
    line: int
    """Line, from 1."""
    column: int
    """Column, from 1."""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that is wrong, or worth saying, and what to do about it."""

    code: str
    """Letter of the stage and three digits, never reused: R reading, P piece, F shaping, J joint,
    K check, C cutting, S sequence, H safety."""
    severity: Severity
    place: Place
    subject: str
    """Where in the plan, as a path that the author recognises: `parts.leg.wide`, `joints[1]`."""
    message: str
    """What is wrong and what was found, in the author's own spelling of values."""
    remedy: str
    """What is needed, and the next act: starts with `Needed:` or a verb."""

    def __str__(self) -> str:
        return f"{self.place}: {self.subject}: {self.message}\n  {self.remedy}   [{self.code}]"


def sort_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort findings by place, then code, and drop exact repeats."""
    unique = dict.fromkeys(findings)
    return tuple(sorted(unique, key=lambda f: (f.place, f.code, f.subject, f.message)))


def has_errors(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding is an error."""
    return any(finding.severity is Severity.ERROR for finding in findings)
