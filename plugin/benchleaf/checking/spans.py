"""Lines that carry a part: the places that hold it up, gathered across each way it may span.

Takes the ties that carry a copy, gives the spans between lines of them. Knows no loads.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from benchleaf.checking.stays import Tie
from benchleaf.frames import Axis, Box

# chosen: a line that reaches over less than three fifths of a plate's breadth does not carry it.
_REACH: Final = 0.6
# chosen: lines nearer than a millimetre are one, however thin the plate, mm.
_LEAST_APART: Final = 1.0
# chosen: nearer to an end than a tenth of a millimetre is at it, mm.
_AT_END: Final = 0.1
# chosen: what fills less than half of its line carries at points, and the plate bends both ways.
_FILLED: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Places that carry a plate at one distance along its span."""

    at_mm: float
    """Its middle, in the piece's axes."""
    ties: tuple[Tie, ...]
    reach: float
    """Share of the plate's breadth from the first to the last place."""
    filled: float
    """Share of the plate's breadth that lies on it in all."""

    @property
    def is_fastened(self) -> bool:
        """Tell whether anything holds the plate down to it."""
        return any(tie.is_fastened for tie in self.ties)


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """One way in which a part is carried."""

    axis: Axis
    lines: tuple[Line, ...]
    longest_mm: float
    """Longest stretch between lines, or past the last one."""

    @property
    def is_cantilever(self) -> bool:
        """Tell whether it stands out from one line."""
        return len(self.lines) == 1

    def reaches_ends(self, box: Box) -> bool:
        """Tell whether lines carry a part at its very ends, or at one where there is one line."""
        low, high = interval(box, self.axis)
        at_low = self.lines[0].at_mm - low < _AT_END
        at_high = high - self.lines[-1].at_mm < _AT_END
        return at_low or at_high if self.is_cantilever else at_low and at_high

    @property
    def is_on_points(self) -> bool:
        """Tell whether its lines are points far apart, as posts at corners are."""
        return any(line.filled < _FILLED for line in self.lines)


def interval(box: Box, axis: Axis) -> tuple[float, float]:
    """A box's extent along an axis, mm."""
    return float(box.low[axis]), float(box.high[axis])


def across(axis: Axis) -> Axis:
    """The other level axis."""
    return Axis.DEEP if axis is Axis.WIDE else Axis.WIDE


def spans_of(box: Box, ties: Sequence[Tie]) -> tuple[Span, ...]:
    """The ways in which a plate is carried, of which the best counts.

    Lines carry a plate along either span. Points carry it along both, and the longer counts.
    """
    spans = [span for axis in (Axis.WIDE, Axis.DEEP) if (span := span_along(box, ties, axis))]
    on_lines = tuple(span for span in spans if not span.is_on_points)
    if on_lines:
        return on_lines
    points = [s for axis in (Axis.WIDE, Axis.DEEP) if (s := span_along(box, ties, axis, reach=0))]
    longest = max(points, key=lambda span: (not span.is_cantilever, span.longest_mm), default=None)
    return (longest,) if longest else ()


def span_along(box: Box, ties: Sequence[Tie], axis: Axis, *, reach: float = _REACH) -> Span | None:
    """The span along one axis; None where fewer than two lines carry it and none holds it fast."""
    lines = [line for line in _gather(box, ties, axis) if line.reach >= reach]
    if not lines or (len(lines) == 1 and not lines[0].is_fastened):
        return None
    low, high = interval(box, axis)
    gaps = [after.at_mm - before.at_mm for before, after in pairwise(lines)]
    past = (lines[0].at_mm - low, high - lines[-1].at_mm)
    return Span(axis=axis, lines=tuple(lines), longest_mm=max(*gaps, *past))


def _gather(box: Box, ties: Sequence[Tie], axis: Axis) -> list[Line]:
    """Places that carry a plate, gathered into lines across an axis."""
    apart = max(float(box.size[Axis.HIGH]), _LEAST_APART)
    groups: list[list[Tie]] = []
    last = float("-inf")
    for tie in sorted(ties, key=lambda tie: (interval(tie.region, axis), tie.other)):
        start, stop = interval(tie.region, axis)
        if _runs_along(tie.region, box, axis):
            continue
        # chosen: places less than a plate's thickness apart are one line.
        if groups and start <= last + apart:
            groups[-1].append(tie)
        else:
            groups.append([tie])
            last = stop
        last = max(last, stop)
    return [_line(box, group, axis) for group in groups]


def _runs_along(region: Box, box: Box, axis: Axis) -> bool:
    """Tell whether a place runs along a span, as an edge or a cleat does: it carries across it."""
    along, side = float(region.size[axis]), float(region.size[across(axis)])
    # chosen: half of the span long; or twice as long as broad, on less than half of the breadth.
    is_strip = along > 2 * side and side < float(box.size[across(axis)]) / 2
    return is_strip or along > float(box.size[axis]) / 2


def _line(box: Box, group: Sequence[Tie], axis: Axis) -> Line:
    side = across(axis)
    breadth = float(box.size[side])
    places = sorted(interval(tie.region, side) for tie in group)
    filled, last = 0.0, float("-inf")
    for start, stop in places:
        filled += max(stop - max(start, last), 0.0)
        last = max(last, stop)
    ends = [interval(tie.region, axis) for tie in group]
    return Line(
        at_mm=(min(start for start, _ in ends) + max(stop for _, stop in ends)) / 2,
        ties=tuple(group),
        reach=(last - places[0][0]) / breadth,
        filled=filled / breadth,
    )
