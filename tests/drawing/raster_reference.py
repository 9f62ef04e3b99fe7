"""An independent picture of bodies: which part each pixel shows, by rays cast with Embree.

The drawing's areas are rasterised at the same pixels; the two must agree away from edges.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
import trimesh

from benchleaf.drawing.bodies import Body
from benchleaf.drawing.projection import Fit, View
from benchleaf.drawing.scene import Area, Mark, Role

NOTHING = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Raster:
    """Pixels over a sheet: `columns` x `rows`, square, `step_mm` wide."""

    columns: int
    rows: int
    step_mm: float

    @property
    def centres(self) -> np.ndarray:
        """(rows * columns, 2) sheet points, row by row.

        Off the middles by a little, so that rays miss the edges of round numbers.
        """
        x = (np.arange(self.columns) + 0.5013) * self.step_mm
        y = (np.arange(self.rows) + 0.4987) * self.step_mm
        return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


def cast_ids(bodies: Sequence[Body], view: View, fit: Fit, raster: Raster) -> np.ndarray:
    """The number of the body that each pixel shows, (rows, columns), by rays through the meshes."""
    meshes = [trimesh.Trimesh(body.vertices, body.triangles, process=False) for body in bodies]
    owners = np.repeat(np.arange(len(bodies)), [len(mesh.faces) for mesh in meshes])
    whole = trimesh.util.concatenate(meshes)
    flat = (raster.centres - [fit.left, fit.base]) / [fit.scale, -fit.scale]
    rows = np.array([view.right, view.up])
    away = np.cross(rows[0], rows[1])
    away /= np.linalg.norm(away)
    far = 2 * np.linalg.norm(whole.extents) + np.abs(whole.bounds).max()
    origins = np.linalg.lstsq(rows, flat.T, rcond=None)[0].T + away * far
    hits = whole.ray.intersects_first(origins, np.broadcast_to(-away, origins.shape))
    ids = np.where(hits >= 0, owners[hits], NOTHING)
    return ids.reshape(raster.rows, raster.columns)


def drawn_ids(bodies: Sequence[Body], marks: Sequence[Mark], raster: Raster) -> np.ndarray:
    """The number of the body whose area covers each pixel's middle, (rows, columns)."""
    numbers = {body.mark: number for number, body in enumerate(bodies)}
    areas = [m for m in marks if isinstance(m, Area) and m.role in (Role.PART, Role.GHOST)]
    shapes = [shapely.Polygon(area.rings[0], area.rings[1:]) for area in areas]
    ids = np.full(raster.rows * raster.columns, NOTHING)
    points = shapely.points(raster.centres)
    for pixel, area in shapely.STRtree(shapes).query(points, predicate="intersects").T:
        ids[pixel] = numbers[areas[area].id.split("-face-")[0]]
    return ids.reshape(raster.rows, raster.columns)


def is_plain(ids: np.ndarray) -> np.ndarray:
    """Tell for each pixel whether all pixels within 1.5 of it show the same as it does."""
    padded = np.pad(ids, 1, mode="edge")
    plain = np.ones(ids.shape, dtype=bool)
    for dy in (0, 1, 2):
        for dx in (0, 1, 2):
            plain &= padded[dy : dy + ids.shape[0], dx : dx + ids.shape[1]] == ids
    return plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How far drawing and rays agree away from edges."""

    compared: int
    """Pixels compared that show a part, by the rays or in the drawing."""
    differ: int

    @property
    def share(self) -> float:
        """1.0 where every pixel agrees."""
        return 1 - self.differ / max(self.compared, 1)


def compare(
    bodies: Sequence[Body], marks: Sequence[Mark], view: View, *, fit: Fit, raster: Raster
) -> Agreement:
    """Hold a drawing's areas against rays, at pixels away from the edges that the rays see."""
    cast = cast_ids(bodies, view, fit, raster)
    drawn = drawn_ids(bodies, marks, raster)
    counted = is_plain(cast) & ((cast != NOTHING) | (drawn != NOTHING))
    return Agreement(compared=int(counted.sum()), differ=int((counted & (cast != drawn)).sum()))
