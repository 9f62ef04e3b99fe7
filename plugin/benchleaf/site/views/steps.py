"""The order of work, and a page for each step.

Takes a `SoundPlan`; gives their pages. Call-outs stand above the actions, and every number that the
step needs stands on its page, so that nobody turns pages with glue on their hands.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby

from benchleaf.pipeline import Elsewhere
from benchleaf.safety.records import CallOut
from benchleaf.sequencing.kinds import OPERATION_KINDS
from benchleaf.sequencing.kinds.setting_out import SET_OUT
from benchleaf.sequencing.records import Operation, Setting, Step
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import (
    begin_sentence,
    order_of_mark,
    show_estimate,
    show_marks,
    show_wait,
)
from benchleaf.site.views.setting_out import list_setting_out
from benchleaf.site.views.sound import SoundPlan, marks_of
from benchleaf.site.views.table import Cell, Column, Table
from benchleaf.site.views.times import ids_of, waiting_hours, work_minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderView:
    """Context of `order.html`."""

    table: Table
    active: str
    waiting: str
    """The longest chain of waits, or empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationView:
    """One operation of a step."""

    title: str
    """Empty where it only repeats the step's."""
    tool: str
    settings: tuple[tuple[str, str], ...]
    """(what is set, to what)."""
    actions: tuple[str, ...]
    check: str
    call_outs: tuple[CallOut, ...]
    setting_out: Table | None
    """The numbers to set out by, where the actions do not say them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WayView:
    """How another shop does a step."""

    shop: str
    """Its title."""
    key: str
    """Page of all that is done otherwise there."""
    time: str
    lacking: tuple[str, ...]
    """What it has no way for, in sentences."""
    call_outs: tuple[CallOut, ...]
    """Those of no single operation."""
    operations: tuple[OperationView, ...]
    """Empty where the work was done in an earlier step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """Context of `step.html`."""

    phase: str
    position: str
    """`Step 4 of 12`."""
    time: str
    parts: tuple[tuple[str, str, str], ...]
    """(marks, part, key of its sheet) of the copies handled."""
    figure: Figure | None
    diagram: Figure | None
    """The cutting diagram of the one sheet that is sawn; the printed plan has it once, under
    Cutting."""
    call_outs: tuple[CallOut, ...]
    """Those of no single operation."""
    operations: tuple[OperationView, ...]
    notes: tuple[str, ...]
    here: str = ""
    """The site's own shop, where others do it another way."""
    others: tuple[WayView, ...] = ()
    """How other shops do it; those that do it alike are left out."""


def view_steps(sound: SoundPlan, elsewhere: Section | None = None) -> tuple[Page, ...]:
    """Make the order of work and the steps' pages, in order.

    Args:
        sound: The plan.
        elsewhere: What leads to other shops, where there are any.
    """
    order = Page(
        key="steps/index",
        title="Order of work",
        short_title="Steps",
        description=f"The steps in which {sound.plan.title} is made, with times.",
        sections=(
            Section(heading="", anchor="order", template="order.html", view=_view_order(sound)),
            *([elsewhere] if elsewhere else []),
        ),
        parent="index",
        place=sound.place("steps"),
    )
    steps = sound.sequence.steps
    return (order, *(_view_step(sound, index) for index in range(len(steps))))


def _view_order(sound: SoundPlan) -> OrderView:
    return OrderView(
        table=list_steps(sound),
        active=show_estimate(work_minutes(sound.sequence.operations)),
        waiting=show_waiting(sound, *sound.sequence.steps),
    )


def show_waiting(sound: SoundPlan, *steps: Step) -> str:
    """How long glue and finish in some steps keep one waiting, or nothing."""
    wait = waiting_hours(sound.sequence.operations, ids_of(steps))
    return show_wait(wait) if wait else ""


def list_steps(sound: SoundPlan) -> Table:
    """Every step with its phase, its parts and its times."""
    columns = (
        Column("Done", "tick"),
        Column("No.", "number"),
        Column("Step"),
        Column("Phase"),
        Column("Parts", "mark"),
        Column("Work", "number"),
        Column("Then wait", "number"),
    )
    rows = tuple(
        (
            Cell(""),
            Cell(str(step.number)),
            Cell(step.title, page=sound.step_keys[step.number]),
            Cell(begin_sentence(step.phase)),
            Cell(_name_copies(sound, step.copies)),
            Cell(show_estimate(work_minutes(step.operations))),
            Cell(show_waiting(sound, step)),
        )
        for step in sound.sequence.steps
    )
    return Table(caption="Steps in order", columns=columns, rows=rows)


def _name_copies(sound: SoundPlan, marks: tuple[str, ...]) -> str:
    return "all" if len(marks) == len(sound.piece.copies) > 1 else show_marks(marks)


def list_phases(sound: SoundPlan) -> Table:
    """The phases of the work with their steps and times."""
    columns = (
        Column("Phase"),
        Column("Steps", "number"),
        Column("Work", "number"),
        Column("Waiting", "number"),
    )
    rows = []
    for phase, group in groupby(sound.sequence.steps, key=lambda step: step.phase):
        steps = list(group)
        first, last = steps[0].number, steps[-1].number
        minutes = sum(work_minutes(step.operations) for step in steps)
        rows.append(
            (
                Cell(begin_sentence(phase), page=sound.step_keys[first]),
                Cell(f"{first}–{last}" if last > first else str(first)),
                Cell(show_estimate(minutes)),
                Cell(show_waiting(sound, *steps)),
            )
        )
    return Table(caption="Phases of the work", columns=columns, rows=tuple(rows))


def _view_step(sound: SoundPlan, index: int) -> Page:
    steps = sound.sequence.steps
    step = steps[index]
    before = steps[index - 1] if index else None
    after = steps[index + 1] if index + 1 < len(steps) else None
    view, others = _lay_out_step(sound, step), view_other_ways(sound, step)
    return Page(
        key=sound.step_keys[step.number],
        title=f"{step.number}. {step.title}",
        short_title=f"Step {step.number}",
        description=f"Step {step.number} of {sound.plan.title}: {step.title}.",
        sections=(
            Section(
                heading="",
                anchor="step",
                template="step.html",
                view=view if not others else replace(view, here=sound.shop.title, others=others),
                printed=view if others else None,
            ),
        ),
        parent="steps/index",
        previous=sound.step_keys[before.number] if before else "",
        next=sound.step_keys[after.number] if after else "",
        place=sound.place("steps"),
        starts_sheet=False,
    )


def _lay_out_step(sound: SoundPlan, step: Step) -> StepView:
    call_outs = sound.call_outs.by_step.get(step.number, ())
    own = {operation.id for operation in step.operations}
    return StepView(
        phase=step.phase,
        position=f"Step {step.number} of {len(sound.sequence.steps)}",
        time=_show_time(sound, step),
        parts=_list_handled(sound, step),
        figure=sound.figures.get(f"step-{step.slug}"),
        diagram=_find_diagram(sound, step),
        call_outs=tuple(call_out for call_out in call_outs if call_out.operation not in own),
        operations=tuple(
            _view_operation(sound, step, operation, call_outs) for operation in step.operations
        ),
        notes=step.notes,
    )


def view_other_ways(sound: SoundPlan, step: Step) -> tuple[WayView, ...]:
    """How other shops do a step, where they do it otherwise."""
    found = []
    for other in sound.elsewhere:
        there = other.sequence.steps[step.number - 1]
        if not is_done_alike(step, there):
            found.append(_view_way(sound, step, there, other))
    return tuple(found)


def is_done_alike(step: Step, there: Step) -> bool:
    """Tell whether another shop does a step just as the site's own does."""
    return [_told(own) for own in step.operations] == [_told(own) for own in there.operations]


def _told(operation: Operation) -> tuple[object, ...]:
    return (operation.tool, operation.title, operation.settings, operation.actions)


def _view_way(sound: SoundPlan, step: Step, there: Step, other: Elsewhere) -> WayView:
    call_outs = other.call_outs.by_step.get(step.number, ())
    own = {operation.id for operation in there.operations}
    return WayView(
        shop=other.shop.title,
        key=f"ways/{other.shop.name}",
        time=f"About {show_estimate(work_minutes(there.operations))}" if own else "",
        lacking=tuple(
            f"{finding.message.replace('`', '')}. {finding.remedy}"
            for finding in other.sequence.findings
            if any(f"`{one.title}`" in finding.message for one in there.operations)
        ),
        call_outs=tuple(call_out for call_out in call_outs if call_out.operation not in own),
        operations=tuple(
            _view_operation(sound, step, operation, call_outs) for operation in there.operations
        ),
    )


def _find_diagram(sound: SoundPlan, step: Step) -> Figure | None:
    """The cutting diagram of a step that saws one sheet."""
    sheets = {(cut.stock, cut.sheet) for operation in step.operations for cut in operation.cuts}
    diagrams = [sound.figures.get(f"sheet-{stock}-{number}") for stock, number in sorted(sheets)]
    return diagrams[0] if len(diagrams) == 1 else None


def _show_time(sound: SoundPlan, step: Step) -> str:
    work = f"About {show_estimate(work_minutes(step.operations))}"
    wait = show_waiting(sound, step)
    return f"{work}, then wait {wait}" if wait else work


def _list_handled(sound: SoundPlan, step: Step) -> tuple[tuple[str, str, str], ...]:
    handled = set(step.copies)
    groups = (
        (shape, sorted(handled.intersection(marks_of(shape)), key=order_of_mark))
        for shape in sound.joinery.shapes
    )
    return tuple(
        (show_marks(marks), shape.name, sound.shape_keys[shape.name])
        for shape, marks in groups
        if marks
    )


def _view_operation(
    sound: SoundPlan, step: Step, operation: Operation, call_outs: tuple[CallOut, ...]
) -> OperationView:
    return OperationView(
        title=operation.title if operation.title != step.title else "",
        tool=operation.tool,
        settings=tuple((s.name, _show_setting(sound, s)) for s in operation.settings),
        actions=operation.actions,
        check=operation.check,
        call_outs=tuple(c for c in call_outs if c.operation == operation.id),
        setting_out=_numbers_of(sound, operation),
    )


def _show_setting(sound: SoundPlan, setting: Setting) -> str:
    if setting.value_mm is None:
        return setting.text
    length = sound.show.with_unit(setting.value_mm)
    return f"{length} {setting.text}" if setting.text else length


def _numbers_of(sound: SoundPlan, operation: Operation) -> Table | None:
    """The setting-out numbers, where the operation is the first to need them.

    After it the lines are on the wood. The actions of setting out say their numbers themselves, and
    nothing is set out once parts come together.
    """
    kind = OPERATION_KINDS.get(operation.kind)
    if operation.kind == SET_OUT.code or (kind is not None and kind.phase == "assembly"):
        return None
    needed = _joint_copies(operation)
    for earlier in sound.sequence.operations:
        if earlier.id == operation.id:
            break
        needed -= _joint_copies(earlier)
    fits = tuple(
        replace(fit, setting_out=tuple(s for s in fit.setting_out if (fit.joint, s.copy) in needed))
        for fit in sound.joinery.fits
    )
    return list_setting_out(sound, fits, copies=set(operation.copies))


def _joint_copies(operation: Operation) -> set[tuple[int, str]]:
    return {(joint, copy) for joint in operation.joints for copy in operation.copies}
