"""Cove: an edge is hollowed to a quarter of a circle round the corner that was there.

Dimensions:
    radius: of the hollow; 1/4 in, or 6 mm, when left out. Source: common practice, no source.
    waste: pi/4 radius2 times the length of the edge. Source: quarter circle.

Limits:
    The radius is less than the part is thick and wide there.

Tools:
    A router with a cove bit and its bearing.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.outlines import Arc
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.edge_work import the_size, work_edges
from benchleaf.shaping.records import Shaped, ShapingKind


def shape_cove(work: Workpiece) -> Shaped:
    """Hollow each edge named."""
    radius = work.length("radius") or work.usual("1/4", "6")
    zero = Fraction(0)
    line = Arc((zero, radius), (zero, zero), (radius, radius), is_clockwise=False)
    return work_edges(work, "cove", the_size("radius", radius), line=(line,))


KIND = ShapingKind(
    code="cove",
    title="Cove",
    words=ShapingWords(
        code="cove",
        takes=PlaceType.EDGES,
        place="the edges",
        options=(
            Option(
                name="radius",
                type=OptionType.LENGTH,
                help="Radius of the hollow; 1/4 in or 6 mm when left out.",
            ),
        ),
        help="Edges are hollowed to a quarter of a circle.",
    ),
    shape=shape_cove,
)
