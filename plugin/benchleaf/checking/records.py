"""What a check is, and how it says what it found."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding, Severity
from benchleaf.frames import Number
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import format_length
from benchleaf.piece.records import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: the row that the registry holds."""

    code: str
    """Code of its findings."""
    name: str
    """Its module's name."""
    title: str
    """What holds when it passes, as a sentence."""
    run: Callable[[Joinery], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Voice:
    """Says what one check found in one piece, in the plan's units."""

    piece: Piece
    code: str

    def show(self, length_mm: Number) -> str:
        """A length in the plan's units, without the unit."""
        return format_length(Fraction(length_mm), self.piece.plan.units.value)

    def error(self, path: str, message: str, remedy: str) -> Finding:
        """An error at a path of the plan, such as `joints[1]`."""
        return self._say(Severity.ERROR, path, message, remedy=remedy)

    def warning(self, path: str, message: str, remedy: str) -> Finding:
        """A warning at a path of the plan."""
        return self._say(Severity.WARNING, path, message, remedy=remedy)

    def _say(self, severity: Severity, path: str, message: str, *, remedy: str) -> Finding:
        return Finding(
            code=self.code,
            severity=severity,
            place=self.piece.plan.place(path),
            subject=path,
            message=message,
            remedy=remedy,
        )

    def part_named(self, mark: str) -> str:
        """The name of the part of which a mark is a copy."""
        return self.piece.copies[mark].part

    def later_part(self, first: str, second: str) -> str:
        """Of two parts, the one further down in the plan: where a finding on both is put."""
        order = list(self.piece.parts)
        return max(first, second, key=order.index)


def show_places(pairs: list[tuple[str, str]]) -> str:
    """Pairs of marks as a short list, at most three spelt out.

    >>> show_places([("A1", "B"), ("A2", "B")])
    'A1 and B, A2 and B'
    """
    shown = ", ".join(f"{first} and {second}" for first, second in pairs[:3])
    more = len(pairs) - 3
    return f"{shown} and {more} more" if more > 0 else shown
