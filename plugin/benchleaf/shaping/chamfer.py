"""Chamfer: an edge is taken off flat, at 45 degrees.

Dimensions:
    size: how far it comes in on each of the two faces; 1/8 in, or 3 mm, when left out. Source:
        common practice, no source.
    waste: size2 / 2 times the length of the edge. Source: area of a triangle.

Limits:
    The size is less than the part is thick and wide there.

Tools:
    A router with a chamfer bit and its bearing, or a block plane.

Source:
    Common practice, no source: what hands and feet meet is never left sharp.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.outlines import Line
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.edge_work import the_size, work_edges
from benchleaf.shaping.records import Shaped, ShapingKind


def shape_chamfer(work: Workpiece) -> Shaped:
    """Chamfer each edge named."""
    size = work.length("size") or work.usual("1/8", "3")
    return work_edges(work, "chamfer", the_size("size", size), line=(Line((Fraction(0), size)),))


KIND = ShapingKind(
    code="chamfer",
    title="Chamfer",
    words=ShapingWords(
        code="chamfer",
        takes=PlaceType.EDGES,
        place="the edges",
        options=(
            Option(
                name="size",
                type=OptionType.LENGTH,
                help="How far it comes in on each face; 1/8 in or 3 mm when left out.",
            ),
        ),
        help="Edges are taken off flat, at 45 degrees.",
    ),
    shape=shape_chamfer,
)
