"""Round over: an edge is rounded to a quarter of a circle.

Dimensions:
    radius: of the quarter circle; 1/4 in, or 6 mm, when left out. Source: common practice, no
        source.
    waste: (1 - pi/4) radius2 times the length of the edge. Source: square less quarter circle.

Limits:
    The radius is less than the part is thick and wide there. In a hollow the line bends less
    tightly than the radius, or the cutter cannot follow.

Tools:
    A router with a round-over bit and its bearing, or a block plane and sandpaper on a block.

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


def shape_round_over(work: Workpiece) -> Shaped:
    """Round each edge named over."""
    radius = work.length("radius") or work.usual("1/4", "6")
    line = Arc((Fraction(0), radius), (radius, radius), (radius, radius), is_clockwise=True)
    return work_edges(work, "round-over", the_size("radius", radius), line=(line,))


KIND = ShapingKind(
    code="round over",
    title="Round-over",
    words=ShapingWords(
        code="round over",
        takes=PlaceType.EDGES,
        place="the edges",
        options=(
            Option(
                name="radius",
                type=OptionType.LENGTH,
                help="Radius of the rounding; 1/4 in or 6 mm when left out.",
            ),
        ),
        help="Edges are rounded to a quarter of a circle.",
    ),
    shape=shape_round_over,
)
