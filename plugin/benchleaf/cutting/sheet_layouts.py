"""Layouts of sheets: blanks of one sheet stock in, exact layouts with their trees of cuts out.

Takes blanks that fit and their stock, gives `SheetLayout`s. Reckons in whole steps inside. Must not
know parts or joints.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import floor
from typing import Final

from benchleaf.cutting.blocks import Item, Way
from benchleaf.cutting.budget import Budget
from benchleaf.cutting.costs import cost_of, measure_of
from benchleaf.cutting.drafts import Bed, draft_sheet
from benchleaf.cutting.fitting import offers_of, ways_to_lie
from benchleaf.cutting.gathering import gather
from benchleaf.cutting.grid import Grid, common_grid
from benchleaf.cutting.handling import MOST_AREA_MM2, MOST_LENGTH_MM, MOST_WIDTH_MM
from benchleaf.cutting.hauling import Haul, store_cuts
from benchleaf.cutting.records import Blank, Bond, Measure, Proof, SheetLayout
from benchleaf.cutting.sheet_choosing import lay_out_sheets
from benchleaf.cutting.sheet_sets import SheetKind
from benchleaf.cutting.sheet_writing import Drawn, write_sheets
from benchleaf.reading.plan import Offer, Stock

# What is bought comes first, then what is taken in all: the second never outweighs the first.
_FIRST: Final = 1 << 96


def sheet_layouts(  # noqa: PLR0913 - the shop's side of the stage, each by its name
    blanks: Sequence[Blank],
    stock: Stock,
    kerf_mm: Fraction,
    *,
    budget: Budget,
    haul: Haul | None = None,
    bonds: Sequence[Bond] = (),
) -> tuple[tuple[SheetLayout, ...], Proof, tuple[Bond, ...]]:
    """Lay blanks out on sheets.

    Args:
        blanks: At least one; each fits the stock.
        stock: A sheet.
        kerf_mm: Width of every cut.
        budget: What may be spent on saving sheets.
        haul: The most that can be hauled; None for any.
        bonds: Among the blanks; none in two.

    Returns:
        Layouts, fullest first; none where there are too few sheets. What is bought, against the
        least that any layout could need. And the bonds that no sheet was found for.
    """
    grid = grid_of(blanks, stock, kerf_mm)
    offers = offers_of(stock)
    beds = [
        _haul_from(bed_of(offer, stock, (grid, grid.count(kerf_mm))), haul, grid)
        for offer in offers
    ]
    every = [item_of(index, blank, stock, (grid, kerf_mm)) for index, blank in enumerate(blanks)]
    index = {blank.label: place for place, blank in enumerate(blanks)}
    tied = [(tuple(index[label] for label in bond.labels), bond.run) for bond in bonds]
    gathered = gather(every, tied, [bed.room for bed in beds], budget)
    items, named = gathered.items, [blanks[place] for place in gathered.places]
    if len(offers) == 1 and offers[0].count is None:
        drafts, bound = lay_out_sheets(items, beds[0], budget)
        drawn = [Drawn(offers[0], draft) for draft in drafts]
        proof = Proof(
            stock=stock.name,
            measure=Measure.PIECES,
            used=Fraction(len(drafts)),
            least=Fraction(bound),
        )
    else:
        drawn, proof = _buy(items, stock, beds, budget)
    unmet = tuple(bonds[place] for place in gathered.unmet)
    written = write_sheets(drawn, named, stock, (grid, kerf_mm))
    return tuple(_send_to_store(layout, haul) for layout in written), proof, unmet


def _haul_from(bed: Bed, haul: Haul | None, grid: Grid) -> Bed:
    """A bed with what can be hauled of it, in whole steps."""
    if haul is None:
        return bed
    size, area = haul.size_mm, haul.area_mm2
    return replace(
        bed,
        haul=(floor(max(size) / grid.step_mm), floor(min(size) / grid.step_mm)) if size else None,
        haul_area=None if area is None else floor(area / grid.step_mm**2),
    )


def _send_to_store(layout: SheetLayout, haul: Haul | None) -> SheetLayout:
    """A layout with its first cuts given to the store; what lies in the rack is home already."""
    if haul is None or layout.is_offcut:
        return layout
    numbers = sorted(node.number for node in store_cuts(layout.tree, haul))
    return replace(layout, store=tuple(numbers))


def _buy(
    items: Sequence[Item], stock: Stock, beds: Sequence[Bed], budget: Budget
) -> tuple[list[Drawn], Proof]:
    """Take sheets of several sizes."""
    # Loaded where it is needed: most plans have one size of sheet.
    from benchleaf.cutting.sheet_buying import buy_sheets  # noqa: PLC0415

    offers = offers_of(stock)
    measure = measure_of(offers)
    costs = [cost_of(offer, measure, offer.length_mm * offer.width_mm) for offer in offers]
    scale = common_grid(costs)
    kinds = [
        SheetKind(
            size=bed.room,
            cost=scale.count(cost) * _FIRST + bed.length * bed.width,
            most=offer.count,
        )
        for offer, bed, cost in zip(offers, beds, costs, strict=True)
    ]
    bought, bound = buy_sheets(items, kinds, budget)
    proof = Proof(
        stock=stock.name,
        measure=measure,
        used=scale.length_mm((bought.cost if bought else bound) // _FIRST),
        least=scale.length_mm(bound // _FIRST),
    )
    held = bought.sheets if bought else ()
    drawn = [Drawn(offers[place], draft_sheet(block, beds[place])) for place, block in held]
    return sorted(drawn, key=_order), proof


def _order(drawn: Drawn) -> tuple[object, ...]:
    """The rack first, then large sheets, then full ones."""
    used = sum(piece.item.area for piece in drawn.draft.walk() if piece.item is not None)
    offer = drawn.offer
    return (not offer.is_offcut, -offer.length_mm * offer.width_mm, -offer.length_mm, -used)


def bed_of(offer: Offer, stock: Stock, scale: tuple[Grid, int]) -> Bed:
    """A sheet in whole steps."""
    grid, kerf = scale
    return Bed(
        length=grid.count(offer.length_mm),
        width=grid.count(offer.width_mm),
        trim_ends=grid.count(stock.trim_mm),
        trim_edges=grid.count(stock.trim_mm),
        kerf=kerf,
        handy_area=floor(MOST_AREA_MM2 / grid.step_mm**2),
        handy_size=(floor(MOST_LENGTH_MM / grid.step_mm), floor(MOST_WIDTH_MM / grid.step_mm)),
    )


def grid_of(blanks: Sequence[Blank], stock: Stock, kerf_mm: Fraction) -> Grid:
    """The steps that measure blanks, sheets, trim and kerf."""
    sizes = {size for blank in blanks for size in (blank.length_mm, blank.width_mm)}
    sizes |= {size for offer in offers_of(stock) for size in (offer.length_mm, offer.width_mm)}
    return common_grid(sorted(sizes | {stock.trim_mm, kerf_mm}))


def item_of(index: int, blank: Blank, stock: Stock, scale: tuple[Grid, Fraction]) -> Item:
    """A blank as the planners have it: in whole steps, grown by one kerf."""
    grid, kerf_mm = scale
    kerf = grid.count(kerf_mm)
    ways = tuple(
        Way(grid.count(wide) + kerf, grid.count(high) + kerf, is_turned)
        for wide, high, is_turned in ways_to_lie(blank, stock)
    )
    spare = (blank.length_mm > blank.final_length_mm, blank.width_mm > blank.final_width_mm)
    return Item(index, ways, ways[0].wide * ways[0].high, spare)
