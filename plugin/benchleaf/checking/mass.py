"""Mass and centre of gravity of copies, from their finished solids.

Takes a Joinery, gives a `Weight` for each copy whose material is known. A copy's solid is worked
out once for all copies that are cut alike, and carried to each one's place.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold
from numpy.typing import NDArray

from benchleaf.frames import Frame
from benchleaf.handbook.materials import find_material
from benchleaf.joinery.records import CutCopy, Joinery
from benchleaf.joinery.solids import solid_of_copy

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """How heavy something is, and where it balances, in the piece's axes."""

    mass_kg: float
    centre_mm: Point
    volume_mm3: float


def weigh_copies(joinery: Joinery) -> dict[str, Weight]:
    """Weigh every copy of a known material, by mark."""
    found: dict[str, Weight] = {}
    alike: dict[object, tuple[float, Point]] = {}
    for mark, cut in joinery.copies.items():
        material = find_material(joinery.piece.part_of(mark).stock.material)
        if material is None:
            continue
        key = _likeness(cut)
        if key not in alike:
            alike[key] = measure_solid(solid_of_copy(joinery, mark))
        volume, centre = alike[key]
        found[mark] = Weight(
            mass_kg=volume * float(material.density_kg_m3) * 1e-9,
            centre_mm=_carried(joinery.piece.copies[mark].frame, centre),
            volume_mm3=volume,
        )
    return found


def _likeness(cut: CutCopy) -> object:
    """What copies share whose solids are the same in their own axes."""
    return cut.part, tuple((feature.adds, feature.shape) for feature in cut.features)


def _carried(frame: Frame, point: Point) -> Point:
    x, y, z = frame.outward(point)
    return (float(x), float(y), float(z))


def measure_solid(solid: Manifold) -> tuple[float, Point]:
    """Volume, mm3, and centre of a solid: the sum over pyramids from one of its points.

    Each triangle of the skin makes a pyramid with a point of the solid (Gauss's theorem).
    """
    if solid.is_empty():
        return 0.0, (0.0, 0.0, 0.0)
    mesh = solid.to_mesh64()
    points: NDArray[np.float64] = np.asarray(mesh.vert_properties)[:, :3]
    corners = points[np.asarray(mesh.tri_verts)] - points.mean(axis=0)
    volumes = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6
    total = float(volumes.sum())
    middles = corners.sum(axis=1) / 4  # a pyramid's centre, its top being the origin
    centre = (volumes[:, None] * middles).sum(axis=0) / total + points.mean(axis=0)
    return total, (float(centre[0]), float(centre[1]), float(centre[2]))


def weigh_together(weights: Iterable[Weight]) -> Weight | None:
    """Weigh several things as one; None of nothing."""
    listed = list(weights)
    mass = sum(weight.mass_kg for weight in listed)
    if not mass:
        return None
    centre = np.array([np.array(w.centre_mm) * w.mass_kg for w in listed]).sum(axis=0) / mass
    return Weight(
        mass_kg=mass,
        centre_mm=(float(centre[0]), float(centre[1]), float(centre[2])),
        volume_mm3=sum(weight.volume_mm3 for weight in listed),
    )


def weigh_marks(weights: Mapping[str, Weight], marks: Iterable[str]) -> Weight | None:
    """Weigh some copies as one; None where one's material is not known."""
    listed = list(marks)
    if any(mark not in weights for mark in listed):
        return None
    return weigh_together(weights[mark] for mark in listed)
