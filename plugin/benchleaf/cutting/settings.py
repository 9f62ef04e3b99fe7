"""The order of cuts that changes settings the fewest times.

Takes cuts, each with its setting and the cut that frees its piece, gives the order of settings.
All cuts that can be made at a setting are made before it is changed: putting one off never saves a
change. Exact within a bound on the work. Must not know machines or words.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field
from typing import Final

# chosen: orders followed at once; more hardly ever save another change.
_WIDEST: Final = 24
_WORK_WIDE: Final = 200_000
# chosen: of more settings times cuts this takes longer than the layout itself.
_MOST_WIDE: Final = 400_000
# chosen: settings tried, one after another: some tenths of a second at most.
_MOST_TRIED: Final = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingOrder:
    """Settings in the order in which they are made, some of them more than once."""

    settings: tuple[Hashable, ...]
    is_proved: bool
    """Whether no order changes them less often."""


def fewest_changes(
    settings: Sequence[Hashable], parents: Sequence[int | None], known: Sequence[Hashable]
) -> SettingOrder:
    """Look for an order with fewer changes than one that is known.

    Args:
        settings: Of each cut.
        parents: Place of the cut that frees the piece of each, None where it lies ready.
        known: An order of settings in which all cuts can be made.

    Returns:
        The known order where there is none with fewer changes, or none is found.

    >>> fewest_changes("abab", [None, 0, None, 2], "abab").settings
    ('a', 'b')
    >>> fewest_changes("aba", [None, 0, 1], "aba")
    SettingOrder(settings=('a', 'b', 'a'), is_proved=True)
    """
    search = _Search.of(settings, parents)
    least = search.least_left(0)
    best = tuple(known)
    if len(search.names) * len(settings) <= _MOST_WIDE:
        best = min(best, search.wide_order(), key=len)
    for most in range(least, len(best)):
        found = search.order(0, most)
        if found is not None:
            return SettingOrder(settings=found, is_proved=not search.is_cut_short)
        if search.is_cut_short:
            break
    return SettingOrder(settings=best, is_proved=not search.is_cut_short)


@dataclass(slots=True, eq=False)
class _Search:
    """State of one search: cuts made are bits of a whole number."""

    settings: Sequence[Hashable]
    names: tuple[Hashable, ...]
    """All settings, as they first come up."""
    own: dict[Hashable, int]
    """Setting to its cuts."""
    needs: tuple[int, ...]
    """For each cut, the cut before it as a bit, or 0."""
    failed: dict[int, int] = field(default_factory=dict)
    """Cuts made to the most changes that are known not to do for the rest."""
    tried: int = 0

    @classmethod
    def of(cls, settings: Sequence[Hashable], parents: Sequence[int | None]) -> _Search:
        own: dict[Hashable, int] = {}
        for place, setting in enumerate(settings):
            own[setting] = own.get(setting, 0) | 1 << place
        needs = tuple(0 if parent is None else 1 << parent for parent in parents)
        return cls(settings, tuple(dict.fromkeys(settings)), own, needs)

    @property
    def is_cut_short(self) -> bool:
        """Tell whether the search was given up."""
        return self.tried > _MOST_TRIED

    def least_left(self, made: int) -> int:
        """A bound on the settings still to be made: each that has cuts left, once."""
        return sum(bool(self.own[name] & ~made) for name in self.names)

    def wide_order(self) -> tuple[Hashable, ...]:
        """An order by going on from several beginnings at once, those with least left to set."""
        size = len(self.names) * len(self.settings)
        width = max(1, min(_WIDEST, _WORK_WIDE // max(1, size)))
        every = (1 << len(self.settings)) - 1
        waiting: dict[int, tuple[Hashable, ...]] = {0: ()}
        while every not in waiting:
            after: dict[int, tuple[Hashable, ...]] = {}
            for made, order in waiting.items():
                for name, reached in self._choices(made):
                    after.setdefault(reached, (*order, name))
            ranked = sorted(
                after, key=lambda made: (self.least_left(made), -made.bit_count(), made)
            )
            waiting = {made: after[made] for made in ranked[:width]}
        self.tried = 0
        return waiting[every]

    def order(self, made: int, most: int) -> tuple[Hashable, ...] | None:
        """An order of at most so many settings for the cuts that are left."""
        left = self.least_left(made)
        if not left:
            return ()
        if left > most or self.failed.get(made, -1) >= most or self.is_cut_short:
            return None
        for name, after in self._choices(made):
            rest = self.order(after, most - 1)
            if rest is not None:
                return (name, *rest)
        self.failed[made] = most
        return None

    def _choices(self, made: int) -> list[tuple[Hashable, int]]:
        """Settings that can be made now, those first that need not come back."""
        self.tried += len(self.names)
        reached = [(name, self._reach(made, name)) for name in self.names]
        useful = [(name, after) for name, after in reached if after != made]
        done = [pair for pair in useful if not self.own[pair[0]] & ~pair[1]]
        if done:
            # A setting that is done with for good can only free others: it is never wrong first.
            return done[:1]
        return sorted(useful, key=lambda pair: -pair[1].bit_count())

    def _reach(self, made: int, name: Hashable) -> int:
        """The cuts made once all that can be made at a setting are."""
        left = self.own[name] & ~made
        grows = True
        while grows:
            grows = False
            waiting = left
            while waiting:
                bit = waiting & -waiting
                waiting ^= bit
                need = self.needs[bit.bit_length() - 1]
                if not need or made & need:
                    made |= bit
                    left ^= bit
                    grows = True
        return made
