"""Where a part goes on another that nothing but glue or screws holds: flush, set back, or over.

Takes boxes where they stand and the axes that are settled, gives words. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from benchleaf.frames import Axis, Box
from benchleaf.sequencing.wording import MOST_WORDS, Say, count_words, join_marks, join_words


def place_words(moved: Box, base: Box, settled: Collection[Axis], say: Say) -> str:
    """How a part lies on another, along the axes that no face in contact settles.

    >>> from benchleaf.reading.plan import Units
    >>> one, two = Box((10, 0, 0), (80, 18, 50)), Box((0, 18, 0), (100, 36, 80))
    >>> place_words(one, two, {Axis.DEEP}, Say(Units.MILLIMETRE))
    '10 mm from the left and flush at the bottom'
    """
    axes = [axis for axis in Axis if axis not in settled]
    even = {_even_step(moved, base, axis) for axis in axes}
    if len(axes) > 1 and len(even) == 1:
        step = even.pop()
        if step is not None:
            return _all_round(step, say)
    return join_words([_along(moved, base, axis, say) for axis in axes])


def _even_step(moved: Box, base: Box, axis: Axis) -> Fraction | None:
    """How far a part stays back at both ends of an axis alike; None where it does not."""
    low = Fraction(moved.low[axis] - base.low[axis])
    return low if low == base.high[axis] - moved.high[axis] else None


def _all_round(step: Fraction, say: Say) -> str:
    if step == 0:
        return "flush all round"
    return f"{say.length(abs(step))} {'inside the edge' if step > 0 else 'over'} on every side"


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A copy or an assembly that lies on others."""

    mark: str
    """What it is called: `G1`, `the assembly with the legs`."""
    how: str
    """`on F1 and F2`, `between A1 and D, against B`."""
    box: Box
    on: Box
    settled: frozenset[Axis]
    """Axes along which faces in contact settle its place."""

    def where(self, say: Say) -> str:
        """The rest of a sentence that says where it goes."""
        return place_words(self.box, self.on, self.settled, say)


def row_words(laid: Sequence[Laid], say: Say) -> list[str]:
    """Sentences for copies of one part that lie on copies of another.

    Where they stand in a row at equal gaps, the first is placed and the rest follow.
    """
    gap = _equal_gap(laid)
    if gap is not None:
        first = laid[0]
        others = join_marks([one.mark for one in laid[1:]])
        return [
            *_one(f"{first.mark} {first.how}", first.where(say)),
            f"Set {others} after it in a row, with gaps of {say.length(gap)}.",
        ]
    held: dict[str, list[Laid]] = {}
    for one in laid:
        held.setdefault(one.where(say), []).append(one)
    return [words for where, alike in held.items() for words in _together(alike, where)]


def _together(alike: Sequence[Laid], where: str) -> list[str]:
    """One sentence for copies that are placed alike, or one each where that is too long."""
    marks: dict[str, list[str]] = {}
    for one in alike:
        marks.setdefault(one.how, []).append(one.mark)
    what = [f"{join_marks(own) if len(own) > 1 else own[0]} {how}" for how, own in marks.items()]
    whole = _sentence(what, where)
    if count_words(whole) <= MOST_WORDS:
        return [whole]
    return [own for words in what for own in _one(words, where)]


def _one(words: str, where: str) -> list[str]:
    whole = _sentence([words], where)
    if count_words(whole) <= MOST_WORDS:
        return [whole]
    return [_sentence([words], ""), f"Line it up {where}."]


def _sentence(what: Sequence[str], where: str) -> str:
    is_long = any("," in words for words in what)
    return f"Set {join_words(what, ', and' if is_long else 'and')}{', ' if where else ''}{where}."


def _equal_gap(laid: Sequence[Laid]) -> Fraction | None:
    """The gap between neighbours of a row of three and more on one base, if all are equal."""
    if len(laid) < 3 or len({one.how for one in laid}) > 1:
        return None
    for axis in (axis for axis in Axis if axis not in laid[0].settled):
        gaps = {
            Fraction(after.box.low[axis] - before.box.high[axis])
            for before, after in pairwise(laid)
        }
        if len(gaps) == 1 and min(gaps) >= 0:
            return gaps.pop()
    return None
