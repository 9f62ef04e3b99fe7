"""Cuts of different joints in one part stand clear of one another.

What:
    Two holes of different joints run into one another inside one copy, or two cuts leave a thin web
    between them.

Why:
    Dowels from two sides that meet in a leg cannot both be driven home; a thin web breaks out with
    the second cut.

Limit:
    Half of the narrower one's width, at most the shop's wall. A hole may open into a channel, as a
    mortise into a panel's groove.

Source:
    The plan's shop settings; half of the width is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from benchleaf.checking.cuts import Cut, least_beside_mm, list_cuts
from benchleaf.checking.records import Check, Voice
from benchleaf.findings import Finding
from benchleaf.forms import Bore
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import (
    Joinery,
)

Line = NDArray[np.float64]
"""A point of a centre line, mm."""
_Key = tuple[int, int, str, str, str, Fraction, Fraction]
"""Joints, roles, part, what is left and what is needed."""


def find_meeting_holes(joinery: Joinery) -> Iterator[Finding]:
    """Find cuts that meet or leave too thin a web."""
    voice = Voice(joinery.piece, "K207")
    wall_mm = joinery.piece.plan.shop.wall_mm
    found: dict[_Key, list[str]] = {}
    for mark in joinery.copies:
        for one, other in _pairs(joinery, mark):
            left = distance_mm(one, other)
            needed = min(least_beside_mm(one, wall_mm), least_beside_mm(other, wall_mm))
            if left >= needed or (left <= 0 and not (one.is_hole and other.is_hole)):
                continue
            part = voice.part_named(mark)
            key = (one.joint, other.joint, one.role, other.role, part, left, needed)
            marks = found.setdefault(key, [])
            if mark not in marks:
                marks.append(mark)
    for key, marks in found.items():
        yield _say(voice, key, marks)


def _pairs(joinery: Joinery, mark: str) -> Iterator[tuple[Cut, Cut]]:
    """Pairs of cuts of different joints within the wall of one another along the longest axis."""
    size = joinery.piece.part_of(mark).box.size
    along = max(Axis, key=lambda axis: (float(size[axis]), -axis))
    near = joinery.piece.plan.shop.wall_mm
    cuts = sorted(list_cuts(joinery, mark), key=lambda cut: cut.box.low[along])
    for index, one in enumerate(cuts):
        for other in islice(cuts, index + 1, None):
            if other.box.low[along] > one.box.high[along] + near:
                break
            if (one.joint, one.mate) != (other.joint, other.mate):
                yield (one, other) if one.joint <= other.joint else (other, one)


def distance_mm(one: Cut, other: Cut) -> Fraction:
    """The wood between two cuts, mm; 0 or less where they meet.

    Exact between boxes on one axis and between parallel bores; at a corner rounded down to 0.01.
    """
    if one.bore and other.bore:
        if _leans(one.bore) or _leans(other.bore):
            return _between_leaning(one.bore, other.bore)
        if _are_abreast(one, other):
            return _between_bores(one.bore, other.bore)
    gaps = [_gap(one.box, other.box, axis) for axis in Axis]
    apart = [gap for gap in gaps if gap > 0]
    if not apart:
        return max(gaps)
    return apart[0] if len(apart) == 1 else _root(sum(gap**2 for gap in apart))


def _gap(one: Box, other: Box, axis: Axis) -> Fraction:
    return Fraction(max(one.low[axis] - other.high[axis], other.low[axis] - one.high[axis]))


def _are_abreast(one: Cut, other: Cut) -> bool:
    """Tell whether two bores run the same way and lie side by side."""
    return one.axis == other.axis and _gap(one.box, other.box, one.axis) <= 0


def _between_bores(one: Bore, other: Bore) -> Fraction:
    square = sum(
        (
            (a - b) ** 2
            for a, b, way in zip(one.mouth, other.mouth, one.direction, strict=True)
            if not way
        ),
        start=Fraction(0),
    )
    return _root(square) - (one.diameter_mm + other.diameter_mm) / 2


def _leans(bore: Bore) -> bool:
    """Tell whether a bore runs along no axis of its part."""
    return bore.direction.count(0) < 2


def _between_leaning(one: Bore, other: Bore) -> Fraction:
    """The wood between two bores that lean, from centre line to centre line; to 0.01 below."""
    apart = segments_apart_mm(*_centre_line(one), *_centre_line(other))
    wood = apart - float(one.diameter_mm + other.diameter_mm) / 2
    return Fraction(math.floor(wood * 100), 100)


def _centre_line(bore: Bore) -> tuple[Line, Line]:
    start = np.array([float(part) for part in bore.mouth])
    way = np.array([float(part) for part in bore.direction])
    return start, start + way * float(bore.depth_mm)


def segments_apart_mm(a: Line, b: Line, c: Line, d: Line) -> float:
    """The least distance between the segments from a to b and from c to d, mm.

    Source: C. Ericson, Real-Time Collision Detection (2004), section 5.1.9, closest points of two
    segments.
    """
    along, beside, between = b - a, d - c, a - c
    one, other, cross = (float(v) for v in (along @ along, beside @ beside, along @ beside))
    lean, far = float(along @ between), float(beside @ between)
    spread = one * other - cross * cross
    s = min(max((cross * far - lean * other) / spread, 0.0), 1.0) if spread > 1e-9 else 0.0
    t = (cross * s + far) / other
    if not 0 <= t <= 1:
        t = min(max(t, 0.0), 1.0)
        s = min(max((cross * t - lean) / one, 0.0), 1.0)
    return float(np.linalg.norm(a + along * s - c - beside * t))


def _root(square: Fraction | float) -> Fraction:
    """A square root, rounded down to 0.01."""
    return Fraction(math.isqrt(math.floor(square * 10_000)), 100)


def _say(voice: Voice, key: _Key, marks: list[str]) -> Finding:
    first, second, role, other, part, left, needed = key
    path = f"joints[{max(first, second)}]"
    with_what = f"that of joints[{min(first, second)}]" if first != second else "its neighbour"
    where = f"the {other} in {part} ({', '.join(marks)})"
    what = with_what if role == other else f"the {role} of joints[{min(first, second)}]"
    remedy = f"Needed: at least {voice.show(needed)} between them. Move or shorten one."
    if left <= 0:
        return voice.error(path, f"{where} runs into {what}", remedy)
    return voice.warning(path, f"{where} leaves {voice.show(left)} to {what}", remedy)


CHECK = Check(
    code="K207",
    name="meeting_holes",
    title="Cuts of different joints in one part stand clear of one another.",
    run=find_meeting_holes,
)
