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

# chosen: a spacer is a slip of stock; what is thicker than 1 in is measured instead. mm
_THICKEST_SPACER_MM = Fraction(254, 10)


def measures_from_high(marking: Marking, axis: int, *, alone: str = "") -> bool:
    """Tell from which side of the contact a place along u or v is measured.

    It is the side where the faces of those that are marked lie nearest to the contact: a flush side
    has both parts' reference faces in one plane. At a tie, the low side of the first of them as
    drawn, so that mirrored copies, and copies in a row, are set out alike.

    Args:
        marking: The joint.
        axis: U or V.
        alone: Mark of the only copy that is marked; both mates are where left out.
    """
    marks = [alone] if alone else [marking.contact.first, marking.contact.second]
    extent = marking.contact.u_mm if axis == 0 else marking.contact.v_mm
    boxes = [marking.marked_box(mark) for mark in marks]
    low_gap = sum(-box.low[axis] for box in boxes)
    high_gap = sum(box.high[axis] - extent for box in boxes)
    if high_gap == low_gap:
        return marking.sign_of(marks[0], axis) < 0
    return high_gap < low_gap


def mark_line(marking: Marking, mark: str, what: str, *, axis: int, at: Number) -> SettingOut:
    """A line across one copy alone, measured along u or v."""
    from_high = measures_from_high(marking, axis, alone=mark)
    return _line(marking, mark, what, (axis, at), from_high=from_high)


def _line(
    marking: Marking, mark: str, what: str, place: tuple[int, Number], *, from_high: bool
) -> SettingOut:
    axis, at = place
    box = marking.marked_box(mark)
    return SettingOut(
        copy=mark,
        what=what,
        reference=marking.own_face(mark, unit(axis, from_high)),
        distance_mm=Fraction(box.high[axis] - at if from_high else at - box.low[axis]),
        spacer="",
    )


def mark_both(marking: Marking, what: str, *, axis: int, at: Number) -> tuple[SettingOut, ...]:
    """The same line on both mates, with the spacer that lets one setting serve them."""
    from_high = measures_from_high(marking, axis)
    rows = [
        _line(marking, mark, what, (axis, at), from_high=from_high)
        for mark in (marking.contact.first, marking.contact.second)
    ]
    spacers = _spacers(marking, rows[0], rows[1])
    return tuple(replace(row, spacer=spacer) for row, spacer in zip(rows, spacers, strict=True))


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
    return tuple(
        row for row in rows if 0 < row.distance_mm < marking.marked_box(row.copy).size[axis]
    )


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


def _spacers(marking: Marking, first: SettingOut, second: SettingOut) -> tuple[str, str]:
    step = second.distance_mm - first.distance_mm
    if step == 0:
        words = "one setting of the gauge or stop serves both parts"
        return words, words
    if abs(step) > _THICKEST_SPACER_MM:
        return "", ""
    farther = max(first.distance_mm, second.distance_mm)
    setting = f"gauge set to {marking.show_with_unit(farther)}"
    nearer = first if step > 0 else second
    packed = (
        f"{setting}, with a {marking.show_with_unit(abs(step))} spacer on its {nearer.reference}"
    )
    return (packed, setting) if step > 0 else (setting, packed)
