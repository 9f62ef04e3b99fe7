"""The piece fills the box that the plan gives for it, and no more.

What:
    The finished copies, tenons and all, reach from 0 to the overall width, depth and height.

Why:
    The overall sizes are what the maker fits to a wall or a doorway, and mirrored copies are
    mirrored about their middle.

Limit:
    Equal; exact.

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
from benchleaf.joinery.records import Joinery
from benchleaf.joinery.solids import placed_solid


def find_wrong_overall(joinery: Joinery) -> Iterator[Finding]:
    """Find extents in which the finished piece is not as large as the plan says."""
    voice = Voice(joinery.piece, "K209")
    given, real = joinery.piece.overall, _finished_box(joinery)
    for axis in Axis:
        if real.low[axis] == given.low[axis] and real.high[axis] == given.high[axis]:
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


def _finished_box(joinery: Joinery) -> Box:
    """The box round all copies with what joints add."""
    return reduce(Box.join, (_placed_box(joinery, mark) for mark in joinery.copies))


def _placed_box(joinery: Joinery, mark: str) -> Box:
    copy = joinery.piece.copies[mark]
    if copy.frame.is_square and not joinery.piece.part_of(mark).trims:
        return copy.frame.box_outward(joinery.copies[mark].blank)
    # The blank's corners are not wood where the part is turned or its ends are trimmed.
    ends = placed_solid(joinery, mark).bounding_box()
    low, high = (tuple(_seen(end) for end in half) for half in (ends[:3], ends[3:]))
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _seen(end_mm: float) -> Fraction:
    """An end of a solid, which floats have blurred, to the nearest thousandth of a millimetre."""
    # chosen: a tenth of what a caliper reads.
    return Fraction(round(end_mm * 1000), 1000)


CHECK = Check(
    code="K209",
    name="overall",
    title="The piece fills the box that the plan gives for it, and no more.",
    run=find_wrong_overall,
)
