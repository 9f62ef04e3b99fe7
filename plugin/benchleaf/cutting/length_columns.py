"""Bars proved and improved by patterns: column generation, and dives that fix pattern by pattern.

Takes kinds of whole-number lengths with their demand, gives the fewest bars of one capacity that
there could be, and a packing where one that meets the bound is found. Must not know stock, labels
or units. After Gilmore and Gomory 1961, Operations Research 9, pages 849-859, Farley 1990,
Operations Research 38, pages 922-923, and the diving of Sadykov, Vanderbeck, Pessoa, Tahiri and
Uchoa 2019, INFORMS Journal on Computing 31, pages 251-267 (all from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, floor
from typing import Final

import highspy
import numpy as np
from numpy.typing import NDArray

from benchleaf.cutting.budget import Budget
from benchleaf.cutting.length_kernel import Floats, Ints
from benchleaf.cutting.pattern_kernel import Pool, Sack, new_pool, worth_enough, worth_most
from benchleaf.cutting.solver import new_solver

# Rounding of the linear programmes is far finer than this.
_FINE: Final = 1e-6
# chosen: patterns made at once, each of what those before it left: so few rounds are needed.
_AT_ONCE: Final = 30
# chosen: what one round costs, by measurement, in steps of the kernels.
_WORK_OF_ROUND: Final = 40_000
# chosen: patterns tried at one level of a dive before the dive is given up.
_TRIED: Final = 4
_LOOKED_AT: Final = 12
_DIVES: Final = 60
_FIRST_DIVES: Final = 2
# chosen: then the best choice among all patterns made is looked for, in so many nodes of a tree.
_DIVES_BETWEEN: Final = 12
_NODES: Final = 200
_WORK_OF_CHOICE: Final = 4_000_000
# chosen: of more patterns no choice is found in a second.
_MOST_PATTERNS: Final = 4_000
_WORK_OF_LISTING: Final = 400_000


@dataclass(slots=True, eq=False)
class Columns:
    """State of one set of patterns; lives as long as one stock of bars is laid out."""

    sizes: Ints
    """Different lengths."""
    demand: Ints
    """How many of each."""
    capacity: int
    patterns: NDArray[np.int64] = field(init=False)
    """(p, n): how many of each length a pattern holds."""
    _known: set[bytes] = field(default_factory=set)
    _solver: highspy.Highs = field(default_factory=new_solver)
    _pool: Pool = field(default_factory=new_pool)

    def __post_init__(self) -> None:
        """Set up a programme without patterns."""
        self.patterns = np.zeros((0, len(self.sizes)), np.int64)
        self._solver.setOptionValue("presolve", "off")
        nothing = np.array([], np.int32), np.array([], np.float64)
        for count in self.demand:
            self._solver.addRow(float(count), highspy.kHighsInf, 0, *nothing)

    def add(self, patterns: list[Ints]) -> bool:
        """Add those patterns that are new; tell whether there were any."""
        fresh = []
        for pattern in patterns:
            key = pattern.tobytes()
            if key not in self._known:
                self._known.add(key)
                fresh.append(pattern)
                held = np.nonzero(pattern)[0].astype(np.int32)
                counts = pattern[held].astype(np.float64)
                self._solver.addCol(1.0, 0.0, highspy.kHighsInf, len(held), held, counts)
        if fresh:
            self.patterns = np.vstack([self.patterns, *fresh])
        return bool(fresh)

    def relax(self, residual: Ints, enough: int, budget: Budget) -> tuple[float, Floats]:
        """Solve the linear programme of what is left to pack.

        Args:
            residual: How many of each length are left.
            enough: A bound at which to stop, as the answer can then be of no use.
            budget: What may be spent.

        Returns:
            A bound on the number of bars, and how much each pattern is used.
        """
        self._limit(residual)
        least = 0.0
        while True:
            budget.spend(_WORK_OF_ROUND)
            self._solver.run()
            solution = self._solver.getSolution()
            total = self._solver.getInfo().objective_function_value
            used = np.array(solution.col_value)
            worth, fresh = self._price(np.array(solution.row_dual), residual)
            if worth >= 0:
                least = max(least, total / max(worth, 1.0))
            if not fresh or ceil(least - _FINE) >= enough or budget.is_spent:
                return least, used
            if not self.add(fresh):
                return least, used

    def _limit(self, residual: Ints) -> None:
        columns = len(self.patterns)
        endless = highspy.kHighsInf
        fits = (self.patterns <= residual).all(axis=1)
        self._solver.changeColsBounds(
            columns,
            np.arange(columns, dtype=np.int32),
            np.zeros(columns),
            np.where(fits, endless, 0.0),
        )
        for row, count in enumerate(residual.tolist()):
            self._solver.changeRowBounds(row, float(count), endless)

    def _price(self, values: Floats, residual: Ints) -> tuple[float, list[Ints]]:
        """The worth of the best pattern, and patterns worth more than a bar."""
        found: list[Ints] = []
        left = residual.copy()
        best = 0.0
        while len(found) < _AT_ONCE:
            worth, pattern = self._best_pattern(values, left)
            if not found:
                best = worth
            if abs(worth) <= 1.0 + _FINE or not pattern.any():
                break
            found.append(pattern)
            left = left - pattern
        return best, found

    def _best_pattern(self, values: Floats, left: Ints) -> tuple[float, Ints]:
        most = np.minimum(left, self.capacity // self.sizes)
        order = np.argsort(-values / self.sizes, kind="stable")
        order = order[(values[order] > _FINE) & (most[order] > 0)]
        pattern = np.zeros(len(self.sizes), np.int64)
        sack = Sack(order, self.sizes, most, values)
        return worth_most(sack, self.capacity, 1.0, self._pool, pattern), pattern

    def dive(self, used: Floats, target: int, seed: int, budget: Budget) -> list[Ints] | None:
        """Fix pattern after pattern, as long as `target` bars can still do; None where they cannot.

        Args:
            used: How much each pattern is used at the root.
            target: Bars to get by with.
            seed: 0 for the likeliest pattern at every level; others stray a little.
            budget: What may be spent.
        """
        dice = np.random.default_rng(seed)
        residual, fixed = self.demand.copy(), list[Ints]()
        while residual.any() and not budget.is_spent:
            before = len(fixed)
            residual = self._fix_whole(used, residual, fixed)
            left = target - len(fixed)
            steps = self._likely(used, residual, dice if seed else None)
            for pattern in [None] if len(fixed) > before else steps:
                rest = residual if pattern is None else residual - pattern
                room = left - (pattern is not None)
                bound, after = self.relax(rest, room + 1, budget)
                if ceil(bound - _FINE) <= room:
                    fixed += [] if pattern is None else [pattern]
                    residual, used = rest, after
                    break
            else:
                return None
        return fixed if not residual.any() and len(fixed) <= target else None

    def every_pattern(self, target: int, budget: Budget) -> list[Ints] | None:
        """All patterns that a packing into `target` bars could hold; None where they are many.

        By the duals of the programme: what its patterns fall short of one bar in all is at most
        the target less the programme's value, so no single pattern falls short by more.
        """
        self._limit(self.demand)
        self._solver.run()
        values = np.maximum(np.array(self._solver.getSolution().row_dual), 0.0)
        need = 1.0 - (target - float(values @ self.demand)) - _FINE
        order = np.argsort(-values / self.sizes, kind="stable")
        most = np.minimum(self.demand, self.capacity // self.sizes)
        found = np.zeros((_MOST_PATTERNS, len(self.sizes)), np.int64)
        budget.spend(_WORK_OF_LISTING)
        count = worth_enough(Sack(order, self.sizes, most, values), self.capacity, need, found)
        return None if count < 0 else list(found[:count])

    def choose(
        self, patterns: Sequence[Ints], target: int, budget: Budget, *, exact: bool
    ) -> tuple[list[Ints] | None, bool]:
        """Choose `target` bars among patterns, whole ones.

        Args:
            patterns: To choose from.
            target: How many bars.
            budget: What may be spent.
            exact: Whether every length is packed just as often as wanted, or at least so often.

        Returns:
            The bars, or None where none are found; and whether there are none for certain.
        """
        budget.spend(_WORK_OF_CHOICE)
        solver = new_solver()
        count = len(patterns)
        nothing = np.array([], np.int32), np.array([], np.float64)
        for wanted in self.demand:
            most = float(wanted) if exact else highspy.kHighsInf
            solver.addRow(float(wanted), most, 0, *nothing)
        for pattern in patterns:
            held = np.nonzero(pattern)[0].astype(np.int32)
            solver.addCol(1.0, 0.0, highspy.kHighsInf, len(held), held, pattern[held].astype(float))
        every = np.arange(count, dtype=np.int32)
        solver.changeColsIntegrality(count, every, np.full(count, 1, np.uint8))
        solver.addRow(0.0, float(target), count, every, np.ones(count))
        # Symmetry is looked for long and found seldom: hardly two lengths are alike.
        solver.setOptionValue("mip_detect_symmetry", False)
        for name, choice in (("presolve", "on"), ("random_seed", 7)):
            solver.setOptionValue(name, choice)
        if exact and budget.seconds < float("inf"):
            # All patterns are there, so that an answer is worth all the time that is left.
            solver.setOptionValue("time_limit", max(budget.seconds, 0.0))
        else:
            solver.setOptionValue("mip_max_nodes", _NODES)
            solver.setOptionValue("time_limit", min(max(budget.seconds, 0.0), highspy.kHighsInf))
        solver.run()
        if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return None, True
        chosen = np.rint(np.array(solver.getSolution().col_value)).astype(int)
        if len(chosen) < count or not chosen.any() or chosen.sum() > target:
            return None, False
        bars = self._without_surplus(patterns, chosen)
        return (bars or None), False

    def _without_surplus(self, patterns: Sequence[Ints], chosen: Ints) -> list[Ints]:
        """The patterns chosen, without what they hold too much; none where something is lacking."""
        left, packing = self.demand.copy(), list[Ints]()
        for index in np.nonzero(chosen)[0].tolist():
            for _ in range(chosen[index]):
                packing.append(np.minimum(patterns[index], left))
                left = left - packing[-1]
        return [] if left.any() else packing

    def _fix_whole(self, used: Floats, residual: Ints, fixed: list[Ints]) -> Ints:
        """Fix every pattern as often as it is wholly used: the programme's value stays the same."""
        for index in np.argsort(-used, kind="stable"):
            for _ in range(floor(used[index] + _FINE)):
                if (self.patterns[index] <= residual).all():
                    fixed.append(self.patterns[index])
                    residual = residual - self.patterns[index]
            if used[index] < 1 - _FINE:
                break
        return residual

    def _likely(self, used: Floats, residual: Ints, dice: np.random.Generator | None) -> list[Ints]:
        """Patterns to try next, likeliest first."""
        order = np.argsort(-used, kind="stable")[: 3 * _LOOKED_AT]
        fits = [one for one in order if (self.patterns[one] <= residual).all() and used[one] > 0]
        if dice is not None:
            stray = {one: used[one] * dice.uniform(0.4, 1.0) for one in fits[:_LOOKED_AT]}
            fits = sorted(stray, key=lambda one: -stray[one])
        return [self.patterns[one] for one in fits[:_TRIED]]


def fewest_by_patterns(
    columns: Columns, start: list[Ints], budget: Budget
) -> tuple[int, list[Ints] | None]:
    """Tell the fewest bars there could be, and pack into so many where that is found.

    Args:
        columns: Without patterns.
        start: A packing.
        budget: What may be spent.

    Returns:
        The bound; and a packing that meets it, or None.
    """
    columns.add(start)
    bound, used = columns.relax(columns.demand, len(start), budget)
    fewest = ceil(bound - _FINE)
    if fewest >= len(start) or budget.is_spent:
        return fewest, None
    found = _dive_often(columns, used, fewest, range(_FIRST_DIVES), budget)
    if found is not None or budget.is_spent:
        return fewest, found
    every = columns.every_pattern(fewest, budget)
    if every is not None:
        found, is_impossible = columns.choose(every, fewest, budget, exact=True)
        if found is not None or is_impossible:
            return fewest + is_impossible, found
    return fewest, _dive_often(columns, used, fewest, range(_FIRST_DIVES, _DIVES), budget)


def _dive_often(
    columns: Columns, used: Floats, fewest: int, seeds: range, budget: Budget
) -> list[Ints] | None:
    """Dive again and again; now and then look for the best choice of the patterns made so far."""
    for seed in seeds:
        used = np.concatenate([used, np.zeros(len(columns.patterns) - len(used))])
        found = columns.dive(used, fewest, seed, budget)
        if found is None and seed % _DIVES_BETWEEN == _DIVES_BETWEEN - 1:
            found, _ = columns.choose(list(columns.patterns), fewest, budget, exact=False)
        if found is not None or budget.is_spent:
            return found
    return None
