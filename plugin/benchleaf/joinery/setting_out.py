"""Numbers that a person sets out by: from which face, how far, and what does it without a rule.

Takes a Marking and places in the contact's frame; gives `SettingOut` rows. Both mates are measured
from the same side of the contact, so that what one part is off by, the other is off by too.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from benchleaf.frames import Number
from benchleaf.joinery.marking import Marking, N, unit
from benchleaf.joinery.records import SettingOut

# chosen: a spacer is a slip of stock; what is thicker than 2 in is measured instead. mm
_THICKEST_SPACER_MM = Fraction(508, 10)


def measures_from_high(marking: Marking, axis: int) -> bool:
    """Tell from which side of the contact both mates are measured along u or v.

    It is the side where their own faces lie nearest to the contact: a flush side has the parts'
    own reference faces in one plane. At a tie, the low side of the first part as drawn, so that
    mirrored copies are set out alike.
    """
    first, second = marking.contact.first_box, marking.contact.second_box
    low_gap = -first.low[axis] - second.low[axis]
    extent = marking.contact.u_mm if axis == 0 else marking.contact.v_mm
    high_gap = first.high[axis] + second.high[axis] - 2 * extent
    if high_gap == low_gap:
        return marking.sign_of(marking.contact.first, axis) < 0
    return high_gap < low_gap


def distance_mm(marking: Marking, mark: str, *, axis: int, at: Number) -> Fraction:
    """How far a place lies from a copy's reference face along u or v, mm."""
    box = marking.box_of(mark)
    if measures_from_high(marking, axis):
        return Fraction(box.high[axis] - at)
    return Fraction(at - box.low[axis])


def mark_line(marking: Marking, mark: str, what: str, *, axis: int, at: Number) -> SettingOut:
    """A line across one copy, measured along u or v."""
    return SettingOut(
        copy=mark,
        what=what,
        reference=marking.own_face(mark, unit(axis, measures_from_high(marking, axis))),
        distance_mm=distance_mm(marking, mark, axis=axis, at=at),
        spacer="",
    )


def mark_both(marking: Marking, what: str, *, axis: int, at: Number) -> tuple[SettingOut, ...]:
    """The same line on both mates, with the spacer that lets one setting serve them."""
    marks = (marking.contact.first, marking.contact.second)
    distances = [distance_mm(marking, mark, axis=axis, at=at) for mark in marks]
    spacers = _spacers(marking, distances[0], distances[1])
    return tuple(
        replace(mark_line(marking, mark, what, axis=axis, at=at), spacer=spacer)
        for mark, spacer in zip(marks, spacers, strict=True)
    )


def mark_span(
    marking: Marking, what: str, *, axis: int, ends: tuple[Number, Number]
) -> tuple[SettingOut, ...]:
    """Both ends of a span on both mates: the near one, then the far one.

    An end that lies in a face of its copy needs no line.
    """
    near, far = reversed(ends) if measures_from_high(marking, axis) else ends
    rows = (
        *mark_both(marking, f"near {what}", axis=axis, at=near),
        *mark_both(marking, f"far {what}", axis=axis, at=far),
    )
    return tuple(row for row in rows if 0 < row.distance_mm < marking.box_of(row.copy).size[axis])


def mark_depth(
    marking: Marking, mark: str, what: str, *, distance: Fraction, spacer: str = ""
) -> SettingOut:
    """A depth into one copy, measured from the face where the parts meet."""
    return SettingOut(
        copy=mark,
        what=what,
        reference=marking.own_face(mark, unit(N, mark == marking.contact.first)),
        distance_mm=distance,
        spacer=spacer,
    )


def _spacers(marking: Marking, first_mm: Fraction, second_mm: Fraction) -> tuple[str, str]:
    step = second_mm - first_mm
    if step == 0:
        words = "one setting of the gauge or stop serves both parts"
        return words, words
    if abs(step) > _THICKEST_SPACER_MM:
        return "", ""
    setting = f"gauge set to {marking.show(max(first_mm, second_mm))}"
    packed = f"{setting}, with a {marking.show(abs(step))} spacer against the face"
    return (packed, setting) if step > 0 else (setting, packed)
