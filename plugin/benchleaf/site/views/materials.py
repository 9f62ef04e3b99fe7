"""What has to be at hand before the work begins: the tools that the steps take.

Takes a `SoundPlan`; gives its page. What is bought stands on the shopping list.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchleaf.site.records import Page, Section
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Table
from benchleaf.site.views.tools import list_tools


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolsView:
    """Context of `tools.html`."""

    shelves: tuple[Table, ...]


def view_materials(sound: SoundPlan) -> Page:
    """Make the page of all that has to be found before the work begins."""
    view = ToolsView(shelves=list_tools(sound))
    return Page(
        key="materials",
        title="What you need",
        short_title="What you need",
        description=f"Tools for {sound.plan.title}: each with its sizes and the steps that take it.",
        sections=(Section(heading="Tools", anchor="tools", template="tools.html", view=view),),
        parent="index",
        place=sound.place("plan"),
    )
