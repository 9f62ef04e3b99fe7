"""A page for each other shop: what is done otherwise there, with which tools, step by step.

Takes a `SoundPlan`; gives pages that are printed by themselves and are no part of the printed plan,
and the section that leads to them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from benchleaf.pipeline import Elsewhere
from benchleaf.sequencing.records import Step
from benchleaf.site.records import Page, Section
from benchleaf.site.show import show_count, show_estimate
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.steps import WayView, is_done_alike, view_other_ways
from benchleaf.site.views.table import Cell, Column, Table
from benchleaf.site.views.times import work_minutes
from benchleaf.site.views.tools import list_tools


@dataclass(frozen=True, slots=True, kw_only=True)
class ElsewhereView:
    """Context of `elsewhere.html`."""

    here: str
    """The site's own shop."""
    shops: tuple[tuple[str, str, str], ...]
    """(shop, key of its page, hours of work there)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherShopView:
    """Context of `other-shop.html`."""

    shop: str
    here: str
    table: Table
    shelves: tuple[Table, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherStepView:
    """Context of `other-step.html`."""

    way: WayView
    key: str
    """The step's own page, with its picture."""


def view_elsewhere(sound: SoundPlan) -> Section | None:
    """Make the section that leads to the other shops; None where there are none."""
    shops = tuple(
        (other.shop.title, _key(other), show_estimate(work_minutes(other.sequence.operations)))
        for other in sound.elsewhere
        if any(_differing(sound, other))
    )
    if not shops:
        return None
    view = ElsewhereView(here=sound.shop.title, shops=shops)
    return Section(
        heading="In another shop",
        anchor="elsewhere",
        template="elsewhere.html",
        view=view,
        is_printed=False,
    )


def view_other_shops(sound: SoundPlan) -> Iterator[Page]:
    """Make the page of each other shop that does anything otherwise."""
    for other in sound.elsewhere:
        steps = list(_differing(sound, other))
        if steps:
            yield _view_shop(sound, other, steps)


def _key(other: Elsewhere) -> str:
    return f"ways/{other.shop.name}"


def _differing(sound: SoundPlan, other: Elsewhere) -> Iterator[tuple[Step, Step]]:
    pairs = zip(sound.sequence.steps, other.sequence.steps, strict=True)
    return ((step, there) for step, there in pairs if not is_done_alike(step, there))


def _view_shop(sound: SoundPlan, other: Elsewhere, steps: list[tuple[Step, Step]]) -> Page:
    there = replace(sound, sequence=other.sequence, call_outs=other.call_outs)
    head = OtherShopView(
        shop=other.shop.title,
        here=sound.shop.title,
        table=_list_steps(sound, steps),
        shelves=list_tools(there),
    )
    title = other.shop.title
    return Page(
        key=_key(other),
        title=title,
        short_title=title,
        description=f"{sound.plan.title} made in another shop: {title}.",
        sections=(
            Section(
                heading="",
                anchor="other-shop",
                template="other-shop.html",
                view=head,
            ),
            *(_view_step(sound, other, step) for step, _ in steps),
        ),
        parent="steps/index",
        place=sound.place("steps"),
        is_searched=False,
        is_printed=False,
    )


def _view_step(sound: SoundPlan, other: Elsewhere, step: Step) -> Section:
    alone = replace(sound, elsewhere=(other,))
    (way,) = view_other_ways(alone, step)
    return Section(
        heading=f"Step {step.number}. {step.title}",
        anchor=f"step-{step.number}",
        template="other-step.html",
        view=OtherStepView(way=way, key=sound.step_keys[step.number]),
    )


def _list_steps(sound: SoundPlan, steps: list[tuple[Step, Step]]) -> Table:
    columns = (
        Column("No.", "number"),
        Column("Step"),
        Column("With"),
        Column("This way", "number"),
        Column("As planned", "number"),
    )
    rows = tuple(
        (
            Cell(str(step.number)),
            Cell(step.title, page=sound.step_keys[step.number]),
            Cell(", ".join(dict.fromkeys(one.tool for one in there.operations)) or "done already"),
            Cell(show_estimate(work_minutes(there.operations)) if there.operations else ""),
            Cell(show_estimate(work_minutes(step.operations))),
        )
        for step, there in steps
    )
    caption = f"{show_count(len(rows), 'step')} done otherwise"
    return Table(caption=caption, columns=columns, rows=rows)
