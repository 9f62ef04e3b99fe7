"""Labels to print and cut out: one for each copy, with its mark, its size and where the mark goes.

Takes Joinery; gives Scenes in the safe box that A4 and Letter both print, a grid of labels on each.
A label shows the face as it is seen by who reads the mark. Must not know pages.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from benchleaf.drawing.clearance import Rectangle
from benchleaf.drawing.mark_places import MarkPlace, list_mark_places
from benchleaf.drawing.page import (
    CAPTION_HEIGHT,
    NAME_HEIGHT,
    NOTE_HEIGHT,
    SAFE_HEIGHT_MM,
    SAFE_WIDTH_MM,
)
from benchleaf.drawing.scene import Area, Line, Mark, Point, Role, Scene, Text
from benchleaf.drawing.text_metrics import fit_text, text_width
from benchleaf.frames import FACES, face_name
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import UnitName, format_length

# Half a wide line in from the edge of the sheet, so that the grid is not cut.
_INSET_MM: Final = 0.25
# chosen: three across and seven down fill the sheet with labels of 60 x 35 mm, near a common size
# of sticky labels, and yet cut from plain paper.
_ACROSS: Final = 3
_DOWN: Final = 7
_ON_A_SHEET: Final = _ACROSS * _DOWN
_WIDE_MM: Final = (SAFE_WIDTH_MM - 2 * _INSET_MM) / _ACROSS
_HIGH_MM: Final = (SAFE_HEIGHT_MM - 2 * _INSET_MM) / _DOWN
_MARGIN_MM: Final = 3.0
# chosen: read across a bench.
_MARK_HEIGHT_MM: Final = 7.0
# chosen: the room for the picture of the face, with names of its sides round it.
_PICTURE_MM: Final = (34.0, 9.0)
_PICTURE_TOP_MM: Final = 15.5
# chosen: a bar that is no outline.
_BAR_MM: Final = 0.9
# chosen: the thinnest that a long face is drawn, so that its mark has room.
_THINNEST_MM: Final = 5.0


def draw_labels(joinery: Joinery) -> Iterator[tuple[str, Scene]]:
    """Draw the sheets of labels: `labels-1` and on, as many as the copies take."""
    places = list(list_mark_places(joinery))
    count = -(-len(places) // _ON_A_SHEET)
    for number in range(1, count + 1):
        shown = places[(number - 1) * _ON_A_SHEET : number * _ON_A_SHEET]
        yield f"labels-{number}", _sheet(joinery, shown, (number, count))


def label_names(joinery: Joinery) -> tuple[str, ...]:
    """The names of the sheets, in order."""
    copies = len(joinery.copies)
    return tuple(f"labels-{number + 1}" for number in range(-(-copies // _ON_A_SHEET)))


def _sheet(joinery: Joinery, places: list[MarkPlace], number: tuple[int, int]) -> Scene:
    plan = joinery.piece.plan
    marks: list[Mark] = []
    for index, place in enumerate(places):
        row, column = divmod(index, _ACROSS)
        left, top = _INSET_MM + column * _WIDE_MM, _INSET_MM + row * _HIGH_MM
        box = Rectangle(left, top, left + _WIDE_MM, top + _HIGH_MM)
        marks += _label(place, box, plan.units.value)
    return Scene(
        id=f"{plan.name}-labels-{number[0]}",
        width=SAFE_WIDTH_MM,
        height=SAFE_HEIGHT_MM,
        marks=tuple(marks),
        title=f"Labels, sheet {number[0]} of {number[1]}",
        description=" ".join(_describe(place) for place in places),
        scale="",
    )


def _describe(place: MarkPlace) -> str:
    return f"{place.mark}, {place.name}: {' '.join(say_place(place)).strip()}."


def say_place(place: MarkPlace) -> tuple[str, str]:
    """Where a mark goes, in two lines."""
    if place.is_round:
        return f"On the end that looks to the {place.end}", ""
    first = f"On the {place.face} face, near the {place.end} end;"
    return first, f"head of the mark to the {place.up}"


def _label(place: MarkPlace, box: Rectangle, unit: UnitName) -> Iterator[Mark]:
    corners = (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
        (box.left, box.top),
    )
    yield Line(points=corners, role=Role.FINE)
    yield from _head(place, box, unit)
    if not place.is_round:
        yield from _picture(place, box)
    for index, words in enumerate(say_place(place)):
        yield Text(
            at=(box.left + _MARGIN_MM, box.bottom - 6.2 + 3.4 * index),
            text=fit_text(words, CAPTION_HEIGHT, _WIDE_MM - 2 * _MARGIN_MM),
            height=CAPTION_HEIGHT,
            anchor="start",
            halo=False,
        )


def _head(place: MarkPlace, box: Rectangle, unit: UnitName) -> Iterator[Mark]:
    """The mark, and beside it what the part is and how large."""
    left = box.left + _MARGIN_MM
    yield Text(
        at=(left, box.top + _MARGIN_MM + _MARK_HEIGHT_MM / 2),
        text=place.mark,
        height=_MARK_HEIGHT_MM,
        anchor="start",
        halo=False,
        role=Role.TITLE,
    )
    beside = left + text_width(place.mark, _MARK_HEIGHT_MM) + 3.0
    size = " x ".join(format_length(Fraction(side), unit) for side in place.size_mm)
    room = box.right - _MARGIN_MM - beside
    size = f"{size} {unit}"
    # A size cut short is no size: a long one is written smaller.
    small = NOTE_HEIGHT if text_width(size, NOTE_HEIGHT) <= room else CAPTION_HEIGHT
    for words, height, y in ((place.name, NAME_HEIGHT, 4.6), (size, small, 9.4)):
        yield Text(
            at=(beside, box.top + y),
            text=fit_text(words, height, room),
            height=height,
            anchor="start",
            halo=False,
        )


def _picture(place: MarkPlace, box: Rectangle) -> Iterator[Mark]:
    """The face as it is seen, the mark on it at its end, its sides named."""
    face = _face_on_paper(place, box)
    ring = ((face.left, face.top), (face.right, face.top), (face.right, face.bottom))
    yield Area(rings=((*ring, (face.left, face.bottom)),), role=Role.PART, tone=0, outlined=True)
    sides = _sides(place, face)
    yield _end_bar(sides[place.end][0], face)
    yield Text(at=_mark_on_face(place, face), text=place.mark, height=NOTE_HEIGHT, halo=False)
    for name, (_, at, anchor) in sides.items():
        yield Text(at=at, text=name, height=CAPTION_HEIGHT, anchor=anchor, halo=False)


def _face_on_paper(place: MarkPlace, box: Rectangle) -> Rectangle:
    """The face in its room, as large as it fits; a long one is drawn shorter than it is."""
    room_wide, room_high = _PICTURE_MM
    wide, high = float(place.wide_mm), float(place.high_mm)
    ratio = min(room_wide / wide, room_high / high)
    least_wide = text_width(place.mark, NOTE_HEIGHT) + 2 * _BAR_MM
    wide, high = max(wide * ratio, least_wide), max(high * ratio, _THINNEST_MM)
    middle = (box.left + box.right) / 2
    centre = box.top + _PICTURE_TOP_MM + room_high / 2
    return Rectangle(middle - wide / 2, centre - high / 2, middle + wide / 2, centre + high / 2)


def _end_bar(side: tuple[Point, Point], face: Rectangle) -> Area:
    """A bar along the reference end, just inside the face."""
    (x0, y0), (x1, y1) = side
    if x0 == x1:
        x1 += _BAR_MM if x0 == face.left else -_BAR_MM
    else:
        y1 += _BAR_MM if y0 == face.top else -_BAR_MM
    return Area(rings=(((x0, y0), (x1, y0), (x1, y1), (x0, y1)),), role=Role.PART, tone=5)


_Side = tuple[tuple[Point, Point], Point, str]
"""A side's line, where its name stands, and how that is anchored."""


def _sides(place: MarkPlace, face: Rectangle) -> dict[str, _Side]:
    """The four sides of the face by their names in the piece."""
    low = {name: face_name(FACES[name][0], not FACES[name][1]) for name in (place.up, place.right)}
    x, y = (face.left + face.right) / 2, (face.top + face.bottom) / 2
    left_top, right_top = (face.left, face.top), (face.right, face.top)
    left_foot, right_foot = (face.left, face.bottom), (face.right, face.bottom)
    return {
        place.up: ((left_top, right_top), (x, face.top - 1.7), "middle"),
        low[place.up]: ((left_foot, right_foot), (x, face.bottom + 1.8), "middle"),
        place.right: ((right_top, right_foot), (face.right + 1.2, y), "start"),
        low[place.right]: ((left_top, left_foot), (face.left - 1.2, y), "end"),
    }


def _mark_on_face(place: MarkPlace, face: Rectangle) -> Point:
    """Near the reference end, well inside the face."""
    half = text_width(place.mark, NOTE_HEIGHT) / 2
    x, y = (face.left + face.right) / 2, (face.top + face.bottom) / 2
    if FACES[place.end][0] is FACES[place.up][0]:
        inward = min(NOTE_HEIGHT * 1.1, (face.bottom - face.top) / 2)
        return (x, face.top + inward if place.end == place.up else face.bottom - inward)
    inward = min(half + 1.2, (face.right - face.left) / 2)
    return (face.right - inward if place.end == place.right else face.left + inward, y)
