"""How the stock is cut up: a layout for each sheet, board and rod, with its cuts in order.

Takes a `SoundPlan`; gives its page. Distances are those of the cut plan, from the edges of what is
being cut.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from operator import itemgetter

from benchleaf.cutting.records import CutDirection, LengthLayout, Rectangle, SheetLayout
from benchleaf.cutting.summary import CutStep, summarise_cuts
from benchleaf.cutting.trees import NEAR
from benchleaf.drawing.bond_marks import bond_lines
from benchleaf.sequencing.cut_lines import number_runs
from benchleaf.sequencing.saw_words import WORTH_KEEPING_MM
from benchleaf.site.escaping import make_anchor
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import show_count, show_list, show_marks
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.store import view_store
from benchleaf.site.views.table import Cell, Column, Table, write_row
from benchleaf.site.views.taken import view_offcuts, view_taken


@dataclass(frozen=True, slots=True, kw_only=True)
class BlanksView:
    """Context of `blanks.html`."""

    table: Table
    kerf: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutView:
    """Context of `layout.html`."""

    figure: Figure | None
    cuts: Table
    used: str
    """How much of the piece of stock becomes blanks: `83 %`."""
    offcuts: str
    """Sizes of what is left, or empty."""
    together: tuple[str, ...] = ()
    """A sentence on each run of figure, and on parts that must come from this piece."""


def view_cutting(sound: SoundPlan) -> Page:
    """Make the page of layouts."""
    cuts = {(one.stock, one.number): one.cuts for one in summarise_cuts(sound.cut_plan).cuts}
    sheets = tuple(
        _view_sheet(sound, layout, cuts[layout.stock, layout.number])
        for layout in sound.cut_plan.sheets
    )
    lengths = tuple(
        _view_length(sound, layout, cuts[layout.stock, layout.number])
        for layout in sound.cut_plan.lengths
    )
    blanks = Section(
        heading="Blanks to cut",
        anchor="blanks",
        template="blanks.html",
        view=BlanksView(
            table=_list_blanks(sound), kerf=sound.show.with_unit(sound.plan.shop.kerf_mm)
        ),
    )
    offcuts = view_offcuts(sound)
    stored = (offcuts,) if offcuts else ()
    store = view_store(sound)
    hauled = (store,) if store else ()
    return Page(
        key="cutting",
        title="Cutting",
        short_title="Cutting",
        description=f"How the stock for {sound.plan.title} is cut up, cut by cut.",
        sections=(blanks, view_taken(sound), *hauled, *sheets, *lengths, *stored),
        parent="index",
        place=sound.place("stock"),
    )


def _list_blanks(sound: SoundPlan) -> Table:
    labels: dict[tuple[str, str, Fraction, Fraction], list[str]] = {}
    for blank in sound.cut_plan.blanks:
        key = (blank.part, blank.stock, blank.length_mm, blank.width_mm)
        # Lengths of rod for a joint are all alike: they go by their size, not by labels.
        labels.setdefault(key, []).append("" if blank.is_hardware else blank.label)
    rows = tuple(
        (
            Cell(""),
            Cell(show_marks(filter(None, group))),
            Cell(part),
            Cell(str(len(group))),
            Cell(sound.show.length(length_mm)),
            Cell(sound.show.length(width_mm)),
            Cell(stock),
        )
        for (part, stock, length_mm, width_mm), group in labels.items()
    )
    columns = (
        Column("Cut", "tick"),
        Column("Label", "mark"),
        Column("For"),
        Column("Qty", "number"),
        Column("Length", "number"),
        Column("Width", "number"),
        Column("Stock"),
    )
    caption = f"Blanks, rough sizes in {sound.show.unit_word}; length runs along the grain."
    return Table(caption=caption, columns=columns, rows=rows)


def _view_sheet(sound: SoundPlan, layout: SheetLayout, cuts: tuple[CutStep, ...]) -> Section:
    name = f"{layout.stock} {layout.number}"
    size = sound.show.size_with_unit(layout.width_mm, layout.length_mm)
    area = layout.length_mm * layout.width_mm
    used = sum((spot.wide * spot.high for _, spot, _ in layout.placed), start=Fraction(0))
    return Section(
        heading=f"{'Offcut' if layout.is_offcut else 'Sheet'} {name}, {size}",
        anchor=f"sheet-{make_anchor(name)}",
        template="layout.html",
        view=LayoutView(
            figure=sound.figures.get(f"sheet-{layout.stock}-{layout.number}"),
            cuts=_list_sheet_cuts(sound, cuts, layout.kerf_mm),
            used=_show_share(used / area),
            offcuts=_list_offcuts(sound, layout),
            together=bond_lines(layout, sound.cut_plan),
        ),
    )


def _list_offcuts(sound: SoundPlan, layout: SheetLayout) -> str:
    """Sizes of the offcuts that are worth a shelf, and how many smaller ones there are."""
    sides = [_long_first(spot) for spot in layout.offcuts]
    kept = [side for side in sides if side[1] >= WORTH_KEEPING_MM]
    words = [sound.show.size_with_unit(*side) for side in kept]
    if len(kept) < len(sides):
        words.append(show_count(len(sides) - len(kept), "smaller piece"))
    return show_list(words)


def _long_first(spot: Rectangle) -> tuple[Fraction, Fraction]:
    """The sides of a piece, as diagrams and steps have them."""
    return max(spot.high, spot.wide), min(spot.high, spot.wide)


def _show_share(share: Fraction) -> str:
    return f"{round(share * 100)} %"


def _list_sheet_cuts(sound: SoundPlan, cuts: tuple[CutStep, ...], kerf_mm: Fraction) -> Table:
    columns = (
        Column("Done", "tick"),
        Column("Cut", "number"),
        Column("Of", "mark"),
        Column("Direction"),
        Column("At", "number"),
        Column("Gives", "mark"),
        Column("And", "mark"),
    )
    rows = tuple(_list_cut(sound, step, kerf_mm) for step in cuts)
    across, along = NEAR[CutDirection.ACROSS], NEAR[CutDirection.ALONG]
    caption = (
        f"Cuts in the order of the steps, in {sound.show.unit_word}. At: from the {across} of the "
        f"piece for a cut across, from its {along} for a cut along, as drawn. A piece to be cut "
        "further is named after the cut that parted it from another: cut 2 gives 2a and 2b. One "
        "that only loses waste keeps its name."
    )
    return Table(caption=caption, columns=columns, rows=rows)


def _list_cut(sound: SoundPlan, step: CutStep, kerf_mm: Fraction) -> tuple[Cell, ...]:
    show = sound.show
    is_along = step.direction is CutDirection.ALONG
    extent = step.piece.high if is_along else step.piece.wide
    left = extent - step.setting_mm - kerf_mm
    at = Cell(show.length(step.setting_mm))
    if step.is_from_far_side:
        side = NEAR[step.direction]
        at = Cell(show.length(step.trimmed_mm), note=f"trimmed off the {side}")
    return (
        Cell(""),
        Cell(str(step.number)),
        Cell(step.source or "the sheet", note=show.size(*_long_first(step.piece))),
        Cell("along the sheet" if is_along else "across the sheet"),
        at,
        Cell(_name_piece(step.second if step.is_from_far_side else step.first, Fraction(0))),
        Cell("" if step.is_from_far_side else _name_piece(step.second, left)),
    )


def _name_piece(name: str | None, waste_mm: Fraction) -> str:
    """What one side of a cut is: a blank, a piece that holds blanks, or waste."""
    if name is not None:
        return name or "the sheet"
    if waste_mm <= 0:
        return ""
    return "offcut" if waste_mm >= WORTH_KEEPING_MM else "waste"


def _view_length(sound: SoundPlan, layout: LengthLayout, cuts: tuple[CutStep, ...]) -> Section:
    name = f"{layout.stock} {layout.number}"
    used = {(start, length) for _, start, length in layout.placed}  # strips share their length
    share = sum((length for _, length in used), start=Fraction(0)) / layout.length_mm
    offcut = f"{sound.show.with_unit(layout.offcut_mm)} long" if layout.offcut_mm else ""
    what = "Piece from the rack" if layout.is_offcut else "Length"
    return Section(
        heading=f"{what} {name}, {sound.show.with_unit(layout.length_mm)}",
        anchor=f"length-{make_anchor(name)}",
        template="layout.html",
        view=LayoutView(
            figure=sound.figures.get(f"lengths-{layout.stock}-{layout.number}"),
            cuts=_list_length_cuts(sound, layout, _number_crosscuts(cuts)),
            used=_show_share(share),
            offcuts=offcut,
            together=bond_lines(layout, sound.cut_plan),
        ),
    )


def _list_length_cuts(sound: SoundPlan, layout: LengthLayout, cuts: Mapping[str, int]) -> Table:
    """What is cut off a length, in order; like pieces for hardware in a row share one line."""
    strips = {label: (near, width) for label, near, width in layout.strips}
    hardware = {b.label: b.part for b in sound.cut_plan.blanks if b.is_hardware}
    columns = [
        Column("Done", "tick"),
        Column("Cut", "number"),
        Column("Piece", "mark"),
        Column("Qty", "number"),
        Column("Length", "number"),
        Column("Starts at", "number"),
        Column("Ends at", "number"),
    ]
    if strips:
        columns += [Column("Rip to width", "number"), Column("From the near edge", "number")]
    rows = []
    named = (
        (hardware.get(label, label), length, label, start) for label, start, length in layout.placed
    )
    for (name, length), run in groupby(named, key=itemgetter(0, 1)):
        pieces = list(run)
        numbers = [length, pieces[0][3], pieces[-1][3] + length]
        if strips:
            near, width = strips[name]
            numbers += [width, near]
        made = number_runs([cuts[label] for _, _, label, _ in pieces if label in cuts])
        rows.append(write_row("", made, name, str(len(pieces)), *map(sound.show.length, numbers)))
    caption = (
        f"Pieces in order from the {NEAR[CutDirection.ACROSS]}, in {sound.show.unit_word}, each "
        "with the number of the cut at its end"
    )
    return Table(caption=caption, columns=tuple(columns), rows=tuple(rows))


def _number_crosscuts(cuts: tuple[CutStep, ...]) -> Mapping[str, int]:
    """For each blank, the first cut that takes it, or the length that holds it, off the rest."""
    numbers: dict[str, int] = {}
    for step in cuts:
        if step.direction is CutDirection.ACROSS and not step.is_from_far_side:
            for label in step.measured:
                numbers.setdefault(label, step.number)
    return numbers
