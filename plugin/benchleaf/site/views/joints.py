"""The joints: for each, its sizes with rule and source, and the numbers to set out by.

Takes a `SoundPlan`; gives its page. Joints that are alike in everything but where they are share a
section; parts that only rest on one another share a line each at the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from benchleaf.joinery.records import JointFit, JointSize
from benchleaf.lengths import format_degrees
from benchleaf.piece.records import ChosenJoint
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import show_count, show_list, show_marks, show_numbers
from benchleaf.site.views.likeness import JointGroup, anchor_of, group_joints
from benchleaf.site.views.setting_out import list_setting_out
from benchleaf.site.views.sound import SoundPlan, is_joined
from benchleaf.site.views.table import Column, Table, TableView, write_row

# chosen: a heading names three parts; of more, the lines below it tell.
_MOST_NAMES: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class JointView:
    """Context of `joint.html`."""

    places: tuple[str, ...]
    """For each joint, which copies meet: `rail to leg: B1 to A1, A2`."""
    is_glued: bool
    figure: Figure | None
    sizes: Table | None
    hardware: str
    """What it needs in all, or empty."""
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RestsView:
    """Context of `rests.html`."""

    lines: tuple[str, ...]
    """For each pair, which copies rest where."""
    notes: tuple[str, ...]


def view_joints(sound: SoundPlan) -> Page:
    """Make the page of joints, in the plan's order."""
    groups = group_joints(sound)
    sections = [section for group in groups for section in _view_group(sound, group)]
    resting = tuple(joint for joint in sound.piece.joints if not is_joined(joint))
    if resting:
        sections.append(_view_resting(sound, resting))
    return Page(
        key="joints",
        title="Joints",
        short_title="Joints",
        description=f"Sizes, rules and setting out of the joints of {sound.plan.title}.",
        sections=tuple(sections),
        parent="index",
        place=sound.place("joints"),
    )


def _view_group(sound: SoundPlan, group: JointGroup) -> Iterator[Section]:
    fits = tuple(fit for joint in group for fit in sound.fits_of(joint.index))
    view = JointView(
        places=tuple(_say_where(sound, joint) for joint in group),
        is_glued=any(fit.is_glued for fit in fits),
        figure=sound.figures.get(anchor_of(group)) if any(map(_is_cut, fits)) else None,
        sizes=list_sizes(sound, fits),
        hardware=_sum_hardware(sound, fits),
        notes=tuple(filter(None, [group[0].note])),
    )
    yield Section(
        heading=_name_group(group), anchor=anchor_of(group), template="joint.html", view=view
    )
    setting_out = list_setting_out(sound, fits, copies=set(sound.piece.copies))
    if setting_out:
        # In the printed plan the steps have these numbers.
        yield Section(
            heading="",
            anchor=f"{anchor_of(group)}-setting-out",
            template="table.html",
            view=TableView(table=setting_out),
            is_printed=False,
        )


def _is_cut(fit: JointFit) -> bool:
    """Tell whether there is anything to draw: a joint that is only glued has no sizes."""
    return bool(fit.first_features or fit.second_features or fit.sizes)


def _name_group(group: JointGroup) -> str:
    """`Joint 1: dowels, rail and leg`, `Joints 1, 2: dowels, rail and brace to leg`."""
    kind = group[0].kind
    if len(group) == 1:
        return f"Joint {group[0].index + 1}: {kind}, {group[0].first} and {group[0].second}"
    numbers = show_numbers(joint.index + 1 for joint in group)
    firsts, seconds = (
        list(dict.fromkeys(names))
        for names in zip(*((joint.first, joint.second) for joint in group), strict=True)
    )
    if len(firsts) + len(seconds) > _MOST_NAMES:
        return f"Joints {numbers}: {kind}"
    return f"Joints {numbers}: {kind}, {show_list(firsts)} to {show_list(seconds)}"


def _say_where(sound: SoundPlan, joint: ChosenJoint, word: str = "to") -> str:
    """A joint's copies: those that meet the same mates share a phrase.

    `rail to leg: B1 to A1, A2; B2 to A3, A4`.
    """
    mates: dict[str, list[str]] = {}
    for fit in sound.fits_of(joint.index):
        mates.setdefault(fit.contact.first, []).append(fit.contact.second)
    alike: dict[str, list[str]] = {}
    for mark, others in mates.items():
        alike.setdefault(show_marks(others), []).append(mark)
    places = "; ".join(f"{show_marks(marks)} {word} {others}" for others, marks in alike.items())
    return f"{joint.first} {word} {joint.second}: {places}"


def _view_resting(sound: SoundPlan, joints: JointGroup) -> Section:
    view = RestsView(
        lines=tuple(_say_where(sound, joint, "on") for joint in joints),
        notes=tuple(joint.note for joint in joints if joint.note),
    )
    return Section(heading="Not joined", anchor="not-joined", template="rests.html", view=view)


def list_sizes(sound: SoundPlan, fits: tuple[JointFit, ...]) -> Table | None:
    """Each size of a joint with its rule and source; contacts of other sizes say where they are."""
    sizes: dict[tuple[str, str, str, str], dict[str, None]] = {}
    for fit in fits:
        for size in fit.sizes:
            key = (size.name, _show_size(sound, size), size.rule, size.source)
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


def _show_size(sound: SoundPlan, size: JointSize) -> str:
    if size.is_angle:
        return format_degrees(float(size.value_mm))
    return (
        sound.show.small_area(size.value_mm) if size.is_area else sound.show.length(size.value_mm)
    )


def _sum_hardware(sound: SoundPlan, fits: tuple[JointFit, ...]) -> str:
    counts: dict[tuple[str, str], int] = {}
    for fit in fits:
        for item in fit.hardware:
            key = (item.kind, item.size_in(sound.show.unit))
            counts[key] = counts.get(key, 0) + item.count
    return ", ".join(f"{show_count(count, kind)}, {size}" for (kind, size), count in counts.items())
