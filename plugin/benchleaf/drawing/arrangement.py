"""From visible stretches to areas and strokes: the planar arrangement of a picture.

Takes straight stretches on the sheet and a way to ask what is seen at a point; gives the areas
that they bound, each with the face that fills it, and the lines joined to long strokes, told apart
by what lies at their two sides. Knows nothing of space.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from benchleaf.drawing.bodies import Flags, Floats, Ints

# chosen: corners snap to this grid, mm on the sheet: far below the finest line, 0.13 mm (ISO
# 128-2).
GRID = 0.002
# chosen: stretches reach this much further at both ends, mm, so that they do cross what they end
# on.
REACH = GRID
# chosen: bends less than this are rounding by the grid, mm.
STRAIGHT = 2 * GRID
# chosen: loose ends up to this long come from `REACH`, mm.
SHORTEST = 5 * GRID
# chosen: how far beside a line to look for what it parts, mm on the sheet.
ASIDE = 5 * GRID
# chosen: a smooth surface that stands this far before itself shows an edge, mm of the piece.
STEP_MM = 2.0
# What lies beside an edge where no cell does, by numbers that no cell and no face has.
NOTHING, LOOSE = -1, -2
# ISO 128-2, from memory: lines stand at least 0.7 mm apart; wide ones nearer than that run
# together.
NARROW = 0.7
# chosen: lines that meet within a thousandth of a radian run on; shorter ones get what the grid
# adds.
SAME_RAD = 1e-3

Cells = NDArray[np.object_]
"""Polygons."""
Look = Callable[[Floats], tuple[Ints, Floats]]
"""Points on the sheet, (n, 2), to the faces seen there, -1 for none, and how near they are, mm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fill:
    """A visible area of one face."""

    face: int
    shape: shapely.Polygon
    """On the sheet, mm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Arrangement:
    """The picture, taken apart."""

    fills: tuple[Fill, ...]
    """Sorted by face."""
    outlines: tuple[Floats, ...]
    """(n, 2) runs of lines between owners, or between an owner and nothing, to draw wide."""
    inner: tuple[Floats, ...]
    """(n, 2) runs of lines within an owner, and of outlines too near each other to be wide."""
    doubtful_mm2: float
    """Area of cells in which two looks saw different faces: 0 where every outline closes."""
    open_mm: float
    """Length of lines that bound no cell: 0 where every outline closes."""


def arrange(stretches: Floats, look: Look, owner_of: Callable[[Ints], Ints]) -> Arrangement:
    """Build the arrangement of visible stretches.

    Args:
        stretches: (n, 2, 2) begin and end of each, mm on the sheet.
        look: What is seen at a point.
        owner_of: Faces to bodies; negative numbers to -1.
    """
    edges = _noded(stretches)
    cells = shapely.get_parts(shapely.polygonize(list(shapely.linestrings(edges))))
    faces, doubtful = _labels(cells, look)
    nodes, beside = _sides(edges, cells)
    sides = np.append(faces, [LOOSE, NOTHING])[beside]
    is_real, is_loose = _sorted_out(edges, sides, look)
    owners = owner_of(sides)
    roomy = np.append(_widths(cells), [np.inf, np.inf])[beside].min(axis=1) > NARROW
    is_outline = is_real & ~is_loose & roomy & (owners[:, 0] != owners[:, 1])
    is_inner = is_real & ~is_outline
    return Arrangement(
        fills=_fills(cells, faces),
        outlines=_strokes(edges[is_outline], nodes[is_outline]),
        inner=_strokes(edges[is_inner], nodes[is_inner]),
        doubtful_mm2=doubtful,
        open_mm=float(np.linalg.norm(np.diff(edges[is_real & is_loose], axis=1), axis=2).sum()),
    )


def _sorted_out(edges: Floats, sides: Ints, look: Look) -> tuple[Flags, Flags]:
    """Tell which edges part two faces, or two depths of one, and which bound no cell.

    What parts nothing is an edge that lies in a face from beneath, such as the end of a bore that
    just meets the far side; it is not drawn.
    """
    run = edges[:, 1] - edges[:, 0]
    length = np.linalg.norm(run, axis=1)
    is_loose = sides.max(axis=1) == LOOSE
    is_real = (sides[:, 0] != sides[:, 1]) & ~is_loose
    asked = np.flatnonzero(~is_real & (length > SHORTEST))
    aside = np.stack([-run[asked, 1], run[asked, 0]], axis=1) / length[asked, None] * ASIDE
    middle = edges[asked].mean(axis=1)
    (left, near), (right, far) = (look(middle + aside), look(middle - aside))
    is_real[asked] = (left != right) | (np.abs(near - far) > STEP_MM)
    return is_real, is_loose


def _noded(stretches: Floats) -> Floats:
    """Split stretches where they meet, on the grid, each piece once: (n, 2, 2)."""
    run = stretches[:, 1] - stretches[:, 0]
    length = np.linalg.norm(run, axis=1, keepdims=True)
    more = np.divide(run, length, out=np.zeros_like(run), where=length > 0) * REACH
    # Ends that meet in one point of the grid need no reaching; it would only cut them small.
    nodes = _numbered(stretches)
    alone = (np.bincount(nodes.ravel())[nodes] == 1)[:, :, None]
    longer = stretches + np.stack([-more, more], axis=1) * alone
    lines = shapely.union_all(shapely.linestrings(longer), grid_size=GRID)
    edges = _pieces(shapely.get_parts(lines))[0]
    return edges[~_is_stub(edges)]


def _is_stub(edges: Floats) -> Flags:
    """Tell which edges are what stretches reach too far: short, with one end loose."""
    nodes = _numbered(edges)
    is_short = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1) <= SHORTEST
    return np.asarray(is_short & (np.bincount(nodes.ravel())[nodes] == 1).any(axis=1))


def _numbered(edges: Floats) -> Ints:
    """Number the distinct ends of edges, (n, 2)."""
    spots = np.rint(edges.reshape(-1, 2) / GRID).astype(np.int64)
    keys = spots[:, 0] * (1 << 32) + spots[:, 1]
    return np.asarray(np.unique(keys, return_inverse=True)[1], dtype=np.intp).reshape(-1, 2)


def _pieces(lines: object) -> tuple[Floats, Ints]:
    """Straight pieces of lines or rings, (n, 2, 2), and the number of the line of each."""
    points, which = shapely.get_coordinates(lines, return_index=True)
    follows = which[1:] == which[:-1]
    return np.stack([points[:-1], points[1:]], axis=1)[follows], which[1:][follows]


def _labels(cells: Cells, look: Look) -> tuple[Ints, float]:
    """The face seen in each cell, and the area of cells where two points see different ones."""
    turned = shapely.transform(cells, lambda points: points[:, ::-1])
    first = shapely.get_coordinates(shapely.point_on_surface(cells))
    second = shapely.get_coordinates(shapely.point_on_surface(turned))[:, ::-1]
    faces, _nearness = look(np.concatenate([first, second]))
    differs = faces[: len(cells)] != faces[len(cells) :]
    return faces[: len(cells)], float(shapely.area(cells[differs]).sum())


def _widths(cells: Cells) -> Floats:
    """How wide cells are, mm, as strips of the same area and rim."""
    rims = shapely.length(cells)
    widths = np.divide(2 * shapely.area(cells), rims, out=np.zeros(len(cells)), where=rims > 0)
    return np.asarray(widths, dtype=np.float64)


def _sides(edges: Floats, cells: Cells) -> tuple[Ints, Ints]:
    """End nodes of edges, (n, 2), and the cells at their two sides, (n, 2).

    A cell is `NOTHING` where a side lies open, and both are `LOOSE` where an edge bounds no cell.
    """
    rings, cell_of_ring = shapely.get_rings(cells, return_index=True)
    pieces, ring = _pieces(rings)
    nodes = _numbered(np.concatenate([edges, pieces]))
    keys = nodes.min(axis=1) * (2 * len(nodes)) + nodes.max(axis=1)
    edge_keys, piece_keys = keys[: len(edges)], keys[len(edges) :]
    order = np.argsort(piece_keys, kind="stable")
    cell = np.append(cell_of_ring[ring[order]], [LOOSE, LOOSE])
    first = np.searchsorted(piece_keys[order], edge_keys, side="left")
    count = np.searchsorted(piece_keys[order], edge_keys, side="right") - first
    one = np.where(count > 0, cell[first], LOOSE)
    two = np.where(count > 1, cell[first + 1], np.where(count > 0, NOTHING, LOOSE))
    return nodes[: len(edges)], np.stack([one, two], axis=1)


def _fills(cells: Cells, faces: Ints) -> tuple[Fill, ...]:
    """Join the cells of each face, and leave out corners that do not turn."""
    fills: list[tuple[int, Cells]] = []
    order = np.argsort(faces, kind="stable")
    for group in np.split(order, np.flatnonzero(np.diff(faces[order])) + 1):
        if len(group) and faces[group[0]] >= 0:
            whole = cells[group] if len(group) == 1 else [shapely.coverage_union_all(cells[group])]
            fills += [(int(faces[group[0]]), shape) for shape in shapely.get_parts(whole)]
    shapes = shapely.simplify([shape for _, shape in fills], STRAIGHT)
    return tuple(
        Fill(face=face, shape=shape)
        for (face, _), shape in zip(fills, shapes, strict=True)
        if not shape.is_empty
    )


def _strokes(edges: Floats, nodes: Ints) -> tuple[Floats, ...]:
    """Join edges end to end: first what runs straight on, then where only two ends are left."""
    if not len(edges):
        return ()
    partner = _partners(edges, nodes.ravel())
    runs = _walks(partner)
    which = np.repeat(np.arange(len(runs)), [len(run) for run in runs])
    points = edges.reshape(-1, 2)[np.concatenate(runs)]
    lines = shapely.simplify(shapely.linestrings(points, indices=which), STRAIGHT)
    points, which = shapely.get_coordinates(lines, return_index=True)
    return tuple(np.split(points, np.flatnonzero(np.diff(which)) + 1))


def _partners(edges: Floats, nodes: Ints) -> Ints:
    """For each end of each edge, the end of another that carries the stroke on; -1 for none."""
    run = edges - edges[:, ::-1]
    length = np.linalg.norm(run, axis=-1).ravel()
    # Half a turn is where a line begins again; a third of a radian more keeps that from the axes.
    heading = np.arctan2(run[..., 1], run[..., 0]).ravel() + 1 / 3
    line_rad = heading % np.pi
    partner = np.full(len(nodes), -1, dtype=np.intp)
    order = np.lexsort((line_rad, nodes))
    a, b = order[:-1], order[1:]
    slack = SAME_RAD + GRID * (1 / length[a] + 1 / length[b])
    is_back = np.cos(heading[a] - heading[b]) < 0
    straight = (nodes[a] == nodes[b]) & (line_rad[b] - line_rad[a] < slack) & is_back
    straight[1:] &= ~straight[:-1]
    partner[a[straight]], partner[b[straight]] = b[straight], a[straight]
    alone = np.flatnonzero(partner < 0)
    order = alone[np.argsort(nodes[alone], kind="stable")]
    starts = np.flatnonzero(np.diff(nodes[order], prepend=-1))
    two = starts[np.diff(starts, append=len(order)) == 2]
    partner[order[two]], partner[order[two + 1]] = order[two + 1], order[two]
    return partner


def _walks(partner: Ints) -> list[list[int]]:
    """Runs of edge ends, following partners; end 2 e and end 2 e + 1 belong to edge e."""
    follows = partner.tolist()
    seen = [False] * (len(follows) // 2)
    runs = []
    begins = [end for end, other in enumerate(follows) if other < 0]
    for begin in [*begins, *range(0, len(follows), 2)]:
        if seen[begin // 2]:
            continue
        run, end = [begin], begin
        while end >= 0 and not seen[end // 2]:
            seen[end // 2] = True
            run.append(end ^ 1)
            end = follows[end ^ 1]
        runs.append(run)
    return runs
