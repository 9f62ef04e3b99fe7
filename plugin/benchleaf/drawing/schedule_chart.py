"""The schedule as a chart: a row for each day, work above, what dries below it.

Takes the schedule and the steps, gives Scenes of a page each. Narrow, so that a telephone shows it
whole. Must not know how the schedule was found.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.clearance import Rectangle
from benchleaf.drawing.cutting_diagram import corners
from benchleaf.drawing.page import NOTE_HEIGHT
from benchleaf.drawing.running_dimensions import spread
from benchleaf.drawing.scene import Area, Line, Mark, Role, Scene, Text
from benchleaf.drawing.text_metrics import text_width
from benchleaf.reading.plan import Plan
from benchleaf.scheduling.day_by_day import Day, Drying, Stretch, list_days
from benchleaf.scheduling.days import DAY
from benchleaf.scheduling.records import Schedule
from benchleaf.sequencing.records import Step

# chosen: shown 360 px wide on a telephone, its notes are 7 px high.
_WIDTH_MM: Final = 120.0
_LEFT_MM: Final = 14.0
_NIGHT_MM: Final = 12.0
_RIGHT_MM: Final = 1.0
# chosen: figures above the bar, the bar, a line for each thing that dries.
_FIGURES_MM: Final = 4.5
_BAR_MM: Final = 5.0
_DRYING_MM: Final = 3.5
_BETWEEN_MM: Final = 2.5
_HEAD_MM: Final = 6.0
_KEY_MM: Final = 7.0
# chosen: two figures and a little room.
_PITCH_MM: Final = 4.6
# chosen: as high as leaves room for a heading on a printed page.
_MOST_HIGH_MM: Final = 205.0
_NARROWEST_GAP: Final = 0.8


@dataclass(frozen=True, slots=True)
class _Dial:
    """Where minutes of a day lie on the sheet: working hours wide, the night narrow."""

    day_minutes: int

    @property
    def evening(self) -> float:
        """Where the working hours end."""
        night = _NIGHT_MM if self.day_minutes < DAY else 0.0
        return _WIDTH_MM - _RIGHT_MM - night

    def at(self, minute: float) -> float:
        """Millimetres from the left edge of the sheet."""
        if minute <= self.day_minutes:
            return _LEFT_MM + (self.evening - _LEFT_MM) * minute / self.day_minutes
        share = (minute - self.day_minutes) / (DAY - self.day_minutes)
        return self.evening + _NIGHT_MM * share


def draw_schedule(schedule: Schedule, steps: Sequence[Step], plan: Plan) -> tuple[Scene, ...]:
    """Draw a schedule, as many days on each sheet as go on it."""
    days = list_days(schedule, steps)
    dial = _Dial(schedule.terms.day_minutes)
    sheets = _sheets(days, schedule.people)
    return tuple(
        _draw_sheet(own, dial, schedule, plan, number=number if len(sheets) > 1 else 0)
        for number, own in enumerate(sheets, start=1)
    )


def _height(day: Day, people: int) -> float:
    work = people * (_FIGURES_MM + _BAR_MM) if day.work else NOTE_HEIGHT
    return work + len(day.drying) * _DRYING_MM + _BETWEEN_MM


def _sheets(days: Sequence[Day], people: int) -> list[list[Day]]:
    sheets: list[list[Day]] = []
    room = 0.0
    for day in days:
        high = _height(day, people)
        if not sheets or high > room:
            sheets.append([])
            room = _MOST_HIGH_MM - _HEAD_MM - _KEY_MM
        sheets[-1].append(day)
        room -= high
    return sheets


def _draw_sheet(
    days: Sequence[Day], dial: _Dial, schedule: Schedule, plan: Plan, *, number: int
) -> Scene:
    marks: list[Mark] = []
    top = _HEAD_MM
    for day in days:
        marks += _draw_day(day, dial, top, schedule.people)
        top += _height(day, schedule.people)
    marks = [*_draw_hours(dial, top), *marks, *_draw_key(top + 1.5)]
    first, last = days[0].number, days[-1].number
    span = f"day {first}" if first == last else f"days {first} to {last}"
    return Scene(
        id=f"{plan.name}-schedule-{number}" if number else f"{plan.name}-schedule",
        width=_WIDTH_MM,
        height=top + _KEY_MM,
        marks=tuple(marks),
        title=f"Schedule, {span}",
        description=" ".join(map(_describe, days)),
    )


def _describe(day: Day) -> str:
    steps = ", ".join(str(own) for own in dict.fromkeys(work.step for work in day.work))
    dry = ", ".join(str(own) for own in dict.fromkeys(one.step for one in day.drying))
    work = f"work at steps {steps}" if steps else "no work"
    return f"Day {day.number}: {work}{f'; drying, from steps {dry}' if dry else ''}."


def _draw_hours(dial: _Dial, bottom: float) -> Iterator[Mark]:
    """Hours worked that day along the top, with a fine line down at each."""
    hours = dial.day_minutes // 60
    every = 1 if hours <= 12 else 4
    for hour in range(0, hours + 1, every):
        x = dial.at(hour * 60)
        yield Line(points=((x, _HEAD_MM - 1), (x, bottom)), role=Role.FINE)
        yield Text(at=(x, 2.2), text=f"{hour} h" if hour else "0", halo=False)
    if dial.day_minutes < DAY:
        x = (dial.evening + dial.at(DAY)) / 2 + 2
        yield Text(at=(x, 2.2), text="night", halo=False)
        yield Line(points=((dial.at(DAY), _HEAD_MM - 1), (dial.at(DAY), bottom)), role=Role.FINE)


def _draw_day(day: Day, dial: _Dial, top: float, people: int) -> Iterator[Mark]:
    yield Text(
        at=(0.5, top + (_FIGURES_MM + _BAR_MM / 2 if day.work else NOTE_HEIGHT / 2)),
        text=f"Day {day.number}",
        anchor="start",
        halo=False,
    )
    if day.work:
        for person in range(1, people + 1):
            own = [work for work in day.work if work.person == person]
            yield from _draw_work(own, dial, top)
            top += _FIGURES_MM + _BAR_MM
    else:
        top += NOTE_HEIGHT
    for drying in day.drying:
        yield from _draw_drying(drying, dial, top)
        top += _DRYING_MM


def _draw_work(work: Sequence[Stretch], dial: _Dial, top: float) -> Iterator[Mark]:
    """Bars with the steps' numbers above them."""
    bar = top + _FIGURES_MM
    middles = [dial.at((own.start + own.end) / 2) for own in work]
    places = spread(middles, _PITCH_MM, (_LEFT_MM + 1, dial.at(DAY)))
    for own, middle, place in zip(work, middles, places, strict=True):
        box = Rectangle(dial.at(own.start), bar, dial.at(own.end), bar + _BAR_MM)
        yield _bar(box, is_critical=own.is_critical)
        if abs(middle - place) > _NARROWEST_GAP:
            yield Line(points=((place, bar - 0.9), (middle, bar)), role=Role.LEADER)
        yield Text(at=(place, bar - 2.4), text=str(own.step), halo=False)


def _bar(box: Rectangle, *, is_critical: bool) -> Area:
    # Dark against light survives black and white, and a dark page.
    tone, hatch = (3, 0) if is_critical else (0, 1)
    return Area(rings=(corners(box),), role=Role.PART, tone=tone, hatch=hatch, outlined=True)


def _draw_drying(drying: Drying, dial: _Dial, top: float) -> Iterator[Mark]:
    """A line as long as the wait, with the step's number; broken where nothing waits for it."""
    left, right = dial.at(drying.start), dial.at(drying.end)
    y = top + _DRYING_MM / 2
    role = Role.CUT if drying.is_critical else Role.HIDDEN
    yield Line(points=((left, y), (right, y)), role=role)
    words = str(drying.step)
    wide = text_width(words, NOTE_HEIGHT)
    if right - left > wide + 3:
        yield Text(at=((left + right) / 2, y), text=words)
    elif right + wide + 2 < _WIDTH_MM:
        yield Text(at=(right + 1, y), text=words, anchor="start")
    else:
        yield Text(at=(left - 1, y), text=words, anchor="end")


def _draw_key(top: float) -> Iterator[Mark]:
    y = top + 2.0
    x = 1.0
    for words, is_critical in (("work that holds up the end", True), ("other work", False)):
        yield _bar(Rectangle(x, top, x + 5, top + 4), is_critical=is_critical)
        yield Text(at=(x + 6.5, y), text=words, anchor="start", halo=False)
        x += text_width(words, NOTE_HEIGHT) + 12
    yield Line(points=((x, y), (x + 6, y)), role=Role.CUT)
    yield Text(at=(x + 7.5, y), text="drying", anchor="start", halo=False)
