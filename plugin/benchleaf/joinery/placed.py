"""The box round a finished copy where it stands, in the piece's axes.

Takes the joinery and a mark. Exact where the copy is square to the piece and its ends are; else
measured on its solid, since corners of its blank are no wood.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.frames import Box
from benchleaf.joinery.records import Joinery
from benchleaf.joinery.solids import placed_solid
from benchleaf.piece.records import Piece


def placed_box(joinery: Joinery, mark: str) -> Box:
    """The box round a finished copy at its seat, tenons and all."""
    copy = joinery.piece.copies[mark]
    if copy.frame.is_square and not joinery.piece.part_of(mark).trims:
        return copy.frame.box_outward(joinery.copies[mark].blank)
    ends = placed_solid(joinery, mark).bounding_box()
    low, high = (tuple(_seen(end) for end in half) for half in (ends[:3], ends[3:]))
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _seen(end_mm: float) -> Fraction:
    """An end of a solid, which floats have blurred, to the nearest thousandth of a millimetre."""
    # chosen: a tenth of what a caliper reads.
    return Fraction(round(end_mm * 1000), 1000)


def has_angles(piece: Piece) -> bool:
    """Tell whether any part of a piece is turned, splayed or trimmed at an angle."""
    return any(part.trims for part in piece.parts.values()) or not all(
        copy.frame.is_square for copy in piece.copies.values()
    )
