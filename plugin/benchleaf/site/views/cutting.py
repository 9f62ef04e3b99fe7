"""How the stock is cut up: a layout for each sheet, board and rod, with its cuts in order.

Takes a `SoundPlan`; gives its page. Distances are those of the cut plan, from the edges of what is
being cut.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.records import CutDirection, CutNode, LengthLayout, SheetLayout
from benchleaf.site.escaping import make_anchor
from benchleaf.site.records import Figure, Page, Section
from benchleaf.site.show import show_marks
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Cell, Column, Table, write_row


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


def view_cutting(sound: SoundPlan) -> Page:
    """Make the page of layouts."""
    sheets = tuple(_view_sheet(sound, layout) for layout in sound.cut_plan.sheets)
    lengths = tuple(_view_length(sound, layout) for layout in sound.cut_plan.lengths)
    blanks = Section(
        heading="Blanks to cut",
        anchor="blanks",
        template="blanks.html",
        view=BlanksView(
            table=_list_blanks(sound), kerf=sound.show.with_unit(sound.plan.shop.kerf_mm)
        ),
    )
    return Page(
        key="cutting",
        title="Cutting",
        short_title="Cutting",
        description=f"How the stock for {sound.plan.title} is cut up, cut by cut.",
        sections=(blanks, *sheets, *lengths),
        parent="index",
        place=sound.place("stock"),
    )


def _list_blanks(sound: SoundPlan) -> Table:
    labels: dict[tuple[str, str, Fraction, Fraction], list[str]] = {}
    for blank in sound.cut_plan.blanks:
        key = (blank.part, blank.stock, blank.length_mm, blank.width_mm)
        labels.setdefault(key, []).append(blank.label)
    rows = tuple(
        (
            Cell(""),
            Cell(show_marks(group)),
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


def _view_sheet(sound: SoundPlan, layout: SheetLayout) -> Section:
    name = f"{layout.stock} {layout.number}"
    size = sound.show.size_with_unit(layout.width_mm, layout.length_mm)
    area = layout.length_mm * layout.width_mm
    used = sum((spot.wide * spot.high for _, spot, _ in layout.placed), start=Fraction(0))
    return Section(
        heading=f"Sheet {name}, {size}",
        anchor=f"sheet-{make_anchor(name)}",
        template="layout.html",
        view=LayoutView(
            figure=sound.figures.get(f"sheet-{layout.stock}-{layout.number}"),
            cuts=_list_sheet_cuts(sound, layout),
            used=_show_share(used / area),
            offcuts=", ".join(sound.show.size(spot.high, spot.wide) for spot in layout.offcuts),
        ),
    )


def _show_share(share: Fraction) -> str:
    return f"{round(share * 100)} %"


def _list_sheet_cuts(sound: SoundPlan, layout: SheetLayout) -> Table:
    cuts = sorted(_walk_cuts(layout.tree), key=lambda node: node.number)
    columns = (
        Column("Done", "tick"),
        Column("Cut", "number"),
        Column("Piece"),
        Column("Direction"),
        Column("At", "number"),
        Column("Gives"),
        Column("Leaves"),
    )
    rows = tuple(_list_cut(sound, node, layout.kerf_mm) for node in cuts)
    caption = (
        f"Cuts in order, in {sound.show.unit_word}. At: from the left end for a cut across, from "
        "the near edge for a cut along, as drawn."
    )
    return Table(caption=caption, columns=columns, rows=rows)


def _walk_cuts(node: CutNode | None) -> Iterator[CutNode]:
    if node is None or node.direction is None:
        return
    yield node
    yield from _walk_cuts(node.first)
    yield from _walk_cuts(node.second)


def _list_cut(sound: SoundPlan, node: CutNode, kerf_mm: Fraction) -> tuple[Cell, ...]:
    show = sound.show
    is_trim = node.first is None
    return write_row(
        "",
        str(node.number),
        show.size(node.area.high, node.area.wide),
        "along the sheet" if node.direction is CutDirection.ALONG else "across the sheet",
        "" if is_trim else show.length(node.at_mm),
        f"trims {show.length(node.at_mm + kerf_mm)} off" if is_trim else _describe(node.first),
        _describe(node.second),
    )


def _describe(node: CutNode | None) -> str:
    """What one side of a cut is: a blank, a piece that holds blanks, an offcut, or a trimming."""
    if node is None:
        return "trimmings"
    if node.blank:
        return node.blank
    labels = sorted(_labels_in(node))
    return f"piece with {show_marks(labels)}" if labels else "offcut"


def _labels_in(node: CutNode | None) -> Iterator[str]:
    if node is None:
        return
    if node.blank:
        yield node.blank
    yield from _labels_in(node.first)
    yield from _labels_in(node.second)


def _view_length(sound: SoundPlan, layout: LengthLayout) -> Section:
    name = f"{layout.stock} {layout.number}"
    used = {(start, length) for _, start, length in layout.placed}  # strips share their length
    share = sum((length for _, length in used), start=Fraction(0)) / layout.length_mm
    offcut = f"{sound.show.with_unit(layout.offcut_mm)} long" if layout.offcut_mm else ""
    return Section(
        heading=f"Length {name}, {sound.show.with_unit(layout.length_mm)}",
        anchor=f"length-{make_anchor(name)}",
        template="layout.html",
        view=LayoutView(
            figure=sound.figures.get(f"lengths-{layout.stock}-{layout.number}"),
            cuts=_list_length_cuts(sound, layout),
            used=_show_share(share),
            offcuts=offcut,
        ),
    )


def _list_length_cuts(sound: SoundPlan, layout: LengthLayout) -> Table:
    strips = {label: (near, width) for label, near, width in layout.strips}
    columns = [
        Column("Done", "tick"),
        Column("Piece", "mark"),
        Column("Starts at", "number"),
        Column("Length", "number"),
        Column("Ends at", "number"),
    ]
    if strips:
        columns += [Column("Rip to width", "number"), Column("From the edge", "number")]
    rows = []
    for label, start, length in layout.placed:
        numbers = [start, length, start + length]
        if strips:
            near, width = strips[label]
            numbers += [width, near]
        rows.append(write_row("", label, *map(sound.show.length, numbers)))
    caption = f"Cuts along the length, from the left end, in {sound.show.unit_word}"
    return Table(caption=caption, columns=tuple(columns), rows=tuple(rows))
