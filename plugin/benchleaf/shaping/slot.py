"""Slot: a long hole with round ends, through or to a depth.

Dimensions:
    size: length over its round ends, and width. Source: the plan.
    waste: (length width - (1 - pi/4) width2) times the depth. Source: rectangle and circle.

Limits:
    There is wood all round it. It is longer than wide.

Tools:
    A router with a straight bit as wide as the slot, a fence and two stops; or a drill and chisel.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from benchleaf.frames import Axis
from benchleaf.reading.vocabulary import Option, OptionType, PlaceType, ShapingWords
from benchleaf.shaping.bench import Workpiece, face_axes, sizes
from benchleaf.shaping.hole_work import AT, DEPTH, cut_hole, middle_of, need_inside, rounded
from benchleaf.shaping.records import Shaped, ShapingKind

_EXTENTS = {axis.extent: axis for axis in Axis}


def shape_slot(work: Workpiece) -> Shaped:
    """Cut a slot into the face named."""
    size = work.size("size")
    if size is None or size[0] < size[1]:
        message = (
            "nothing says how long and wide it is" if size is None else "it is wider than long"
        )
        needed = "Needed: `size`, length x width, such as 3 x 3/8."
        raise work.refuse("F109", message, needed, option="size")
    length, width = size
    first, second = face_axes(work.face)
    grain = work.part.grain_axis
    along = _EXTENTS[work.word("along", (grain if grain in (first, second) else first).extent)]
    if along not in (first, second):
        message = f"a slot in the {work.face} face cannot run {along.extent}"
        needed = f"Needed: `{first.extent}` or `{second.extent}`."
        raise work.refuse("F107", message, needed, option="along")
    across = (length, width) if along is first else (width, length)
    outline = rounded(middle_of(work), across, width / 2)
    need_inside(work, outline)
    cut = cut_hole(work, "slot", outline, sizes=sizes(long=length, wide=width), has_template=False)
    return Shaped(cuts=(cut,))


KIND = ShapingKind(
    code="slot",
    title="Slot",
    words=ShapingWords(
        code="slot",
        takes=PlaceType.FACE,
        place="the face that it is cut into",
        options=(
            Option(
                name="size",
                type=OptionType.PAIR,
                help="Length over its round ends x width.",
            ),
            AT,
            DEPTH,
            Option(
                name="along",
                type=OptionType.CHOICE,
                choices=tuple(_EXTENTS),
                help="The extent that it is long on; with the grain when left out.",
            ),
        ),
        help="A long hole with round ends.",
    ),
    shape=shape_slot,
)
