"""Where a part goes on another that nothing but glue or screws holds: flush, set back, or over.

Takes two boxes where they stand and the axis between them, gives words. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from benchleaf.frames import Axis, Box
from benchleaf.sequencing.wording import Say, join_marks, join_words


def place_words(moved: Box, base: Box, normal: Axis, say: Say) -> str:
    """How a part lies on another, along the two axes of the faces that meet.

    >>> from benchleaf.reading.plan import Units
    >>> one, two = Box((10, 0, 0), (80, 18, 50)), Box((0, 18, 0), (100, 36, 80))
    >>> place_words(one, two, Axis.DEEP, Say(Units.MILLIMETRE))
    '10 mm from the left and flush at the bottom'
    """
    return join_words([_along(moved, base, axis, say) for axis in Axis if axis is not normal])


def _along(moved: Box, base: Box, axis: Axis, say: Say) -> str:
    low = Fraction(moved.low[axis] - base.low[axis])
    high = Fraction(base.high[axis] - moved.high[axis])
    if low == high == 0:
        return f"flush at {axis.low_face} and {axis.high_face}"
    if low == high:
        way = "from" if low > 0 else "past"
        return f"{say.length(abs(low))} {way} {axis.low_face} and {axis.high_face}"
    gap, face = min((abs(low), axis.low_face), (abs(high), axis.high_face))
    step = low if face == axis.low_face else high
    if gap == 0:
        return f"flush at the {face}"
    size = say.length(gap)
    return f"{size} {'from' if step > 0 else 'past'} the {face}"


@dataclass(frozen=True, slots=True)
class Laid:
    """A copy that lies on another."""

    mark: str
    base: str
    box: Box
    on: Box
    normal: Axis


def row_words(laid: Sequence[Laid], say: Say) -> list[str]:
    """Sentences for copies of one part that lie on copies of another.

    Where they stand in a row at equal gaps, the first is placed and the rest follow.
    """
    gap = _equal_gap(laid)
    if gap is not None:
        first = laid[0]
        others = join_marks([one.mark for one in laid[1:]])
        where = place_words(first.box, first.on, first.normal, say)
        return [
            f"Set {first.mark} on {first.base}, {where}.",
            f"Set {others} after it in a row, with gaps of {say.length(gap)}.",
        ]
    held: dict[str, list[Laid]] = {}
    for one in laid:
        held.setdefault(place_words(one.box, one.on, one.normal, say), []).append(one)
    return [
        f"Set {join_words([f'{one.mark} on {one.base}' for one in alike])}, {where}."
        for where, alike in held.items()
    ]


def _equal_gap(laid: Sequence[Laid]) -> Fraction | None:
    """The gap between neighbours of a row of three and more on one base, if all are equal."""
    if len(laid) < 3 or len({one.base for one in laid}) > 1:
        return None
    for axis in (axis for axis in Axis if axis is not laid[0].normal):
        gaps = {
            Fraction(after.box.low[axis] - before.box.high[axis])
            for before, after in pairwise(laid)
        }
        if len(gaps) == 1 and min(gaps) >= 0:
            return gaps.pop()
    return None
