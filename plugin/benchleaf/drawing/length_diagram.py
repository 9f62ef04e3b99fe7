"""Boards and rods as they are sawn: several lengths of one stock on a sheet.

Takes layouts of one line of stock and the cut plan that they belong to, gives Scenes. Lengths are
to scale; boards are drawn wide enough to read. Must not know parts or joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from benchleaf.cutting.records import Blank, CutDirection, CutPlan, LengthLayout
from benchleaf.cutting.trees import NEAR
from benchleaf.drawing.blank_labels import label_rectangle
from benchleaf.drawing.bond_marks import bond_lines, bond_ticks, bonds_in
from benchleaf.drawing.clearance import Clearance, Rectangle, box_of_text
from benchleaf.drawing.cutting_diagram import LINE_MM, corners, size_words, text_lines
from benchleaf.drawing.page import (
    CAPTION_HEIGHT,
    NOTE_HEIGHT,
    SAFE_HEIGHT_MM,
    SAFE_WIDTH_MM,
    TITLE_HEIGHT_MM,
    Scale,
    TitleBlock,
    choose_layout_scale,
    draw_title_block,
)
from benchleaf.drawing.running_dimensions import spread
from benchleaf.drawing.scene import Area, Line, Mark, Role, Scene, Text
from benchleaf.drawing.tags import Tag, draw_plain_tag, draw_tag
from benchleaf.drawing.text_metrics import fit_text, wrap_text
from benchleaf.lengths import UnitName, format_length
from benchleaf.reading.plan import Plan, Stock, StockKind

_LEFT_MM: Final = 2.0
_HEAD_MM: Final = 6.0
# chosen: a line of text above each bar, the bar, and the numbers of its cuts below.
_CAPTION_MM: Final = 4.0
_NUMBERS_MM: Final = 7.5
_BETWEEN_MM: Final = 2.0
# chosen: mark and size in two lines need 8.5 mm; each of several strips needs a line of notes.
_LEAST_BAR_MM: Final = 9.0
_LEAST_STRIP_MM: Final = 4.0
_MOST_BAR_MM: Final = 40.0
# chosen: two lengths alike are labelled one by one, more as a run.
_LEAST_RUN: Final = 3
# chosen: two figures in a circle and a little room.
_NUMBER_PITCH_MM: Final = 4.2


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """One blank on a bar."""

    label: str
    blank: Blank
    box: Rectangle
    start_mm: Fraction
    length_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sawing:
    """What all bars of one drawing share."""

    stock: Stock
    blanks: dict[str, Blank]
    scale: Scale
    bar: float
    units: UnitName
    cut_plan: CutPlan


def draw_length_layout(layout: LengthLayout, cut_plan: CutPlan, plan: Plan) -> Scene:
    """Draw one board or rod as it is cut."""
    return draw_length_layouts([layout], cut_plan, plan)[0]


def draw_length_layouts(
    layouts: Sequence[LengthLayout], cut_plan: CutPlan, plan: Plan
) -> tuple[Scene, ...]:
    """Draw boards or rods of one line of stock, as many to a sheet as go on it.

    Args:
        layouts: Layouts of one line of stock, at least one.
        cut_plan: The plan that they are part of: it knows the blanks' sizes.
        plan: The plan as read, for units and title.

    Returns:
        One scene or more, in order.
    """
    sawing = _sawing(layouts, cut_plan, plan)
    row = _CAPTION_MM + sawing.bar + _NUMBERS_MM + _BETWEEN_MM
    # Three lines are kept for sizes that find no room in their blanks, two for what goes together.
    kept = 3 + 2 * sum(len(bonds_in(layout, cut_plan)) for layout in layouts)
    room = SAFE_HEIGHT_MM - _HEAD_MM - TITLE_HEIGHT_MM - kept * LINE_MM
    fitting = max(1, int(room / row))
    count = sum(layout.stock == sawing.stock.name for layout in cut_plan.lengths)
    return tuple(
        _draw_page(layouts[first : first + fitting], sawing, plan, count=count)
        for first in range(0, len(layouts), fitting)
    )


def _sawing(layouts: Sequence[LengthLayout], cut_plan: CutPlan, plan: Plan) -> _Sawing:
    stock = next(line for line in cut_plan.stock if line.name == layouts[0].stock)
    longest = max(float(layout.length_mm) for layout in layouts)
    scale = choose_layout_scale((longest, 0.0), (SAFE_WIDTH_MM - 2 * _LEFT_MM, 1.0), plan.units)
    abreast = max(_abreast(layout) for layout in layouts)
    bar = max(scale.on_paper(float(stock.width_mm)), _LEAST_BAR_MM, _LEAST_STRIP_MM * abreast)
    blanks = {blank.label: blank for blank in cut_plan.blanks}
    return _Sawing(
        stock=stock,
        blanks=blanks,
        scale=scale,
        bar=min(bar, _MOST_BAR_MM),
        units=plan.units.value,
        cut_plan=cut_plan,
    )


def _abreast(layout: LengthLayout) -> int:
    """The most strips that lie side by side."""
    starts = [start for _, start, _ in layout.placed]
    return max((starts.count(start) for start in set(starts)), default=1)


def _draw_page(
    layouts: Sequence[LengthLayout], sawing: _Sawing, plan: Plan, *, count: int
) -> Scene:
    marks: list[Mark] = [*_head(sawing)]
    unsaid: dict[str, list[str]] = {}
    top = _HEAD_MM
    for layout in layouts:
        marks += _draw_bar(layout, sawing, top, unsaid=unsaid, count=count)
        top += _CAPTION_MM + sawing.bar + _NUMBERS_MM + _BETWEEN_MM
    sizes = (f"{', '.join(labels)}: {size}" for size, labels in unsaid.items())
    notes = [words for layout in layouts for words in bond_lines(layout, sawing.cut_plan)]
    said = (";  ".join(sizes), *notes)
    lines = [line for one in said for line in wrap_text(one, NOTE_HEIGHT, SAFE_WIDTH_MM - 2)]
    marks += text_lines(lines, top)
    top += len(lines) * LINE_MM
    numbers = [layout.number for layout in layouts]
    return Scene(
        id=f"{plan.name}-lengths-{sawing.stock.name}-{numbers[0]}",
        width=SAFE_WIDTH_MM,
        height=top + TITLE_HEIGHT_MM,
        marks=(*marks, *draw_title_block(_title(numbers, sawing, plan, count=count), top)),
        title=f"{_subject(numbers, sawing, count=count)}: how they are cut",
        description=" ".join(_describe(layout, sawing) for layout in layouts),
        scale=sawing.scale.label,
    )


def _head(sawing: _Sawing) -> Iterator[Mark]:
    stock, units = sawing.stock, sawing.units
    thickness = format_length(stock.thickness_mm, units)
    width = format_length(stock.width_mm, units)
    is_rod = stock.kind is StockKind.ROD
    section = f"{thickness} dia" if is_rod else f"{thickness} × {width}"
    drawn_wide = sawing.bar > sawing.scale.on_paper(float(stock.width_mm)) * 1.001
    note = "; widths are not to scale" if drawn_wide and not is_rod else ""
    start = NEAR[CutDirection.ACROSS]
    said = f"{stock.material}, {section}{note}; measured and cut from the {start}"
    words = fit_text(said, NOTE_HEIGHT, SAFE_WIDTH_MM - 4)
    yield Text(at=(_LEFT_MM, 2.0), text=words, anchor="start", halo=False)


def _title(numbers: Sequence[int], sawing: _Sawing, plan: Plan, *, count: int) -> TitleBlock:
    return TitleBlock(
        plan=plan.title,
        subject=_subject(numbers, sawing, count=count),
        scale=sawing.scale.label,
        units=plan.units.value,
        revision=plan.revision,
    )


def _subject(numbers: Sequence[int], sawing: _Sawing, *, count: int) -> str:
    kind = sawing.stock.kind.value
    if len(numbers) == 1:
        return f"{sawing.stock.name}, {kind} {numbers[0]} of {count}"
    return f"{sawing.stock.name}, {kind}s {numbers[0]} to {numbers[-1]} of {count}"


def _describe(layout: LengthLayout, sawing: _Sawing) -> str:
    lengths = ", ".join(
        f"{label} {format_length(length, sawing.units)}" for label, _, length in layout.placed
    )
    rest = format_length(layout.offcut_mm, sawing.units)
    whole = format_length(layout.length_mm, sawing.units)
    avoided = ", ".join(
        f"{format_length(start, sawing.units)} to {format_length(end, sawing.units)}"
        for start, end in layout.defects_mm
    )
    kept_out = f" Nothing is cut from {avoided}." if avoided else ""
    return f"{layout.number}, {whole} long: {lengths}; {rest} left.{kept_out}"


def _draw_bar(
    layout: LengthLayout,
    sawing: _Sawing,
    top: float,
    *,
    unsaid: dict[str, list[str]],
    count: int,
) -> Iterator[Mark]:
    scale = sawing.scale
    bar = Rectangle(
        _LEFT_MM,
        top + _CAPTION_MM,
        _LEFT_MM + scale.on_paper(float(layout.length_mm)),
        top + _CAPTION_MM + sawing.bar,
    )
    whole = format_length(layout.length_mm, sawing.units)
    caption = f"{layout.number} of {count}: {whole} long"
    yield Text(at=(_LEFT_MM, top + 1.6), text=caption, anchor="start", halo=False)
    pieces = _pieces(layout, sawing, bar)
    yield from _waste(layout, sawing, bar)
    for piece in pieces:
        yield Area(rings=(corners(piece.box),), role=Role.PART, tone=1)
    cuts = tuple(_cuts(layout, sawing, bar, pieces))
    yield from cuts
    yield Line(points=(*corners(bar), (bar.left, bar.top)), role=Role.OUTLINE)
    places = {piece.label: piece.box for piece in pieces}
    yield from bond_ticks(bonds_in(layout, sawing.cut_plan), places)
    # Words may lie where no cut runs, but not on the numbers.
    taken = Clearance(mark for mark in cuts if not isinstance(mark, Line))
    for length, run in groupby(pieces, key=_run_key):
        yield from _labels(tuple(run), length is not None, sawing, taken, unsaid=unsaid)
    yield from _offcut_label(layout, sawing, bar, taken)


def _pieces(layout: LengthLayout, sawing: _Sawing, bar: Rectangle) -> tuple[_Piece, ...]:
    strips = {label: (near, wide) for label, near, wide in layout.strips}
    across = (bar.bottom - bar.top) / float(sawing.stock.width_mm)
    pieces = []
    for label, start, length in layout.placed:
        near, wide = strips.get(label, (Fraction(0), sawing.stock.width_mm))
        left = bar.left + sawing.scale.on_paper(float(start))
        box = Rectangle(
            left,
            bar.top + float(near) * across,
            left + sawing.scale.on_paper(float(length)),
            bar.top + float(near + wide) * across,
        )
        blank = sawing.blanks[label]
        pieces.append(_Piece(label=label, blank=blank, box=box, start_mm=start, length_mm=length))
    return tuple(pieces)


def _waste(layout: LengthLayout, sawing: _Sawing, bar: Rectangle) -> Iterator[Mark]:
    """Hatch the whole bar beyond its trimmed end: blanks are laid over it."""
    left = bar.left + sawing.scale.on_paper(float(layout.trim_mm))
    right = bar.right - sawing.scale.on_paper(float(layout.trim_mm))
    box = Rectangle(left, bar.top, right, bar.bottom)
    yield Area(rings=(corners(box),), role=Role.WASTE, hatch=1)
    for start, end in layout.defects_mm:
        near, far = (bar.left + sawing.scale.on_paper(float(at)) for at in (start, end))
        yield Area(
            rings=(corners(Rectangle(near, bar.top, far, bar.bottom)),), role=Role.WASTE, hatch=2
        )


def _cuts(
    layout: LengthLayout, sawing: _Sawing, bar: Rectangle, pieces: Sequence[_Piece]
) -> Iterator[Mark]:
    """Crosscuts with their numbers below the bar, and the rips between strips."""
    half = layout.kerf_mm / 2
    ends, clear = list[Fraction](), Fraction(0)
    for start, abreast in groupby(pieces, key=lambda piece: piece.start_mm):
        group = tuple(abreast)
        end = max(piece.start_mm + piece.length_mm for piece in group)
        # What lies before it, at the end or at a defect, is sawn off first.
        ends += [start - half, end + half] if start > clear else [end + half]
        clear = end + layout.kerf_mm
        yield from _rips(group, bar)
    places = [bar.left + sawing.scale.on_paper(float(end)) for end in ends]
    shown = [place for place in places if place < bar.right - 0.1]
    for place in shown:
        yield Line(points=((place, bar.top), (place, bar.bottom)), role=Role.CUT)
    yield from _numbers(shown, bar)


def _rips(group: Sequence[_Piece], bar: Rectangle) -> Iterator[Mark]:
    for piece in group:
        for y in (piece.box.top, piece.box.bottom):
            if bar.top + 0.1 < y < bar.bottom - 0.1:
                yield Line(points=((piece.box.left, y), (piece.box.right, y)), role=Role.CUT)


def _numbers(places: Sequence[float], bar: Rectangle) -> Iterator[Mark]:
    """Numbers of crosscuts; where they crowd, every fifth and the last."""
    room = SAFE_WIDTH_MM - 2 * _LEFT_MM
    numbered = list(enumerate(places, start=1))
    if len(places) * _NUMBER_PITCH_MM > room:
        numbered = [(n, at) for n, at in numbered if n % 5 == 0 or n in (1, len(places))]
    limits = (_LEFT_MM + _NUMBER_PITCH_MM / 2, SAFE_WIDTH_MM - _LEFT_MM)
    spots = spread([at for _, at in numbered], _NUMBER_PITCH_MM, limits)
    for (number, at), spot in zip(numbered, spots, strict=True):
        tag = Tag(words=str(number), height=CAPTION_HEIGHT, role=Role.CUT)
        centre = (spot, bar.bottom + 2.4 + tag.radius)
        yield Line(
            points=((at, bar.bottom), (at, bar.bottom + 0.6), (spot, bar.bottom + 2.4)),
            role=Role.LEADER,
        )
        yield from draw_plain_tag(tag, centre)


def _run_key(piece: _Piece) -> Fraction | None:
    """Lengths of rod for hardware that are alike form runs; other pieces stand alone."""
    return piece.length_mm if piece.blank.is_hardware else None


def _labels(
    pieces: Sequence[_Piece],
    is_alike: bool,
    sawing: _Sawing,
    taken: Clearance,
    *,
    unsaid: dict[str, list[str]],
) -> Iterator[Mark]:
    if is_alike and len(pieces) >= _LEAST_RUN:
        first, last = pieces[0].box, pieces[-1].box
        box = Rectangle(first.left, first.top, last.right, first.bottom)
        words = f"{len(pieces)} × {format_length(pieces[0].length_mm, sawing.units)}"
        said = label_rectangle(box, "", words, taken)
        for text in said.texts if said else ():
            patch = corners(box_of_text(text).grown(0.4))
            yield Area(rings=(patch,), role=Role.PART, tone=1)
            yield text
        return
    for piece in pieces:
        mark = "" if piece.blank.is_hardware else piece.label
        size = _size_of(piece, sawing)
        said = label_rectangle(piece.box, mark, size, taken)
        if said:
            yield from said.texts
        elif mark:
            around = piece.box.grown(_CAPTION_MM + _NUMBERS_MM + piece.box.bottom - piece.box.top)
            yield from draw_tag(Tag(words=mark), piece.box, taken, within=around) or ()
        if not said or not said.says_size:
            unsaid.setdefault(size, []).append(piece.label)


def _size_of(piece: _Piece, sawing: _Sawing) -> str:
    """Length alone for what is as wide as the stock."""
    if piece.blank.width_mm >= sawing.stock.width_mm:
        return format_length(piece.length_mm, sawing.units)
    return size_words(piece.blank, sawing.units)


def _offcut_label(
    layout: LengthLayout, sawing: _Sawing, bar: Rectangle, taken: Clearance
) -> Iterator[Mark]:
    wide = sawing.scale.on_paper(float(layout.offcut_mm))
    right = bar.right - sawing.scale.on_paper(float(layout.trim_mm))
    box = Rectangle(right - wide, bar.top, right, bar.bottom)
    said = label_rectangle(box, "", format_length(layout.offcut_mm, sawing.units), taken)
    for text in said.texts if said else ():
        yield Area(rings=(corners(box_of_text(text).grown(0.4)),), role=Role.PAPER)
        yield text
