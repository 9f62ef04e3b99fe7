"""Solids and joints built by hand for tests of motion, and motion by brute force."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from manifold3d import CrossSection, FillRule, Manifold

from benchleaf.frames import Box, Frame, Vector
from benchleaf.joinery.records import Assembly, Hardware, JointFit
from benchleaf.piece.records import Contact, ContactKind

_HERE = Frame((0, 0, 0), ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
_NO_BOX = Box((0, 0, 0), (0, 0, 0))
# chosen: what whole-numbered solids share when they only touch is rounding, far below this.
TOUCHING_MM3 = 1e-6


def block(*sides: float) -> Manifold:
    """A block from left, front, bottom, right, back, top."""
    low, high = sides[:3], sides[3:]
    size = [b - a for a, b in zip(low, high, strict=True)]
    return Manifold.cube(size).translate(low)


def prism(corners: Sequence[tuple[float, float]], low: float, high: float) -> Manifold:
    """An upright prism over corners in x and y."""
    figure = CrossSection([list(corners)], FillRule.NonZero)
    return Manifold.extrude(figure, high - low).translate((0, 0, low))


def joint(first: str, second: str, *ways: Vector, pegs: int = 0) -> JointFit:
    """A joint that frees its first copy in the stated ways of the piece."""
    dowel = Hardware(kind="dowel", size="8 x 40", diameter_mm=8, length_mm=40, count=pegs)
    return JointFit(
        joint=0,
        kind="test",
        contact=Contact(
            kind=ContactKind.FACE,
            first=first,
            second=second,
            frame=_HERE,
            u_mm=0,
            v_mm=0,
            n_mm=0,
            first_box=_NO_BOX,
            second_box=_NO_BOX,
        ),
        first_features=(),
        second_features=(),
        sizes=(),
        setting_out=(),
        hardware=(dowel,) if pegs else (),
        free_directions=ways,
        glue_area_mm2=0,
        is_glued=False,
    )


def nodes(tree: Assembly) -> Iterator[Assembly]:
    """All nodes that are put together, from the outside in."""
    if tree.moved is not None and tree.fixed is not None:
        yield tree
        yield from nodes(tree.moved)
        yield from nodes(tree.fixed)


def unit(*way: float) -> Vector:
    length = math.hypot(*way)
    x, y, z = (part / length for part in way)
    return (x, y, z)


def all_of(solids: Iterable[Manifold]) -> Manifold:
    """Several solids as one."""
    return sum(solids, Manifold())


def runs_into(
    moved: Manifold, fixed: Manifold, way: Sequence[float], *, far: float, step: float = 0.5
) -> float | None:
    """Brute force: step a solid along and look for shared volume; how far it got, or None."""
    for count in range(1, math.ceil(far / step)):
        shifted = moved.translate([float(part) * step * count for part in way])
        if (shifted ^ fixed).volume() > TOUCHING_MM3:
            return step * (count - 1)
    return None


def replay_apart(
    tree: Assembly, solids: Mapping[str, Manifold], *, far: float, step: float = 0.5
) -> list[str]:
    """Brute force: take a tree apart in small steps; what ran into what."""
    clashes: list[str] = []
    for node in nodes(tree):
        if node.is_locked:
            continue
        moving = [(node.moved.copies, node.direction, node.shift_mm)]
        inner = node
        while inner.is_with_fixed:
            inner = inner.fixed
            moving.append((inner.moved.copies, inner.direction, inner.shift_mm))
        moving.append((inner.fixed.copies, inner.fixed_direction, (0, 0, 0)))
        clashes += _clashes(moving, solids, far=far, step=step)
    return clashes


def _clashes(
    moving: list[tuple[tuple[str, ...], Vector, Vector]],
    solids: Mapping[str, Manifold],
    *,
    far: float,
    step: float,
) -> Iterator[str]:
    bodies = [all_of(solids[mark] for mark in copies) for copies, _, _ in moving]
    for stage in _stages(moving, far=far, step=step):
        placed = [body.translate(shift) for body, shift in zip(bodies, stage, strict=True)]
        for i, one in enumerate(placed):
            for k in range(i):
                if (one ^ placed[k]).volume() > TOUCHING_MM3:
                    yield f"{moving[i][0]} and {moving[k][0]} at {stage[i]} and {stage[k]}"
                    return


def _stages(
    moving: list[tuple[tuple[str, ...], Vector, Vector]], *, far: float, step: float
) -> Iterator[list[tuple[float, ...]]]:
    """Where each body is at each moment: first its shift, then on its way."""
    longest = max(math.hypot(*map(float, shift)) for _, _, shift in moving)
    count = math.ceil(longest / step)
    for k in range(1, count + 1):
        yield [tuple(float(part) * k / count for part in shift) for _, _, shift in moving]
    for k in range(1, math.ceil(far / step)):
        yield [
            tuple(float(s) + float(w) * step * k for s, w in zip(shift, way, strict=True))
            for _, way, shift in moving
        ]
