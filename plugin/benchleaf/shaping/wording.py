"""Shaping in words: a cut's sizes as a maker reads them.

Takes shaped cuts, gives words in the plan's units. Knows no single kind.
"""

from __future__ import annotations

from typing import Final

from benchleaf.forms import Bore
from benchleaf.frames import FACES, Axis, Box
from benchleaf.lengths import UnitName, format_length
from benchleaf.shaping.records import ShapedCut

# Words that stand behind their number: `4 long`; others stand before it: `rise 1-1/2`.
_BEHIND: Final = frozenset({"long", "wide", "high", "deep"})
_BARE: Final = frozenset({"size"})


def describe_shaped(cut: ShapedCut, body: Box, units: UnitName) -> str:
    """Name a cut with its sizes: `arc chord 24, rise 1-1/2, radius 48-3/4`.

    Args:
        cut: The cut.
        body: The part, shoulder to shoulder, in its own axes.
        units: Unit that sizes are written in.
    """
    words = []
    for size in cut.sizes:
        value = format_length(size.value_mm, units)
        if size.name in _BEHIND:
            words.append(f"{value} {size.name}")
        elif size.name == "diameter":
            words.append(f"{value} dia")
        else:
            words.append(value if size.name in _BARE else f"{size.name} {value}")
    if isinstance(cut.form, Bore) and cut.form.depth_mm >= body.size[FACES[cut.face][0]]:
        words.append("through")
    # A taper reads as one: `taper to 7/8 over 13`.
    joiner = " " if cut.role == "taper" else ", "
    return f"{cut.role} {joiner.join(words)}".rstrip()


def goes_through(cut: ShapedCut, body: Box, reach: Box) -> bool:
    """Tell whether a cut shows on both of the faces that it is looked at on.

    Args:
        cut: The cut.
        body: The part.
        reach: The box round the cut.
    """
    axis = Axis(FACES[cut.face][0])
    return bool(reach.low[axis] <= body.low[axis] and reach.high[axis] >= body.high[axis])
