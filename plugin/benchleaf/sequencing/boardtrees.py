"""Boards and rods as trees of cuts, like those of sheets: across in order, then along.

Takes one layout of lengths, gives a CutNode. Must not know blanks or machines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
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
    ripped first.
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
        if not bands:
            return _leaf("", area)
        low, size = (area.x, area.wide) if direction is CutDirection.ACROSS else (area.y, area.high)
        start, end, make = bands[0]
        if start > low:
            return self._cut(area, direction, max(Fraction(0), start - low - self._kerf), bands)
        if end - low >= size:
            return make(area)
        return self._cut(area, direction, end - low, bands)

    def _cut(
        self, area: Rectangle, direction: CutDirection, at: Fraction, bands: list[_Band]
    ) -> CutNode:
        self._number += 1
        number = self._number
        near, far = _part(area, direction, at, self._kerf)
        low = area.x if direction is CutDirection.ACROSS else area.y
        squares = bands[0][0] > low
        first = _leaf("", near) if squares and near else None
        if not squares and near:
            first = bands[0][2](near)
        rest = bands if squares else bands[1:]
        return CutNode(
            area=area,
            blank="",
            is_turned=False,
            direction=direction,
            at_mm=at,
            number=number,
            first=first,
            second=self._divide(far, direction, rest) if far else None,
        )


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
