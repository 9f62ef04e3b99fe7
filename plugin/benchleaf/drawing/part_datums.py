"""Where sizes on a part are measured from: its true ends, and the end that setting out names.

Takes the joints' setting-out rows for the copy drawn and its blank, gives datums. A maker who works
from the sheet and one who works from the steps must start from the same end of the same wood. Must
not know views or paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.frames import FACES, Axis, Box
from benchleaf.joinery.records import Joinery, SettingOut

# The joint families' word for what is set into the wood and not along it: no place on a face.
_DEPTH: Final = "depth of"


@dataclass(frozen=True, slots=True, kw_only=True)
class Datums:
    """The ends of a part, and from which of them its places are measured."""

    blank: Box
    """The part with what joints add, in its own axes."""
    usual: Mapping[Axis, bool]
    """For each axis whether the high end is measured from, where no joint names an end."""
    named: Mapping[tuple[Axis, Fraction], tuple[bool, ...]]
    """For places that are set out, whether they are measured from the high end; both may be."""

    def end_mm(self, axis: Axis, *, is_high: bool) -> Fraction:
        """Where the wood ends."""
        return Fraction(self.blank.high[axis] if is_high else self.blank.low[axis])

    def ends_for(self, axis: Axis, at: Fraction) -> tuple[bool, ...]:
        """The ends that a place is measured from, one at least: whether each is the high one."""
        return self.named.get((axis, at)) or (self.usual[axis],)


def read_datums(joinery: Joinery, mark: str, blank: Box) -> Datums:
    """Find the ends that a part is measured from: those that its joints are set out from.

    Args:
        joinery: The joints, whose setting out names faces and ends.
        mark: Mark of the copy drawn.
        blank: The copy with what joints add, in its own axes.
    """
    rows = [line for fit in joinery.fits for line in fit.setting_out if line.copy == mark]
    places = [line for line in rows if not line.what.startswith(_DEPTH)]
    faces = [FACES[line.reference] for line in places]
    return Datums(
        blank=blank,
        usual={axis: faces.count((axis, True)) > faces.count((axis, False)) for axis in Axis},
        named=_named(places, blank),
    )


def _named(
    places: Iterable[SettingOut], blank: Box
) -> dict[tuple[Axis, Fraction], tuple[bool, ...]]:
    ends: dict[tuple[Axis, Fraction], set[bool]] = {}
    for line in places:
        axis, is_high = FACES[line.reference]
        from_low = Fraction(blank.low[axis] + line.distance_mm)
        from_high = Fraction(blank.high[axis] - line.distance_mm)
        ends.setdefault((axis, from_high if is_high else from_low), set()).add(is_high)
    return {place: tuple(sorted(found)) for place, found in ends.items()}
