"""What is cut together held against the facts: one piece of stock, and a run without a gap.

Takes bonds and layouts, gives what is wrong. Shares no code with the planner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from benchleaf.cutting.records import Bond, LengthLayout, Run, SheetLayout

Layout = SheetLayout | LengthLayout
_Span = tuple[Fraction, Fraction]
_Place = tuple[_Span, _Span]
"""From and to along the grain, and across it."""


def verify_bond(bond: Bond, layouts: Sequence[Layout]) -> Iterator[str]:
    """Say what is wrong with blanks that are to be cut together."""
    own = [layout for layout in layouts if {one[0] for one in layout.placed} & {*bond.labels}]
    if len(own) != 1:
        yield f"{', '.join(bond.labels)} come from {len(own)} pieces of stock, not from one"
        return
    places = _places(own[0])
    if not all(label in places for label in bond.labels):
        yield f"{', '.join(bond.labels)} are not all cut"
    elif bond.run is not None:
        run = [places[label] for label in bond.labels]
        for (label, near), (other, far) in pairwise(zip(bond.labels, run, strict=True)):
            if not _follows(near, far, bond.run, own[0].kerf_mm):
                yield f"no figure runs from {label} to {other}: they do not lie {bond.run.value}"


def _follows(near: _Place, far: _Place, run: Run, kerf_mm: Fraction) -> bool:
    """Tell whether one blank lies a kerf behind another, and flush with it."""
    along, across = (0, 1) if run is Run.END else (1, 0)
    return near[across] == far[across] and far[along][0] == near[along][1] + kerf_mm


def _places(layout: Layout) -> dict[str, _Place]:
    found: dict[str, _Place] = {}
    if isinstance(layout, LengthLayout):
        strips = {label: (edge, edge + width) for label, edge, width in layout.strips}
        whole = (Fraction(0), Fraction(0))
        for label, start, length in layout.placed:
            found[label] = (start, start + length), strips.get(label, whole)
        return found
    for label, area, is_turned in layout.placed:
        x, y = (area.x, area.x + area.wide), (area.y, area.y + area.high)
        found[label] = (y, x) if is_turned else (x, y)
    return found
