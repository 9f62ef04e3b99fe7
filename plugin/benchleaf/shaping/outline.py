"""Outline: a part is cut to a closed line through points, curved or straight.

Dimensions:
    points: on the face. Source: the plan.
    curve: through every point, its way there along the chord between the neighbours. Source:
        Catmull and Rom 1974 (from memory).

Limits:
    The line lies on its face and does not cross itself.

Tools:
    A full-size template, a bandsaw or jigsaw to the line, a spokeshave, file and sandpaper.

Source:
    Common practice, no source.
"""

from __future__ import annotations

import shapely

from benchleaf.outlines import Outline, curve_through, flatten, polygon
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.keep_work import keep_inside
from benchleaf.shaping.records import Shaped, ShapingKind, Told

_CURVED, _STRAIGHT = "curved", "straight"


def shape_outline(work: Workpiece) -> Shaped:
    """Cut the part to a closed line on the face named."""
    points = work.points("through")
    if len(set(points)) < 3 or len(set(points)) != len(points):
        message = "its points make no closed line: there are too few, or one stands twice"
        needed = "Needed: three or more, none twice, in order round the part."
        raise work.refuse("F108", message, needed, option="through")
    is_straight = work.word("sides", _CURVED) == _STRAIGHT
    outline = (
        polygon(points)
        if is_straight
        else Outline(points[0], curve_through(points, is_closed=True))
    )
    if not shapely.Polygon(flatten(outline)).is_valid:
        message = "the line through its points crosses itself"
        needed = "Needed: points in order round the part."
        raise work.refuse("F108", message, needed, option="through")
    return keep_inside(work, outline, Told(role="outline", points=points))


KIND = ShapingKind(
    code="outline",
    title="Outline",
    words=ShapingWords(
        code="outline",
        takes=PlaceType.FACE,
        place="the face that shows it",
        options=(
            Option(
                name="through",
                type=OptionType.PAIR_LIST,
                help="Points on the face in order round the part, each from the left (on an end "
                "from the front) x from the bottom (on top and bottom from the front).",
            ),
            Option(
                name="sides",
                type=OptionType.CHOICE,
                choices=(_CURVED, _STRAIGHT),
                help="Whether it runs curved or straight from point to point; curved when left "
                "out.",
            ),
        ),
        help="A part is cut to a closed line through points.",
    ),
    shape=shape_outline,
)
