"""Every joint of the plan has a place where its two parts meet.

What:
    A joint names two parts of which no copies touch or cross.

Why:
    The joint would be left out without a word. Mostly a face is off, or a name is wrong.

Limit:
    At least one contact; exact.

Source:
    Common practice, no source: a joint joins what meets.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece


def find_empty_joints(joinery: Joinery) -> Iterator[Finding]:
    """Find joints without a contact, and say how far apart the parts stand."""
    voice = Voice(joinery.piece, "K204")
    for joint in joinery.piece.joints:
        if not joint.contacts:
            gap = _nearest_gap(joinery.piece, joint.first, joint.second)
            yield voice.error(
                f"joints[{joint.index}]",
                f"{joint.first} and {joint.second} do not meet{_words(voice, gap)}",
                "Needed: faces that touch. Move one of them, or leave the joint out.",
            )


def _words(voice: Voice, gap: tuple[Fraction, Axis] | None) -> str:
    if gap is None:
        return ": they are one and the same copy"
    distance, axis = gap
    if distance == 0:
        return ": they meet at an edge or a corner alone"
    return f": the nearest copies stand {voice.show(distance)} apart ({axis.extent})"


def _nearest_gap(piece: Piece, first: str, second: str) -> tuple[Fraction, Axis] | None:
    """The least gap between two copies, along the axis on which they are furthest apart."""
    gaps = [
        _gap(one.box, other.box)
        for one in piece.copies_of(first)
        for other in piece.copies_of(second)
        if one.mark != other.mark
    ]
    return min(gaps, default=None)


def _gap(one: Box, other: Box) -> tuple[Fraction, Axis]:
    gaps = (
        (Fraction(max(one.low[axis] - other.high[axis], other.low[axis] - one.high[axis])), axis)
        for axis in Axis
    )
    return max(gaps)


CHECK = Check(
    code="K204",
    name="empty_joints",
    title="Every joint of the plan has a place where its two parts meet.",
    run=find_empty_joints,
)
