"""A straight beam under load: how far it bends, how hard it is strained, what its supports bear.

Takes a beam with its supports and loads, gives sag, moment and reactions by the stiffness method,
which is exact for beams that do not shear: Wood Handbook Eq. 9-2 without its shear term, for the
reason that tabulated moduli hold the test's shear already. Knows nothing of wood.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

_Array = NDArray[np.float64]

# chosen: sag is looked at in 200 places of each stretch; it misses the worst by under 1 in 10,000.
_PLACES = 201
# chosen: two places of a beam nearer than this are one, mm; stretches much shorter than the beam
# would drown it in rounding.
_SAME_MM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """A place where a beam is held."""

    at_mm: float
    is_fixed: bool = False
    """True where it cannot turn either."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """A beam from 0 to its length, of one section."""

    length_mm: float
    stiffness_n_mm2: float
    """Modulus times second moment of area, E I."""
    supports: tuple[Support, ...]
    """At least two, or one that is fixed."""
    spread: tuple[tuple[float, float, float], ...] = ()
    """(from mm, to mm, N on each mm), downwards."""
    points: tuple[tuple[float, float], ...] = ()
    """(at mm, N), downwards."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """How a beam bends."""

    sag_mm: float
    """Largest movement away from the unloaded line, up or down."""
    at_mm: float
    """Where."""
    moment_n_mm: float
    """Largest bending moment, whichever way."""
    reactions_n: tuple[float, ...]
    """Upward force of each support, in their order."""


def bend(beam: Beam) -> Bent:
    """Bend a beam.

    >>> ends = (Support(at_mm=0), Support(at_mm=1000))
    >>> beam = Beam(length_mm=1000, stiffness_n_mm2=1e9, supports=ends, points=((500, 48),))
    >>> round(bend(beam).sag_mm, 3), bend(beam).moment_n_mm
    (1.0, 12000.0)
    """
    nodes = _nodes(beam)
    stiffness, pushed = _assemble(beam, nodes)
    held = sorted(_held(beam, nodes))
    free = [degree for degree in range(2 * len(nodes)) if degree not in held]
    moved = np.zeros(2 * len(nodes))
    moved[free] = np.linalg.solve(stiffness[np.ix_(free, free)], pushed[free])
    forces = stiffness @ moved - pushed
    places, sags, moments = _look(beam, nodes, moved)
    worst = int(np.argmax(np.abs(sags)))
    return Bent(
        sag_mm=float(abs(sags[worst])),
        at_mm=float(places[worst]),
        moment_n_mm=float(np.max(np.abs(moments))),
        reactions_n=tuple(
            float(-forces[2 * _node_at(nodes, support.at_mm)]) for support in beam.supports
        ),
    )


def _nodes(beam: Beam) -> list[float]:
    places = {0.0, beam.length_mm}
    places |= {support.at_mm for support in beam.supports} | {at for at, _ in beam.points}
    places |= {end for start, stop, _ in beam.spread for end in (start, stop)}
    nodes: list[float] = []
    for place in sorted(places):
        if not nodes or place - nodes[-1] > _SAME_MM:
            nodes.append(place)
    return nodes


def _node_at(nodes: Sequence[float], at_mm: float) -> int:
    return min(range(len(nodes)), key=lambda index: abs(nodes[index] - at_mm))


def _held(beam: Beam, nodes: Sequence[float]) -> Iterator[int]:
    for support in beam.supports:
        node = _node_at(nodes, support.at_mm)
        yield 2 * node
        if support.is_fixed:
            yield 2 * node + 1


def _spread_on(beam: Beam, start: float, stop: float) -> float:
    """N on each mm of a stretch between two nodes."""
    middle = (start + stop) / 2
    return sum(load for low, high, load in beam.spread if low < middle < high)


def _assemble(beam: Beam, nodes: Sequence[float]) -> tuple[_Array, _Array]:
    """Stiffness of the whole beam and forces at its nodes; downwards is positive."""
    degrees = 2 * len(nodes)
    stiffness, pushed = np.zeros((degrees, degrees)), np.zeros(degrees)
    for index, (start, stop) in enumerate(pairwise(nodes)):
        own = slice(2 * index, 2 * index + 4)
        long = stop - start
        stiffness[own, own] += beam.stiffness_n_mm2 / long**3 * _shape_of_element(long)
        load = _spread_on(beam, start, stop)
        # A spread load on an element, carried to its ends: Przemieniecki (1968), from memory.
        ends = [long / 2, long**2 / 12, long / 2, -(long**2) / 12]
        pushed[own] += load * np.array(ends)
    for at_mm, load in beam.points:
        pushed[2 * _node_at(nodes, at_mm)] += load
    return stiffness, pushed


def _shape_of_element(long: float) -> _Array:
    """Stiffness of a slender element for E I / long3 = 1: Przemieniecki (1968), from memory."""
    turned, both = 6 * long, 2 * long**2
    return np.array(
        [
            [12, turned, -12, turned],
            [turned, 2 * both, -turned, both],
            [-12, -turned, 12, -turned],
            [turned, both, -turned, 2 * both],
        ]
    )


def _look(beam: Beam, nodes: Sequence[float], moved: _Array) -> tuple[_Array, _Array, _Array]:
    """Places along the beam, how far it has moved there, and the moment."""
    places, sags, moments = [], [], []
    part = np.linspace(0, 1, _PLACES)
    for index, (start, stop) in enumerate(pairwise(nodes)):
        long, own = stop - start, moved[2 * index : 2 * index + 4]
        load = _spread_on(beam, start, stop)
        bubble = load * long**4 / (24 * beam.stiffness_n_mm2)
        places.append(start + part * long)
        sags.append(_curve(part, long, own) + bubble * part**2 * (1 - part) ** 2)
        bent = _curvature(part, long, own) + bubble * (2 - 12 * part + 12 * part**2) / long**2
        moments.append(beam.stiffness_n_mm2 * bent)
    return np.concatenate(places), np.concatenate(sags), np.concatenate(moments)


def _curve(part: _Array, long: float, own: _Array) -> _Array:
    """Cubic through an element's ends."""
    shapes = (
        1 - 3 * part**2 + 2 * part**3,
        long * part * (1 - part) ** 2,
        3 * part**2 - 2 * part**3,
        long * part**2 * (part - 1),
    )
    total: _Array = sum(
        (value * shape for value, shape in zip(own, shapes, strict=True)), start=np.zeros_like(part)
    )
    return total


def _curvature(part: _Array, long: float, own: _Array) -> _Array:
    shapes = (-6 + 12 * part, long * (-4 + 6 * part), 6 - 12 * part, long * (-2 + 6 * part))
    total: _Array = sum(
        (value * shape for value, shape in zip(own, shapes, strict=True)), start=np.zeros_like(part)
    )
    return total / long**2
