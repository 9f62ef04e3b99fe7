"""The page of labels: where each copy's mark goes, and labels to print and cut out.

Takes a `SoundPlan`; gives its page, which is printed by itself and not with the whole plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.drawing.label_sheets import label_names
from benchleaf.drawing.mark_places import MarkPlace, list_mark_places
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table

_WORDS: Final = (
    "Print this page at 100 %, on A4 or Letter, and cut along the lines. Tape each label to its part as "
    "soon as it is cut, or write the mark on the wood as the label shows it: the bar is the end that "
    "lengths run from. Of a mirrored pair the labels tell which is which."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelsView:
    """Context of `labels.html`."""

    words: str
    table: Table
    """Where each mark goes, in words."""
    figures: tuple[Figure, ...]
    """One for each sheet of paper."""


def view_labels(sound: SoundPlan) -> Iterator[Page]:
    """Make the page of labels, where they are drawn."""
    names = label_names(sound.joinery)
    figures = tuple(sound.figures[name] for name in names if name in sound.figures)
    if not figures:
        return
    view = LabelsView(words=_WORDS, table=_list_places(sound), figures=figures)
    yield Page(
        key="labels",
        title="Labels",
        short_title="Labels",
        description=f"Labels for the parts of {sound.plan.title}, to print and cut out.",
        sections=(Section(heading="", anchor="labels", template="labels.html", view=view),),
        parent="parts/index",
        place=sound.place("parts"),
        is_printed=False,
    )


def _list_places(sound: SoundPlan) -> Table:
    columns = (
        Column("Marked", "tick"),
        Column("Mark", "mark"),
        Column("Part"),
        Column("On the face"),
        Column("Near the end"),
        Column("Head to the"),
    )
    rows = tuple(_list_place(sound, place) for place in list_mark_places(sound.joinery))
    caption = "Where the marks go; sides are named as the part stands in the piece"
    return Table(caption=caption, columns=columns, rows=rows)


def _list_place(sound: SoundPlan, place: MarkPlace) -> tuple[Cell, ...]:
    face = "" if place.is_round else place.face
    up = "" if place.is_round else place.up
    part = Cell(place.name, page=sound.shape_keys[place.name])
    return (Cell(""), Cell(place.mark), part, Cell(face), Cell(place.end), Cell(up))
