"""The first page of a plan, its card in the gallery, and the page of a plan with errors.

Takes a `SoundPlan`, or the findings of a plan that is not sound; gives pages and cards.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Final

from benchleaf.checking.records import Topic
from benchleaf.checking.showing import show_quantity
from benchleaf.findings import Finding, Place
from benchleaf.reading.plan import Plan
from benchleaf.site.records import Figure, GalleryCard, Page, PlanSource, Section
from benchleaf.site.report import Quote, quote_place, summarise
from benchleaf.site.show import show_count, show_estimate, show_list
from benchleaf.site.views.pictures import show_exploded, show_overall_sizes
from benchleaf.site.views.sound import SoundPlan, is_joined
from benchleaf.site.views.steps import list_phases, show_waiting
from benchleaf.site.views.table import Table
from benchleaf.site.views.times import work_minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class OverviewView:
    """Context of `overview.html`."""

    summary: str
    byline: str
    """`By Fernhill community workshop. Revision A. Licence CC BY 4.0.`"""
    assembled: Figure | None
    facts: tuple[tuple[str, str], ...]
    """(label, value)."""
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepsView:
    """Context of `steps.html`."""

    table: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingView:
    """A finding, and the line of the plan that it is about."""

    severity: str
    place: str
    subject: str
    message: str
    remedy: str
    code: str
    quote: Quote | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsView:
    """Context of `findings.html`."""

    is_broken: bool
    """True where the plan is published without numbers because of these."""
    findings: tuple[FindingView, ...]


def view_overview(sound: SoundPlan, source: PlanSource) -> Page:
    """Make the plan's first page."""
    view = OverviewView(
        summary=sound.plan.summary,
        byline=_write_byline(sound.plan),
        assembled=sound.figures.get("assembled"),
        facts=_state_facts(sound),
        notes=sound.plan.notes,
    )
    sections = [Section(heading="", anchor="plan", template="overview.html", view=view)]
    sections += (*show_overall_sizes(sound, is_printed=False), *show_exploded(sound))
    steps = StepsView(table=list_phases(sound))
    sections.append(
        Section(
            heading="Order of work",
            anchor="steps",
            template="steps.html",
            view=steps,
            is_printed=False,
        )
    )
    if sound.findings:
        checks = _view_findings(sound.findings, source, is_broken=False)
        sections.append(
            Section(
                heading="What the checks say",
                anchor="checks",
                template="findings.html",
                view=checks,
            )
        )
    return Page(
        key="index",
        title=sound.plan.title,
        short_title=sound.plan.title,
        description=sound.plan.summary,
        sections=tuple(sections),
        place=sound.place("plan"),
    )


def _write_byline(plan: Plan) -> str:
    words = (
        ("By", plan.author),
        ("Revision", plan.revision),
        ("Licence", plan.licence),
    )
    return " ".join(f"{label} {value}." for label, value in words if value)


def _state_facts(sound: SoundPlan) -> tuple[tuple[str, str], ...]:
    wide, deep, high = sound.piece.overall.size
    work = show_estimate(work_minutes(sound.sequence.operations))
    waiting = show_waiting(sound, *sound.sequence.steps)
    facts = [
        ("Overall size", f"{sound.show.size_with_unit(wide, deep, high)} (wide, deep, high)"),
        ("Weight", _show_weight(sound)),
        ("Parts", _count_parts(sound)),
        ("Stock", _count_stock(sound)),
        ("Joints", ", ".join(dict.fromkeys(j.kind for j in sound.piece.joints if is_joined(j)))),
        ("Steps", show_count(len(sound.sequence.steps), "step")),
        ("Work", f"about {work}"),
        ("Waiting", f"{waiting} at least, for glue and finish" if waiting else ""),
    ]
    return tuple((label, value) for label, value in facts if value)


def _show_weight(sound: SoundPlan) -> str:
    """What the whole piece weighs, or empty where that is not known."""
    whole = next((w for w in sound.workings if w.topic is Topic.WEIGHT and not w.marks), None)
    return f"about {show_quantity(whole.result, sound.plan.units)}" if whole else ""


def _count_parts(sound: SoundPlan) -> str:
    copies = show_count(len(sound.piece.copies), "part")
    return f"{copies} of {show_count(len(sound.joinery.shapes), 'shape')}"


def _count_stock(sound: SoundPlan) -> str:
    lines = {stock.name: (stock.kind.value, stock.material) for stock in sound.cut_plan.stock}
    counts = Counter(lines[layout.stock] for layout in sound.layouts)
    return show_list(
        [
            show_count(count, f"{kind} of {material}", f"{kind}s of {material}")
            for (kind, material), count in counts.items()
        ]
    )


def make_card(sound: SoundPlan, name: str) -> GalleryCard:
    """Make the card of a sound plan."""
    wide, deep, high = sound.piece.overall.size
    facts = (
        sound.show.size_with_unit(wide, deep, high),
        show_count(len(sound.piece.copies), "part"),
        show_count(len(sound.sequence.steps), "step"),
        f"by {sound.plan.author}" if sound.plan.author else "",
    )
    return GalleryCard(
        name=name,
        title=sound.plan.title,
        summary=sound.plan.summary,
        facts=tuple(fact for fact in facts if fact),
        figure=sound.figures.get("assembled"),
        is_broken=False,
    )


def view_broken_plan(
    source: PlanSource, plan: Plan | None, findings: tuple[Finding, ...]
) -> tuple[Page, GalleryCard]:
    """Make the page and the card of a plan with errors: what to mend, and no numbers."""
    title = plan.title if plan and plan.title else source.name
    section = Section(
        heading="What has to be mended",
        anchor="findings",
        template="findings.html",
        view=_view_findings(findings, source, is_broken=True),
    )
    page = Page(
        key="index",
        title=title,
        short_title=title,
        description=f"This plan has {summarise(findings)}.",
        sections=(section,),
        place=Place(file=source.file, line=1, column=1),
        is_searched=False,
    )
    card = GalleryCard(
        name=source.name,
        title=title,
        summary=f"Not ready to build from: {summarise(findings)}.",
        facts=(),
        figure=None,
        is_broken=True,
    )
    return page, card


def _view_findings(
    findings: tuple[Finding, ...], source: PlanSource, *, is_broken: bool
) -> FindingsView:
    views = tuple(
        FindingView(
            severity=finding.severity.value,
            place=str(finding.place),
            subject=finding.subject,
            message=finding.message,
            remedy=finding.remedy,
            code=finding.code,
            quote=quote_place(source.text, finding.place),
        )
        for finding in findings
    )
    return FindingsView(is_broken=is_broken, findings=views)
