"""Findings of solving, made alike: at an expression, or at a path of the plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from benchleaf.findings import Finding, Place, Severity
from benchleaf.reading.plan import Plan


class Located(Protocol):
    """Anything with a place in the file and a path in the plan; an expression is."""

    @property
    def place(self) -> Place:
        """Where it stands."""

    @property
    def path(self) -> str:
        """What it is."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place and a path that belong together for one finding."""

    place: Place
    path: str


def spot(plan: Plan, path: str) -> Spot:
    """The spot of a path of the plan, at the nearest place that it has."""
    return Spot(plan.place(path), path)


def error(code: str, at: Located, message: str, *, remedy: str) -> Finding:
    """A finding that stops the plan from being worked out."""
    return _find(Severity.ERROR, code, at, message=message, remedy=remedy)


def warning(code: str, at: Located, message: str, *, remedy: str) -> Finding:
    """A finding that the author may let stand."""
    return _find(Severity.WARNING, code, at, message=message, remedy=remedy)


def _find(severity: Severity, code: str, at: Located, *, message: str, remedy: str) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        place=at.place,
        subject=at.path,
        message=message,
        remedy=remedy,
    )
