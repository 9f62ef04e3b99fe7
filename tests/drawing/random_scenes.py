"""Random heaps of boxes for the tests of pictures: touching, flush, bored, pegged, turned."""

from __future__ import annotations

import numpy as np
from manifold3d import Manifold, OpType

from benchleaf.drawing.bodies import Body, body_of
from benchleaf.drawing.projection import DIMETRIC, ISOMETRIC, View, from_back, from_below, from_left

TEN_VIEWS: tuple[View, ...] = (
    ISOMETRIC,
    DIMETRIC,
    from_left(ISOMETRIC),
    from_left(DIMETRIC),
    from_back(ISOMETRIC),
    from_back(DIMETRIC),
    from_below(ISOMETRIC),
    from_below(DIMETRIC),
    from_left(from_back(ISOMETRIC)),
    from_left(from_below(DIMETRIC)),
)


def random_bodies(seed: int) -> list[Body]:
    """Boxes on a coarse grid, so that many touch; some bored, some pegged, some turned."""
    rng = np.random.default_rng(seed)
    boxes = _boxes_apart(rng, wanted=int(rng.integers(4, 13)))
    solids = [Manifold.cube((high - low).tolist()).translate(low.tolist()) for low, high in boxes]
    pegs = []
    for number, (low, high) in enumerate(boxes):
        if rng.random() < 0.5:
            bore = _bore(rng, low, high)
            solids = [solid - bore for solid in solids]
            if rng.random() < 0.5:
                pegs.append(bore)
        if rng.random() < 0.2 and seed % 3 == 0:
            solids[number] = solids[number].translate([0, 0, 700]).rotate([20, 0, 35])
    solids = [solid for solid in solids + _apart(pegs) if not solid.is_empty()]
    return [body_of(solid, f"A{number}") for number, solid in enumerate(solids, start=1)]


def _boxes_apart(rng: np.random.Generator, wanted: int) -> list[tuple[np.ndarray, np.ndarray]]:
    """Boxes that share no volume, on a grid of 20 mm shifted by thirds of an inch."""
    boxes: list[tuple[np.ndarray, np.ndarray]] = []
    while len(boxes) < wanted:
        low = rng.integers(0, 16, 3) * 20 + 25.4 / 3
        high = low + rng.integers(1, 9, 3) * 20
        if all((high <= a + 1e-9).any() or (b <= low + 1e-9).any() for a, b in boxes):
            boxes.append((low, high))
    return boxes


def _bore(rng: np.random.Generator, low: np.ndarray, high: np.ndarray) -> Manifold:
    """A cylinder along a random axis about the middle of a box, shorter or longer than it.

    Never level with a face of the grid: that would leave a skin of no thickness.
    """
    axis = int(rng.integers(3))
    size = high - low
    across = min(size[i] for i in range(3) if i != axis)
    radius = float(across * rng.uniform(0.15, 0.4))
    length = float(max(size[axis] + 20 * rng.integers(-1, 3), 10) + 3)
    turn = ([0, 90, 0], [-90, 0, 0], [0, 0, 0])[axis]
    rod = Manifold.cylinder(length, radius, radius, int(rng.choice([24, 32])), center=True)
    return rod.rotate(turn).translate(((low + high) / 2).tolist())


def _apart(pegs: list[Manifold]) -> list[Manifold]:
    """Pegs with what they share taken from the later ones."""
    result: list[Manifold] = []
    for peg in pegs:
        result.append(Manifold.batch_boolean([peg, *result], OpType.Subtract) if result else peg)
    return result
