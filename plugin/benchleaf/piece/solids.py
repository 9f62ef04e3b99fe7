"""Boxes and bores to solids: where exact rationals become floats.

Takes a box and its features in one frame, gives a manifold3d solid in the same frame, mm. Material
added comes before material cut, so that a hole through a tenon goes through.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import product

import manifold3d
import numpy as np
from manifold3d import Manifold, Mesh64, triangulate

from benchleaf.forms import Bore, Form, Prism
from benchleaf.frames import Box, Frame, Number, Vector
from benchleaf.outlines import corners_of

# chosen: sides of a bore up to each diameter, mm; all draw as round, and screw holes, the smallest
# and the most, with the fewest. None turns by more than 20 degrees, so that no facet shows an edge.
BORE_SIDES = ((8.0, 20), (20.0, 24), (math.inf, 32))


def solid_of_box(box: Box) -> Manifold:
    """Make a box solid.

    Its corners are the exact ones rounded once: moving a cube to its place would round twice, and
    leave a skin of 1e-15 mm where a cut ends flush with a face.
    """
    sides = [(float(low), float(high)) for low, high in zip(box.low, box.high, strict=True)]
    return Manifold.hull_points(np.array(list(product(*sides))))


def solid_of_cylinder(
    mouth: Vector, direction: Vector, *, depth_mm: float, diameters_mm: tuple[float, float]
) -> Manifold:
    """Make a cylinder or cone frustum from a mouth along a unit direction.

    Its sides stand outside the true circle by half the sagitta, so that the volume is the circle's.
    """
    widest = max(diameters_mm)
    sides = next(sides for most_mm, sides in BORE_SIDES if widest <= most_mm)
    # The area of a regular n-gon of radius r is n/2 r^2 sin(2 pi/n); match it to pi r^2.
    grow = math.sqrt(2 * math.pi / (sides * math.sin(2 * math.pi / sides)))
    radii = [diameter / 2 * grow for diameter in diameters_mm]
    upright = Manifold.cylinder(depth_mm, radii[0], radii[1], sides)
    return upright.transform(_standing_at(mouth, direction))


def solid_of_prism(
    corners: Sequence[tuple[Number, Number]], depth_mm: Number, frame: Frame
) -> Manifold:
    """Draw a figure out along a frame's third axis.

    Every corner is rounded once, from where it truly lies, as those of a box are: a cut that ends
    flush with a face leaves no skin there.

    Args:
        corners: The figure in the frame's first two axes, mm, either way round, not closed; it does
            not cross itself.
        depth_mm: How far it is drawn out; negative goes against the axis.
        frame: In the axes that the solid is wanted in; it may be left-handed.
    """
    flat = np.array([[float(u), float(v)] for u, v in corners])
    after = np.roll(flat, -1, axis=0)
    is_clockwise = float((flat[:, 0] * after[:, 1] - flat[:, 1] * after[:, 0]).sum()) < 0
    listed = list(reversed(corners)) if is_clockwise else list(corners)
    ends: tuple[Number, Number] = (Fraction(0), depth_mm)
    points = [frame.outward((u, v, end)) for end in ends for u, v in listed]
    faces = _faces_of_prism(flat[::-1] if is_clockwise else flat)
    if frame.is_mirrored != (depth_mm < 0):
        faces = faces[:, ::-1]
    placed = np.array([[float(part) for part in point] for point in points])
    return Manifold(Mesh64(placed, np.ascontiguousarray(faces, dtype=np.uint64)))


def _faces_of_prism(flat: np.ndarray) -> np.ndarray:
    """Triangles of a prism, counter-clockwise from outside: corners below, then those above."""
    count = len(flat)
    cap = np.asarray(triangulate([flat]), dtype=np.int64)
    here = np.arange(count)
    there = np.roll(here, -1)
    low = np.column_stack([here, there, there + count])
    high = np.column_stack([here, there + count, here + count])
    return np.concatenate([cap[:, ::-1], cap + count, low, high])


def solid_of_pin(shape: Form) -> Manifold:
    """Make what is added solid; a round pin goes into its hole however either is turned.

    Corners of the pin's figure stand on the circle that fits between the flats of the hole's.
    """
    if not isinstance(shape, Bore):
        return solid_of_form(shape)
    sides = next(own for most_mm, own in BORE_SIDES if shape.diameter_mm <= most_mm)
    within = float(shape.diameter_mm) * math.cos(math.pi / sides)
    return solid_of_cylinder(
        shape.mouth,
        shape.direction,
        depth_mm=float(shape.depth_mm),
        diameters_mm=(within, within),
    )


def solid_of_form(shape: Form) -> Manifold:
    """Make a box, a bore or a prism solid."""
    if isinstance(shape, Box):
        return solid_of_box(shape)
    if isinstance(shape, Prism):
        return solid_of_prism(corners_of(shape.outline), shape.depth_mm, shape.frame)
    return solid_of_cylinder(
        shape.mouth,
        shape.direction,
        depth_mm=float(shape.depth_mm),
        diameters_mm=(float(shape.diameter_mm), float(shape.end_diameter_mm)),
    )


def _standing_at(mouth: Vector, direction: Vector) -> np.ndarray:
    """The 3 x 4 matrix that takes +z from the origin to a direction from a mouth."""
    axes = axes_along(np.array([float(part) for part in direction]))
    return np.column_stack([*axes, [float(part) for part in mouth]])


def axes_along(direction: np.ndarray) -> np.ndarray:
    """Right-handed axes as rows, (3, 3), the last along a unit direction."""
    # chosen: the first is square to whichever of the outer axes the direction leans on least.
    least = np.eye(3)[int(np.argmin(np.abs(direction)))]
    u = np.cross(least, direction)
    u /= np.linalg.norm(u)
    return np.array([u, np.cross(direction, u), direction])


def cut_solid(body: Manifold, added: Iterable[Manifold], cut: Iterable[Manifold]) -> Manifold:
    """Join what is added to a body, then take away what is cut."""
    whole = Manifold.batch_boolean([body, *added], manifold3d.OpType.Add)
    tools = list(cut)
    if not tools:
        return whole
    return Manifold.batch_boolean([whole, *tools], manifold3d.OpType.Subtract)


def place_solid(solid: Manifold, frame: Frame) -> Manifold:
    """Move a solid from a frame's own axes to the outer ones; a mirrored frame mirrors it."""
    columns = [[float(part) for part in axis] for axis in frame.axes]
    columns.append([float(part) for part in frame.origin])
    return solid.transform(np.array(columns).T)
