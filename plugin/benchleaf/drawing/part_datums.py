"""Where sizes on a part are measured from: its true ends, and the end that setting out names.

Takes the joints' setting-out rows for the copy drawn and its blank, gives datums. A maker who works
from the sheet and one who works from the steps must start from the same end of the same wood. Must
not know views or paper.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import FACES, Axis, Box
from benchleaf.joinery.records import Joinery, JointFit

# The joint families' word for what is set into the wood and not along it: no place on a face.
_DEPTH: Final = "depth of"


@dataclass(frozen=True, slots=True)
class MarkedLine:
    """A line that is set out on a part."""

    axis: Axis
    at_mm: Fraction
    """Along the axis, own axes."""
    from_high: bool
    """Whether it is measured from the high end."""
    mate: str
    """Mark of the copy that it is set out for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Datums:
    """The ends of a part, and from which of them its places are measured."""

    blank: Box
    """The part with what joints add, in its own axes."""
    usual: Mapping[Axis, bool]
    """For each axis whether the high end is measured from, where no joint names an end."""
    lines: tuple[MarkedLine, ...]

    def end_mm(self, axis: Axis, *, is_high: bool) -> Fraction:
        """Where the wood ends."""
        return Fraction(self.blank.high[axis] if is_high else self.blank.low[axis])

    def ends_for(self, axis: Axis, at: Fraction) -> tuple[bool, ...]:
        """The ends that a place is measured from, one at least: whether each is the high one."""
        ends = {line.from_high for line in self.lines if (line.axis, line.at_mm) == (axis, at)}
        return tuple(sorted(ends)) or (self.usual[axis],)

    def lines_within(self, axis: Axis, box: Box, mates: Collection[str]) -> list[Fraction]:
        """Lines set out for some mates where a cut for them lies, its sides counted in.

        A hole that is pared past its lines has them just inside it.
        """
        low, high = box.low[axis], box.high[axis]
        return [
            line.at_mm
            for line in self.lines
            if line.axis is axis and line.mate in mates and low <= line.at_mm <= high
        ]


def read_datums(joinery: Joinery, mark: str, blank: Box) -> Datums:
    """Find the ends that a part is measured from: those that its joints are set out from.

    Args:
        joinery: The joints, whose setting out names faces and ends.
        mark: Mark of the copy drawn.
        blank: The copy with what joints add, in its own axes.
    """
    lines = tuple(dict.fromkeys(_lines(joinery.fits, mark, blank)))
    counts = Counter((line.axis, line.from_high) for line in lines)
    return Datums(
        blank=blank,
        usual={axis: counts[axis, True] > counts[axis, False] for axis in Axis},
        lines=lines,
    )


def _lines(fits: Iterable[JointFit], mark: str, blank: Box) -> Iterator[MarkedLine]:
    for fit in fits:
        first, second = fit.contact.first, fit.contact.second
        for row in fit.setting_out:
            if row.copy != mark or row.what.startswith(_DEPTH) or row.reference not in FACES:
                continue
            axis, is_high = FACES[row.reference]
            from_low = Fraction(blank.low[axis] + row.distance_mm)
            from_high = Fraction(blank.high[axis] - row.distance_mm)
            mate = second if mark == first else first
            yield MarkedLine(axis, from_high if is_high else from_low, is_high, mate)
