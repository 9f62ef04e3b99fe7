"""The schedule: a chart of all days, who does which step when, and what to do while glue dries.

Takes a `SoundPlan`; gives its page. Must not know how the schedule was found.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.scheduling.day_by_day import list_days, steps_meanwhile
from benchleaf.scheduling.days import DAY
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import show_list, show_minutes, show_wait
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table

KEY: Final = "schedule"
TITLE: Final = "Schedule"
# chosen: below half an hour, waiting for glue is a pause.
_LEAST_WAIT: Final = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleView:
    """Context of `schedule.html`."""

    figures: tuple[Figure, ...]
    terms: str
    """Under what terms: `one person, 6 hours a day, 8 clamps`."""
    takes: str
    """How long it takes, in days: `until the 6th day`."""
    proof: str
    """Whether it can be shorter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayByDayView:
    """Context of `schedule-days.html`."""

    days: Table
    meanwhile: Table | None


def view_schedule(sound: SoundPlan) -> Page:
    """Make the page of the schedule."""
    return Page(
        key=KEY,
        title=TITLE,
        short_title=TITLE,
        description=f"When each step of {sound.plan.title} is done, and what dries meanwhile.",
        sections=(
            Section(
                heading="", anchor="chart", template="schedule.html", view=_view_chart(sound)
            ),
            Section(
                heading="Day by day",
                anchor="days",
                template="schedule-days.html",
                view=DayByDayView(days=_list_work(sound), meanwhile=_list_meanwhile(sound)),
                is_printed=False,
            ),
        ),
        parent="index",
        place=sound.place("steps"),
        starts_sheet=False,
    )


def _view_chart(sound: SoundPlan) -> ScheduleView:
    schedule = sound.schedule
    names = [name for name in sound.figures if name.split("-")[0] == KEY]
    return ScheduleView(
        figures=tuple(sound.figures[name] for name in names),
        terms=_say_terms(sound),
        takes=show_long(schedule.elapsed),
        proof=_say_proof(sound),
    )


def show_long(minutes: int) -> str:
    """A stretch of time by the clock: `5 days and 2 h`.

    >>> show_long(7620), show_long(1440), show_long(90)
    ('5 days 7 h', '1 day', '1 h 30 min')
    """
    if minutes < DAY:
        return show_minutes(minutes)
    days, rest = divmod(minutes, DAY)
    hours = round(rest / 60)
    if hours == 24:
        days, hours = days + 1, 0
    words = "1 day" if days == 1 else f"{days} days"
    return f"{words} {hours} h" if hours else words


def _say_terms(sound: SoundPlan) -> str:
    schedule = sound.schedule
    most = dict(schedule.terms.capacities)
    people = "one person" if schedule.people == 1 else f"{schedule.people} people"
    hours = schedule.terms.day_minutes // 60
    words = [people, f"{hours} hours a day" if hours > 1 else "1 hour a day"]
    if "clamps" in most:
        words.append(f"{most['clamps']} clamps" if most["clamps"] > 1 else "1 clamp")
    return show_list(words)


def _say_proof(sound: SoundPlan) -> str:
    schedule = sound.schedule
    if schedule.is_shortest:
        return "It is proved that no other order is done sooner."
    gap = show_long(schedule.elapsed - schedule.least)
    return f"Another order might be done sooner, but by {gap} at the most: that is proved."


def _list_work(sound: SoundPlan) -> Table:
    """Who does which step when, in the order of time."""
    columns = [
        Column("Day", "number"),
        Column("After", "number"),
        Column("Step"),
        Column("Work", "number"),
        Column("Holds up the end"),
    ]
    has_help = sound.schedule.people > 1
    if has_help:
        columns.insert(2, Column("Person", "number"))
    titles = {step.number: step.title for step in sound.sequence.steps}
    rows = []
    for day in list_days(sound.schedule, sound.sequence.steps):
        for work in day.work:
            row = [
                Cell(str(day.number)),
                Cell(show_minutes(work.start) if work.start else "0"),
                Cell(f"{work.step}. {titles[work.step]}", page=sound.step_keys[work.step]),
                Cell(show_minutes(work.end - work.start)),
                Cell("yes" if work.is_critical else ""),
            ]
            if has_help:
                row.insert(2, Cell(str(work.person)))
            rows.append(tuple(row))
    return Table(caption="Work, day by day", columns=tuple(columns), rows=tuple(rows))


def _list_meanwhile(sound: SoundPlan) -> Table | None:
    """What is done while glue or finish dries; None where nothing dries for long."""
    steps = {step.number: step for step in sound.sequence.steps}
    rows = []
    for number, others in steps_meanwhile(
        sound.schedule, sound.sequence.steps, _LEAST_WAIT
    ).items():
        step = steps[number]
        longest = max((own.waiting_hours for own in step.operations), default=Fraction(0))
        words = f"steps {show_list([str(own) for own in others])}"
        rows.append(
            (
                Cell(f"{number}. {step.title}", page=sound.step_keys[number]),
                Cell(show_wait(longest)),
                Cell((words if len(others) > 1 else words.replace("steps", "step", 1))
                     if others else "nothing: rest"),
            )
        )
    if not rows:
        return None
    columns = (Column("While this dries"), Column("At least", "number"), Column("Work at"))
    return Table(caption="What to do while glue and finish dry", columns=columns, rows=tuple(rows))


