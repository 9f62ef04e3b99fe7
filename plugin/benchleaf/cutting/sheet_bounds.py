"""The fewest sheets that any layout could need, by the best shares of lengths that there are.

Takes whole-number sizes (grown by the kerf), gives a number of sheets. Every width gets a share of
a sheet's width, every height a share of its height, such that no row of parts on one line has
shares above 1 in all; then the shares of all parts, width times height, need at least as many
sheets as they add up to. Where one side's shares are settled, the other's are the best answer to a
linear programme, whose rows are rows of parts found by a knapsack; so the two sides are bettered in
turn. Loads the solver, so it is called only where simple bounds leave a gap. Must not know how
layouts are found. After Caprara and Monaci 2009, Mathematical Programming 118, pages 75-108 (from
memory).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

import highspy
import numpy as np

from benchleaf.cutting.bounds import Pair, share_families
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.length_kernel import Floats, Ints
from benchleaf.cutting.pattern_kernel import Pool, Sack, new_pool, worth_most
from benchleaf.cutting.solver import new_solver

# Rounding of the linear programmes is far finer than this.
_FINE: Final = 1e-6
# chosen: rows of parts found at once, each of what those before it left.
_AT_ONCE: Final = 30
# chosen: pairs of simple shares to begin with; more hardly ever lead to a better end.
_STARTS: Final = 4
# chosen: of so little gain another turn is not worth its time.
_LEAST_GAIN: Final = 1e-3
# chosen: what one round costs, by measurement, in steps of the kernels.
_WORK_OF_ROUND: Final = 40_000


def fewest_by_shares(
    ways: Sequence[Sequence[Pair]], size: Pair, enough: int, budget: Budget
) -> int:
    """Tell the fewest sheets of one size that hold all blanks, each lying in one of its ways.

    Args:
        ways: For each blank, the one or two (wide, high) in which it may lie.
        size: (wide, high) of the sheet.
        enough: A number of sheets at which to stop.
        budget: What may be spent.
    """
    parts = _Parts.of(ways)
    pool = new_pool()
    wide = _Side.of(parts.wide, parts, size[0], pool)
    high = _Side.of(parts.high, parts, size[1], pool)
    best = 0.0
    for shares in _starts(parts, size):
        before = 0.0
        while not budget.is_spent and ceil(best - _FINE) < enough:
            up = high.best_shares(shares, parts.wide.place, budget)
            shares = wide.best_shares(up, parts.high.place, budget)  # noqa: PLW2901 - in turn
            total = parts.total(shares, up)
            best = max(best, total)
            if total < before + _LEAST_GAIN:
                break
            before = total
    return ceil(best - _FINE)


@dataclass(frozen=True, slots=True)
class _Extents:
    """The parts' different extents along one side."""

    sizes: Ints
    """Ascending."""
    most: Ints
    """How many parts have each in some way of lying."""
    place: Ints
    """(k, 2): place of each kind's extent in `sizes`, by the way in which it lies."""


@dataclass(frozen=True, slots=True)
class _Parts:
    """Kinds of parts: those of one size are one kind."""

    count: Ints
    """(k,) parts of each kind."""
    wide: _Extents
    high: _Extents

    @classmethod
    def of(cls, ways: Sequence[Sequence[Pair]]) -> _Parts:
        """Sort parts into kinds."""
        kinds = Counter((tuple(own[0][:2]), tuple(own[-1][:2])) for own in ways)
        listed = sorted(kinds)
        count = np.array([kinds[kind] for kind in listed])
        extents = (
            np.array([[way[axis] for way in kind] for kind in listed], dtype=np.int64)
            for axis in (0, 1)
        )
        return cls(count, *(_extents(own, count) for own in extents))

    def total(self, shares: Floats, up: Floats) -> float:
        """What the shares of all parts add up to, each lying in the way that counts less."""
        areas = shares[self.wide.place] * up[self.high.place]
        return float(self.count @ areas.min(axis=1))


def _extents(own: Ints, count: Ints) -> _Extents:
    sizes, place = np.unique(own, return_inverse=True)
    place = place.reshape(own.shape)
    most = np.zeros(len(sizes), np.int64)
    for way in range(2):
        others = (place[:, way] != place[:, 0]) if way else np.ones(len(count), np.bool_)
        np.add.at(most, place[:, way], count * others)
    return _Extents(sizes, most, place)


def _starts(parts: _Parts, size: Pair) -> Iterator[Floats]:
    """The simple shares of widths that reach most with some simple shares of heights."""
    simple = (
        [np.array(shares) / whole for shares, whole in share_families(own.sizes.tolist(), room)]
        for own, room in ((parts.wide, size[0]), (parts.high, size[1]))
    )
    across, upright = simple
    reach = [max(parts.total(shares, up) for up in upright) for shares in across]
    order = sorted(range(len(across)), key=lambda at: -reach[at])
    yield from (across[at] for at in order[:_STARTS])


@dataclass(slots=True, eq=False)
class _Side:
    """State of one side's linear programme; lives as long as one bound is worked out."""

    own: _Extents
    count: Ints
    capacity: int
    most: Ints
    """How many of each extent stand in one row at most."""
    turning: Ints
    """Kinds that may lie either way, and count for the lesser."""
    solver: highspy.Highs
    known: set[bytes]
    pool: Pool

    @classmethod
    def of(cls, own: _Extents, parts: _Parts, capacity: int, pool: Pool) -> _Side:
        """Set a programme up: a share for each extent, and one count for each kind that turns."""
        turning = np.nonzero(
            (parts.wide.place[:, 0] != parts.wide.place[:, 1])
            | (parts.high.place[:, 0] != parts.high.place[:, 1])
        )[0]
        most = np.minimum(own.most, capacity // own.sizes)
        solver = new_solver()
        solver.setOptionValue("presolve", "off")
        solver.changeObjectiveSense(highspy.ObjSense.kMaximize)
        nothing = np.array([], np.int32), np.array([], np.float64)
        for _ in range(len(own.sizes) + len(turning)):
            solver.addCol(0.0, 0.0, 1.0, 0, *nothing)
        side = cls(own, parts.count, capacity, most, turning, solver, set(), pool)
        for at, kind in enumerate(turning.tolist()):
            for way in range(2):
                held = np.array([own.place[kind, way], len(own.sizes) + at], np.int32)
                solver.addRow(-highspy.kHighsInf, 0.0, 2, held, np.array([-1.0, 1.0]))
        for at, number in enumerate(most.tolist()):
            row = np.zeros(len(own.sizes), np.int64)
            row[at] = number
            side._add(row)
        return side

    def best_shares(self, others: Floats, place: Ints, budget: Budget) -> Floats:
        """The shares that count most, as those of the other side are settled.

        Args:
            others: Shares of the other side.
            place: Place of each kind's extent among them, by the way in which it lies.
            budget: What may be spent.
        """
        self._weigh(others, place)
        while True:
            budget.spend(_WORK_OF_ROUND)
            self.solver.run()
            held = np.array(self.solver.getSolution().col_value)[: len(self.own.sizes)]
            shares = np.clip(held, 0.0, 1.0)
            worth, fresh = self._rows_above(shares)
            if not fresh or budget.is_spent:
                return np.asarray(shares / worth, np.float64)

    def _weigh(self, others: Floats, place: Ints) -> None:
        """Write down what each share counts for."""
        costs = np.zeros(len(self.own.sizes) + len(self.turning))
        costs[len(self.own.sizes) :] = self.count[self.turning]
        fixed = np.ones(len(self.count), np.bool_)
        fixed[self.turning] = False
        np.add.at(costs, self.own.place[fixed, 0], self.count[fixed] * others[place[fixed, 0]])
        self.solver.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), costs)
        for at, kind in enumerate(self.turning.tolist()):
            for way in range(2):
                share = -float(others[place[kind, way]])
                self.solver.changeCoeff(2 * at + way, int(self.own.place[kind, way]), share)

    def _rows_above(self, shares: Floats) -> tuple[float, bool]:
        """Add rows of parts whose shares are above 1; give the most of any, and if some are new."""
        left, most, fresh = self.most.copy(), 1.0, False
        for found in range(_AT_ONCE):
            row = np.zeros(len(shares), np.int64)
            order = np.argsort(-shares / self.own.sizes, kind="stable")
            order = order[shares[order] > _FINE / len(shares)]
            worth = worth_most(
                Sack(order, self.own.sizes, left, shares), self.capacity, 0.0, self.pool, row
            )
            if not found:
                # Where not every row was looked at, nothing is known of the most: no share counts.
                most = max(1.0, worth + _FINE) if worth >= 0 else float("inf")
            if abs(worth) <= 1.0 + _FINE or not row.any():
                break
            fresh |= self._add(row)
            left = left - row
        return most, fresh

    def _add(self, row: Ints) -> bool:
        key = row.tobytes()
        if key in self.known:
            return False
        self.known.add(key)
        held = np.nonzero(row)[0].astype(np.int32)
        self.solver.addRow(-highspy.kHighsInf, 1.0, len(held), held, row[held].astype(np.float64))
        return True
