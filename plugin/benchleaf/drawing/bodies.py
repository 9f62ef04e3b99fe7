"""Solids made ready for drawing: faces, smooth surfaces and the edges between them.

Takes manifold3d solids in the piece's axes, gives `Body` records, and gathers many of them in one
`Soup` of arrays. Must not know views, sheets or what a part is for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from manifold3d import Manifold
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Flags = NDArray[np.bool_]

# chosen: a cylinder of 19 or more sides (18.9 deg between facets) draws as one smooth surface; the
# flattest bevel that a maker sees as an edge is about 22.5 deg (octagon on an octagon).
CREASE_COS = float(np.cos(np.radians(20.0)))
# chosen: facets within 0.06 deg lie in one plane; no facet of a drawn cylinder is so fine.
FLAT_COS = float(np.cos(np.radians(0.06)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """One closed solid, with what any view of it needs."""

    mark: str
    """Mark of the copy: A1."""
    vertices: Floats
    """(n, 3) corners, mm, piece axes."""
    triangles: Ints
    """(m, 3) corner numbers, counter-clockwise from outside."""
    normals: Floats
    """(m, 3) unit outward normals, alike on all triangles of a plane face."""
    faces: Ints
    """(m,) number of the face that a triangle belongs to; a smooth surface is one face."""
    edges: Ints
    """(k, 2) corner numbers of the edges between planes: creases and seams of smooth surfaces."""
    sides: Ints
    """(k, 2) the triangles on the two sides of each edge."""
    creases: Flags
    """(k,) whether the edge is sharp; the others are drawn only as outlines of smooth surfaces."""
    plates: Ints
    """(p, 4) corner numbers of convex plane pieces that cover the body: quadrangles, or triangles
    whose last corner is their first again."""
    plate_triangles: Ints
    """(p,) a triangle of each plate, for its normal and face."""
    tone: int = 0
    """0 lightest to 3 darkest: tells the part from its neighbours."""
    hatch: int = 0
    """Hatch of the sheet's areas, 0 none: tells the part from its neighbours."""

    def moved(self, by: Sequence[float]) -> Body:
        """The same body, shifted by (x, y, z) mm."""
        return replace(self, vertices=self.vertices + np.asarray(by, dtype=np.float64))

    def turned(self, axes: Sequence[Sequence[float]], origin: Sequence[float]) -> Body:
        """The same body in other axes: three unit rows and their origin, in those it is in now."""
        rows = np.asarray(axes, dtype=np.float64)
        # Left-handed axes show the corners of a triangle the other way round.
        way = slice(None, None, -1 if np.linalg.det(rows) < 0 else 1)
        return replace(
            self,
            vertices=(self.vertices - np.asarray(origin, dtype=np.float64)) @ rows.T,
            normals=self.normals @ rows.T,
            triangles=self.triangles[:, way],
            plates=self.plates[:, way],
        )


def body_of(solid: Manifold, mark: str, *, tone: int = 0, hatch: int = 0) -> Body:
    """Make a solid ready for drawing.

    Args:
        solid: Closed solid in the piece's axes, mm.
        mark: Mark of the copy.
        tone: 0 to 3, see `Body`.
        hatch: See `Body`.

    Returns:
        The body: coplanar triangles share a normal, facets of a cylinder share a face.
    """
    mesh = solid.to_mesh64()
    vertices = np.array(mesh.vert_properties, dtype=np.float64)[:, :3]
    triangles = np.array(mesh.tri_verts, dtype=np.intp)
    runs = np.repeat(np.arange(len(mesh.run_original_id)), np.diff(mesh.run_index) // 3)
    planes = _number_pairs(runs, np.array(mesh.face_id, dtype=np.intp))
    normals = _plane_normals(vertices, triangles, planes)
    edges, sides = _edges_of(triangles)
    cosines = np.einsum("ij,ij->i", normals[sides[:, 0]], normals[sides[:, 1]])
    creases = cosines < CREASE_COS
    faces = _joined(len(triangles), sides[~creases])
    kept = cosines < FLAT_COS
    plates, plate_triangles = _plates(
        vertices, triangles, normals, edges=edges[~kept], sides=sides[~kept]
    )
    return Body(
        mark=mark,
        vertices=vertices,
        triangles=triangles,
        normals=normals,
        faces=faces,
        edges=edges[kept],
        sides=sides[kept],
        creases=creases[kept],
        plates=plates,
        plate_triangles=plate_triangles,
        tone=tone,
        hatch=hatch,
    )


def _number_pairs(first: Ints, second: Ints) -> Ints:
    """Number the distinct pairs (first[i], second[i]) from 0."""
    if not len(first):
        return np.zeros(0, dtype=np.intp)
    keys = first * (int(second.max()) + 1) + second
    return np.asarray(np.unique(keys, return_inverse=True)[1], dtype=np.intp)


def _plane_normals(vertices: Floats, triangles: Ints, planes: Ints) -> Floats:
    """Unit normals, taken over all triangles of a plane, so that slivers do not stray."""
    a, b, c = (vertices[triangles[:, i]] for i in range(3))
    doubled = _cross(b - a, c - a)
    summed = np.stack([np.bincount(planes, weights=doubled[:, i]) for i in range(3)], axis=1)
    lengths = np.linalg.norm(summed, axis=1, keepdims=True)
    units = np.divide(summed, lengths, out=np.zeros_like(summed), where=lengths > 0)
    return np.asarray(units[planes], dtype=np.float64)


def _edges_of(triangles: Ints) -> tuple[Ints, Ints]:
    """Edges of a closed mesh, (k, 2) corners, and the triangles on their two sides, (k, 2)."""
    halves = triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    low, high = halves.min(axis=1), halves.max(axis=1)
    order = np.lexsort((high, low))
    pairs = order.reshape(-1, 2)
    return halves[pairs[:, 0]], pairs // 3


def _joined(count: int, links: Ints) -> Ints:
    """Number the groups of `count` things that links join; each group bears its least member."""
    label = np.arange(count, dtype=np.intp)
    while True:
        least = np.minimum(label[links[:, 0]], label[links[:, 1]])
        before = label.copy()
        np.minimum.at(label, label[links[:, 0]], least)
        np.minimum.at(label, label[links[:, 1]], least)
        label = label[label]
        if np.array_equal(label, before):
            return label


def _plates(
    vertices: Floats, triangles: Ints, normals: Floats, *, edges: Ints, sides: Ints
) -> tuple[Ints, Ints]:
    """Pair coplanar triangles into convex quadrangles; what finds no partner stays a triangle.

    Half as many pieces mean half as much to test edges against. `edges` and `sides` are those
    between coplanar triangles.
    """
    i, j = edges[:, 0], edges[:, 1]
    p, q = (triangles[sides[:, k]].sum(axis=1) - i - j for k in range(2))
    along = normals[sides[:, 0]]
    turns = [
        _turn(vertices[a], vertices[b], vertices[c], along) for a, b, c in ((p, i, q), (q, j, p))
    ]
    convex = np.flatnonzero((turns[0] >= 0) & (turns[1] >= 0))
    # The longest seams first: they part the largest triangles.
    lengths = np.linalg.norm(vertices[i] - vertices[j], axis=1)
    chosen = _matched(len(triangles), sides[convex], ranks=np.argsort(np.argsort(-lengths[convex])))
    pairs = convex[chosen]
    quads = np.column_stack([i, q, j, p])[pairs]
    single = np.ones(len(triangles), dtype=bool)
    single[sides[pairs]] = False
    alone = np.flatnonzero(single)
    plates = np.concatenate([quads, triangles[alone][:, [0, 1, 2, 0]]])
    return plates, np.concatenate([sides[pairs, 0], alone])


def _turn(a: Floats, b: Floats, c: Floats, normals: Floats) -> Floats:
    """Twice the area of triangles, positive where a, b, c turn left seen against the normals."""
    return np.asarray(np.einsum("ij,ij->i", _cross(b - a, c - b), normals))


def _cross(u: Floats, v: Floats) -> Floats:
    """Vector products of rows, without the general function's many cases."""
    (a, b, c), (d, e, f) = u.T, v.T
    return np.stack([b * f - c * e, c * d - a * f, a * e - b * d], axis=1)


def _matched(count: int, links: Ints, *, ranks: Ints) -> Ints:
    """Pick links between `count` things, lowest ranks first, so that no two share an end."""
    free = np.arange(len(links))
    chosen: list[Ints] = []
    taken = np.zeros(count, dtype=bool)
    while len(free):
        best = np.full(count, len(links))
        np.minimum.at(best, links[free].ravel(), np.repeat(ranks[free], 2))
        wins = (best[links[free]] == ranks[free][:, None]).all(axis=1)
        chosen.append(free[wins])
        taken[links[free[wins]]] = True
        free = free[~taken[links[free]].any(axis=1)]
    return np.sort(np.concatenate(chosen)) if chosen else free


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Soup:
    """Many bodies in one set of arrays."""

    bodies: tuple[Body, ...]
    vertices: Floats
    """(n, 3) mm."""
    triangles: Ints
    """(m, 3) corner numbers."""
    normals: Floats
    """(m, 3)."""
    owners: Ints
    """(m,) number of the body that a triangle belongs to."""
    faces: Ints
    """(m,) number of the face, distinct over all bodies."""
    edges: Ints
    """(k, 2) corner numbers."""
    sides: Ints
    """(k, 2) triangles."""
    creases: Flags
    """(k,)."""
    plates: Ints
    """(p, 4) corner numbers."""
    plate_triangles: Ints
    """(p,) triangles."""


def gather(bodies: Sequence[Body]) -> Soup:
    """Put bodies into one set of arrays; numbers are shifted so that they stay distinct."""
    corners = _starts(len(body.vertices) for body in bodies)
    firsts = _starts(len(body.triangles) for body in bodies)
    counts = [len(body.triangles) for body in bodies]
    return Soup(
        bodies=tuple(bodies),
        vertices=np.concatenate([b.vertices for b in bodies]),
        triangles=np.concatenate([b.triangles + c for b, c in zip(bodies, corners, strict=False)]),
        normals=np.concatenate([b.normals for b in bodies]),
        owners=np.repeat(np.arange(len(bodies)), counts),
        faces=np.concatenate([b.faces + f for b, f in zip(bodies, firsts, strict=False)]),
        edges=np.concatenate([b.edges + c for b, c in zip(bodies, corners, strict=False)]),
        sides=np.concatenate([b.sides + f for b, f in zip(bodies, firsts, strict=False)]),
        creases=np.concatenate([b.creases for b in bodies]),
        plates=np.concatenate([b.plates + c for b, c in zip(bodies, corners, strict=False)]),
        plate_triangles=np.concatenate(
            [b.plate_triangles + f for b, f in zip(bodies, firsts, strict=False)]
        ),
    )


def _starts(counts: Iterable[int]) -> Ints:
    """Where each of several runs begins when they are laid end to end."""
    return np.concatenate([[0], np.cumsum(list(counts))]).astype(np.intp)
