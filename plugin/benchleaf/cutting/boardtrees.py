"""Boards and rods as trees of cuts, like those of sheets: across in order, then along.

Takes one layout of lengths, gives a CutNode. Must not know blanks or machines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import Final

from benchleaf.cutting.records import CutDirection, CutNode, LengthLayout, Rectangle

# HSE 300 mm rule, as restated in machine manuals: shorter pieces are not ripped against a fence.
SHORTEST_RIP_MM: Final = 300

_Band = tuple[Fraction, Fraction, Callable[[Rectangle], CutNode]]
"""From, to, and what becomes of the piece in between."""


def board_tree(layout: LengthLayout, width_mm: Fraction) -> CutNode:
    """A board or rod as a tree of cuts: across in order from its start, then along.

    Where some length is too short to be ripped, and the board is ripped alike all along, it is
    ripped first. Cuts made on the whole board or rod are numbered first, in order along it.
    """
    segments = _segments(layout)
    signatures = {tuple((offset, width) for _, _, offset, width in held) for _, _, held in segments}
    is_short = any(length < SHORTEST_RIP_MM for _, length, _ in segments)
    ripped = any(0 < width < width_mm for held in signatures for _, width in held)
    whole = Rectangle(x=Fraction(0), y=Fraction(0), wide=layout.length_mm, high=width_mm)
    maker = _TreeMaker(layout.kerf_mm)
    if is_short and ripped and len(signatures) == 1:
        return maker.rip_then_cross(whole, segments)
    return maker.cross_then_rip(whole, segments)


_Held = tuple[str, Fraction, Fraction, Fraction]
"""Label, length, distance of the near edge from the board's edge, width."""
_Segment = tuple[Fraction, Fraction, tuple[_Held, ...]]
"""Start, length, and what is ripped from it, from the edge inwards."""


def _segments(layout: LengthLayout) -> list[_Segment]:
    across = {label: (offset, width) for label, offset, width in layout.strips}
    starts: dict[Fraction, list[_Held]] = {}
    for label, start, length in layout.placed:
        offset, width = across.get(label, (Fraction(0), Fraction(0)))
        starts.setdefault(start, []).append((label, length, offset, width))
    return [
        (start, max(held[1] for held in starts[start]), tuple(sorted(starts[start], key=_by_edge)))
        for start in sorted(starts)
    ]


def _by_edge(held: _Held) -> tuple[Fraction, str]:
    return (held[2], held[0])


@dataclass(frozen=True, slots=True)
class _Cut:
    """One cut of a row of cuts."""

    area: Rectangle
    """What it is made on."""
    at_mm: Fraction
    make: Callable[[Rectangle], CutNode] | None
    """What becomes of the piece before it; None for waste."""
    number: int


class _TreeMaker:
    """Makes the tree of one board; lives as long as that takes, to number the cuts."""

    def __init__(self, kerf_mm: Fraction) -> None:
        self._kerf = kerf_mm
        self._number = 0

    def cross_then_rip(self, area: Rectangle, segments: list[_Segment]) -> CutNode:
        ends: list[_Band] = [
            (start, start + length, partial(self._strips, held)) for start, length, held in segments
        ]
        return self._divide(area, CutDirection.ACROSS, ends)

    def rip_then_cross(self, area: Rectangle, segments: list[_Segment]) -> CutNode:
        bands: list[_Band] = []
        for index, (_, _, offset, width) in enumerate(segments[0][2]):
            column: list[_Segment] = [
                (start, length, ((held[index][0], held[index][1], Fraction(0), Fraction(0)),))
                for start, length, held in segments
            ]
            bands.append((offset, offset + width, partial(self._cross_column, column)))
        return self._divide(area, CutDirection.ALONG, bands)

    def _cross_column(self, column: list[_Segment], area: Rectangle) -> CutNode:
        return self.cross_then_rip(area, column)

    def _strips(self, held: tuple[_Held, ...], area: Rectangle) -> CutNode:
        if len(held) == 1 and held[0][3] in {0, area.high}:
            return self._trimmed(held[0], area)
        bands: list[_Band] = [
            (own[2], own[2] + own[3], partial(self._trimmed, own)) for own in held
        ]
        return self._divide(area, CutDirection.ALONG, bands)

    def _trimmed(self, held: _Held, area: Rectangle) -> CutNode:
        label, length, _, _ = held
        if length >= area.wide:
            return _leaf(label, area)
        keep: list[_Band] = [(area.x, area.x + length, partial(_leaf, label))]
        return self._divide(area, CutDirection.ACROSS, keep)

    def _divide(self, area: Rectangle, direction: CutDirection, bands: list[_Band]) -> CutNode:
        """Cut an area into bands (from, to, what becomes of it), in order from its start."""
        cuts, rest, last = self._row(area, direction, bands)
        firsts = [self._before(cut, direction) for cut in cuts]
        node = (last or partial(_leaf, ""))(rest) if rest else None
        for cut, first in zip(reversed(cuts), reversed(firsts), strict=True):
            node = CutNode(
                area=cut.area,
                blank="",
                is_turned=False,
                direction=direction,
                at_mm=cut.at_mm,
                number=cut.number,
                first=first,
                second=node,
            )
        return node or _leaf("", area)

    def _before(self, cut: _Cut, direction: CutDirection) -> CutNode | None:
        near, _ = _part(cut.area, direction, cut.at_mm, self._kerf)
        return (cut.make or partial(_leaf, ""))(near) if near else None

    def _row(
        self, area: Rectangle, direction: CutDirection, bands: list[_Band]
    ) -> tuple[list[_Cut], Rectangle | None, Callable[[Rectangle], CutNode] | None]:
        """Cuts in a row, what is left behind the last, and what becomes of that."""
        cuts: list[_Cut] = []
        rest: Rectangle | None = area
        for start, end, make in bands:
            for edge, before in ((start - self._kerf, None), (end, make)):
                if rest is None:
                    return cuts, None, None
                low, size = _extent(rest, direction)
                if before is None and start <= low:
                    continue
                if before is not None and edge - low >= size:
                    return cuts, rest, before
                self._number += 1
                cuts.append(_Cut(rest, edge - low, before, self._number))
                _, rest = _part(rest, direction, edge - low, self._kerf)
        return cuts, rest, None


def _extent(area: Rectangle, direction: CutDirection) -> tuple[Fraction, Fraction]:
    """Start and size of an area, square to a cut."""
    return (area.x, area.wide) if direction is CutDirection.ACROSS else (area.y, area.high)


def _leaf(label: str, area: Rectangle) -> CutNode:
    return CutNode(
        area=area,
        blank=label,
        is_turned=False,
        direction=None,
        at_mm=Fraction(0),
        number=0,
        first=None,
        second=None,
    )


def _part(
    area: Rectangle, direction: CutDirection, at: Fraction, kerf: Fraction
) -> tuple[Rectangle | None, Rectangle | None]:
    if direction is CutDirection.ACROSS:
        rest = area.wide - at - kerf
        near = replace(area, wide=at)
        far = replace(area, x=area.x + at + kerf, wide=rest)
    else:
        rest = area.high - at - kerf
        near = replace(area, high=at)
        far = replace(area, y=area.y + at + kerf, high=rest)
    return (near if at > 0 else None, far if rest > 0 else None)
