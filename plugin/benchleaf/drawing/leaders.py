"""Leaders that keep out of each other's way.

Takes for each balloon its centre and the places where its dot may lie, gives dots and centres,
paired anew where leaders would cross, run through balloons or pass close by dots. Must not know
marks.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from benchleaf.drawing.bodies import Flags, Floats

# chosen: clear room between a leader and another's balloon, and another's dot, mm.
BALLOON_CLEAR = 0.6
DOT_CLEAR = 1.5
# chosen: a leader in trouble counts as so much longer, mm: more than any leader on a sheet.
TROUBLE_MM = 1000.0
# chosen: rounds of improvement; most pictures settle in two.
ROUNDS = 6


def settle(spots: Sequence[Floats], seats: Floats, radius: float) -> tuple[Floats, Floats]:
    """Choose a dot for each balloon, and exchange balloons, until no leader is in trouble.

    Args:
        spots: For each balloon, (k, 2) places where its dot may lie, mm.
        seats: (n, 2) centres of balloons, mm.
        radius: Of the balloons, mm.

    Returns:
        (n, 2) dots and (n, 2) centres. No two leaders cross; those that pass close by a balloon or
        another's dot are as few as was found.
    """
    dots = np.array([_nearest(spot, seat) for spot, seat in zip(spots, seats, strict=True)])
    seats = seats.copy()
    for _ in range(ROUNDS):
        before = dots.copy(), seats.copy()
        for i in range(len(spots)):
            dots[i], _cost = _best_dot(i, spots[i], dots, seats, radius=radius)
        _exchange(spots, dots, seats, radius=radius)
        if all(np.array_equal(a, b) for a, b in zip(before, (dots, seats), strict=True)):
            break
    return dots, _uncrossed(dots, seats)


def _nearest(spots: Floats, seat: Floats) -> Floats:
    return np.asarray(spots[np.linalg.norm(spots - seat, axis=1).argmin()])


def _best_dot(
    i: int, spots: Floats, dots: Floats, seats: Floats, *, radius: float
) -> tuple[Floats, float]:
    """The place for dot `i` with least trouble, then the shortest leader, and its cost in mm."""
    others = np.arange(len(dots)) != i
    ends = np.broadcast_to(seats[i], spots.shape)
    trouble = _trouble(spots, ends, dots[others], seats[others], radius=radius).sum(axis=1)
    costs = trouble * TROUBLE_MM + np.linalg.norm(spots - ends, axis=1)
    best = int(costs.argmin())
    return spots[best], float(costs[best])


def _exchange(spots: Sequence[Floats], dots: Floats, seats: Floats, *, radius: float) -> None:
    """Exchange the balloons of leaders in each other's way wherever that makes things better."""
    troubled = _trouble(dots, seats, dots, seats, radius=radius)
    np.fill_diagonal(troubled, val=False)
    for i, j in np.argwhere(np.triu(troubled | troubled.T)):
        pair = [int(i), int(j)]
        before = dots[pair].copy(), seats[pair].copy()
        cost = sum(_best_dot(k, dots[[k]], dots, seats, radius=radius)[1] for k in pair)
        seats[pair] = seats[pair[::-1]]
        for k in pair:
            dots[k], _cost = _best_dot(k, spots[k], dots, seats, radius=radius)
        changed = sum(_best_dot(k, dots[[k]], dots, seats, radius=radius)[1] for k in pair)
        if changed >= cost:
            dots[pair], seats[pair] = before


def _uncrossed(dots: Floats, seats: Floats) -> Floats:
    """Exchange balloons until no leaders cross, whatever else is in the way.

    Two leaders that cross are longer together than the two that join their ends the other way, so
    the sum of lengths falls with every exchange and the end is reached. The count only guards
    against rounding where leaders lie in one line.
    """
    seats = seats.copy()
    for _ in range(len(seats) ** 2):
        pairs = np.argwhere(np.triu(_cross(dots, seats, dots, seats)))
        if not len(pairs):
            break
        i, j = pairs[0]
        seats[[i, j]] = seats[[j, i]]
    return seats


def _trouble(a: Floats, b: Floats, dots: Floats, seats: Floats, *, radius: float) -> Flags:
    """Tell for n leaders from a to b which of m others each is in trouble with: (n, m)."""
    crossing = _cross(a, b, dots, seats)
    crowds_balloon = (_distances(seats, a, b) < radius + BALLOON_CLEAR).T
    crowds_dot = (_distances(dots, a, b) < DOT_CLEAR).T
    is_crowded = _distances(a, dots, seats) < DOT_CLEAR
    return np.asarray(crossing | crowds_balloon | crowds_dot | is_crowded)


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> Flags:
    """Tell which of n lines a-b crosses which of m lines c-d: (n, m)."""
    ab, cd = (b - a)[:, None], (d - c)[None, :]
    sides = [_turn(ab, point[None, :] - a[:, None]) for point in (c, d)]
    others = [_turn(cd, point[:, None] - c[None, :]) for point in (a, b)]
    return np.asarray((sides[0] * sides[1] < 0) & (others[0] * others[1] < 0))


def _turn(u: Floats, v: Floats) -> Floats:
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])


def _distances(points: Floats, a: Floats, b: Floats) -> Floats:
    """Distances from n points to m straight lines a-b, (n, m), mm."""
    run = b - a
    squares = np.maximum(np.einsum("ij,ij->i", run, run), 1e-12)
    rise = points[:, None] - a[None, :]
    share = np.clip(np.einsum("nmk,mk->nm", rise, run) / squares, 0, 1)
    return np.asarray(np.linalg.norm(rise - share[..., None] * run, axis=2))
