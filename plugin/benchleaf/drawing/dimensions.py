"""Dimensions round an outline, as ISO 129-1 sets them.

Takes places along one side of an outline, on paper, and ready texts; gives marks and how much room
they take. Must not know parts: what is measured, and in which words, is the caller's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.dimension_lines import GAP_MM, Axes, Side, draw_line
from benchleaf.drawing.page import NOTE_HEIGHT
from benchleaf.drawing.running_dimensions import (
    LEAST_PITCH_MM,
    Place,
    has_room,
    running_depth,
    running_marks,
)
from benchleaf.drawing.scene import Mark, Role, Text
from benchleaf.drawing.text_metrics import text_width

# ASME Y14.5 (by textbooks): first line 10 mm from the outline, then 6 mm apart; ISO teaching 8 mm.
# chosen: 8.5, between the two.
FIRST_ROW_MM: Final = 8.5
ROW_STEP_MM: Final = 6.0
# ISO teaching practice: the extension line passes the last dimension line by 2 mm.
OVERRUN_MM: Final = 2.0
# ISO 129-1:2018: the text stands above its line; chosen: 0.7 mm above, the least gap between lines.
TEXT_LIFT_MM: Final = 0.7
# chosen: two arrowheads of 2.5 mm and as much line between them as to be seen.
_LEAST_FOR_ARROWS_MM: Final = 6.5
# chosen: half a millimetre each side keeps a text clear of the extension lines.
_TEXT_MARGIN_MM: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One distance to be dimensioned, along x for a side above or below, else along y."""

    start: float
    """Lesser coordinate on paper, mm."""
    end: float
    text: str
    start_edge: float | None = None
    """Where the wood ends at the start, across, on paper; None for the outline."""
    end_edge: float | None = None

    @property
    def length(self) -> float:
        """Length on paper, mm."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimensions:
    """Dimensions drawn on one side."""

    marks: tuple[Mark, ...]
    depth: float
    """How far they reach out from the outline, mm; 0 where there are none."""


NO_DIMENSIONS: Final = Dimensions(marks=(), depth=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seat:
    """Where one measure's line and text go."""

    measure: Measure
    row: int
    text_low: float
    text_high: float
    arrows_inside: bool

    @property
    def low(self) -> float:
        return min(self.text_low, self.measure.start)

    @property
    def high(self) -> float:
        return max(self.text_high, self.measure.end)


def draw_dimensions(
    side: Side,
    outline: float,
    measures: Sequence[Measure],
    *,
    places: Sequence[Place] = (),
    origin: Place | None = None,
) -> Dimensions:
    """Draw running dimensions, if any, and parallel ones outside them.

    Args:
        side: Side of the outline to draw on.
        outline: Coordinate of the outline there, mm on the sheet.
        measures: Distances between two places each; nested or end to end.
        places: Places to be measured from `origin` in one row.
        origin: Where the places are measured from.
    """
    axes = Axes(side=side, outline=outline)
    marks: list[Mark] = []
    start, foot = 0.0, 0.0
    if places and origin:
        limits = _limits(measures, places)
        marks += running_marks(axes, places, origin, limits)
        start = running_depth(places)
        # Labels that need more room than there is spread across the outer extension lines, which
        # then start beyond them.
        foot = start if limits and not has_room(len(places), limits) else 0.0
    seats = _seat_all(measures) or _seat_in_order(measures)
    for seat in seats:
        marks += _parallel_marks(axes, seat, start, foot=foot)
    if not seats:
        return Dimensions(marks=tuple(marks), depth=start)
    # The outermost text stands beyond its line above and on the left, inside it elsewhere.
    beyond = OVERRUN_MM if side.outward > 0 else TEXT_LIFT_MM + NOTE_HEIGHT
    rows = 1 + max(seat.row for seat in seats)
    return Dimensions(marks=tuple(marks), depth=_row_out(rows - 1, start) + beyond)


def fits_parallel(measures: Sequence[Measure]) -> bool:
    """Tell whether parallel dimensions can be set without crossing lines or texts."""
    return _seat_all(measures) is not None


def _row_out(row: int, start: float) -> float:
    """How far out the dimension line of a row stands."""
    return (start or 0.0) + (ROW_STEP_MM if start else FIRST_ROW_MM) + row * ROW_STEP_MM


def _seat_all(measures: Sequence[Measure]) -> tuple[_Seat, ...] | None:
    """Seat measures, shortest nearest to the outline; None where lines would cross."""
    waiting = sorted(measures, key=lambda m: (round(m.length, 3), m.start))
    seats: list[_Seat] = []
    while waiting:
        measure = waiting.pop(0)
        seat = _lowest_seat(measure, seats, waiting)
        if not seat or any(_crosses(seat, lower) for lower in seats):
            return None
        seats.append(seat)
    return tuple(seats)


def _lowest_seat(
    measure: Measure, seats: Sequence[_Seat], waiting: Sequence[Measure]
) -> _Seat | None:
    """The seat nearest to the outline that is clear of others, None where even the next row is not.

    Farther out fewer extension lines pass, so that a text finds room there that it lacks nearer in.
    """
    to_come = [end for other in waiting for end in (other.start, other.end)]
    outside = 1 + max((seat.row for seat in seats), default=-1)
    for row in range(_first_row(measure, seats), outside + 1):
        # Extension lines that will pass through this row.
        passing = [e for s in seats if s.row >= row for e in (s.measure.start, s.measure.end)]
        seat = _seat(measure, row, [*to_come, *passing])
        if seat and not any(row == s.row and _touch(seat, s) for s in seats):
            return seat
    return None


def _seat_in_order(measures: Sequence[Measure]) -> tuple[_Seat, ...]:
    """Seat each measure in a row of its own, shortest first, whatever crosses."""
    ordered = sorted(measures, key=lambda m: (round(m.length, 3), m.start))
    return tuple(_outside_seat(m, row, at_end=True) for row, m in enumerate(ordered))


def _first_row(measure: Measure, seats: Sequence[_Seat]) -> int:
    """The row outside everything that the measure spans."""
    spanned = [
        seat.row + 1
        for seat in seats
        if measure.start < seat.measure.end and seat.measure.start < measure.end
    ]
    return max(spanned, default=0)


def _seat(measure: Measure, row: int, passing: Sequence[float]) -> _Seat | None:
    """Find room for a measure's text in a row: between its ends, else beyond one of them."""
    width = text_width(measure.text, NOTE_HEIGHT)
    if measure.length >= width + 2 * _TEXT_MARGIN_MM:
        middle = (measure.start + measure.end) / 2
        return _Seat(
            measure=measure,
            row=row,
            text_low=middle - width / 2,
            text_high=middle + width / 2,
            arrows_inside=measure.length >= _LEAST_FOR_ARROWS_MM,
        )
    for at_end in (True, False):
        seat = _outside_seat(measure, row, at_end=at_end)
        clear = (seat.text_low - _TEXT_MARGIN_MM, seat.text_high + _TEXT_MARGIN_MM)
        if not any(clear[0] < place < clear[1] for place in passing):
            return seat
    return None


def _outside_seat(measure: Measure, row: int, *, at_end: bool) -> _Seat:
    width = text_width(measure.text, NOTE_HEIGHT)
    if measure.length >= width + 2 * _TEXT_MARGIN_MM:
        low = (measure.start + measure.end - width) / 2
    elif at_end:
        low = measure.end + 2 * _TEXT_MARGIN_MM
    else:
        low = measure.start - 2 * _TEXT_MARGIN_MM - width
    return _Seat(
        measure=measure,
        row=row,
        text_low=low,
        text_high=low + width,
        arrows_inside=measure.length >= _LEAST_FOR_ARROWS_MM,
    )


def _tail(seat: _Seat) -> tuple[float, float]:
    """Both ends of the dimension line, beyond the measure where arrows stand outside."""
    low, high = seat.measure.start, seat.measure.end
    if not seat.arrows_inside:
        # chosen: the arrow's own length of tail behind it.
        low, high = low - 5.0, high + 5.0
    return min(low, seat.text_low), max(high, seat.text_high)


def _touch(first: _Seat, second: _Seat) -> bool:
    """Tell whether two seats in one row overlap; meeting at an end is a chain."""
    if not (first.arrows_inside and second.arrows_inside):
        a, b = _tail(first), _tail(second)
        return a[0] < b[1] and b[0] < a[1]
    return first.low < second.high and second.low < first.high


def _crosses(seat: _Seat, lower: _Seat) -> bool:
    """Tell whether a seat's extension lines cut a lower seat's line or text."""
    if lower.row >= seat.row:
        return False
    ends = (seat.measure.start, seat.measure.end)
    low, high = lower.measure.start, lower.measure.end
    return any(low < end < high or lower.text_low < end < lower.text_high for end in ends)


def _parallel_marks(axes: Axes, seat: _Seat, start: float, *, foot: float) -> Iterator[Mark]:
    measure = seat.measure
    out = _row_out(seat.row, start)
    for along, edge in ((measure.start, measure.start_edge), (measure.end, measure.end_edge)):
        begin = max(axes.out_of(edge) + GAP_MM, foot)
        yield draw_line(axes, (along, begin), (along, out + OVERRUN_MM))
    if seat.arrows_inside:
        yield draw_line(axes, (measure.start, out), (measure.end, out), arrows=True)
    else:
        low, high = _tail(seat)
        yield draw_line(axes, (measure.start, out), (low, out), arrow=True)
        yield draw_line(axes, (measure.end, out), (high, out), arrow=True)
        yield draw_line(axes, (measure.start, out), (measure.end, out))
    middle = (seat.text_low + seat.text_high) / 2
    yield _text_above(axes, measure.text, middle, out)


def _text_above(axes: Axes, words: str, along: float, out: float) -> Text:
    """Text above a level line, or to the left of an upright one, read from the right."""
    x, y = axes.point(along, out)
    lift = TEXT_LIFT_MM + NOTE_HEIGHT / 2
    at = (x - lift, y) if axes.side.is_upright else (x, y - lift)
    turn = -90.0 if axes.side.is_upright else 0.0
    return Text(
        at=at, text=words, height=NOTE_HEIGHT, turn_deg=turn, role=Role.DIMENSION, halo=False
    )


def _limits(measures: Sequence[Measure], places: Sequence[Place]) -> tuple[float, float] | None:
    """The span between the extension lines round all places, less half a label at each end.

    Where the labels have no room between the nearest, as beside shoulders, it is the outermost.
    """
    if not measures:
        return None
    half = LEAST_PITCH_MM / 2
    ends = [end for measure in measures for end in (measure.start, measure.end)]
    first, last = min(place.at for place in places), max(place.at for place in places)
    before = [end for end in ends if end <= first]
    after = [end for end in ends if end >= last]
    nearest = max(before, default=min(ends)) + half, min(after, default=max(ends)) - half
    if has_room(len(places), nearest):
        return nearest
    return min(ends) + half, max(ends) - half
