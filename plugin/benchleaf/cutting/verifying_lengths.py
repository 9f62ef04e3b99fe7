"""One board or rod replayed: lengths in order from its start, strips across each length.

Takes a layout, its stock and the blanks by label, gives what is wrong. Shares no code with the
planner.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise

from benchleaf.cutting.records import Blank, LengthLayout
from benchleaf.reading.plan import Stock, StockKind


@dataclass(frozen=True, slots=True)
class _Strip:
    """Where one blank lies."""

    label: str
    start_mm: Fraction
    end_mm: Fraction
    near_mm: Fraction
    """From the edge of the board."""
    far_mm: Fraction


def replay_length(
    layout: LengthLayout, stock: Stock, blanks: Mapping[str, Blank]
) -> tuple[str, ...]:
    """Say what is wrong with the layout of a board or rod."""
    problems = list(_check_stock(layout, stock))
    problems += _check_strips(layout, stock)
    for label, _, length in layout.placed:
        problems += _check_blank((label, length), layout, stock, blanks)
    strips = _strips(layout, stock)
    groups = [list(own) for _, own in groupby(strips, key=lambda strip: strip.start_mm)]
    problems += _check_along(groups, layout)
    for group in groups:
        problems += _check_across(group, layout, stock)
    problems += _check_defects(strips, layout)
    last = max((strip.end_mm for strip in strips), default=layout.trim_mm - layout.kerf_mm)
    left = layout.length_mm - layout.trim_mm - layout.kerf_mm - last
    if layout.offcut_mm != max(left, Fraction(0)):
        problems.append(f"{layout.offcut_mm} mm is not what is left")
    return tuple(problems)


def _strips(layout: LengthLayout, stock: Stock) -> list[_Strip]:
    across = {label: (edge, edge + width) for label, edge, width in layout.strips}
    return [
        _Strip(label, start, start + length, *across.get(label, (Fraction(0), stock.width_mm)))
        for label, start, length in layout.placed
    ]


def _check_stock(layout: LengthLayout, stock: Stock) -> Iterator[str]:
    if stock.kind is StockKind.SHEET:
        yield "it is laid out as a board or rod, and is a sheet"
    sold = [(one.length_mm, one.is_offcut, one.defects_mm) for one in stock.offers]
    if not sold:
        sold = [(length, False, ()) for length in stock.lengths_mm]
    if (layout.length_mm, layout.is_offcut, layout.defects_mm) not in sold:
        yield f"{layout.length_mm} mm is not a length it is sold in"
    if layout.trim_mm != stock.trim_mm:
        yield f"{layout.trim_mm} mm is not what is to be trimmed"
    if layout.kerf_mm < 0:
        yield "its kerf is below zero"


def _check_strips(layout: LengthLayout, stock: Stock) -> Iterator[str]:
    labels = [label for label, _, _ in layout.placed]
    named = [label for label, _, _ in layout.strips]
    if len(set(labels)) < len(labels):
        yield "a blank is cut twice"
    if named != ([] if stock.kind is StockKind.ROD else labels):
        yield "the strips are not those of the blanks placed"


def _check_blank(
    placed: tuple[str, Fraction], layout: LengthLayout, stock: Stock, blanks: Mapping[str, Blank]
) -> Iterator[str]:
    label, length = placed
    blank = blanks.get(label)
    if blank is None or blank.stock != stock.name:
        yield f"{label} is no blank of this stock"
        return
    widths = {name: width for name, _, width in layout.strips}
    width = widths.get(label, stock.width_mm)
    if (length, width) != (blank.length_mm, blank.width_mm):
        yield f"{label} comes out at {length} x {width} mm"


def _check_along(groups: Sequence[Sequence[_Strip]], layout: LengthLayout) -> Iterator[str]:
    for group in groups[:1]:
        if group[0].start_mm < layout.trim_mm:
            yield f"{group[0].label} reaches into the trimmed end"
    for before, after in pairwise(groups):
        if after[0].start_mm < max(strip.end_mm for strip in before) + layout.kerf_mm:
            yield f"{after[0].label} lies less than a kerf behind what is before it"
    for strip in groups[-1] if groups else ():
        if strip.end_mm > layout.length_mm - layout.trim_mm:
            yield f"{strip.label} reaches beyond the end"


def _check_defects(strips: Sequence[_Strip], layout: LengthLayout) -> Iterator[str]:
    for strip in strips:
        for start, end in layout.defects_mm:
            if strip.start_mm < end and start < strip.end_mm:
                yield f"{strip.label} has a defect in it"


def _check_across(group: Sequence[_Strip], layout: LengthLayout, stock: Stock) -> Iterator[str]:
    ordered = sorted(group, key=lambda strip: strip.near_mm)
    if ordered[0].near_mm < 0 or ordered[-1].far_mm > stock.width_mm:
        yield f"{ordered[0].label} to {ordered[-1].label} reach beyond the board's edges"
    for before, after in pairwise(ordered):
        if after.near_mm < before.far_mm + layout.kerf_mm:
            yield f"{before.label} and {after.label} lie less than a kerf apart"
