"""Hidden lines: which stretches of the edges of bodies an eye at infinity sees.

Takes a `Soup` and a `View`, gives visible stretches on the picture plane. Every edge that can be
seen at all is tested against every triangle that faces the eye and lies before it; four linear
bounds (three sides and the depth) leave an interval of the edge that the triangle hides. Must not
know sheets.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from benchleaf.drawing.bodies import Flags, Floats, Ints, Soup
from benchleaf.drawing.projection import View

# chosen: faces turned by less than a hundred-thousandth of a radian count as edge-on, so that the
# next edge is the outline; the strip left out is at most 0.02 mm wide on a 2 m piece.
EDGE_ON = 1e-5
# chosen: triangles hide this much beyond their sides, mm of the piece, so that seams between
# triangles and edges that fall exactly behind an outline stay hidden. Far above the rounding of
# doubles (1e-12).
SIDE_MM = 1e-7
# chosen: an edge hides only when it lies deeper than this behind a plane, mm of the piece, so that
# edges on faces that touch or are flush stay visible. Plans are true to 1/64 inch, 0.4 mm.
DEPTH_MM = 1e-3
# chosen: shorter stretches are not drawn, mm of the piece.
SHORTEST_MM = 1e-2
# chosen: lines tested at a time, and pairs of line and plate at most, so that memory stays bounded
# (some hundred MB where every box meets every other) however large the piece.
BATCH, PAIRS = 4096, 10_000_000
# chosen: more of the largest plates hardly find more hidden edges, fewer leave more to test one by
# one.
LARGE, ROUNDS = 96, 4
# chosen: so few lines are as soon tested one by one.
FEW = 300


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Occluders:
    """The plates that face the eye, ready for tests."""

    triangles: Ints
    """(p,) a triangle of each plate in the soup."""
    bounds: Floats
    """(p, 4, 3) for each side (a, b, c): a x + b y + c is the distance to the inside, mm."""
    planes: Floats
    """(p, 4) (normal, offset): normal . point + offset is the distance before the plane, mm."""
    large: Ints
    """The largest plates on the picture, most hidden edges lie wholly behind one of them."""
    tree: shapely.STRtree
    """Boxes of the plates on the picture plane."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretches:
    """Straight lines in space, or what is left of them."""

    starts: Floats
    """(n, 3) mm."""
    ends: Floats
    """(n, 3) mm."""
    sources: Ints
    """(n,) number of the line that a stretch is part of."""

    def only(self, which: Ints | Flags) -> Stretches:
        """Those that are picked, in the order picked."""
        return Stretches(
            starts=self.starts[which], ends=self.ends[which], sources=self.sources[which]
        )

    def between(self, low: Floats, high: Floats) -> Stretches:
        """The part of each from `low` to `high` of its run, 0 to 1."""
        run = self.ends - self.starts
        starts, ends = self.starts + low[:, None] * run, self.starts + high[:, None] * run
        return Stretches(starts=starts, ends=ends, sources=self.sources)


def occluders_of(soup: Soup, view: View) -> Occluders:
    """Pick out and prepare the plates that face the eye."""
    shown = faces_eye(soup, view)[soup.plate_triangles]
    triangles = soup.plate_triangles[shown]
    corners = soup.vertices[soup.plates[shown]]
    flat = view.flat(corners.reshape(-1, 3)).reshape(-1, 4, 2)
    normals = soup.normals[triangles]
    offsets = np.einsum("ij,ij->i", normals, corners.mean(axis=1))
    low, high = flat.min(axis=1), flat.max(axis=1)
    across = flat[:, 2] - flat[:, 0], flat[:, 3] - flat[:, 1]
    areas = across[0][:, 0] * across[1][:, 1] - across[0][:, 1] * across[1][:, 0]
    return Occluders(
        triangles=triangles,
        bounds=_side_lines(flat),
        planes=np.column_stack([normals, -offsets]),
        large=np.argsort(-areas, kind="stable")[:LARGE],
        tree=shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])),
    )


def faces_eye(soup: Soup, view: View) -> Flags:
    """Tell for each triangle whether its outside is turned to the eye."""
    return np.asarray(soup.normals @ view.toward_viewer > EDGE_ON)


def _side_lines(flat: Floats) -> Floats:
    """Lines through the sides of flat plates, counter-clockwise, distance inside positive."""
    run = np.roll(flat, -1, axis=1) - flat
    inward = np.stack([-run[..., 1], run[..., 0]], axis=-1)
    length = np.linalg.norm(inward, axis=-1, keepdims=True)
    inward = np.divide(inward, length, out=np.zeros_like(inward), where=length > 0)
    offset = -np.einsum("pij,pij->pi", inward, flat)
    return np.concatenate([inward, offset[..., None]], axis=-1)


def drawn_edges(soup: Soup, view: View) -> Stretches:
    """The edges that a view can show: sharp ones of faces turned to the eye, and outlines."""
    front = faces_eye(soup, view)[soup.sides]
    shows = np.where(soup.creases, front.any(axis=1), front[:, 0] != front[:, 1])
    ends = soup.vertices[soup.edges[shows]]
    return Stretches(starts=ends[:, 0], ends=ends[:, 1], sources=np.flatnonzero(shows))


def visible(lines: Stretches, occluders: Occluders, view: View) -> Stretches:
    """Cut away what plates hide.

    Args:
        lines: Straight lines in space.
        occluders: What may stand before them.
        view: The projection.

    Returns:
        The stretches that remain, in the order of the lines, each with its line's source.
    """
    count = len(lines.starts)
    step = max(1, min(BATCH, PAIRS // max(len(occluders.planes), 1)))
    batches = [slice(first, first + step) for first in range(0, max(count, 1), step)]
    parts = [_visible_of(lines.only(np.arange(count)[b]), occluders, view) for b in batches]
    return Stretches(
        starts=np.concatenate([part.starts for part in parts]),
        ends=np.concatenate([part.ends for part in parts]),
        sources=np.concatenate([part.sources for part in parts]),
    )


def _visible_of(lines: Stretches, occluders: Occluders, view: View) -> Stretches:
    """As `visible`, all at once."""
    if len(lines.starts) > FEW:
        lines = lines.only(~_is_behind_one(lines, occluders, view))
    line, begin, finish = _hidden_spans(lines, occluders, view)
    lengths = np.linalg.norm(lines.ends - lines.starts, axis=1)
    which, low, high = _gaps(line, begin, finish, lengths=lengths)
    return lines.only(which).between(low, high)


def _is_behind_one(lines: Stretches, occluders: Occluders, view: View) -> Flags:
    """Tell which lines lie wholly behind a single large plate: soon found, and half of them."""
    found = np.zeros(len(lines.starts), dtype=bool)
    # Few plates at a time: most lines that are hidden at all are found with the first.
    for plates in np.array_split(occluders.large, ROUNDS):
        left = np.flatnonzero(~found)
        behind = np.ones((len(left), len(plates)), dtype=bool)
        for points in (lines.starts[left], lines.ends[left]):
            behind &= _is_behind(points, plates, occluders, view=view)
        found[left] = behind.any(axis=1)
    return found


def _is_behind(points: Floats, plates: Ints, occluders: Occluders, *, view: View) -> Flags:
    """Tell which of n points lies behind which of m plates: (n, m)."""
    planes, flat = occluders.planes[plates], view.flat(points)
    behind = points @ planes[:, :3].T <= -DEPTH_MM - planes[:, 3]
    for side in occluders.bounds[plates].transpose(1, 0, 2):
        behind &= flat @ side[:, :2].T >= -SIDE_MM - side[:, 2]
    return np.asarray(behind)


def _hidden_spans(
    lines: Stretches, occluders: Occluders, view: View
) -> tuple[Ints, Floats, Floats]:
    """Spans of lines that single plates hide: number of the line, begin and finish, 0 to 1."""
    a, b = view.flat(lines.starts), view.flat(lines.ends)
    low, high = np.minimum(a, b), np.maximum(a, b)
    boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
    line, plate = occluders.tree.query(boxes)
    begin, finish = np.zeros(len(line)), np.ones(len(line))
    tests = [(-occluders.planes, lines.starts, lines.ends, -DEPTH_MM)]
    tests += [(occluders.bounds[:, side], a, b, SIDE_MM) for side in range(4)]
    for forms, p, q, slack in tests:
        at_begin = _value(forms[plate], p[line]) + slack
        at_finish = _value(forms[plate], q[line]) + slack
        begin, finish, kept = _clip(begin, finish, at_begin, at_finish)
        line, plate, begin, finish = line[kept], plate[kept], begin[kept], finish[kept]
    return line, begin, finish


def _value(forms: Floats, points: Floats) -> Floats:
    """Value of linear forms, (n, d + 1) coefficients and constant, at points, (n, d)."""
    return np.asarray(np.einsum("ij,ij->i", forms[:, :-1], points) + forms[:, -1])


def _clip(
    begin: Floats, finish: Floats, at_begin: Floats, at_finish: Floats
) -> tuple[Floats, Floats, Flags]:
    """Narrow spans to where a linear form, known at 0 and 1, is not negative; tell which remain."""
    fall = at_begin - at_finish
    root = np.divide(at_begin, fall, out=np.zeros_like(fall), where=fall != 0)
    begin = np.where(at_begin < 0, np.maximum(begin, root), begin)
    finish = np.where(at_finish < 0, np.minimum(finish, root), finish)
    return begin, finish, (begin < finish) & (np.maximum(at_begin, at_finish) >= 0)


def _gaps(
    line: Ints, begin: Floats, finish: Floats, *, lengths: Floats
) -> tuple[Ints, Floats, Floats]:
    """What the union of spans leaves free of each of `len(lengths)` lines."""
    count = len(lengths)
    each = np.arange(count)
    # A line's spans live on the stretch of numbers from 2 n to 2 n + 1, so that one running maximum
    # serves all lines; empty spans at both ends bound the gaps.
    owner = np.concatenate([each, line, each])
    low = np.concatenate([2.0 * each, 2.0 * line + begin, 2.0 * each + 1])
    high = np.concatenate([2.0 * each, 2.0 * line + finish, 2.0 * each + 1])
    order = np.lexsort((low, owner))
    reach = np.maximum.accumulate(high[order])
    after, owner = low[order][1:], owner[order]
    free = (owner[1:] == owner[:-1]) & ((after - reach[:-1]) * lengths[owner[1:]] > SHORTEST_MM)
    which = owner[1:][free]
    return which, reach[:-1][free] - 2.0 * which, after[free] - 2.0 * which


def seen_faces(
    flat: Floats, soup: Soup, occluders: Occluders, *, view: View
) -> tuple[Ints, Floats]:
    """Find the face that the eye meets first at points of the picture plane.

    Args:
        flat: (n, 2) points on the picture plane, mm of the piece.
        soup: The bodies.
        occluders: Their plates that face the eye.
        view: The projection.

    Returns:
        (n,) number of the face, which is also that of its first triangle, -1 where nothing stands;
        and (n,) how near it is, mm along the line of sight from the piece's origin.
    """
    point, plate = occluders.tree.query(shapely.points(flat))
    for side in range(4):
        inside = _value(occluders.bounds[plate, side], flat[point]) >= -SIDE_MM
        point, plate = point[inside], plate[inside]
    planes = occluders.planes[plate]
    foot = flat[point] @ np.linalg.pinv([view.right, view.up]).T
    nearness = np.round(-_value(planes, foot) / (planes[:, :3] @ view.toward_viewer), 6)
    faces = soup.faces[occluders.triangles[plate]]
    # Nearest last; at a tie (faces that coincide) the lower number, on every machine.
    order = np.lexsort((-faces, nearness, point))
    found, near = np.full(len(flat), -1, dtype=np.intp), np.zeros(len(flat))
    found[point[order]], near[point[order]] = faces[order], nearness[order]
    return found, near
