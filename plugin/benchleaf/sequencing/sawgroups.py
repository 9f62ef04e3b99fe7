"""Saw cuts gathered under as few settings as the pieces allow.

Takes SawCuts, gives groups that share machine, setting and thickness, each group after the groups
whose pieces it cuts. Must not know words or facts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.reading.plan import StockKind
from benchleaf.sequencing.cut_lines import find_runs
from benchleaf.sequencing.records import CutMade
from benchleaf.sequencing.sawcuts import Machine, SawCut

GroupKey = tuple[Machine, bool, Fraction, Fraction, str]
"""Machine, whether it only squares an end, setting, thickness, stock kind."""


@dataclass(frozen=True, slots=True)
class CutGroup:
    """Cuts made at one setting."""

    key: GroupKey
    cuts: tuple[SawCut, ...]
    """Each after the cut that made its piece."""


def group_cuts(cuts: Sequence[SawCut]) -> tuple[CutGroup, ...]:
    """Gather cuts, taking at each point a setting that need not come back, then the one with most.

    Args:
        cuts: Cuts of the whole plan but those of the break-down.
    """
    left = {cut.made: cut for cut in cuts}
    waiting = {cut.made for cut in cuts}
    groups: list[CutGroup] = []
    while left:
        ready = {_key(cut) for cut in left.values() if cut.parent not in waiting}
        chosen = min(ready, key=lambda key: _rank(key, left, waiting))
        taken = _closure(chosen, left, waiting)
        # Each piece is cut up before the next is taken up.
        in_runs = tuple(cut for run in find_runs(taken) for cut in run)
        groups.append(CutGroup(chosen, in_runs))
        for cut in taken:
            del left[cut.made]
            waiting.discard(cut.made)
    return tuple(groups)


def _key(cut: SawCut) -> GroupKey:
    squares = cut.only_squares and cut.stock.kind is not StockKind.SHEET
    setting = Fraction(0) if squares else cut.setting_mm
    return (cut.machine, squares, setting, cut.stock.thickness_mm, cut.stock.kind.value)


def _rank(
    key: GroupKey, left: dict[CutMade, SawCut], waiting: set[CutMade]
) -> tuple[bool, str, int, Fraction, GroupKey]:
    closure = _closure(key, left, waiting)
    all_of_key = sum(_key(cut) == key for cut in left.values())
    comes_back = len(closure) < all_of_key
    # Boards and rods are cut before sheets are ripped; wide strips before narrow ones.
    return (comes_back, key[4], -len(closure), -key[2], key)


def _closure(
    key: GroupKey, left: dict[CutMade, SawCut], waiting: set[CutMade]
) -> tuple[SawCut, ...]:
    """All cuts that can be made at a setting without touching it."""
    still = set(waiting)
    taken: list[SawCut] = []
    grew = True
    while grew:
        grew = False
        for cut in left.values():
            if cut.made in still and cut.parent not in still and _key(cut) == key:
                taken.append(cut)
                still.discard(cut.made)
                grew = True
    return tuple(taken)
