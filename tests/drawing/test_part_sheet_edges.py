"""Visible and hidden edges of orthographic views, against rays cast with Embree through trimesh."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

import numpy as np
import pytest
import trimesh
from tests.drawing import sheet_parts

from benchleaf.drawing.bodies import body_of
from benchleaf.drawing.orthographic import Facing, Round, Sight, look, third_angle
from benchleaf.drawing.part_features import read_spots
from benchleaf.drawing.part_views import axis_of
from benchleaf.frames import Box
from benchleaf.joinery.solids import solid_of_copy

FRONT = Facing(right=(1, 0, 0), up=(0, 0, 1), toward=(0, -1, 0))
VIEWS = tuple(third_angle(FRONT))
# Rays pass this far to each side of an edge, mm of wood; no wall of these parts is as thin.
ASIDE_MM = 0.2
# Two rays see one surface where their depths differ by less than a slope of these parts makes.
STEP_MM = 0.8


def cast(
    solid: object, facing: Facing, points: np.ndarray
) -> list[tuple[float, np.ndarray] | None]:
    """Depth and normal that rays towards the picture plane meet first; None where none does."""
    mesh = solid.to_mesh64()  # type: ignore[attr-defined]
    rows = np.array([facing.right, facing.up, facing.toward], dtype=float)
    whole = trimesh.Trimesh(
        np.asarray(mesh.vert_properties)[:, :3] @ rows.T, np.asarray(mesh.tri_verts), process=False
    )
    far = np.abs(whole.bounds).max() * 2 + 1
    origins = np.column_stack([points, np.full(len(points), far)])
    away = np.broadcast_to([0.0, 0.0, -1.0], origins.shape)
    triangles = whole.ray.intersects_first(origins, away)
    found: list[tuple[float, np.ndarray] | None] = []
    for triangle, (x, y) in zip(triangles, points, strict=True):
        if triangle < 0:
            found.append(None)
            continue
        normal = whole.face_normals[triangle]
        corner = whole.triangles[triangle][0]
        z = corner[2] - (normal[0] * (x - corner[0]) + normal[1] * (y - corner[1])) / normal[2]
        found.append((float(z), normal))
    return found


def is_edge(one: tuple[float, np.ndarray] | None, other: tuple[float, np.ndarray] | None) -> bool:
    if one is None or other is None:
        return one is not other
    turned = float(one[1] @ other[1]) < math.cos(math.radians(20))
    return turned or abs(one[0] - other[0]) > STEP_MM


def view_of(name: str, view: str) -> tuple[object, Facing, Sight]:
    shape, joinery = sheet_parts.ALL[name]()
    facing = third_angle(FRONT)[view]
    solid = solid_of_copy(joinery, shape.drawn.mark)
    part = joinery.piece.parts[shape.part]
    body = Box((0 * part.box.size[0],) * 3, part.box.size)
    rounds = [
        Round(middle(facing, spot.box), float(diameter) / 2)
        for spot in read_spots(shape.drawn, body, "in")
        if spot.round_axis is axis_of(facing.toward)
        for diameter in spot.diameters_mm
    ]
    return solid, facing, look(body_of(solid, ""), facing, rounds)


def middle(facing: Facing, box: Box) -> tuple[float, float]:
    (x0, y0), (x1, y1) = facing.flat(box.low), facing.flat(box.high)
    return (x0 + x1) / 2, (y0 + y1) / 2


def chords(sight: Sight) -> list[tuple[np.ndarray, np.ndarray]]:
    """Visible lines, circles among them as sixteen chords."""
    lines = [(np.array(a), np.array(b)) for a, b in sight.visible]
    for circle in sight.visible_rounds:
        angles = np.linspace(0, math.tau, 17)
        ring = np.column_stack([np.cos(angles), np.sin(angles)]) * circle.radius + circle.centre
        lines += pairwise(ring)
    return lines


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", ["leg", "side", "rail", "row_rail", "slat", "panel"])
def test_on_the_two_sides_of_every_visible_line_rays_meet_different_surfaces(
    name: str, view: str
) -> None:
    solid, facing, sight = view_of(name, view)
    sides, wrong = [], []
    lines = [(a, b) for a, b in chords(sight) if math.dist(a, b) > 4 * ASIDE_MM]
    for a, b in lines:
        along = (b - a) / math.dist(a, b)
        across = np.array([-along[1], along[0]]) * ASIDE_MM
        # Off the middle, where another line may end.
        point = a + (b - a) * 0.43
        sides += [point + across, point - across]
    seen = cast(solid, facing, np.array(sides))
    for (a, b), one, other in zip(lines, seen[::2], seen[1::2], strict=True):
        if not is_edge(one, other):
            wrong.append((a, b))
    assert wrong == []


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", ["leg", "side", "rail", "row_rail", "slat", "panel"])
def test_where_rays_meet_different_surfaces_a_visible_line_runs_between(
    name: str, view: str
) -> None:
    solid, facing, sight = view_of(name, view)
    lines = chords(sight)
    xs = [p[0] for line in lines for p in line]
    ys = [p[1] for line in lines for p in line]
    random = np.random.default_rng(7)
    starts = random.uniform((min(xs) - 3, min(ys) - 3), (max(xs) + 3, max(ys) + 3), (400, 2))
    angles = random.uniform(0, math.tau, 400)
    ends = starts + np.column_stack([np.cos(angles), np.sin(angles)]) * 6
    seen = cast(solid, facing, np.concatenate([starts, ends]))
    missed = [
        (start, end)
        for start, end, one, other in zip(starts, ends, seen[:400], seen[400:], strict=True)
        if is_edge(one, other) and not crosses_any(start, end, lines)
    ]
    assert missed == []


def crosses_any(
    start: np.ndarray, end: np.ndarray, lines: Iterable[tuple[np.ndarray, np.ndarray]]
) -> bool:
    return any(_crosses(start, end, a, b) for a, b in lines)


def _crosses(p: np.ndarray, q: np.ndarray, a: np.ndarray, b: np.ndarray) -> bool:
    def turn(o: np.ndarray, s: np.ndarray, t: np.ndarray) -> float:
        return float((s[0] - o[0]) * (t[1] - o[1]) - (s[1] - o[1]) * (t[0] - o[0]))

    return turn(p, q, a) * turn(p, q, b) <= 0 and turn(a, b, p) * turn(a, b, q) <= 0
