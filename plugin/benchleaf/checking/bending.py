"""A copy bent between the lines that carry it: its section, its loads, and where people sit.

Takes a box, a span and loads in the piece's axes, gives how it bends. Knows no parts and no joints.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from benchleaf.checking.beams import Beam, Bent, Support, bend
from benchleaf.checking.spans import Span, interval
from benchleaf.frames import Box

# chosen: a person's weight comes down over the length of a shoe, or of what sits on a seat.
PATCH_MM: Final = 250.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """What of a copy bends: a rectangle, or a round rod."""

    breadth_mm: float
    """Across the span, level."""
    depth_mm: float
    """Upright."""
    is_round: bool
    modulus_mpa: float

    @property
    def second_moment_mm4(self) -> float:
        """Wood Handbook FPL-GTR-282, Eq. 9-3: b h3 / 12, or pi d4 / 64."""
        if self.is_round:
            return math.pi * self.depth_mm**4 / 64
        return self.breadth_mm * self.depth_mm**3 / 12

    def stress_mpa(self, moment_n_mm: float) -> float:
        """Bending stress at its face: moment times half the depth over the second moment."""
        return moment_n_mm * self.depth_mm / 2 / self.second_moment_mm4


@dataclass(frozen=True, slots=True)
class Load:
    """A load on a beam, in the piece's axes along its span."""

    low_mm: float
    high_mm: float
    load_n: float
    is_person: bool
    """True where it stands at the worst place between, False where it is spread."""


def bend_span(
    box: Box, span: Span, loads: Sequence[Load], *, section: Section, is_fixed: bool = False
) -> Bent:
    """Bend a copy; a person stands where it sags the most."""
    low, high = interval(box, span.axis)
    held = is_fixed or span.is_cantilever
    beam = Beam(
        length_mm=high - low,
        stiffness_n_mm2=section.modulus_mpa * section.second_moment_mm4,
        supports=tuple(Support(at_mm=line.at_mm - low, is_fixed=held) for line in span.lines),
        spread=tuple(
            (load.low_mm - low, load.high_mm - low, load.load_n / (load.high_mm - load.low_mm))
            for load in loads
            if not load.is_person and load.high_mm > load.low_mm
        ),
        points=tuple(
            (load.low_mm - low, load.load_n)
            for load in loads
            if not load.is_person and load.high_mm == load.low_mm
        ),
    )
    person = next((load for load in loads if load.is_person), None)
    if person is None:
        return bend(beam)
    tried = [
        bend(replace(beam, spread=(*beam.spread, _patch(place, person.load_n, (low, high)))))
        for place in _worst_places(span, person, (low, high))
    ]
    return max(tried, key=lambda bent: bent.sag_mm)


def _patch(place_mm: float, load_n: float, ends: tuple[float, float]) -> tuple[float, float, float]:
    """A person's weight as a short spread load about a place, as far as the beam reaches."""
    low, high = ends
    size = min(PATCH_MM, high - low)
    start = min(max(place_mm - size / 2, low), high - size)
    return start - low, start + size - low, load_n / size


def _worst_places(span: Span, person: Load, ends: tuple[float, float]) -> Iterator[float]:
    """Where one load bends a beam the most: the middle of each stretch, and both ends."""
    places = [line.at_mm for line in span.lines]
    middles = [(before + after) / 2 for before, after in pairwise(places)]
    for place in (*middles, *ends):
        yield min(max(place, person.low_mm), person.high_mm)
