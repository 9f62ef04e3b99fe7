"""The parts list, and a part sheet for each shape.

Takes a `SoundPlan`; gives their pages. Length runs along the grain; sizes are those of the finished
part with its tenons and whatever else joints add.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.cutting.records import Blank
from benchleaf.drawing.part_datums import read_datums
from benchleaf.drawing.template_sheets import MOST_SHEETS, lines_too_large, template_names
from benchleaf.frames import Number
from benchleaf.joinery.records import (
    Feature,
    JointFit,
    Shape,
)
from benchleaf.piece.records import Part, own_box
from benchleaf.reading.plan import Grain, StockKind
from benchleaf.sequencing.wording import pluralise
from benchleaf.shaping.wording import describe_shaped
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import show_count, show_marks
from benchleaf.site.views.cut_places import place_of_feature, size_of_feature
from benchleaf.site.views.likeness import joint_addresses
from benchleaf.site.views.pictures import show_overall_sizes
from benchleaf.site.views.sound import SoundPlan, axes_of, marks_of
from benchleaf.site.views.table import Cell, Column, Table, TableView, write_row


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsListView:
    """Context of `parts-list.html`."""

    tables: tuple[Table, ...]
    """Parts placed in the piece, then those of each group."""
    has_labels: bool
    """Whether the plan has a page of labels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyView:
    """Context of `key.html`: words and signs only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSheetView:
    """Context of `part-sheet.html`."""

    figure: Figure | None
    facts: tuple[tuple[str, str], ...]
    """(label, value): mark, copies, sizes, stock."""
    notes: tuple[str, ...]
    """The author's own words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatesView:
    """Context of `templates.html`."""

    words: str
    """How they are printed and put together."""
    left_out: tuple[str, ...]
    """Lines that would take too many sheets."""
    most_sheets: int
    figures: tuple[Figure, ...]
    """One for each sheet of paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartStepsView:
    """Context of `part-steps.html`."""

    steps: tuple[tuple[str, str], ...]
    """(title, key) of the steps that handle the part, in order."""


def view_parts(sound: SoundPlan) -> tuple[Page, ...]:
    """Make the parts list and the part sheets, in the plan's order."""
    listing = Page(
        key="parts/index",
        title="Parts",
        short_title="Parts",
        description=f"Parts list of {sound.plan.title}: marks, sizes, stock.",
        sections=(
            Section(
                heading="",
                anchor="list",
                template="parts-list.html",
                view=PartsListView(
                    tables=tuple(list_parts(sound)),
                    has_labels="labels-1" in sound.figures,
                ),
            ),
            *show_overall_sizes(sound, is_printed=True),
            Section(
                heading="Signs on the part sheets",
                anchor="key",
                template="key.html",
                view=KeyView(),
            ),
        ),
        parent="index",
        place=sound.place("parts"),
    )
    shapes = sound.joinery.shapes
    sheets = tuple(_view_sheet(sound, shape, index) for index, shape in enumerate(shapes))
    return (listing, *sheets)


def list_parts(sound: SoundPlan) -> Iterator[Table]:
    """Every shape with its mark, how many, finished and rough sizes, and stock.

    A table for the parts of the piece itself, and one for those of each group.
    """
    columns = (
        Column("Done", "tick"),
        Column("Mark", "mark"),
        Column("Part"),
        Column("Qty", "number"),
        Column("Length", "number"),
        Column("Width", "number"),
        Column("Thick", "number"),
        Column("Rough, each layer", "number"),
        Column("Layers", "number"),
        Column("Stock"),
    )
    sizes = f"Sizes in {sound.show.unit_word}; length runs along the grain."
    for group in ("", *sound.plan.groups):
        shapes = [s for s in sound.joinery.shapes if sound.plan.parts[s.part].group == group]
        if shapes:
            yield Table(
                caption=f"Parts of {_name_group(sound, group)}." if group else f"Parts list. {sizes}",
                columns=columns,
                rows=tuple(_list_shape(sound, shape) for shape in shapes),
            )


def _name_group(sound: SoundPlan, group: str) -> str:
    """A group, or all its copies: `the drawer`, `2 doors`."""
    copies = [copy for copy in sound.joinery.piece.groups if copy.group == group]
    return copies[0].called if len(copies) == 1 else f"{len(copies)} {pluralise(group)}, for all"


def _list_shape(sound: SoundPlan, shape: Shape) -> tuple[Cell, ...]:
    part = sound.part(shape)
    length, width, thick = (sound.show.length(size) for size in _final_sizes(shape, part))
    return (
        Cell(""),
        Cell(show_marks(marks_of(shape))),
        Cell(
            shape.name, page=sound.shape_keys[shape.name], note=_shoulder_note(sound, shape, part)
        ),
        Cell(str(len(marks_of(shape)))),
        Cell(length),
        Cell(width),
        Cell(thick),
        Cell(_show_rough(sound, sound.blanks_of(shape))),
        Cell(str(part.layers)),
        Cell(part.stock.name, note=_grain_note(part)),
    )


def _final_sizes(shape: Shape, part: Part) -> tuple[Number, ...]:
    size = shape.drawn.blank.size
    return tuple(size[axis] for axis in axes_of(part))


def _shoulder_note(sound: SoundPlan, shape: Shape, part: Part) -> str:
    """The length between shoulders, where joints add to the part."""
    between = part.box.size[part.grain_axis]
    if shape.drawn.blank.size[part.grain_axis] == between:
        return ""
    return f"{sound.show.length(between)} between shoulders"


def _grain_note(part: Part) -> str:
    if part.stock.kind is StockKind.SHEET and part.stock.grain is Grain.NONE:
        return "may be turned"
    return ""


def _show_rough(sound: SoundPlan, blanks: tuple[Blank, ...]) -> str:
    sizes = dict.fromkeys((blank.length_mm, blank.width_mm) for blank in blanks)
    return ", ".join(sound.show.size(*size) for size in sizes)


def _view_sheet(sound: SoundPlan, shape: Shape, index: int) -> Page:
    keys = tuple(sound.shape_keys.values())
    marks = show_marks(marks_of(shape))
    return Page(
        key=sound.shape_keys[shape.name],
        title=f"{marks}: {shape.name}",
        short_title=shape.name,
        description=f"Part sheet of {shape.name} ({marks}) of {sound.plan.title}.",
        sections=tuple(_lay_out_sheet(sound, shape)),
        parent="parts/index",
        previous=keys[index - 1] if index else "",
        next=keys[index + 1] if index + 1 < len(keys) else "",
        place=sound.place(f"parts.{shape.part}"),
        starts_sheet=False,
    )


def _lay_out_sheet(sound: SoundPlan, shape: Shape) -> Iterator[Section]:
    sheet = PartSheetView(
        figure=sound.figures.get(f"part-{shape.name}"),
        facts=_state_facts(sound, shape),
        notes=tuple(filter(None, [sound.part(shape).note])),
    )
    yield Section(heading="", anchor="sheet", template="part-sheet.html", view=sheet)
    tables = (
        ("Setting out", "setting-out", _list_own_setting_out(sound, shape)),
        ("What is cut into it", "cuts", _list_cuts(sound, shape)),
    )
    for heading, anchor, table in tables:
        if table:
            # In the printed plan the drawing and the steps have these numbers.
            yield Section(
                heading=heading,
                anchor=anchor,
                template="table.html",
                view=TableView(table=table),
                is_printed=False,
            )
    yield from _lay_out_templates(sound, shape)
    steps = _list_steps(sound, shape)
    if steps:
        yield Section(
            heading="Worked on in",
            anchor="steps",
            template="part-steps.html",
            view=PartStepsView(steps=steps),
            is_printed=False,
        )


_TEMPLATE_WORDS: Final = (
    "Print this page at 100 %, on A4 or Letter, without fitting it to the paper. Measure both bars "
    "on each sheet before you cut. Lay crosses of one name on one another, and tape the sheets."
)


def _lay_out_templates(sound: SoundPlan, shape: Shape) -> Iterator[Section]:
    figures = tuple(_templates(sound, shape))
    left_out = lines_too_large(shape, sound.joinery)
    if figures or left_out:
        # They are printed from here, on sheets of their own, and not again with the whole plan.
        yield Section(
            heading="Templates",
            anchor="templates",
            template="templates.html",
            view=TemplatesView(
                words=_TEMPLATE_WORDS if figures else "",
                left_out=left_out,
                most_sheets=MOST_SHEETS,
                figures=figures,
            ),
            is_printed=False,
        )


def _templates(sound: SoundPlan, shape: Shape) -> Iterator[Figure]:
    """The sheets of a shape's templates, in order."""
    for name in template_names(shape, sound.joinery):
        figure = sound.figures.get(name)
        if figure is not None:
            yield figure


def _list_steps(sound: SoundPlan, shape: Shape) -> tuple[tuple[str, str], ...]:
    marks = set(marks_of(shape))
    return tuple(
        (f"{step.number}. {step.title}", sound.step_keys[step.number])
        for step in sound.sequence.steps
        if marks & set(step.copies)
    )


def _list_own_setting_out(sound: SoundPlan, shape: Shape) -> Table | None:
    """The numbers to set out by on the drawn copy, joint by joint."""
    drawn = shape.drawn.mark
    addresses = joint_addresses(sound)
    rows = tuple(
        (
            Cell(f"{fit.joint + 1}", page=addresses.get(fit.joint, "")),
            Cell(_other_mate(fit, drawn)),
            Cell(item.what),
            Cell(sound.show.length(item.distance_mm)),
            Cell(item.reference),
            Cell(item.spacer),
        )
        for fit in sound.joinery.fits
        for item in fit.setting_out
        if item.copy == drawn
    )
    columns = (
        Column("Joint", "number"),
        Column("With", "mark"),
        Column("Set out"),
        Column("At", "number"),
        Column("From"),
        Column("Set with"),
    )
    others = [mark for mark in shape.as_drawn if mark != drawn]
    alike = f"; {show_marks(others)} alike" if others else ""
    mirrored = f"; {show_marks(shape.mirrored)} as mirror images" if shape.mirrored else ""
    caption = f"Setting out {drawn}, in {sound.show.unit_word}{alike}{mirrored}"
    if not rows:
        return None
    return Table(caption=caption, columns=columns, rows=rows).without_empty_columns()


def _other_mate(fit: JointFit, mark: str) -> str:
    contact = fit.contact
    return contact.second if contact.first == mark else contact.first


def _state_facts(sound: SoundPlan, shape: Shape) -> tuple[tuple[str, str], ...]:
    part = sound.part(shape)
    show = sound.show
    facts = [("Make", show_count(len(marks_of(shape)), "copy", "copies"))]
    if shape.mirrored:
        facts.append(("As drawn", show_marks(shape.as_drawn)))
        facts.append(("Mirror image", show_marks(shape.mirrored)))
    facts.append(("Finished size", show.size_with_unit(*_final_sizes(shape, part))))
    shoulders = _shoulder_note(sound, shape, part)
    if shoulders:
        facts.append(("Length", shoulders))
    facts.append(("Rough size", f"{_show_rough(sound, sound.blanks_of(shape))} {show.units}"))
    edges = ", boards glued edge to edge" if sound.plan.parts[part.name].is_edge_glued else ""
    facts.append(("Stock", f"{_describe_stock(part)}{edges}"))
    facts.append(("Grain", f"along the length ({part.grain_axis.extent} in the piece)"))
    return tuple(facts)


def _describe_stock(part: Part) -> str:
    stock = ", ".join(dict.fromkeys((part.stock.name, part.stock.material)))
    return stock if part.layers == 1 else f"{stock}, {part.layers} layers glued up"


def _list_cuts(sound: SoundPlan, shape: Shape) -> Table | None:
    """What joints cut into the drawn copy or leave on it, with where it lies."""
    if not shape.drawn.features and not shape.drawn.shaping:
        return None
    columns = (
        Column("What"),
        Column("Size"),
        Column("Where"),
        Column("Joins", "mark"),
    )
    datums = read_datums(sound.joinery, shape.drawn.mark, shape.drawn.blank)
    rows = tuple(
        write_row(
            feature.role,
            size_of_feature(sound, feature, shape),
            place_of_feature(sound, feature, datums),
            feature.mate,
        )
        for feature in shape.drawn.features
    )
    body = own_box(sound.part(shape))
    rows += tuple(
        write_row(
            cut.role,
            describe_shaped(cut, body, sound.show.unit).removeprefix(cut.role).strip(),
            f"seen on the {cut.face}",
            "",
        )
        for cut in shape.drawn.shaping
    )
    caption = (
        f"What is cut into {shape.drawn.mark}, in {sound.show.unit_word}. Distances are from the "
        "ends that it is set out from, named as the part stands in the piece."
    )
    return Table(caption=caption, columns=columns, rows=rows)
