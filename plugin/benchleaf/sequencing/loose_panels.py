"""Panels of solid wood that stand loose in the grooves of a frame.

Takes the joinery, gives marks. Such a panel is coated before it is closed in, and no glue comes
near its grooves. Must not know operations.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from benchleaf.handbook.materials import find_material
from benchleaf.joinery.records import Joinery, JointFit

GROOVE: Final = "panel groove"


def is_loose_panel(fit: JointFit, joinery: Joinery) -> bool:
    """Tell whether a joint holds a panel of solid wood that must be free to move."""
    if fit.is_glued or not any(f.role == GROOVE for f in fit.second_features):
        return False
    stock = joinery.piece.part_of(fit.contact.first).stock
    material = find_material(stock.material)
    return material.panel is None if material else stock.kind.value == "board"


def find_loose_panels(joinery: Joinery) -> frozenset[str]:
    """Marks of the panels that must be free to move."""
    return loose_among(joinery.fits, joinery)


def loose_among(fits: Iterable[JointFit], joinery: Joinery) -> frozenset[str]:
    """Marks of the panels that some joints hold so."""
    return frozenset(fit.contact.first for fit in fits if is_loose_panel(fit, joinery))
