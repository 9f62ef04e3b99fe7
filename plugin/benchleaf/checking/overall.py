"""The piece fills the box that the plan gives for it, and no more.

What:
    The finished copies, tenons and all, reach from 0 to the overall width, depth and height.

Why:
    The overall sizes are what the maker fits to a wall or a doorway, and mirrored copies are
    mirrored about their middle.

Limit:
    Equal, exact; to half a millimetre where parts are turned or splayed, since no plan can write
    that exactly.

Source:
    The plan's overall sizes.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import reduce

from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.frames import Axis, Box
from benchleaf.joinery.placed import has_angles, placed_box
from benchleaf.joinery.records import Joinery


def find_wrong_overall(joinery: Joinery) -> Iterator[Finding]:
    """Find extents in which the finished piece is not as large as the plan says."""
    voice = Voice(joinery.piece, "K209")
    given, real = joinery.piece.overall, _finished_box(joinery)
    near = _NEAR_MM if has_angles(joinery.piece) else Fraction(0)
    for axis in Axis:
        ends = ((real.low[axis], given.low[axis]), (real.high[axis], given.high[axis]))
        if all(-near <= one - other <= near for one, other in ends):
            continue
        size = real.size[axis]
        yield voice.warning(
            f"overall.{axis.extent}",
            f"the finished piece is {voice.show(size)} {axis.extent}, from "
            f"{voice.show(real.low[axis])} to {voice.show(real.high[axis])}, and the plan says "
            f"{voice.show(given.size[axis])} from 0",
            f"Needed: from 0 to {voice.show(given.high[axis])}. Change `overall`, or move the part "
            "that stands out or falls short.",
        )


# chosen: half a millimetre is what a tape reads; no plan can write an angle's reach exactly.
_NEAR_MM = Fraction(1, 2)


def _finished_box(joinery: Joinery) -> Box:
    """The box round all copies with what joints add."""
    return reduce(Box.join, (placed_box(joinery, mark) for mark in joinery.copies))


CHECK = Check(
    code="K209",
    name="overall",
    title="The piece fills the box that the plan gives for it, and no more.",
    run=find_wrong_overall,
)
