"""Parts that only touch: nothing is cut, nothing holds them, and one comes off the other.

Takes a marking, gives the fit. Must not know which family asks.
"""

from __future__ import annotations

from fractions import Fraction

from benchleaf.joinery.marking import OFF, Marking, U, V, unit
from benchleaf.joinery.records import JointFit
from benchleaf.piece.records import ContactKind


def only_touch(marking: Marking) -> JointFit:
    """Work out what it means to touch face to face: the first comes off, or slides aside.

    Raises:
        CannotJoinError: The two do not meet face to face.
    """
    marking.need(ContactKind.FACE)
    return marking.made(
        ((), ()),
        numbers=((), ()),
        free=(OFF, *(unit(axis, is_high) for axis in (U, V) for is_high in (False, True))),
        glued_mm2=Fraction(0),
    )
