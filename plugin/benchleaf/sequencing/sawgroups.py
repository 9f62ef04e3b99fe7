"""Saw cuts gathered under as few settings as the pieces allow.

Takes SawCuts, gives groups that share machine, setting and thickness, each group after the groups
whose pieces it cuts. Must not know words or facts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.settings import fewest_changes
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
    """Gather cuts under the fewest settings that can be found.

    At each point a setting is taken that need not come back, then the one with most; where that
    changes settings more often than some other order, the other is taken.

    Args:
        cuts: Cuts of the whole plan but those of the break-down, each after its piece's own.
    """
    groups = _group(cuts, None)
    order = fewest_changes(*_as_settings(cuts), [group.key for group in groups])
    if len(order.settings) < len(groups):
        groups = _group(cuts, order.settings)
    return tuple(groups)


def _group(cuts: Sequence[SawCut], order: Sequence[object] | None) -> list[CutGroup]:
    """Gather cuts in an order of settings; None for the likeliest at each point."""
    bench = _Bench(cuts)
    groups: list[CutGroup] = []
    while bench.ready:
        wanted = order[len(groups)] if order is not None else None
        key = next((own for own in bench.ready if own == wanted), None) or min(
            bench.ready, key=bench.rank
        )
        # Each piece is cut up before the next is taken up.
        in_runs = tuple(cut for run in find_runs(bench.take(key)) for cut in run)
        groups.append(CutGroup(key, in_runs))
    return groups


def _as_settings(cuts: Sequence[SawCut]) -> tuple[list[GroupKey], list[int | None]]:
    """The setting of each cut, and the place of the cut that frees its piece."""
    places = {cut.made: place for place, cut in enumerate(cuts)}
    parents = [places.get(cut.parent) if cut.parent is not None else None for cut in cuts]
    return [_key(cut) for cut in cuts], parents


def _key(cut: SawCut) -> GroupKey:
    squares = cut.only_squares and cut.stock.kind is not StockKind.SHEET
    setting = Fraction(0) if squares else cut.setting_mm
    return (cut.machine, squares, setting, cut.stock.thickness_mm, cut.stock.kind.value)


class _Bench:
    """Cuts that are still to be made; lives while they are gathered."""

    def __init__(self, cuts: Sequence[SawCut]) -> None:
        self._cuts = cuts
        self._keys = [_key(cut) for cut in cuts]
        self._left = Counter(self._keys)
        self._next: dict[CutMade, list[int]] = {}
        known = {cut.made for cut in cuts}
        self.ready: dict[GroupKey, list[int]] = {}
        """Setting to the places of the cuts that can be made at once, where there are any."""
        for place, cut in enumerate(cuts):
            if cut.parent in known:
                self._next.setdefault(cut.parent, []).append(place)
            else:
                self.ready.setdefault(self._keys[place], []).append(place)

    def rank(self, key: GroupKey) -> tuple[bool, str, int, Fraction, GroupKey]:
        reach = len(self._reach(key)[0])
        comes_back = reach < self._left[key]
        # Boards and rods are cut before sheets are ripped; wide strips before narrow ones.
        return (comes_back, key[4], -reach, -key[2], key)

    def take(self, key: GroupKey) -> list[SawCut]:
        """Make all cuts that can be made at a setting without touching it."""
        made, freed = self._reach(key)
        del self.ready[key]
        self._left[key] -= len(made)
        for place in freed:
            self.ready.setdefault(self._keys[place], []).append(place)
        return [self._cuts[place] for place in made]

    def _reach(self, key: GroupKey) -> tuple[list[int], list[int]]:
        """Cuts that can be made at a setting, in order, and others that they make possible."""
        made: list[int] = []
        freed: list[int] = []
        waiting = list(self.ready[key])
        while waiting:
            place = waiting.pop()
            made.append(place)
            for after in self._next.get(self._cuts[place].made, ()):
                (waiting if self._keys[after] == key else freed).append(after)
        return sorted(made), freed
