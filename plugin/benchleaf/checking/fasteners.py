"""No dowel or screw is longer than the holes that it goes into.

What:
    A dowel is longer than its two holes are deep together, or a screw is longer than its clearance
    and pilot holes.

Why:
    A dowel that touches bottom holds the joint open; a screw that does splits the part or comes
    out at the other side.

Limit:
    The holes' depths together; exact.

Source:
    Common practice, no source: a joint closes before its fastener touches bottom.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.forms import Bore
from benchleaf.joinery.records import (
    Feature,
    Joinery,
)

_SUNK = frozenset({"dowel", "wood screw"})
"""Kinds that end inside the wood; bolts come out of it."""
_HOLES = frozenset({"clearance hole", "dowel hole", "mitre dowel hole", "pilot hole"})


def find_long_fasteners(joinery: Joinery) -> Iterator[Finding]:
    """Find dowels and screws that touch bottom."""
    voice = Voice(joinery.piece, "K208")
    said = set()
    for fit in joinery.fits:
        room = _depth(fit.first_features) + _depth(fit.second_features)
        for item in fit.hardware:
            if item.kind not in _SUNK:
                continue
            key = (fit.joint, item.kind, item.length_mm, room)
            if item.length_mm > room and key not in said:
                said.add(key)
                yield voice.error(
                    f"joints[{fit.joint}]",
                    f"a {item.kind} {voice.show(item.length_mm)} long goes into holes that are "
                    f"{voice.show(room)} deep together",
                    f"Needed: at most {voice.show(room)}, or deeper holes.",
                )


def _depth(features: tuple[Feature, ...]) -> Fraction:
    """The shallowest hole on one side, mm."""
    depths = [
        feature.shape.depth_mm
        for feature in features
        if feature.role in _HOLES and isinstance(feature.shape, Bore)
    ]
    return min(depths, default=Fraction(0))


CHECK = Check(
    code="K208",
    name="fasteners",
    title="No dowel or screw is longer than the holes that it goes into.",
    run=find_long_fasteners,
)
