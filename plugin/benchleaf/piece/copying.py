"""Copies of a part along its row and across its mirrors: where they are, and that they are apart.

Takes a part's exact box, the solved step of its row and the overall box; gives offsets and
findings.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.lengths import format_length
from benchleaf.piece.faults import Spot, error, spot, warning
from benchleaf.reading.grammar import MIRRORS
from benchleaf.reading.plan import Plan, PlanGroup, PlanPart

Span = tuple[Fraction, Fraction]
"""From low to high along one axis, mm."""


def row_offsets(part: PlanPart | PlanGroup, step_mm: Fraction | None) -> tuple[Fraction, ...]:
    """Offset of each copy of the row from the first, mm; `(0,)` without a row.

    Args:
        part: The part or the group as the plan writes it.
        step_mm: From one copy to the next, or None without a row.
    """
    if part.row is None or step_mm is None:
        return (Fraction(0),)
    return tuple(index * step_mm for index in range(part.row.count))


@dataclass(frozen=True, slots=True)
class CopyCheck:
    """Checks the copies of one part, or of one group."""

    part: PlanPart | PlanGroup
    plan: Plan
    spans: tuple[Span, Span, Span]
    """The first copy along each axis."""
    offsets_mm: tuple[Fraction, ...]
    overall_mm: tuple[Fraction, Fraction, Fraction]
    """Extents of what it is placed in: the piece, or its group."""

    def findings(self) -> tuple[Finding, ...]:
        """Everything that is wrong with the copies."""
        found = [self._check_row()]
        found += [self._check_mirror(axis) for axis in self.part.mirror]
        if not self._is_turned:
            # What is turned is looked at where it stands: `trimming.find_outside`.
            found += [self._check_inside(axis) for axis in Axis]
        return tuple(finding for finding in found if finding is not None)

    @property
    def _is_turned(self) -> bool:
        part = self.part
        return isinstance(part, PlanPart) and bool(part.turns or part.splay or part.trims)

    @property
    def _group(self) -> str:
        """The group that it is placed in, or nothing."""
        return self.part.group if isinstance(self.part, PlanPart) else ""

    def _spans_along(self, axis: Axis) -> list[Span]:
        low, high = self.spans[axis]
        if self.part.row is None or self.part.row.axis != axis:
            return [(low, high)]
        return [(low + offset, high + offset) for offset in self.offsets_mm]

    def _show(self, length_mm: Fraction) -> str:
        return format_length(length_mm, self.plan.units.value)

    def _check_row(self) -> Finding | None:
        row = self.part.row
        if row is None:
            return None
        low, high = self.spans[row.axis]
        step_mm = self.offsets_mm[1]
        if step_mm >= high - low:
            return None
        word = row.axis.extent
        message = (
            f"the copies overlap: from one to the next is {self._show(step_mm)}, and each is "
            f"{self._show(high - low)} {word}"
        )
        remedy = f"Needed: at least {self._show(high - low)} from one to the next, or fewer copies."
        return error("P013", self._spot("row"), message, remedy=remedy)

    def _check_mirror(self, axis: Axis) -> Finding | None:
        total_mm = self.overall_mm[axis]
        spans = self._spans_along(axis)
        # A copy [a, b] and another's image [W - d, W - c] share length where a + c < W < b + d.
        crossing = next(
            (
                one
                for one in spans
                for other in spans
                if one[0] + other[0] < total_mm < one[1] + other[1]
            ),
            None,
        )
        if crossing is None:
            return None
        low, high = map(self._show, crossing)
        word = next(word for word, mirror in MIRRORS.items() if mirror is axis)
        message = (
            f"mirrored {word}, a copy from {low} to {high} overlaps the image of "
            f"{'one in its row' if len(spans) > 1 else 'itself'}: the centre plane is at "
            f"{self._show(total_mm / 2)}"
        )
        remedy = f"Keep the part on one side of the centre plane, or take `{word}` out of `mirror`."
        return error("P014", self._spot("mirror"), message, remedy=remedy)

    def _check_inside(self, axis: Axis) -> Finding | None:
        spans = self._spans_along(axis)
        low = min(span[0] for span in spans)
        high = max(span[1] for span in spans)
        if low >= 0 and high <= self.overall_mm[axis]:
            return None
        spec = self.part.axes[axis]
        faces = (spec.high, spec.low) if low >= 0 else (spec.low, spec.high)
        given = next(each for each in (*faces, spec.centre) if each is not None)
        around = f"`{self._group}`" if self._group else "the piece"
        message = (
            f"it reaches from {self._show(low)} to {self._show(high)}, and {around} is "
            f"{self._show(self.overall_mm[axis])} {axis.extent}, from 0"
        )
        what = "part" if isinstance(self.part, PlanPart) else "group"
        larger = around if self._group else "`overall`"
        remedy = f"Move the {what} in, or make {larger} larger."
        return warning("P030" if self._group else "P015", given, message, remedy=remedy)

    def _spot(self, key: str) -> Spot:
        return spot(self.plan, f"{self.part.path}.{key}")
