"""Exploded views: how far each copy stands off, and the trails along which it goes home.

Takes the assembly tree and boxes, or placed bodies and their offsets; gives offsets and trail
lines in the piece's axes, mm. Knows nothing of views.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

import numpy as np

from benchleaf.drawing.bodies import Body, Floats
from benchleaf.frames import Box
from benchleaf.joinery.records import Assembly

Offset = tuple[float, float, float]

# chosen: boxes share less than this when they only touch, mm; far below the plan's 1/64 inch.
TOUCH_MM = 0.01
# chosen: at this part of the piece's diagonal a gap is seen at once and the piece still reads as
# one.
GAP_SHARE = 0.07


def usual_gap_mm(boxes: Mapping[str, Box]) -> float:
    """A gap in proportion to the piece, mm.

    >>> usual_gap_mm({"A": Box((0, 0, 0), (300, 400, 1200))})
    91.0
    """
    low = np.array([[float(v) for v in box.low] for box in boxes.values()])
    high = np.array([[float(v) for v in box.high] for box in boxes.values()])
    extent = high.max(axis=0) - low.min(axis=0)
    return float(np.round(GAP_SHARE * np.linalg.norm(extent), 3))


def explode_offsets(
    assembly: Assembly, boxes: Mapping[str, Box], gap_mm: float | Offset
) -> dict[str, Offset]:
    """Find how far each copy moves from its seat in an exploded view.

    Each moved group slides off in its direction until its boxes stand a gap clear of all that lies
    in its way; what is moved inside a group adds up. What is shifted before starts from there, and
    where both halves move, each goes as far.

    Args:
        assembly: The tree that tells what comes off what, and in which direction.
        boxes: Box of each finished copy at its seat, tenons and all, in the piece's axes.
        gap_mm: Clear gap between a moved group and what it comes off; one for all directions, or
            one for each axis.

    Returns:
        Offset of each copy, mm, in the piece's axes.
    """
    low, high = corners(assembly, boxes)
    offsets = slide_apart(assembly, low, high, gaps=np.broadcast_to(gap_mm, 3))
    return named(assembly, offsets)


def restrict(node: Assembly, marks: Collection[str]) -> Assembly:
    """Keep of an assembly tree what joins some of its copies, one at least.

    >>> leaf = {m: Assembly(copies=(m,), moved=None, fixed=None, direction=(0, 0, 0)) for m in "AB"}
    >>> pair = Assembly(copies=("A", "B"), moved=leaf["B"], fixed=leaf["A"], direction=(0, 0, 1))
    >>> restrict(pair, {"A"}) == leaf["A"]
    True
    """
    if node.moved is None or node.fixed is None:
        return node
    held = [half for half in (node.moved, node.fixed) if not set(marks).isdisjoint(half.copies)]
    if len(held) == 1:
        return restrict(held[0], marks)
    return replace(
        node,
        copies=tuple(mark for mark in node.copies if mark in marks),
        moved=restrict(node.moved, marks),
        fixed=restrict(node.fixed, marks),
    )


def corners(assembly: Assembly, boxes: Mapping[str, Box]) -> tuple[Floats, Floats]:
    """Low and high corners of the boxes of an assembly's copies, (n, 3) each, mm."""
    low = np.array([[float(v) for v in boxes[mark].low] for mark in assembly.copies])
    high = np.array([[float(v) for v in boxes[mark].high] for mark in assembly.copies])
    return low, high


def named(assembly: Assembly, offsets: Floats) -> dict[str, Offset]:
    """Offsets in the order of an assembly's copies, by mark."""
    listed = zip(assembly.copies, offsets.tolist(), strict=True)
    return {mark: (x, y, z) for mark, (x, y, z) in listed}


def slide_apart(assembly: Assembly, low: Floats, high: Floats, *, gaps: Floats) -> Floats:
    """As `explode_offsets`, in arrays in the order of the assembly's copies, (n, 3).

    Args:
        assembly: The tree.
        low: (n, 3) low corners of boxes at their seats, mm.
        high: (n, 3) high corners.
        gaps: (3,) gap along each axis, mm.
    """
    rows = {mark: row for row, mark in enumerate(assembly.copies)}
    offsets = np.zeros_like(low)
    # Leaves first: a node's inner offsets are known when it slides off as a whole.
    for node in reversed(_nodes(assembly)):
        along = np.array([float(v) for v in node.direction])
        if not along.any():
            continue
        moved, fixed = ([rows[m] for m in part.copies] for part in _halves(node))
        offsets[moved] += [float(v) for v in node.shift_mm]
        at_low, at_high = low + offsets, high + offsets
        slide = _slide(
            along,
            (at_low[moved], at_high[moved]),
            (at_low[fixed], at_high[fixed]),
            gap_mm=float(np.abs(along) @ gaps),
        )
        offsets[moved] += along * slide
        offsets[fixed] += slide * np.array([float(v) for v in node.fixed_direction])
    return offsets


def _nodes(root: Assembly) -> list[Assembly]:
    """All inner nodes, each before those inside it."""
    nodes, fresh = [], [root]
    while fresh:
        node = fresh.pop()
        if node.moved is not None and node.fixed is not None:
            nodes.append(node)
            fresh += [node.fixed, node.moved]
    return nodes


def _halves(node: Assembly) -> tuple[Assembly, Assembly]:
    if node.moved is None or node.fixed is None:
        raise ValueError("a single copy has no halves")
    return node.moved, node.fixed


def _slide(
    along: Floats,
    moved: tuple[Floats, Floats],
    fixed: tuple[Floats, Floats],
    *,
    gap_mm: float,
) -> float:
    """How far moved boxes slide along a direction until all fixed ones in their way are cleared."""
    ways = _frame(along)
    (m_low, m_high), (f_low, f_high) = (_spans(*boxes, ways) for boxes in (moved, fixed))
    meets = np.ones((len(m_low), len(f_low)), dtype=bool)
    for side in (1, 2):
        meets &= m_low[:, None, side] < f_high[None, :, side] - TOUCH_MM
        meets &= f_low[None, :, side] < m_high[:, None, side] - TOUCH_MM
    needed = f_high[None, :, 0] - m_low[:, None, 0] + gap_mm
    return max(gap_mm, float(np.where(meets, needed, 0).max()))


def _frame(along: Floats) -> Floats:
    """Three directions square to each other, the first along a given one, as rows."""
    helper = np.eye(3)[int(np.argmin(np.abs(along)))]
    second = _square_to(along, helper)
    second /= np.sqrt(second @ second)
    return np.array([along, second, _square_to(along, second)])


def _square_to(u: Floats, v: Floats) -> Floats:
    """The cross product, without the general one's many cases."""
    (a, b, c), (d, e, f) = u.tolist(), v.tolist()
    return np.array([b * f - c * e, c * d - a * f, a * e - b * d])


def _spans(low: Floats, high: Floats, ways: Floats) -> tuple[Floats, Floats]:
    """Spans of boxes along directions: least and most, (n, 3)."""
    middle = (low + high) / 2 @ ways.T
    half = (high - low) / 2 @ np.abs(ways).T
    return middle - half, middle + half


def trails(
    bodies: Sequence[Body],
    offsets: Mapping[str, Sequence[float]],
    mates: Collection[frozenset[str]] | None = None,
) -> Floats:
    """Lines from moved bodies to their seats: one for each two that touch and part in one slide.

    Args:
        bodies: Bodies at their seats.
        offsets: How far each is moved.
        mates: Pairs of marks between which trails may run; None for all that touch by their boxes.

    Returns:
        (n, 2, 3) from a point on the one, where it is shown, to the same point on the other.
    """
    low = np.array([body.vertices.min(axis=0) for body in bodies])
    high = np.array([body.vertices.max(axis=0) for body in bodies])
    shift = np.array([tuple(offsets.get(body.mark, (0, 0, 0))) for body in bodies], dtype=float)
    first, second = np.triu_indices(len(bodies), 1)
    shared_low = np.maximum(low[first], low[second])
    shared_high = np.minimum(high[first], high[second])
    moved = np.abs(shift[first] - shift[second]) > TOUCH_MM
    # Along the slide they may just touch; across it they share some width.
    room = np.where(moved, -TOUCH_MM, TOUCH_MM)
    runs = (shared_high - shared_low >= room).all(axis=1) & (moved.sum(axis=1) == 1)
    if mates is not None:
        marks = [body.mark for body in bodies]
        pairs = zip(first.tolist(), second.tolist(), strict=True)
        runs &= np.array([frozenset((marks[i], marks[j])) in mates for i, j in pairs], dtype=bool)
    middle = (shared_low + shared_high)[runs] / 2
    return np.stack([middle + shift[first[runs]], middle + shift[second[runs]]], axis=1)
