"""Notch: a rectangle is cut into a part from one of its faces, all across it.

Dimensions:
    width and depth: along the face, and in from it. Source: the plan.
    at: how far along the face it starts; 0 makes it a corner. Source: the plan.

Limits:
    It lies on its face and leaves wood beyond it.

Tools:
    A tenon saw or a bandsaw for the sides, a chisel or a coping saw for the bottom.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.frames import FACES, Axis, Box, Number
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import PAST_MM, Workpiece, sizes
from benchleaf.shaping.drawing_out import vector
from benchleaf.shaping.edge_work import showing_face
from benchleaf.shaping.face_work import SEEN_FROM, inset_place, line_axis
from benchleaf.shaping.records import Shaped, ShapedCut, ShapingKind


def shape_notch(work: Workpiece) -> Shaped:
    """Cut a notch into the face named."""
    along = line_axis(work)
    width, depth = work.length("width"), work.length("depth")
    if width is None or depth is None:
        message = "nothing says how wide and deep it is"
        raise work.refuse("F109", message, "Needed: `width` and `depth`.")
    start = work.distance("at") or Fraction(0)
    whole, deep = work.extent(along), work.extent(FACES[work.face][0])
    if start + width > whole:
        message = f"it ends {work.show(start + width)} along a face {work.show(whole)} long"
        raise work.refuse("F102", message, f"Needed: at most {work.show(whole)}.", option="width")
    if depth >= deep:
        message = f"a depth of {work.show(depth)} leaves nothing of {work.show(deep)}"
        needed = f"Needed: less than {work.show(deep)}."
        raise work.refuse("F103", message, needed, option="depth")
    crossing = Axis(3 - along - FACES[work.face][0])
    cut = ShapedCut(
        kind=work.chosen.kind,
        index=work.chosen.index,
        role="notch",
        form=_box(work, along, (start, start + width), depth),
        keeps=False,
        face=showing_face(crossing),
        sizes=sizes(wide=width, deep=depth),
        places=(
            *((along, at) for at in (start, start + width) if 0 < at < whole),
            inset_place(work, work.face, depth),
        ),
    )
    return Shaped(cuts=(cut,))


def _box(work: Workpiece, along: Axis, span: tuple[Fraction, Fraction], depth: Fraction) -> Box:
    """The notch, a little past the wood on every open side."""
    axis, is_high = FACES[work.face]
    whole, deep = work.extent(along), work.extent(axis)
    low: dict[Axis, Number] = dict.fromkeys(Axis, -PAST_MM)
    high: dict[Axis, Number] = {other: work.extent(other) + PAST_MM for other in Axis}
    if span[0] > 0:
        low[along] = span[0]
    if span[1] < whole:
        high[along] = span[1]
    if is_high:
        low[axis] = deep - depth
    else:
        high[axis] = depth
    return Box(vector(low), vector(high))


KIND = ShapingKind(
    code="notch",
    title="Notch",
    words=ShapingWords(
        code="notch",
        takes=PlaceType.FACE,
        place="the face that it is cut into",
        options=(
            Option(name="width", type=OptionType.LENGTH, help="How wide it is along the face."),
            Option(name="depth", type=OptionType.LENGTH, help="How deep it goes in."),
            Option(
                name="at",
                type=OptionType.LENGTH,
                help="How far along the face it starts, from the left, front or bottom; 0 when "
                "left out.",
            ),
            SEEN_FROM,
        ),
        help="A rectangle is cut into a part from one of its faces.",
    ),
    shape=shape_notch,
)
