"""The list below the views of a part: what it is made from, and what each letter stands for.

Takes groups of features and the shape, gives lines of words and their marks. Must not know views.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.drawing.page import NOTE_HEIGHT, SAFE_WIDTH_MM
from benchleaf.drawing.part_features import Group, short_marks
from benchleaf.drawing.scene import Mark, Text
from benchleaf.drawing.tags import TAG_RADIUS_MM, Tag, draw_plain_tag
from benchleaf.drawing.text_metrics import fit_text, text_width
from benchleaf.joinery.records import Joinery, Shape
from benchleaf.lengths import UnitName, format_degrees, format_length
from benchleaf.piece.records import Part, Trim
from benchleaf.piece.trim_angles import trim_angles

# chosen: a tag and a little room.
_ROW_MM: Final = 2 * TAG_RADIUS_MM + 0.8
_LEFT_MM: Final = 1.0
# chosen: a list of more kinds than this would leave no room for the views.
MOST_KINDS: Final = 24
# chosen: up to three lines are sooner read in one column.
_MOST_IN_ONE_COLUMN: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class PartList:
    """Lines below the views."""

    notes: tuple[str, ...]
    rows: tuple[tuple[str, str], ...]
    """Letter and words."""

    @property
    def columns(self) -> int:
        """Two columns where there are many lines and all are short."""
        room = SAFE_WIDTH_MM / 2 - 2 * TAG_RADIUS_MM - 4
        if len(self.rows) <= _MOST_IN_ONE_COLUMN:
            return 1
        return 2 if all(text_width(words, NOTE_HEIGHT) <= room for _, words in self.rows) else 1

    @property
    def lines(self) -> int:
        """Rows of the longest column."""
        return -(-len(self.rows) // self.columns)

    @property
    def height(self) -> float:
        """Height on the sheet, mm."""
        return (len(self.notes) + self.lines) * _ROW_MM


def read_list(
    shape: Shape, joinery: Joinery, groups: Sequence[Group], steps: Mapping[str, str]
) -> PartList:
    """Put the list of a shape in words.

    Args:
        shape: The shape.
        joinery: The joinery that it is part of.
        groups: Its features; of more than MOST_KINDS the rest are counted.
        steps: Letters of evenly spaced groups, to words on their spacing.
    """
    marks = {mark: joinery.piece.part_of(mark).mark for mark in joinery.piece.copies}
    rows = []
    for group in groups[:MOST_KINDS]:
        words = ", ".join(filter(None, (group.words, steps.get(group.letter, ""))))
        count = f"{len(group.spots)} × " if len(group.spots) > 1 else ""
        mates = f", for {short_marks(group.mates, marks)}" if group.mates else ""
        rows.append((group.letter, f"{count}{words}{mates}"))
    notes = list(_notes(shape, joinery))
    if len(groups) > MOST_KINDS:
        notes.append(f"{len(groups) - MOST_KINDS} kinds more than drawn: see setting out")
    return PartList(notes=tuple(notes), rows=tuple(rows))


def _notes(shape: Shape, joinery: Joinery) -> Iterator[str]:
    units: UnitName = joinery.piece.plan.units.value
    part = joinery.piece.parts[shape.part]
    thickness = format_length(part.stock.thickness_mm, units)
    layers = f", glued up of {part.layers} layers of {thickness}" if part.layers > 1 else ""
    if joinery.piece.plan.parts[part.name].is_edge_glued:
        layers = ", boards glued edge to edge"
    name, material = part.stock.name, part.stock.material
    yield f"From {name}{'' if material == name else f' ({material})'}{layers}"
    if shape.mirrored:
        yield f"{', '.join(shape.mirrored)}: the mirror image of this drawing"
    yield from _name_words(shape, joinery)
    for trim in part.trims:
        yield trim_words(part, trim)
    yield from dict.fromkeys(_shoulder_words(shape, joinery))


def _shoulder_words(shape: Shape, joinery: Joinery) -> Iterator[str]:
    """Where a slanting shoulder lies, which no plain dimension gives."""
    units: UnitName = joinery.piece.plan.units.value
    for fit in joinery.fits:
        for row in fit.setting_out:
            if row.copy == shape.drawn.mark and row.what.startswith("shoulder line in the middle"):
                long = format_length(row.distance_mm, units)
                yield f"Tenon {long} long in the middle, from the shoulder to its {row.reference}"


def trim_words(part: Part, trim: Trim) -> str:
    """How an end or an edge is cut: angles, their complements, and where it reaches farthest."""
    angles = trim_angles(part, trim)
    shown = []
    if angles.far_side:
        shown.append(f"{_both(angles.gauge_deg)} on the broad faces")
    if angles.far_face:
        shown.append(f"{_both(angles.edge_deg)} on the edges")
    far = " ".join(own for own in (angles.far_side, angles.far_face) if own)
    mate = trim.to.replace(".", " ")
    to = mate if mate.startswith("mitre with") else f"to {mate}"
    meets = {"floor": ", to the floor", "": ""}.get(trim.to, f", {to}")
    return f"{trim.face.capitalize()}: {', '.join(shown)}; longest at the {far}{meets}"


def _both(angle_deg: float) -> str:
    return f"{format_degrees(angle_deg)} ({format_degrees(90 - angle_deg)})"


def _name_words(shape: Shape, joinery: Joinery) -> Iterator[str]:
    """Which copy the names of faces are true of, where they are not of all."""
    held = {*shape.as_drawn, *shape.mirrored}
    copies = joinery.piece.copies_of(shape.part)
    if any(copy.frame.axes != copies[0].frame.axes for copy in copies if copy.mark in held):
        yield f"Faces are named as they stand on {copies[0].mark}"


def draw_list(listed: PartList, top: float) -> Iterator[Mark]:
    """Draw the list from a place downwards."""
    for index, note in enumerate(listed.notes):
        yield _text(note, (_LEFT_MM, top + (index + 0.5) * _ROW_MM), SAFE_WIDTH_MM - _LEFT_MM)
    top += len(listed.notes) * _ROW_MM
    columns, lines = listed.columns, listed.lines
    for index, (letter, words) in enumerate(listed.rows):
        column, line = divmod(index, lines)
        left = _LEFT_MM + column * SAFE_WIDTH_MM / 2
        y = top + (line + 0.5) * _ROW_MM
        yield from draw_plain_tag(Tag(words=letter), (left + TAG_RADIUS_MM, y))
        start = left + 2 * TAG_RADIUS_MM + 1.5
        yield _text(words, (start, y), SAFE_WIDTH_MM / columns * (column + 1) - start - 1)


def _text(words: str, at: tuple[float, float], room: float) -> Text:
    fitted = fit_text(words, NOTE_HEIGHT, room)
    return Text(at=at, text=fitted, height=NOTE_HEIGHT, anchor="start", halo=False)


def describe_part(shape: Shape, joinery: Joinery, listed: PartList) -> str:
    """The main figures in words, for those who cannot see the drawing."""
    units: UnitName = joinery.piece.plan.units.value
    extents = [Fraction(extent) for extent in shape.drawn.blank.size]
    length = extents.pop(joinery.piece.parts[shape.part].grain_axis)
    ordered = (length, *sorted(extents, reverse=True))
    whole = " × ".join(format_length(extent, units) for extent in ordered)
    lines = [f"Whole size {whole} {units}", *listed.notes, *(words for _, words in listed.rows)]
    return ". ".join(lines) + "."
