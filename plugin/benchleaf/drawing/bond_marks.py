"""What is cut together, on cutting diagrams: ticks where figure runs through, and a line of words.

Takes layouts and bonds, gives marks and sentences. Must not know parts or joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Final

from benchleaf.cutting.records import Bond, CutPlan, LengthLayout, Run, SheetLayout
from benchleaf.drawing.clearance import Rectangle
from benchleaf.drawing.scene import Line, Mark, Role

# chosen: long enough to be seen on both sides of a saw cut, and clear of labels in the middle.
_TICK_MM: Final = 3.0
_APART_MM: Final = 1.0
_PLACE: Final = 0.12
"""Share of the edge at which the ticks stand."""


def bonds_in(layout: SheetLayout | LengthLayout, cut_plan: CutPlan) -> tuple[Bond, ...]:
    """What is cut together from a sheet, board or rod."""
    placed = {one[0] for one in layout.placed}
    return tuple(bond for bond in cut_plan.bonds if placed.issuperset(bond.labels))


def bond_lines(layout: SheetLayout | LengthLayout, cut_plan: CutPlan) -> tuple[str, ...]:
    """A sentence on each."""
    return tuple(_words(bond) for bond in bonds_in(layout, cut_plan))


def _words(bond: Bond) -> str:
    labels = f"{', '.join(bond.labels[:-1])} and {bond.labels[-1]}"
    if bond.run is None:
        return f"{labels} come from this one piece, as the plan asks."
    return (
        f"Figure runs through {labels}: part them from one strip, {bond.run.value} in this order, "
        "and number them as they come."
    )


def bond_ticks(bonds: tuple[Bond, ...], places: Mapping[str, Rectangle]) -> Iterator[Mark]:
    """Two short lines across each saw cut that figure runs through.

    Args:
        bonds: Of one layout.
        places: Label to where the blank is drawn.
    """
    for bond in bonds if places else ():
        for near, far in pairwise(bond.labels if isinstance(bond.run, Run) else ()):
            yield from _ticks(places[near], places[far])


def _ticks(near: Rectangle, far: Rectangle) -> Iterator[Mark]:
    is_beside = far.left > near.right or near.left > far.right
    reach = _TICK_MM / 2
    for step in (0.0, _APART_MM):
        if is_beside:
            first, last = sorted((near, far), key=lambda box: box.left)
            x = (first.right + last.left) / 2
            y = near.top + (near.bottom - near.top) * _PLACE + step
            points = ((x - reach, y), (x + reach, y))
        else:
            first, last = sorted((near, far), key=lambda box: box.top)
            y = (first.bottom + last.top) / 2
            x = near.left + (near.right - near.left) * _PLACE + step
            points = ((x, y - reach), (x, y + reach))
        yield Line(points=points, role=Role.OUTLINE)
