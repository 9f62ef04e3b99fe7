"""Strength and movement: what was reckoned of the finished piece, with formula, inputs and source.

Takes a `SoundPlan`; gives its page, or none where nothing was reckoned. The first table tells all
at a glance and is what is printed; below it each result opens to what it was worked out from.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.checking.records import Quantity, Topic, Verdict, Working
from benchleaf.checking.showing import show_quantity
from benchleaf.site.records import Page, Section
from benchleaf.site.show import begin_sentence, show_marks
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table

KEY: Final = "strength"
TITLE: Final = "Strength and movement"
_VERDICTS: Final = {
    Verdict.TOLD: "",
    Verdict.HOLDS: "within the limit",
    Verdict.WATCH: "worth knowing",
    Verdict.OVER: "past the limit",
    Verdict.DANGER: "far past the limit",
}
_LEAST: Final = "at least"
"""Name of a limit that a result must reach; any other it must not pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthView:
    """Context of `strength.html`."""

    glance: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingView:
    """One result with all that it was worked out from."""

    title: str
    result: str
    verdict: str
    """`within the limit`, or empty where there is no limit."""
    mark: str
    """Last word of its CSS class: `holds`."""
    words: str
    copies: str
    """Marks of the copies that it holds for, or empty."""
    formula: str
    inputs: Table | None
    limit: str
    """`at most 3.28 mm`, or empty."""
    limit_source: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingsView:
    """Context of `workings.html`."""

    workings: tuple[WorkingView, ...]


def view_strength(sound: SoundPlan) -> tuple[Page, ...]:
    """Make the page of what was reckoned; none where nothing was."""
    if not sound.workings:
        return ()
    glance = StrengthView(glance=_glance(sound))
    first = Section(heading="", anchor="glance", template="strength.html", view=glance)
    return (
        Page(
            key=KEY,
            title=TITLE,
            short_title="Strength",
            description=f"Weight, bending, movement and fasteners of {sound.plan.title}, reckoned.",
            sections=(first, *_topics(sound)),
            parent="index",
            place=sound.place("parts"),
            starts_sheet=False,
        ),
    )


def _topics(sound: SoundPlan) -> Iterator[Section]:
    for topic in Topic:
        workings = tuple(w for w in sound.workings if w.topic is topic)
        if workings:
            yield Section(
                heading=topic.value,
                anchor=topic.name.lower(),
                template="workings.html",
                view=WorkingsView(workings=tuple(_view(sound, w) for w in workings)),
                is_printed=False,
            )


def _show(sound: SoundPlan, quantity: Quantity) -> str:
    return show_quantity(quantity, sound.plan.units)


def _limit(sound: SoundPlan, working: Working) -> str:
    if working.limit is None:
        return ""
    bound = _LEAST if working.limit.name == _LEAST else "at most"
    return f"{bound} {_show(sound, working.limit)}"


def _glance(sound: SoundPlan) -> Table:
    """What has a limit, and what is told of the whole piece; of each part's mass the page tells."""
    rows = tuple(
        (
            Cell(begin_sentence(working.title)),
            Cell(_show(sound, working.result)),
            Cell(_limit(sound, working)),
            Cell(_VERDICTS[working.verdict]),
        )
        for topic in Topic
        for working in sound.workings
        if working.topic is topic and (working.limit or not working.marks)
    )
    columns = (
        Column("What"),
        Column("Comes to", "number"),
        Column("Limit", "number"),
        Column("So it is"),
    )
    return Table(caption="At a glance", columns=columns, rows=rows)


def _view(sound: SoundPlan, working: Working) -> WorkingView:
    return WorkingView(
        title=begin_sentence(working.title),
        result=_show(sound, working.result),
        verdict=_VERDICTS[working.verdict],
        mark=working.verdict.value,
        words=begin_sentence(working.words.rstrip(".")) + ".",
        copies=show_marks(working.marks),
        formula=working.formula,
        inputs=_inputs(sound, working),
        limit=_limit(sound, working),
        limit_source=working.limit.source if working.limit else "",
        note=working.note,
    )


def _inputs(sound: SoundPlan, working: Working) -> Table | None:
    if not working.inputs:
        return None
    rows = tuple(
        (
            Cell(", ".join(filter(None, (item.symbol, item.name))), note=item.source),
            Cell(_show(sound, item)),
        )
        for item in working.inputs
    )
    columns = (Column("From"), Column("Is", "number"))
    return Table(caption=f"{begin_sentence(working.title)}, worked out", columns=columns, rows=rows)
