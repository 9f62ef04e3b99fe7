"""From wood to paper along one axis of a view, with a break in what is long and plain.

Takes places in mm of wood, gives mm on paper. Must not know views or what stands at the places.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from benchleaf.drawing.orthographic import Segment
from benchleaf.drawing.scene import Point

# chosen: the two break lines stand 2.5 mm apart, five wide lines, and read as a gap.
BREAK_GAP_MM: Final = 2.5
# chosen: each side of a break shows 5 mm of wood at least, so that lines are seen to run on.
_LEAST_STUB_MM: Final = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruler:
    """Places along one axis, to paper. Broken rulers leave out stretches of wood."""

    scale: float
    """Paper for wood."""
    kept: tuple[Point, ...]
    """Stretches of wood shown, (low, high) mm, in order."""
    starts: tuple[float, ...]
    """Where each stretch begins on paper, mm."""

    def at(self, place: float) -> float:
        """A place on paper, mm; places left out fall into the gap."""
        before = 0
        for index, (low, _) in enumerate(self.kept):
            if place >= low:
                before = index
        low, high = self.kept[before]
        on_paper = self.starts[before] + (place - low) * self.scale
        if place > high and before + 1 < len(self.kept):
            following = self.kept[before + 1][0]
            share = (place - high) / (following - high)
            return self.starts[before] + (high - low) * self.scale + share * BREAK_GAP_MM
        return on_paper

    @property
    def low(self) -> float:
        """Where it begins on paper."""
        return self.starts[0]

    @property
    def high(self) -> float:
        """Where it ends on paper."""
        low, high = self.kept[-1]
        return self.starts[-1] + (high - low) * self.scale

    @property
    def breaks(self) -> tuple[Point, ...]:
        """Gaps on paper, (low, high)."""
        ends = [
            start + (high - low) * self.scale
            for start, (low, high) in zip(self.starts, self.kept, strict=True)
        ]
        return tuple(zip(ends[:-1], self.starts[1:], strict=True))

    def shows(self, place: float) -> bool:
        """Tell whether a place is not in a stretch left out between others."""
        return len(self.kept) == 1 or any(low <= place <= high for low, high in self.kept)

    def clip(self, segment: Segment) -> Iterator[Segment]:
        """The parts of a segment, first coordinate along the ruler, that are shown."""
        (x0, y0), (x1, y1) = segment
        if len(self.kept) == 1:
            yield segment
            return
        for low, high in self.kept:
            if x0 == x1:
                if low <= x0 <= high:
                    yield segment
                continue
            a, b = sorted(((low - x0) / (x1 - x0), (high - x0) / (x1 - x0)))
            first, last = max(a, 0.0), min(b, 1.0)
            if first < last:
                yield (
                    (x0 + first * (x1 - x0), y0 + first * (y1 - y0)),
                    (x0 + last * (x1 - x0), y0 + last * (y1 - y0)),
                )


def plain_ruler(low: float, high: float, scale: float) -> Ruler:
    """A ruler without breaks."""
    return Ruler(scale=scale, kept=((low, high),), starts=(low * scale,))


def broken_ruler(stations: Iterable[float], scale: float, room: float) -> Ruler | None:
    """A ruler that leaves out the middle of long plain stretches, to fit a length on paper.

    Args:
        stations: Places that must be shown, the ends among them.
        scale: Paper for wood.
        room: Length on paper, mm.

    Returns:
        The ruler, or None where even the shortest stubs do not fit.
    """
    spans = list(pairwise(sorted(set(stations))))
    most = _longest_span(sorted((high - low) * scale for low, high in spans), room)
    if most is None:
        return None
    kept: list[Point] = []
    for low, high in spans:
        if (high - low) * scale <= most:
            pieces = [(low, high)]
        else:
            stub = (most - BREAK_GAP_MM) / 2 / scale
            pieces = [(low, low + stub), (high - stub, high)]
        for piece in pieces:
            if kept and kept[-1][1] == piece[0]:
                kept[-1] = (kept[-1][0], piece[1])
            else:
                kept.append(piece)
    return Ruler(scale=scale, kept=tuple(kept), starts=tuple(_starts(kept, scale)))


def _longest_span(lengths: Sequence[float], room: float) -> float | None:
    """How long a span may be on paper, so that all fit: those that are longer are cut to it."""
    left = room
    for index, length in enumerate(lengths):
        share = left / (len(lengths) - index)
        if length > share:
            return share if share >= 2 * _LEAST_STUB_MM + BREAK_GAP_MM else None
        left -= length
    return lengths[-1] if lengths else None


def _starts(kept: Sequence[Point], scale: float) -> Iterator[float]:
    at = kept[0][0] * scale
    for low, high in kept:
        yield at
        at += (high - low) * scale + BREAK_GAP_MM
