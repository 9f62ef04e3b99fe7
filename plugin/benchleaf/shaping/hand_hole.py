"""Hand hole: a slot with round ends to lift by, its rim rounded over.

Dimensions:
    size: 4 x 1-1/4 in, or 100 x 32 mm, when left out: four fingers side by side, and a finger thick
        with room. Source: common practice, no source.
    ease: its rim is rounded over by 1/8 in, or 3 mm, when left out. Source: common practice, no
        source.

Limits:
    There is wood all round it.

Tools:
    A bit as wide as the slot at both ends, a jigsaw between the holes, a file, a round-over bit.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from benchleaf.frames import Axis
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, face_axes, sizes
from benchleaf.shaping.hole_work import (
    AT,
    cut_hole,
    ease_rim,
    face_size,
    middle_of,
    need_inside,
    rounded,
)
from benchleaf.shaping.records import Shaped, ShapingKind


def shape_hand_hole(work: Workpiece) -> Shaped:
    """Cut a hand hole through the face named, level where the face stands upright."""
    length, width = work.size("size") or (work.usual("4", "100"), work.usual("1-1/4", "32"))
    if width > length:
        length, width = width, length
    first, second = face_size(work)
    is_level = face_axes(work.face)[1] is Axis.HIGH or first >= second
    size = (length, width) if is_level else (width, length)
    outline = rounded(middle_of(work), size, width / 2)
    need_inside(work, outline)
    cut = cut_hole(work, "hand hole", outline, sizes=sizes(long=length, wide=width))
    ease = work.distance("ease")
    if ease is None:
        ease = work.usual("1/8", "3")
    return Shaped(cuts=(cut, *(ease_rim(work, outline, ease) if ease else ())))


KIND = ShapingKind(
    code="hand hole",
    title="Hand hole",
    words=ShapingWords(
        code="hand hole",
        takes=PlaceType.FACE,
        place="the face that it goes through",
        options=(
            Option(
                name="size",
                type=OptionType.PAIR,
                help="Length x width; 4 x 1-1/4 in or 100 x 32 mm when left out.",
            ),
            AT,
            Option(
                name="ease",
                type=OptionType.LENGTH,
                help="Radius that its rim is rounded over to; 1/8 in or 3 mm when left out, 0 for "
                "a sharp rim.",
            ),
        ),
        help="A slot with round ends to lift by, its rim rounded over.",
    ),
    shape=shape_hand_hole,
)
