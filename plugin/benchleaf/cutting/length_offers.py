"""Boards and rods from what can be had: sold lengths with prices, and the rack with its defects.

Takes whole-number lengths and a stock's offers, gives the boards taken, each with the stretches
that something is cut from. Must not know blanks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.cutting.costs import cost_of, measure_of
from benchleaf.cutting.grid import Grid, common_grid
from benchleaf.cutting.records import Proof
from benchleaf.reading.plan import Offer, Stock


@dataclass(frozen=True, slots=True)
class Board:
    """A board or rod taken."""

    offer: Offer
    stretches: tuple[tuple[Fraction, tuple[int, ...]], ...]
    """Where each stretch that is used begins, mm, and the lengths cut from it, in steps."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch of a board, clear of defects and trimmed ends."""

    offer: Offer
    copy: int
    """Number of the board among its like; 0 where nothing tells them apart."""
    start_mm: Fraction
    length_mm: Fraction
    most: int | None


def buy_boards(
    lengths: Sequence[int], stock: Stock, scale: tuple[Grid, Fraction]
) -> tuple[list[Board], Proof]:
    """Look for the cheapest boards that hold all lengths.

    Args:
        lengths: In steps, grown by one kerf.
        stock: With offers.
        scale: Steps, and the kerf.

    Returns:
        Boards, none where there are too few; and what they cost, against the least there could be.
    """
    # Loaded where it is needed: most plans have one length of board.
    from benchleaf.cutting.length_buying import BarKind, buy_bars  # noqa: PLC0415

    grid, kerf_mm = scale
    measure = measure_of(stock.offers)
    stretches = [one for offer in stock.offers for one in _stretches(offer, stock, kerf_mm)]
    costs = [cost_of(one.offer, measure, one.offer.length_mm) for one in stretches]
    prices = common_grid(costs)
    kinds = [
        BarKind(
            capacity=grid.count(one.length_mm + kerf_mm), cost=prices.count(cost), most=one.most
        )
        for one, cost in zip(stretches, costs, strict=True)
    ]
    bought = buy_bars(lengths, kinds)
    proof = Proof(
        stock=stock.name,
        measure=measure,
        used=prices.length_mm(bought.cost if bought else 0),
        least=prices.length_mm(bought.bound if bought else 0),
    )
    held = [(stretches[place], own) for place, own in bought.bars] if bought else []
    return _boards(held), proof


def _stretches(offer: Offer, stock: Stock, kerf_mm: Fraction) -> Iterator[_Stretch]:
    """The stretches of an offer; boards with defects are told apart one by one."""
    start, end = stock.trim_mm, offer.length_mm - stock.trim_mm
    if not offer.defects_mm:
        if end > start:
            yield _Stretch(offer, 0, start, end - start, offer.count)
        return
    for copy in range(1, (offer.count or 1) + 1):
        at = start
        for near, far in (*offer.defects_mm, (end, end)):
            if min(near, end) > at:
                yield _Stretch(offer, copy, at, min(near, end) - at, 1)
            # The cut before a defect takes its kerf from it.
            at = max(at, far, near + kerf_mm)


def _boards(held: Sequence[tuple[_Stretch, tuple[int, ...]]]) -> list[Board]:
    """Put the stretches of one board together."""
    boards: list[Board] = []
    cut_up: dict[tuple[Offer, int], list[tuple[Fraction, tuple[int, ...]]]] = {}
    for stretch, lengths in held:
        own = (stretch.start_mm, lengths)
        if stretch.copy:
            cut_up.setdefault((stretch.offer, stretch.copy), []).append(own)
        else:
            boards.append(Board(stretch.offer, (own,)))
    boards += [Board(offer, tuple(sorted(own))) for (offer, _), own in cut_up.items()]
    return sorted(boards, key=_order)


def _order(board: Board) -> tuple[object, ...]:
    """The rack first, then long boards, then full ones."""
    used = sum(sum(lengths) for _, lengths in board.stretches)
    longest = [lengths for _, lengths in board.stretches]
    return (not board.offer.is_offcut, -board.offer.length_mm, -used, longest)
