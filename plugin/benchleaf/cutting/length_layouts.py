"""Layouts of boards and rods: blanks of one stock in, what is cut from which length out.

Takes blanks that fit and their stock, gives `LengthLayout`s. A board is crosscut into lengths, and
a length is ripped into strips where several blanks fit side by side: each strip is then cut to
its own length. So a board is never ripped from end to end before it is crosscut. Its left end is
squared first, where there is wood to spare. Must not know parts or joints.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from benchleaf.cutting.blocks import Item, Way
from benchleaf.cutting.bounds import fewest_sheets
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.costs import cost_of, measure_of
from benchleaf.cutting.fitting import offers_of, usable_mm
from benchleaf.cutting.grid import Grid, common_grid
from benchleaf.cutting.length_offers import Board, buy_boards
from benchleaf.cutting.length_packing import pack_best
from benchleaf.cutting.records import Blank, Bond, LengthLayout, Measure, Proof, Run
from benchleaf.cutting.strips import make_rows
from benchleaf.reading.plan import Offer, Stock, StockKind

# chosen: half of what squares an end is the blade's own path, so that it cuts on both sides.
_KERFS_TO_SQUARE: Final = 2

Row = list[Item]
"""Blanks that lie side by side, widest first; a run of figure in its order."""
Chain = list[Row]
"""Rows that follow one another on one board; most are one row."""


def length_layouts(
    blanks: Sequence[Blank],
    stock: Stock,
    kerf_mm: Fraction,
    *,
    budget: Budget,
    bonds: Sequence[Bond] = (),
) -> tuple[tuple[LengthLayout, ...], Proof, tuple[Bond, ...]]:
    """Lay blanks out on boards or rods.

    Args:
        blanks: At least one; each fits the stock.
        stock: A board or rod.
        kerf_mm: Width of every cut.
        budget: What may be spent on saving boards.
        bonds: Among the blanks; none in two.

    Returns:
        Layouts, longest board first, then fullest. What is bought, against the least that any
        layout could need. And the bonds that no board was found for.
    """
    grid = _grid_of(blanks, stock, kerf_mm)
    kerf = grid.count(kerf_mm)
    items = _items_of(blanks, grid, kerf)
    width = grid.count(stock.width_mm) + kerf
    index = {blank.label: place for place, blank in enumerate(blanks)}
    tied = [([items[index[label]] for label in bond.labels], bond.run) for bond in bonds]
    longest = grid.count(usable_mm(stock)[0]) + kerf
    chains, unmet = _chains(tied, stock, (longest, width))
    bound_up = {item.index for chain in chains for row in chain for item in row}
    loose = [item for item in items if item.index not in bound_up]
    chains += [[row] for row in _rows(loose, stock, width)] if loose else []
    rows: dict[int, list[Chain]] = {}
    for chain in chains:
        rows.setdefault(sum(map(_length, chain)), []).append(chain)
    lengths = [long for long, own in rows.items() for _ in own]
    # Else other blanks might be ripped from one length, and only what the area takes is sure.
    is_each_a_bar = sum(map(len, chains)) == len(items)
    scale = (grid, kerf_mm)
    if stock.offers or len(stock.lengths_mm) > 1:
        boards, proof = _buy(lengths, stock, scale)
        if not is_each_a_bar:
            taken_mm = Fraction(sum(item.area for item in items), width) * grid.step_mm
            proof = replace(proof, least=min(proof.least, _least_cost(taken_mm, stock, kerf_mm)))
    else:
        boards, bound = _fewest(lengths, stock, scale, budget)
        room = (width, grid.count(max(stock.lengths_mm) - 2 * stock.trim_mm) + kerf)
        proof = _proof_of_count(stock, len(boards), items, room, bound if is_each_a_bar else 0)
    clerk = _Clerk(stock, kerf_mm, blanks, rows, frozenset(bound_up))
    return clerk.write(boards), proof, tuple(bonds[place] for place in unmet)


def _items_of(blanks: Sequence[Blank], grid: Grid, kerf: int) -> list[Item]:
    """Blanks in whole steps, grown by one kerf: (wide, long)."""
    sizes = [
        (grid.count(blank.width_mm) + kerf, grid.count(blank.length_mm) + kerf) for blank in blanks
    ]
    return [
        Item(index, (Way(wide, long, False),), wide * long)
        for index, (wide, long) in enumerate(sizes)
    ]


def _proof_of_count(
    stock: Stock, used: int, items: Sequence[Item], room: tuple[int, int], bound: int
) -> Proof:
    """The boards used, against the fewest by area and by the bound of their lengths."""
    least = fewest_sheets([[way[:2] for way in item.ways] for item in items], room)
    return Proof(
        stock=stock.name,
        measure=Measure.PIECES,
        used=Fraction(used),
        least=Fraction(max(least, bound)),
    )


def _length(row: Row) -> int:
    """What a row takes of a board, with one kerf."""
    return max(item.ways[0].high for item in row)


def _chains(
    tied: Sequence[tuple[Row, Run | None]], stock: Stock, room: tuple[int, int]
) -> tuple[list[Chain], list[int]]:
    """Rows that stay together, and the places of the bonds that no board has room for."""
    chains: list[Chain] = []
    unmet: list[int] = []
    for place, (own, run) in enumerate(tied):
        chain = [own] if run is Run.SIDE else [[item] for item in own]
        if run is None:
            chain = _rows(own, stock, room[1])
        wide = max(sum(item.ways[0].wide for item in row) for row in chain)
        if wide <= room[1] and sum(map(_length, chain)) <= room[0]:
            chains.append(chain)
        else:
            unmet.append(place)
    return chains, unmet


def _grid_of(blanks: Sequence[Blank], stock: Stock, kerf_mm: Fraction) -> Grid:
    sizes = {size for blank in blanks for size in (blank.length_mm, blank.width_mm)}
    sizes |= {*stock.lengths_mm, stock.width_mm, stock.trim_mm, kerf_mm}
    for offer in stock.offers:
        sizes |= {offer.length_mm, *(end for defect in offer.defects_mm for end in defect)}
    return common_grid(sorted(sizes))


def _buy(
    lengths: Sequence[int], stock: Stock, scale: tuple[Grid, Fraction]
) -> tuple[list[Board], Proof]:
    """The cheapest boards that can be had; of several lengths without prices, the least in all."""
    return buy_boards(lengths, replace(stock, offers=offers_of(stock)), scale)


def _least_cost(length_mm: Fraction, stock: Stock, kerf_mm: Fraction) -> Fraction:
    """What a length in all, kerfs counted in, costs at the best rate there is."""
    offers = offers_of(stock)
    measure = measure_of(offers)
    rooms = [(offer, offer.length_mm - 2 * stock.trim_mm + kerf_mm) for offer in offers]
    return length_mm * min(
        cost_of(offer, measure, offer.length_mm) / room for offer, room in rooms if room > 0
    )


def _fewest(
    lengths: Sequence[int], stock: Stock, scale: tuple[Grid, Fraction], budget: Budget
) -> tuple[list[Board], int]:
    """Boards of the lengths sold, and the fewest bars there could be."""
    grid, kerf_mm = scale
    rooms = {
        grid.count(sold - 2 * stock.trim_mm + kerf_mm): Offer(
            length_mm=sold, width_mm=stock.width_mm
        )
        for sold in stock.lengths_mm
    }
    bars, bound = pack_best(lengths, [room for room in rooms if room > 0], budget)
    return [Board(rooms[bar.capacity], ((stock.trim_mm, bar.held),)) for bar in bars], bound


def _rows(items: Sequence[Item], stock: Stock, width: int) -> list[Row]:
    """What lies side by side on one length."""
    if stock.kind is StockKind.ROD:
        return [[item] for item in items]
    rows = [list(block.items()) for block in make_rows(items, width)]
    return [sorted(row, key=lambda item: (-item.ways[0].wide, item.index)) for row in rows]


@dataclass(frozen=True, slots=True)
class _Clerk:
    """Writes boards down exactly."""

    stock: Stock
    kerf_mm: Fraction
    blanks: Sequence[Blank]
    rows: dict[int, list[Chain]]
    """Rows by the length that they take, in steps; used up as boards are written."""
    bound_up: frozenset[int]
    """Indices of blanks that are cut together: no other of their size stands for them."""

    def write(self, boards: Sequence[Board]) -> tuple[LengthLayout, ...]:
        """Write boards down, blanks of one size in their order, whichever was planned."""
        waiting: dict[tuple[Fraction, Fraction], list[Blank]] = {}
        loose = [one for at, one in enumerate(self.blanks) if at not in self.bound_up]
        for blank in reversed(loose):
            waiting.setdefault((blank.length_mm, blank.width_mm), []).append(blank)
        return tuple(
            self._board(number, board, waiting) for number, board in enumerate(boards, start=1)
        )

    def _board(
        self, number: int, board: Board, waiting: dict[tuple[Fraction, Fraction], list[Blank]]
    ) -> LengthLayout:
        placed: list[tuple[str, Fraction, Fraction]] = []
        strips: list[tuple[str, Fraction, Fraction]] = []
        at = Fraction(0)
        for start_mm, lengths in board.stretches:
            rows = [row for length in lengths for row in self._next_rows(length, waiting)]
            at = start_mm + self._squared_mm(board, rows)
            for row in rows:
                edge = Fraction(0)
                for blank in row:
                    placed.append((blank.label, at, blank.length_mm))
                    strips.append((blank.label, edge, blank.width_mm))
                    edge += blank.width_mm + self.kerf_mm
                at += max(blank.length_mm for blank in row) + self.kerf_mm
        return LengthLayout(
            stock=self.stock.name,
            number=number,
            length_mm=board.offer.length_mm,
            kerf_mm=self.kerf_mm,
            trim_mm=self.stock.trim_mm,
            placed=tuple(placed),
            offcut_mm=max(Fraction(0), board.offer.length_mm - self.stock.trim_mm - at),
            strips=() if self.stock.kind is StockKind.ROD else tuple(strips),
            is_offcut=board.offer.is_offcut,
            defects_mm=board.offer.defects_mm,
        )

    def _next_rows(
        self, length: int, waiting: dict[tuple[Fraction, Fraction], list[Blank]]
    ) -> list[list[Blank]]:
        chain = self.rows[length].pop(0)
        return [[self._blank(item, waiting) for item in row] for row in chain]

    def _blank(self, item: Item, waiting: dict[tuple[Fraction, Fraction], list[Blank]]) -> Blank:
        planned = self.blanks[item.index]
        if item.index in self.bound_up:
            return planned
        return waiting[planned.length_mm, planned.width_mm].pop()

    def _squared_mm(self, board: Board, rows: Sequence[Sequence[Blank]]) -> Fraction:
        """What is taken off a board's left end to square it, where none is trimmed anyway.

        Nothing where there is no wood to spare.
        """
        offer = board.offer
        if self.stock.kind is StockKind.ROD or self.stock.trim_mm or offer.defects_mm:
            return Fraction(0)
        taken = sum(max(blank.length_mm for blank in row) + self.kerf_mm for row in rows)
        wanted = _KERFS_TO_SQUARE * self.kerf_mm
        return wanted if taken + wanted <= offer.length_mm else Fraction(0)
