"""A bench made by hand: legs, tenoned rails, dowelled bearers, drilled slats; and its tree."""

from __future__ import annotations

from functools import cache

from manifold3d import Manifold, OpType

from benchleaf.drawing.bodies import Body, body_of
from benchleaf.drawing.shading import tell_apart
from benchleaf.frames import Box, Vector
from benchleaf.joinery.records import Assembly

# Sizes in mm: whole piece, leg, rail thickness, foot and top of the rails.
WIDE, DEEP, HIGH, LEG, RAIL, FOOT, TOP, SLAT = 1100, 360, 450, 57, 28, 330, 400, 22
SLATS = 5


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Manifold:
    """A box by its corners."""
    sides = [b - a for a, b in zip(low, high, strict=True)]
    return Manifold.cube(sides).translate(list(low))


def bore(mouth: tuple[float, float, float], axis: int, diameter: float, depth: float) -> Manifold:
    """A cylinder of 32 sides along an axis of the piece."""
    turn = ([0, 90, 0], [-90, 0, 0], [0, 0, 0])[axis]
    return Manifold.cylinder(depth, diameter / 2, diameter / 2, 32).rotate(turn).translate(mouth)


@cache
def bench() -> tuple[Body, ...]:
    """The bench's fifteen parts at their seats."""
    long_rails, long_tenons = zip(*(_long_rail(y) for y in (14, DEEP - 14 - RAIL)), strict=True)
    end_rails, end_tenons = zip(*(_end_rail(x) for x in (14, WIDE - 14 - RAIL)), strict=True)
    tenons = [*sum(long_tenons, ()), *sum(end_tenons, ())]
    legs = [_leg(x, y, tenons) for y in (0, DEEP - LEG) for x in (0, WIDE - LEG)]
    named = {
        "A": legs,
        "B": long_rails,
        "C": end_rails,
        "D": [_slat(i) for i in range(SLATS)],
        "E": [_bearer(x) for x in (330, 710)],
    }
    solids = [(f"{k}{i}", solid) for k, group in named.items() for i, solid in enumerate(group, 1)]
    return tell_apart([body_of(solid, mark) for mark, solid in solids])


def _leg(x: float, y: float, tenons: list[Manifold]) -> Manifold:
    leg = box((x, y, 0), (x + LEG, y + LEG, HIGH - SLAT))
    glide = bore((x + LEG / 2, y + LEG / 2, -1), 2, 10, 31)
    return Manifold.batch_boolean([leg, glide, *tenons], OpType.Subtract)


def _long_rail(y: float) -> tuple[Manifold, tuple[Manifold, ...]]:
    rail = box((LEG, y, FOOT), (WIDE - LEG, y + RAIL, TOP))
    ends = ((LEG - 32, LEG), (WIDE - LEG, WIDE - LEG + 32))
    tenons = tuple(box((a, y + 9, FOOT + 10), (b, y + 19, TOP - 10)) for a, b in ends)
    return Manifold.batch_boolean([rail, *tenons], OpType.Add), tenons


def _end_rail(x: float) -> tuple[Manifold, tuple[Manifold, ...]]:
    rail = box((x, LEG, FOOT), (x + RAIL, DEEP - LEG, TOP))
    ends = ((LEG - 20, LEG), (DEEP - LEG, DEEP - LEG + 20))
    tenons = tuple(box((x + 9, a, FOOT + 10), (x + 19, b, TOP - 10)) for a, b in ends)
    return Manifold.batch_boolean([rail, *tenons], OpType.Add), tenons


def _slat(number: int) -> Manifold:
    front = number * DEEP / SLATS + 3
    back = (number + 1) * DEEP / SLATS - 3
    slat = box((-20, front, HIGH - SLAT), (WIDE + 20, back, HIGH))
    holes = [
        bore((x, (front + back) / 2, HIGH - SLAT - 1), 2, 9, 30)
        for x in (LEG / 2, WIDE / 2, WIDE - LEG / 2)
    ]
    return Manifold.batch_boolean([slat, *holes], OpType.Subtract)


def _bearer(x: float) -> Manifold:
    front, back = 14 + RAIL, DEEP - 14 - RAIL
    bearer = box((x, front, FOOT + 20), (x + 40, back, HIGH - SLAT))
    holes = [
        bore((x + 20, y, z), 1, 10, 32)
        for y in (front - 1, back - 31)
        for z in (FOOT + 40, TOP - 12)
    ]
    return Manifold.batch_boolean([bearer, *holes], OpType.Subtract)


def boxes_round(bodies: tuple[Body, ...]) -> dict[str, Box]:
    """The box round each body."""
    found = {}
    for body in bodies:
        low, high = body.vertices.min(axis=0).tolist(), body.vertices.max(axis=0).tolist()
        found[body.mark] = Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    return found


def leaf(mark: str) -> Assembly:
    """One copy."""
    return Assembly(copies=(mark,), moved=None, fixed=None, direction=(0, 0, 0))


def put_on(moved: Assembly, fixed: Assembly, direction: Vector) -> Assembly:
    """One assembly put on another."""
    copies = tuple(sorted((*moved.copies, *fixed.copies)))
    return Assembly(copies=copies, moved=moved, fixed=fixed, direction=direction)


def bench_tree() -> Assembly:
    """The bench's assembly: two long frames, what joins them, the slats."""
    frames = []
    for left, rail, right in (("A1", "B1", "A2"), ("A3", "B2", "A4")):
        frame = put_on(leaf(left), leaf(rail), (-1, 0, 0))
        frames.append(put_on(leaf(right), frame, (1, 0, 0)))
    whole = frames[1]
    for mark in ("C1", "C2", "E1", "E2"):
        whole = put_on(leaf(mark), whole, (0, -1, 0))
    whole = put_on(frames[0], whole, (0, -1, 0))
    for number in range(1, SLATS + 1):
        whole = put_on(leaf(f"D{number}"), whole, (0, 0, 1))
    return whole
