"""How the work lies on the bench while a group comes together: as it stands, turned, or raised.

Takes what lies there first and what comes to it, gives words. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from benchleaf.frames import Axis, Box, face_name
from benchleaf.sequencing.groups import Group
from benchleaf.sequencing.workroom import Workroom

UPSIDE_DOWN: Final = " upside down on a flat bench"
_PLAIN: Final = " on a flat bench"
_ON_ITS: Final = " on its "


def lie_words(base: Group, moved: Sequence[Group], axis: Axis | None, room: Workroom) -> str:
    """How the first member is laid, so that all others have room and find the bench.

    Args:
        base: What is laid on the bench.
        moved: What comes to it, in order.
        axis: Axis of the piece along which it comes.
        room: The workroom.
    """
    panel_face = _face_under_panel(base, moved, axis, room)
    if panel_face:
        return f"{_ON_ITS}{panel_face}{_PLAIN}"
    own = room.box_round(base.copies)
    boxes = [own, *(room.box_round(member.copies) for member in moved)]
    rise = own.low[Axis.HIGH] - min(box.low[Axis.HIGH] for box in boxes)
    if rise == 0 and (axis is Axis.HIGH or not _is_tall(boxes)):
        return _PLAIN
    for way, is_high in _FACES_TO_LIE_ON:
        ends = {box.high[way] if is_high else box.low[way] for box in boxes}
        if way is not axis and len(ends) == 1 and (rise or way is not Axis.HIGH):
            face = face_name(way, is_high)
            return UPSIDE_DOWN if way is Axis.HIGH else f"{_ON_ITS}{face}{_PLAIN}"
    return f" on blocks {room.say.length(Fraction(rise))} high" if rise else _PLAIN


def is_on_side(lies: str) -> bool:
    """Tell whether words of how work lies lay it on a face that stands upright in the piece."""
    return lies.startswith(_ON_ITS)


def _is_tall(boxes: Sequence[Box]) -> bool:
    whole = boxes[0]
    for other in boxes[1:]:
        whole = whole.join(other)
    least = min(whole.size[Axis.WIDE], whole.size[Axis.DEEP])
    return whole.size[Axis.HIGH] > _TALL_SHARE * least


# Top, front, back, left, right: all that can be told to lie flush.
_FACES_TO_LIE_ON: Final = (
    (Axis.HIGH, True),
    *((way, is_high) for way in (Axis.DEEP, Axis.WIDE) for is_high in (False, True)),
)
# chosen: what stands more than twice as high as it is deep is pressed together lying down.
_TALL_SHARE: Final = 2


def _face_under_panel(
    base: Group, moved: Sequence[Group], axis: Axis | None, room: Workroom
) -> str:
    """The face to lie on where flat parts all go on to the opposite one; else empty."""
    if axis is None or axis is Axis.HIGH or not moved:
        return ""
    if any(len(own.copies) > 1 for own in moved):
        return ""
    if any(room.part_of(own.copies[0]).thickness_axis is not axis for own in moved):
        return ""
    middle = sum(_ends(base, axis, room))
    sides = {sum(_ends(own, axis, room)) > middle for own in moved}
    return face_name(axis, not sides.pop()) if len(sides) == 1 else ""


def _ends(group: Group, axis: Axis, room: Workroom) -> tuple[Fraction, Fraction]:
    box = room.box_round(group.copies)
    return Fraction(box.low[axis]), Fraction(box.high[axis])
