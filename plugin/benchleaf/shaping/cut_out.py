"""Cut-out: a rectangle is cut out of a face, its corners round or square.

Dimensions:
    size: both sides. Source: the plan.
    corner: radius of the corners; square when left out. Source: the plan.
    waste: (wide high - (4 - pi) corner2) times the depth. Source: rectangle less its corners.

Limits:
    There is wood all round it. The corners are at most half the shorter side.

Tools:
    A drill for the corners, a jigsaw between them, a file; a router and a template for many.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, sizes
from benchleaf.shaping.hole_work import (
    AT,
    DEPTH,
    cut_hole,
    ease_rim,
    middle_of,
    need_inside,
    rounded,
)
from benchleaf.shaping.records import Shaped, ShapingKind


def shape_cut_out(work: Workpiece) -> Shaped:
    """Cut a rectangle out of the face named."""
    size = work.size("size")
    if size is None:
        raise work.refuse("F109", "nothing says how large it is", "Needed: `size`, such as 6 x 4.")
    corner = work.distance("corner") or Fraction(0)
    if 2 * corner > min(size):
        message = f"corners of {work.show(corner)} are more than half of {work.show(min(size))}"
        needed = f"Needed: at most {work.show(min(size) / 2)}."
        raise work.refuse("F102", message, needed, option="corner")
    outline = rounded(middle_of(work), size, corner)
    need_inside(work, outline)
    named = sizes(wide=size[0], high=size[1], corner=corner)
    cut = cut_hole(work, "cut-out", outline, sizes=named if corner else named[:2])
    ease = work.distance("ease")
    return Shaped(cuts=(cut, *(ease_rim(work, outline, ease) if ease else ())))


KIND = ShapingKind(
    code="cut-out",
    title="Cut-out",
    words=ShapingWords(
        code="cut-out",
        takes=PlaceType.FACE,
        place="the face that it is cut from",
        options=(
            Option(
                name="size",
                type=OptionType.PAIR,
                help="Both sides, wide (on an end deep) x high (on top and bottom deep).",
            ),
            Option(
                name="corner",
                type=OptionType.LENGTH,
                help="Radius of its corners; square when left out.",
            ),
            AT,
            DEPTH,
            Option(
                name="ease",
                type=OptionType.LENGTH,
                help="Radius that its rim is rounded over to; sharp when left out.",
            ),
        ),
        help="A rectangle is cut out of a face.",
    ),
    shape=shape_cut_out,
)
