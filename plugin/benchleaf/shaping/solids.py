"""Shaping as solids: what it takes off a part's body, in the part's own axes, mm.

Takes shaped cuts, gives manifold3d solids. Knows no kind of shaping.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import manifold3d
import numpy as np
from manifold3d import Manifold

from benchleaf.frames import Box
from benchleaf.outlines import Point
from benchleaf.piece.solids import cut_solid, solid_of_box, solid_of_form
from benchleaf.shaping.records import ShapedCut, ShapedForm, Sweep

# chosen: what is cut off outside a kept outline reaches this far past the part, mm.
_PAST_MM = 2


def shape_solid(body: Manifold, box: Box, cuts: Iterable[ShapedCut]) -> Manifold:
    """Take what is shaped off a body.

    Args:
        body: The part before joints, in its own axes.
        box: The part, shoulder to shoulder, in the same axes.
        cuts: Its shaping.
    """
    return cut_solid(body, added=(), cut=[waste_of(cut, box) for cut in cuts])


def waste_of(cut: ShapedCut, box: Box) -> Manifold:
    """The wood that a cut takes off, and a little round it where that is outside the part."""
    solid = solid_of_shaped(cut.form)
    if not cut.keeps:
        return solid
    grown = Box(
        tuple(end - _PAST_MM for end in box.low),  # type: ignore[arg-type]
        tuple(end + _PAST_MM for end in box.high),  # type: ignore[arg-type]
    )
    return solid_of_box(grown) - solid


def solid_of_shaped(form: ShapedForm) -> Manifold:
    """A box, bore, prism or sweep as a solid."""
    return _solid_of_sweep(form) if isinstance(form, Sweep) else solid_of_form(form)


def _solid_of_sweep(sweep: Sweep) -> Manifold:
    profile = _anticlockwise(sweep.profile)
    rings = [
        [
            [float(p) + u * float(a) + v * float(b) for p, a, b in zip(*station, strict=True)]
            for u, v in profile
        ]
        for station in ((s.point, s.across, s.down) for s in sweep.stations)
    ]
    points = np.array([point for ring in rings for point in ring], dtype=np.float64)
    sides = np.array(list(_sides(sweep, profile)), dtype=np.uint64)
    solid = Manifold(manifold3d.Mesh64(points, sides))
    if solid.volume() < 0:
        solid = Manifold(manifold3d.Mesh64(points, sides[:, ::-1].copy()))
    return solid


def _anticlockwise(profile: Iterable[Point]) -> list[tuple[float, float]]:
    corners = [(float(u), float(v)) for u, v in profile]
    doubled = sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*corners, corners[0]]))
    return corners if doubled > 0 else corners[::-1]


def _sides(sweep: Sweep, profile: Sequence[tuple[float, float]]) -> Iterator[tuple[int, int, int]]:
    """Triangles between one ring and the next, and over both ends."""
    count, rings = len(sweep.profile), len(sweep.stations)
    for ring in range(rings if sweep.is_closed else rings - 1):
        here, there = ring * count, (ring + 1) % rings * count
        for corner in range(count):
            after = (corner + 1) % count
            yield here + corner, here + after, there + after
            yield here + corner, there + after, there + corner
    if sweep.is_closed:
        return
    cap = manifold3d.triangulate([np.array(profile, dtype=np.float64)])
    last = (rings - 1) * count
    for a, b, c in cap.tolist():
        yield c, b, a
        yield last + a, last + b, last + c
