"""What joints cut into a copy, as checks see it: where, which way into the wood, how narrow.

Takes the Joinery, gives cuts in a part's own axes. Exact, as long as nothing is turned.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.forms import Bore, box_round
from benchleaf.frames import Axis, Box, Vector, main_axis
from benchleaf.joinery.records import (
    Feature,
    Joinery,
)

HOLES = frozenset(
    {
        "bolt hole",
        "clearance hole",
        "counterbore",
        "cross dowel hole",
        "dowel hole",
        "loose mortise",
        "mortise",
        "peg hole",
        "pilot hole",
        "round mortise",
        "slanting mortise",
        "through hole",
    }
)
"""Roles of cuts that are closed all round."""
CHANNELS = frozenset({"groove", "housing", "lap", "panel groove", "rebate"})
"""Roles of cuts that are open along a face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut of a joint in one copy, in the part's own axes, mm."""

    mark: str
    """The copy that is cut."""
    role: str
    joint: int
    mate: str
    box: Box
    """The box round it."""
    bore: Bore | None
    """The round hole, where it is one."""
    way: Vector
    """Unit vector from its mouth into the wood."""

    @property
    def is_hole(self) -> bool:
        """Tell whether wood is meant to stand all round it."""
        return self.role in HOLES

    @property
    def axis(self) -> Axis:
        """The axis along which it goes into the wood."""
        return main_axis(self.way)

    @property
    def width_mm(self) -> Fraction:
        """Its narrower extent across the way in; the diameter of a bore."""
        size = self.box.size
        return Fraction(min(size[axis] for axis in Axis if axis != self.axis))


def list_cuts(joinery: Joinery, mark: str) -> Iterator[Cut]:
    """List the holes and channels of one copy."""
    for feature in joinery.copies[mark].features:
        if not feature.adds and feature.role in HOLES | CHANNELS:
            yield Cut(
                mark=mark,
                role=feature.role,
                joint=feature.joint,
                mate=feature.mate,
                box=box_round(feature.shape),
                bore=feature.shape if isinstance(feature.shape, Bore) else None,
                way=_way_in(joinery, mark, feature),
            )


def _way_in(joinery: Joinery, mark: str, feature: Feature) -> Vector:
    if isinstance(feature.shape, Bore):
        return feature.shape.direction
    for fit in joinery.fits:
        contact = fit.contact
        if fit.joint == feature.joint and {contact.first, contact.second} == {mark, feature.mate}:
            into: Vector = (0, 0, 1 if mark == contact.second else -1)
            outward = contact.frame.outward_direction(into)
            return joinery.piece.copies[mark].frame.inward_direction(outward)
    raise LookupError(f"no joint at {mark} and {feature.mate}")


def least_beside_mm(cut: Cut, wall_mm: Fraction) -> Fraction:
    """Least wood to leave beside a cut, mm.

    Half of its own width, so that a third of the thickness may be taken out in the middle and a
    dowel may stand one diameter from the edge; never more than the shop's wall.
    """
    return min(wall_mm, cut.width_mm / 2)
