"""Circle: a part is cut round, as a stool's seat or a table top is.

Dimensions:
    diameter: the least extent of the face when left out. Source: the plan, or worked out.
    volume: pi/4 diameter2 times the thickness. Source: area of a circle.

Limits:
    The circle lies on its face.

Tools:
    A trammel or a full-size template to mark it; a bandsaw, a jigsaw, or a router on a trammel.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from benchleaf.outlines import ellipse
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.edge_work import the_size
from benchleaf.shaping.hole_work import AT, face_size, middle_of, middle_places
from benchleaf.shaping.keep_work import keep_inside
from benchleaf.shaping.records import Shaped, ShapingKind, Told


def shape_circle(work: Workpiece) -> Shaped:
    """Cut the part to a circle on the face named."""
    diameter = work.length("diameter") or min(face_size(work))
    outline = ellipse(middle_of(work), (diameter / 2, diameter / 2))
    return keep_inside(
        work,
        outline,
        Told(
            role="round outline",
            sizes=(the_size("diameter", diameter),),
            places=middle_places(work) if work.place("at") else (),
        ),
    )


KIND = ShapingKind(
    code="circle",
    title="Circle",
    words=ShapingWords(
        code="circle",
        takes=PlaceType.FACE,
        place="the face that shows it round",
        options=(
            Option(
                name="diameter",
                type=OptionType.LENGTH,
                help="Of the circle; the least extent of the face when left out.",
            ),
            AT,
        ),
        help="A part is cut round.",
    ),
    shape=shape_circle,
)
