"""Ellipse: a part is cut to an ellipse, as an oval table top is.

Dimensions:
    size: both diameters; the whole face when left out. Source: the plan, or worked out.
    volume: pi/4 times both diameters times the thickness. Source: area of an ellipse.

Limits:
    The ellipse lies on its face, its diameters square to the part.

Tools:
    A full-size template, or two pins and a string, to mark it; a bandsaw or a jigsaw.

Source:
    Common practice, no source: the pins stand sqrt(a2 - b2) from the middle, the string is 2 a long
    between them (a and b half of the diameters).
"""

from __future__ import annotations

from benchleaf.outlines import ellipse
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, sizes
from benchleaf.shaping.hole_work import AT, face_size, middle_of, middle_places
from benchleaf.shaping.keep_work import keep_inside
from benchleaf.shaping.records import Shaped, ShapingKind, Told


def shape_ellipse(work: Workpiece) -> Shaped:
    """Cut the part to an ellipse on the face named."""
    wide, high = work.size("size") or face_size(work)
    return keep_inside(
        work,
        ellipse(middle_of(work), (wide / 2, high / 2)),
        Told(
            role="oval outline",
            sizes=sizes(wide=wide, high=high),
            places=middle_places(work) if work.place("at") else (),
        ),
    )


KIND = ShapingKind(
    code="ellipse",
    title="Ellipse",
    words=ShapingWords(
        code="ellipse",
        takes=PlaceType.FACE,
        place="the face that shows it",
        options=(
            Option(
                name="size",
                type=OptionType.PAIR,
                help="Both diameters, wide (on an end deep) x high (on top and bottom deep); the "
                "whole face when left out.",
            ),
            AT,
        ),
        help="A part is cut to an ellipse.",
    ),
    shape=shape_ellipse,
)
