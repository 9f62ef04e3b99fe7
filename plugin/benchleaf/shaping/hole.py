"""Hole: round holes are bored into a face, through or to a depth.

Dimensions:
    diameter: of the bit. Source: the plan.
    at: where the middles are on the face. Source: the plan.
    waste: pi/4 diameter2 times the depth, each. Source: area of a circle.

Limits:
    There is wood all round every hole.

Tools:
    A drill press or a hand drill in a guide, a bit of the diameter, a backing board.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.frames import FACES
from benchleaf.outlines import ellipse
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, face_axes, sizes
from benchleaf.shaping.drawing_out import bore_into
from benchleaf.shaping.edge_work import the_size
from benchleaf.shaping.hole_work import DEPTH, face_size, need_inside
from benchleaf.shaping.records import Shaped, ShapedCut, ShapingKind


def shape_hole(work: Workpiece) -> Shaped:
    """Bore holes into the face named."""
    diameter = work.length("diameter")
    if diameter is None:
        raise work.refuse("F109", "nothing says how large it is", "Needed: `diameter`.")
    wide, high = face_size(work)
    places = work.points("at") or ((wide / 2, high / 2),)
    return Shaped(cuts=tuple(_bore(work, diameter, at) for at in places))


def _bore(work: Workpiece, diameter: Fraction, at: tuple[Fraction, Fraction]) -> ShapedCut:
    need_inside(work, ellipse(at, (diameter / 2, diameter / 2)))
    whole = work.extent(FACES[work.face][0])
    depth = work.length("depth")
    if depth is not None and depth >= whole:
        message = f"a depth of {work.show(depth)} goes through {work.show(whole)}"
        needed = f"Needed: less than {work.show(whole)}, or no `depth` to go through."
        raise work.refuse("F102", message, needed, option="depth")
    form = bore_into(work.face, at, work.body, diameter=diameter, depth=depth or whole)
    named = sizes(diameter=diameter)
    return ShapedCut(
        kind=work.chosen.kind,
        index=work.chosen.index,
        role="hole",
        form=form,
        keeps=False,
        face=work.face,
        sizes=(*named, the_size("deep", depth)) if depth else named,
        places=tuple(zip(face_axes(work.face), at, strict=True)),
    )


KIND = ShapingKind(
    code="hole",
    title="Hole",
    words=ShapingWords(
        code="hole",
        takes=PlaceType.FACE,
        place="the face that is bored",
        options=(
            Option(name="diameter", type=OptionType.LENGTH, help="Diameter of the holes."),
            Option(
                name="at",
                type=OptionType.PAIR_LIST,
                help="Where their middles are on the face, each from the left (on an end from the "
                "front) x from the bottom (on top and bottom from the front); the middle of the "
                "face when left out.",
            ),
            DEPTH,
        ),
        help="Round holes are bored into a face.",
    ),
    shape=shape_hole,
)
