"""A block on a sheet as cuts: trimmed edges first, then the strips, then the pieces of each strip.

Takes a block and the sheet's sizes in whole steps, gives a tree of cuts, and how simple it is to
cut. Of several ways to cut the same block the simplest is kept. Cuts are numbered stage by stage,
and within a stage so that a fence setting once made serves every piece that needs it. Must not know
labels or units.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import Final

from benchleaf.cutting.blocks import Block
from benchleaf.cutting.parting import ACROSS, ALONG, FOR_HAULING, Draft, Thrift, cut, part

# Stock is saved first, by those who choose layouts; then the largest piece left, then settings,
# then cuts count. Chosen: a piece is larger where it is so by a sixteenth of a sheet.
_STEPS_OF_OFFCUT: Final = 16
_CUTS_PER_STEP: Final = 1_000_000
# No layout has a hundred cuts more for one setting less.
_CUTS_PER_SETTING: Final = 100
# chosen: with a saw along a guide that is clamped for it, a cut takes three times as long.
_CUTS_PER_LARGE_CUT: Final = 3
# chosen: a blank that takes up all slips of a row is worth another setting to avoid.
_CUTS_PER_TIGHT_FIT: Final = 100
# chosen: what the store cuts is paid for, rough, and waited for: worth three settings to avoid.
_CUTS_PER_STORE_CUT: Final = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """A sheet in whole steps."""

    length: int
    """Along x."""
    width: int
    trim_ends: int
    """Taken off each end (along x)."""
    trim_edges: int
    """Taken off each edge (along y)."""
    kerf: int
    handy_area: int
    """Largest area that goes over the table saw; of more, only what is short and narrow enough."""
    handy_size: tuple[int, int]
    """(long, short) that goes over the table saw whatever its area."""
    haul: tuple[int, int] | None = None
    """(long, short) of the largest piece that can be hauled; None for any."""
    haul_area: int | None = None
    """Area of the heaviest piece that can be hauled; None for any."""

    def is_hauled(self, piece: Draft) -> bool:
        """Tell whether a piece can be hauled."""
        if self.haul_area is not None and piece.wide * piece.high > self.haul_area:
            return False
        if self.haul is None:
            return True
        long, short = max(piece.wide, piece.high), min(piece.wide, piece.high)
        return long <= self.haul[0] and short <= self.haul[1]

    def is_handy(self, piece: Draft) -> bool:
        """Tell whether a piece goes over the table saw."""
        long, short = max(piece.wide, piece.high), min(piece.wide, piece.high)
        within = long <= self.handy_size[0] and short <= self.handy_size[1]
        return within or long * short <= self.handy_area

    @property
    def room(self) -> tuple[int, int]:
        """(wide, high) left between the trimmed edges, grown by one kerf as blocks are."""
        return (
            self.length - 2 * self.trim_ends + self.kerf,
            self.width - 2 * self.trim_edges + self.kerf,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Simplicity:
    """What a layout asks of the person at the saw, and what it leaves."""

    settings: int
    """Different fence settings, trimming apart."""
    cuts: int
    large_cuts: int
    """Those of pieces that are too large for the table saw."""
    tight: int
    """Blanks at their final size that are what a row of cuts leaves, without one of their own."""
    offcut: int
    """Area of the largest piece left."""
    store_cuts: int = 0
    """Cuts of pieces that are too large to be hauled."""


def draft_sheet(block: Block, bed: Bed) -> Draft:
    """Work out the cuts that part a block from a sheet.

    Args:
        block: Fits the bed's room.
        bed: The sheet.
    """
    is_hauled = bed.haul is not None or bed.haul_area is not None
    thrifts = [one for one in Thrift if is_hauled or one not in FOR_HAULING]
    drafts = [
        _draft(block, bed, far=far, thrift=thrift) for far in _FAR_TRIMS for thrift in thrifts
    ]
    return min(drafts, key=lambda sheet: work_of([weigh(sheet, bed)], bed))


def draft_quickly(block: Block, bed: Bed) -> Draft:
    """Work out cuts that part a block from a sheet, without a look for the simplest."""
    return _draft(block, bed, far=(False, False), thrift=Thrift.CUTS)


# Whether far edge and far end are trimmed before anything else: where few blanks reach them, each
# is cut to its size with less work.
_FAR_TRIMS: Final = ((True, True), (False, True), (True, False), (False, False))


def _draft(block: Block, bed: Bed, *, far: tuple[bool, bool], thrift: Thrift) -> Draft:
    sheet = Draft(0, 0, bed.length, bed.width)
    *trimmed, kept = _trim(sheet, bed, far)
    part(kept, block, bed.kerf, thrift)
    _number_cuts(trimmed, kept)
    return sheet


def weigh(sheet: Draft, bed: Bed) -> Simplicity:
    """Tell how simple a sheet is to cut, and what it leaves."""
    cuts = [piece for piece in sheet.walk() if piece.direction]
    return Simplicity(
        settings=len({(piece.direction, piece.at) for piece in cuts if piece.stage}),
        cuts=len(cuts),
        large_cuts=sum(not bed.is_handy(piece) for piece in cuts),
        tight=sum(piece.is_tight for piece in cuts),
        store_cuts=sum(not bed.is_hauled(piece) for piece in cuts),
        offcut=max((piece.wide * piece.high for piece in sheet.walk() if piece.is_left), default=0),
    )


def work_of(weights: Sequence[Simplicity], bed: Bed) -> int:
    """Rank layouts of as many sheets: less is better, by the largest offcut, settings, then cuts.

    Args:
        weights: Of all sheets of a layout.
        bed: One sheet.
    """
    area = bed.length * bed.width
    largest = max(one.offcut for one in weights)
    work = sum(
        one.cuts
        + (_CUTS_PER_LARGE_CUT - 1) * one.large_cuts
        + _CUTS_PER_SETTING * one.settings
        + _CUTS_PER_TIGHT_FIT * one.tight
        + _CUTS_PER_STORE_CUT * one.store_cuts
        for one in weights
    )
    step = largest * _STEPS_OF_OFFCUT // area
    # Where all else is alike, the larger piece after all.
    return (work - _CUTS_PER_STEP * step) * area - largest


def _trim(sheet: Draft, bed: Bed, far: tuple[bool, bool]) -> list[Draft]:
    """Trim edges and ends; give the pieces that were cut, and last the piece between the cuts."""
    pieces = [sheet]
    sides = ((ALONG, bed.trim_edges, far[0]), (ACROSS, bed.trim_ends, far[1]))
    for direction, trim, is_far_trimmed in sides:
        if trim:
            _, beyond = cut(pieces[-1], direction, trim - bed.kerf, bed.kerf)
            pieces += [beyond] if beyond else []
        if trim and is_far_trimmed:
            near, _ = cut(pieces[-1], direction, pieces[-1].extent(direction) - trim, bed.kerf)
            pieces += [near] if near else []
    return pieces


def _number_cuts(trimmed: Sequence[Draft], kept: Draft) -> None:
    """Number the cuts: trimming, then stage by stage, in each stage the widest setting first."""
    for number, piece in enumerate(trimmed, start=1):
        piece.number = number
    if kept.direction is None:
        return
    kept.stage = 1
    # Stage, setting, place on the sheet; the count keeps pieces themselves from being compared.
    ready = [(1, -kept.at, kept.y, kept.x, 0, kept)]
    number = len(trimmed)
    while ready:
        piece = heappop(ready)[-1]
        number += 1
        piece.number = number
        for child in (piece.first, piece.second):
            if child is not None and child.direction is not None:
                child.stage = piece.stage + (child.direction is not piece.direction)
                count = 2 * number + (child is piece.second)
                heappush(ready, (child.stage, -child.at, child.y, child.x, count, child))
