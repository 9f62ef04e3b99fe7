"""Compiled loops for sheets of strips: the strips that are worth most, taken until a sheet is full.

Takes arrays of whole numbers and worths, changes the arrays that get the answer. A strip is the
row that is worth most among parts of at most its height, a sheet the stack of strips that is worth
most: Gilmore and Gomory 1965, Operations Research 13, pages 94-120 (from memory). Must not know
stock or labels.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from benchleaf.cutting.compiling import compiled
from benchleaf.cutting.length_kernel import Floats, Ints

# Worths closer than this are alike.
_LEAST: Final = 1e-9


class Lying(NamedTuple):
    """The ways in which kinds of parts lie, least height first."""

    wide: Ints
    high: Ints
    kind: Ints
    """Number of the kind of each."""


class Table(NamedTuple):
    """Room to reckon in."""

    taken: Ints
    """(n, wide + 1): how many of each are taken in a row of some length."""
    reach: Floats
    """(wide + 1,) the most that a row of some length is worth."""
    strip: Floats
    """(n,) what the strip is worth that is as high as each."""


def new_table(number: int, wide: int) -> Table:
    """Make the room for so many ways of lying on sheets so wide."""
    return Table(np.zeros((number, wide + 1), np.int64), np.zeros(wide + 1), np.zeros(number))


@compiled
def _fill_rows(lying: Lying, left: Ints, worth: Floats, room: int, table: Table) -> None:
    """Work out the best strip of every height up to what is left of a sheet's."""
    wide = table.reach.shape[0] - 1
    table.reach[:] = 0.0
    table.taken[:] = 0
    table.strip[:] = 0.0
    for at in range(lying.wide.shape[0]):
        if lying.high[at] > room:
            break
        step, most, gain = lying.wide[at], left[lying.kind[at]], worth[lying.kind[at]]
        for along in range(wide, step - 1, -1):
            best, taken, rest = table.reach[along], 0, along - step
            for number in range(1, most + 1):
                if rest < 0:
                    break
                value = table.reach[rest] + number * gain
                if value > best + _LEAST:
                    best, taken = value, number
                rest -= step
            table.reach[along], table.taken[at, along] = best, taken
        table.strip[at] = table.reach[wide]


@compiled
def _tallest(lying: Lying, high: int, table: Table) -> int:
    """The highest strip of the stack that is worth most; -1 where there is none."""
    best, top = np.zeros(high + 1), np.full(high + 1, -1)
    for room in range(1, high + 1):
        best[room] = best[room - 1]
        for at in range(lying.high.shape[0]):
            rest = room - lying.high[at]
            if rest < 0:
                break
            if table.strip[at] > 0 and best[rest] + table.strip[at] > best[room] + _LEAST:
                best[room], top[room] = best[rest] + table.strip[at], at
    found, room = -1, high
    while room > 0:
        at = top[room]
        if at < 0:
            room -= 1
            continue
        if found < 0 or lying.high[at] > lying.high[found]:
            found = at
        room -= lying.high[at]
    return int(found)


@compiled
def take_strips(
    lying: Lying, left: Ints, worth: Floats, size: tuple[int, int], work: tuple[Table, Ints]
) -> int:
    """Fill one sheet strip by strip; give the number of strips.

    Args:
        lying: Ways of lying, least height first.
        left: Parts that are left of each kind; those taken are taken off.
        worth: Of one part of each kind.
        size: Of the sheet.
        work: Room to reckon in; and (m, n), which gets how many lie which way in each strip.
    """
    table, strips = work
    room, rows = size[1], 0
    while room > 0 and rows < strips.shape[0]:
        _fill_rows(lying, left, worth, room, table)
        tallest = _tallest(lying, room, table)
        if tallest < 0:
            break
        strips[rows] = 0
        along, high = size[0], 0
        for at in range(tallest, -1, -1):
            number = table.taken[at, along]
            along -= number * lying.wide[at]
            number = min(number, left[lying.kind[at]])
            if number:
                strips[rows, at] = number
                left[lying.kind[at]] -= number
                high = max(high, lying.high[at])
        if not high:
            break
        room -= high
        rows += 1
    return rows
