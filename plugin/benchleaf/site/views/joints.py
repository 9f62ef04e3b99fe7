"""The joints: for each, its sizes with rule and source, and the numbers to set out by.

Takes a `SoundPlan`; gives its page.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchleaf.joinery.records import JointFit
from benchleaf.piece.records import ChosenJoint
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import show_count, show_marks
from benchleaf.site.views.parts import list_setting_out
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Column, Table, TableView, write_row


@dataclass(frozen=True, slots=True, kw_only=True)
class JointView:
    """Context of `joint.html`."""

    pairs: str
    """Where it is: `A1 to B1, A2 to B1`."""
    is_glued: bool
    figure: Figure | None
    sizes: Table | None
    hardware: str
    """What it needs in all, or empty."""
    notes: tuple[str, ...]


def view_joints(sound: SoundPlan) -> Page:
    """Make the page of joints, in the plan's order."""
    joints = sound.piece.joints
    sections = tuple(section for joint in joints for section in _view_joint(sound, joint))
    return Page(
        key="joints",
        title="Joints",
        short_title="Joints",
        description=f"Sizes, rules and setting out of the joints of {sound.plan.title}.",
        sections=sections,
        parent="index",
        place=sound.place("joints"),
    )


def _view_joint(sound: SoundPlan, joint: ChosenJoint) -> Iterator[Section]:
    fits = sound.fits_of(joint.index)
    number = joint.index + 1
    view = JointView(
        pairs=", ".join(f"{fit.contact.first} to {fit.contact.second}" for fit in fits),
        is_glued=any(fit.is_glued for fit in fits),
        figure=sound.figures.get(f"joint-{number}"),
        sizes=list_sizes(sound, fits),
        hardware=_sum_hardware(sound, fits),
        notes=tuple(filter(None, [joint.note])),
    )
    yield Section(
        heading=f"Joint {number}: {joint.kind}, {joint.first} and {joint.second}",
        anchor=f"joint-{number}",
        template="joint.html",
        view=view,
    )
    setting_out = list_setting_out(sound, fits, copies=set(sound.piece.copies))
    if setting_out:
        # In the printed plan the steps have these numbers.
        yield Section(
            heading="",
            anchor=f"joint-{number}-setting-out",
            template="table.html",
            view=TableView(table=setting_out),
            is_printed=False,
        )


def list_sizes(sound: SoundPlan, fits: tuple[JointFit, ...]) -> Table | None:
    """Each size of a joint with its rule and source; contacts of other sizes say where they are."""
    sizes: dict[tuple[str, str, str, str], dict[str, None]] = {}
    for fit in fits:
        for size in fit.sizes:
            value = sound.show.small_area if size.is_area else sound.show.length
            key = (size.name, value(size.value_mm), size.rule, size.source)
            sizes.setdefault(key, {})[fit.contact.first] = None
    if not sizes:
        return None
    names = [name for name, *_ in sizes]
    rows = tuple(
        write_row(
            name if names.count(name) == 1 else f"{name}, at {show_marks(marks)}",
            value,
            rule,
            source,
        )
        for (name, value, rule, source), marks in sizes.items()
    )
    columns = (Column("Size"), Column("Is", "number"), Column("By"), Column("Source"))
    return Table(caption=f"Sizes, in {sound.show.unit_word}", columns=columns, rows=rows)


def _sum_hardware(sound: SoundPlan, fits: tuple[JointFit, ...]) -> str:
    counts: dict[tuple[str, str], int] = {}
    for fit in fits:
        for item in fit.hardware:
            key = (item.kind, item.size)
            counts[key] = counts.get(key, 0) + item.count
    return ", ".join(
        f"{show_count(count, kind)}, {size} {sound.show.unit}"
        for (kind, size), count in counts.items()
    )
