"""What a check is, what a working is, and how both say what they found."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from benchleaf.findings import Finding, Severity
from benchleaf.frames import Number
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import format_length
from benchleaf.piece.records import Piece

if TYPE_CHECKING:
    from benchleaf.checking.survey import Survey


class Topic(StrEnum):
    """What a working is about; workings of one topic stand together."""

    WEIGHT = "Weight and balance"
    BENDING = "Bending under load"
    STANDING = "Standing up"
    MOVEMENT = "Movement of the wood"
    FASTENERS = "Screws"


class Verdict(StrEnum):
    """How a result stands to its limit."""

    TOLD = "told"
    """There is no limit: a number worth knowing."""
    HOLDS = "holds"
    """Within the limit."""
    WATCH = "watch"
    """Within the limit, and yet something a maker would want to know."""
    OVER = "over"
    """Past the limit: a warning."""
    DANGER = "danger"
    """So far past it that somebody may come to harm: an error."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number that goes into a working or comes out of it."""

    symbol: str
    """As the formula has it: `L`; may be empty."""
    name: str
    """`span`."""
    value: Number
    """In `unit`; exact where it is a length of the plan."""
    unit: str
    """`mm`, `N`, `N/mm`, `kPa`, `MPa`, `kg`, `kg/m3`, `N m`, `mm4`, `deg`, `%`,
    `times`, `parts`, or empty."""
    source: str = ""
    """`the plan`, or a table with its status; empty where it follows from others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """One result with all that it was worked out from. A guide, and no engineer's certificate."""

    topic: Topic
    code: str
    """Code of the finding that it makes where a limit is passed, or empty."""
    title: str
    """`Sag of small shelf under books`."""
    subject: str
    """Where in the plan: `parts.small shelf`, `joints[2]`."""
    marks: tuple[str, ...]
    """Copies that it holds for."""
    formula: str
    """As text: `sag = 5 W L^3 / (384 E I)`."""
    inputs: tuple[Quantity, ...]
    result: Quantity
    limit: Quantity | None
    """What the result may be at the most (or the least, where the verdict's words say so)."""
    verdict: Verdict
    words: str
    """The verdict as a sentence, in the plan's units."""
    note: str = ""
    """What was left out or taken for granted."""
    remedy: str = ""
    """What to do where a limit is passed; starts with `Needed:` or a verb."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: the row that the registry holds."""

    code: str
    """Code of its findings."""
    name: str
    """Its module's name."""
    title: str
    """What holds when it passes, as a sentence."""
    run: Callable[[Joinery], Iterable[Finding]] | None = None
    """Looks at the joints; None for a check that reckons."""
    reckon: Callable[[Survey], Iterable[Working]] | None = None
    """Works results out; a working past its limit makes the finding. None for one that looks."""


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

    def judge(self, working: Working) -> Finding | None:
        """The finding that a working makes, or None where no limit is passed."""
        if working.verdict is Verdict.OVER:
            return self.warning(working.subject, working.words, working.remedy)
        if working.verdict is Verdict.DANGER:
            return self.error(working.subject, working.words, working.remedy)
        return None

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
