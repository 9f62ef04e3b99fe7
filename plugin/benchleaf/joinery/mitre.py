"""Mitre: two parts meet at a corner, each cut from the inner corner to the outer, and are glued.

Dimensions:
    angle: from the inner corner to the outer, 45 degrees where both parts are as wide. Source:
        worked out.
    length of the cut: the hypotenuse of both widths. Source: worked out.
    canted sides: mitre gauge and blade tilt of a compound cut, by the cut's own direction in each
        part; for equal slopes the gauge turns by atan(cos slope x tan(180/sides)), the blade tilts
        by asin(sin slope x sin(180/sides)). Source: Snyder and Gottesman, Compound-Angle Joinery
        (2014).

Limits:
    Both parts are drawn to the outside of the corner and end there, alike along its edge. Sides
    that lean, or that meet at another angle than square, are turned, and `trim: {left: mitre with
    end.left}` cuts each to the corner: from the outer face named to its own. End grain glued to
    end grain holds little: a frame that is handled wants splines, keys or dowels.

Tools:
    A mitre saw or a table saw with a gauge for a frame, a table saw with its blade tilted for a
    box; a shooting board; tape or corner clamps.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.joinery.canted_mitre import fit_canted_mitre
from benchleaf.joinery.marking import Marking, at_any_angle
from benchleaf.joinery.mitring import find_mitre
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@at_any_angle
def fit_mitre(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a plain mitre out at one corner."""
    if not marking.is_square:
        return fit_canted_mitre(marking), ()
    mitre = find_mitre(marking)
    first, second = mitre.waste()
    glued = marking.is_yes("glue", usually=True)
    fit = mitre.marking.made(
        ((first,), (second,)),
        numbers=(mitre.sizes(), tuple(mitre.setting_out())),
        free=mitre.opening,
        glued_mm2=mitre.length_mm * mitre.edge_mm if glued else Fraction(0),
    )
    return fit, ()


KIND = JointKind(
    code="mitre",
    title="Mitre",
    words=JointWords(
        code="mitre",
        first="one part",
        second="the other part",
        options=(
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; yes when left out.",
            ),
        ),
        help="Two parts meet at a corner, each cut from the inner corner to the outer, and are "
        "glued.",
    ),
    fit=fit_mitre,
)
