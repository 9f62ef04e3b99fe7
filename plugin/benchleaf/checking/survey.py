"""What several checks reckon with, worked out once for a piece: weights, stays, members.

Takes a Joinery, gives a `Survey`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchleaf.checking.mass import Weight, weigh_copies
from benchleaf.checking.members import Members, find_members
from benchleaf.checking.records import Quantity
from benchleaf.checking.showing import show_quantity
from benchleaf.checking.stays import Stays, find_stays
from benchleaf.joinery.records import Joinery
from benchleaf.piece.records import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """A piece with what is reckoned of it."""

    joinery: Joinery
    weights: Mapping[str, Weight]
    """By mark; a copy of a material that is in no table is missing."""
    stays: Stays
    members: Members

    @property
    def piece(self) -> Piece:
        """The piece."""
        return self.joinery.piece

    def show(self, quantity: Quantity) -> str:
        """A quantity with its unit, in the plan's units."""
        return show_quantity(quantity, self.piece.plan.units)


def take_survey(joinery: Joinery) -> Survey:
    """Work out what the checks reckon with."""
    stays = find_stays(joinery)
    return Survey(
        joinery=joinery,
        weights=weigh_copies(joinery),
        stays=stays,
        members=find_members(joinery, stays),
    )
