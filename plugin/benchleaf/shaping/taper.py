"""Taper: one to four sides of a part run in towards an end, straight, from where the taper starts.

Dimensions:
    size at the end: what is left there across the tapered sides. Source: the plan.
    start: how far from the other end the taper starts; from the very end when left out. Source: the
        plan.
    slope: (size - size at the end) / length of the taper, by half for each of two opposite sides.
        Source: similar triangles.
    volume: L/3 (a2 + ab + b2) of a square leg tapered on all four sides. Source: frustum of a
        pyramid (Moscow papyrus, problem 14).

Limits:
    Something is left at the end. Ends themselves are not tapered. Joints are cut while the faces
    are still square.

Tools:
    A taper sled on the table saw, or a bandsaw and a plane to the line.

Source:
    Common practice, no source: legs taper on the two inside faces from just below the rail.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.frames import FACES, Axis
from benchleaf.outlines import Line
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, opposite, sizes
from benchleaf.shaping.face_work import cut_to_line, inset_place
from benchleaf.shaping.records import FaceLine, Shaped, ShapingKind, Told


def shape_taper(work: Workpiece) -> Shaped:
    """Taper each face named."""
    along = work.part.grain_axis
    is_high = _ends_high(work, along)
    start = work.distance("from") or Fraction(0)
    length = work.extent(along) - start
    if length <= 0:
        message = f"the taper starts {work.show(start)} along, and the part ends there or before"
        needed = f"Needed: less than {work.show(work.extent(along))}."
        raise work.refuse("F102", message, needed, option="from")
    tapered = [_taper(work, face, along, is_high=is_high, length=length) for face in work.places]
    return Shaped(
        cuts=tuple(cut for one in tapered for cut in one.cuts),
        lines=tuple(line for one in tapered for line in one.lines),
    )


def _ends_high(work: Workpiece, along: Axis) -> bool:
    """Tell whether it runs to the high end of the part."""
    end = work.word("toward", along.low_face)
    axis, is_high = FACES[end]
    if axis is not along:
        message = f"`{end}` is no end of the part: its grain runs {along.extent}"
        needed = f"Needed: `{along.low_face}` or `{along.high_face}`."
        raise work.refuse("F107", message, needed, option="toward")
    return is_high


def _taper(work: Workpiece, face: str, along: Axis, *, is_high: bool, length: Fraction) -> Shaped:
    axis = FACES[face][0]
    if axis is along:
        message = f"`{face}` is an end of the part: a taper is on its sides"
        raise work.refuse("F107", message, f"Needed: sides other than `{face}`.")
    left, size = work.length("to"), work.extent(axis)
    if left is None:
        raise work.refuse("F109", "nothing says what is left at the end", "Needed: `to`, a size.")
    if left >= size:
        message = f"`to: {work.show(left)}` takes nothing off: the part is {work.show(size)}"
        needed = f"Needed: less than {work.show(size)}."
        raise work.refuse("F102", f"{message} {axis.extent}", needed, option="to")
    cut = (size - left) / (2 if opposite(face) in work.places else 1)
    zero, end = Fraction(0), work.extent(along)
    start, segment = ((zero, cut), Line((length, zero)))
    if is_high:
        start, segment = ((end - length, zero), Line((end, cut)))
    begins = end - length if is_high else length
    return cut_to_line(
        work,
        FaceLine(face, along, start, (segment,)),
        Told(
            role="taper",
            sizes=sizes(to=left, over=length),
            places=(
                *(((along, begins),) if length < end else ()),
                inset_place(work, face, cut),
            ),
        ),
        has_template=False,
    )


KIND = ShapingKind(
    code="taper",
    title="Taper",
    words=ShapingWords(
        code="taper",
        takes=PlaceType.FACES,
        place="the sides that are tapered, one to four",
        options=(
            Option(
                name="to",
                type=OptionType.LENGTH,
                help="What is left at the end, across the tapered sides.",
            ),
            Option(
                name="from",
                type=OptionType.LENGTH,
                help="How far from the other end the taper starts; 0 when left out.",
            ),
            Option(
                name="toward",
                type=OptionType.CHOICE,
                choices=tuple(FACES),
                help="The end that is made smaller; the bottom, left or front one when left out.",
            ),
        ),
        help="Sides of a part run in towards an end.",
    ),
    shape=shape_taper,
)
