"""A copy's finished solid: its blank with joints added and cut.

Takes a box and features in one frame, gives a manifold3d solid in that frame, mm.
"""

from __future__ import annotations

from collections.abc import Iterable

from manifold3d import Manifold

from benchleaf.frames import FACES, Box
from benchleaf.joinery.records import (
    Feature,
    Joinery,
)
from benchleaf.piece.records import Part, own_box
from benchleaf.piece.solids import (
    cut_solid,
    place_solid,
    solid_of_box,
    solid_of_cylinder,
    solid_of_form,
    solid_of_pin,
)
from benchleaf.reading.plan import StockKind
from benchleaf.shaping.records import ShapedCut
from benchleaf.shaping.solids import shape_solid


def solid_of(body: Manifold, features: Iterable[Feature]) -> Manifold:
    """Add and cut features on a body; what is added comes first, so that holes go through it."""
    listed = tuple(features)
    return cut_solid(
        body,
        added=[solid_of_pin(f.shape) for f in listed if f.adds],
        cut=[solid_of_form(f.shape) for f in listed if not f.adds],
    )


def solid_of_copy(joinery: Joinery, mark: str) -> Manifold:
    """The finished solid of a copy, in the part's own axes."""
    cut = joinery.copies[mark]
    return solid_of(shaped_body(joinery.piece.parts[cut.part], cut.shaping), cut.features)


def placed_solid(joinery: Joinery, mark: str) -> Manifold:
    """The finished solid of a copy where it stands, in the piece's axes."""
    return place_solid(solid_of_copy(joinery, mark), joinery.piece.copies[mark].frame)


def shaped_body(part: Part, shaping: Iterable[ShapedCut]) -> Manifold:
    """A part as it is before its joints, with shaping done; what joints add is square still."""
    listed = tuple(shaping)
    body = solid_of_blank(part)
    return shape_solid(body, own_box(part), listed) if listed else body


def solid_of_blank(part: Part) -> Manifold:
    """A part shoulder to shoulder, in its own axes: a box, or a cylinder from a rod, trimmed."""
    whole = _untrimmed(part)
    for trim in part.trims:
        inward = tuple(-float(way) for way in trim.normal)
        whole = whole.trim_by_plane((inward[0], inward[1], inward[2]), -float(trim.offset_mm))
    return whole


def _untrimmed(part: Part) -> Manifold:
    """A part with wood to spare at the ends that are trimmed, so that the planes cut them whole."""
    low, high = list(own_box(part).low), list(own_box(part).high)
    for trim in part.trims:
        axis, is_high = FACES[trim.face]
        (high if is_high else low)[axis] += _SPARE_MM if is_high else -_SPARE_MM
    if part.stock.kind is not StockKind.ROD:
        return solid_of_box(Box((low[0], low[1], low[2]), (high[0], high[1], high[2])))
    along = part.grain_axis
    mouth = [size / 2 for size in own_box(part).size]
    mouth[along] = low[along]
    direction = [1 if axis == along else 0 for axis in range(3)]
    diameter = float(part.stock.thickness_mm)
    return solid_of_cylinder(
        (mouth[0], mouth[1], mouth[2]),
        (direction[0], direction[1], direction[2]),
        depth_mm=float(high[along] - low[along]),
        diameters_mm=(diameter, diameter),
    )


# chosen: any length that is not lost in rounding.
_SPARE_MM = 1
