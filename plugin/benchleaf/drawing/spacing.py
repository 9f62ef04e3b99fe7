"""How far apart to draw the parts of an exploded view, so that none hides behind another.

Takes the assembly tree, boxes and a view, gives offsets in the piece's axes, mm. Works with boxes
alone, so that many spacings can be tried. Must not know sheets.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np

from benchleaf.drawing.bodies import Flags, Floats
from benchleaf.drawing.exploding import Offset, corners, named, slide_apart, usual_gap_mm
from benchleaf.drawing.projection import View
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Assembly

# chosen: gaps tried, as shares of the usual one; steps of a half more show in the picture.
FACTORS = (0.5, 1.0, 1.5, 2.25, 3.5, 5.0)
# chosen: heights first, for tops hide most; once round, then heights again for what the others
# free.
ORDER = (Axis.HIGH, Axis.DEEP, Axis.WIDE, Axis.HIGH)
# chosen: a picture at half the scale is as bad as 35 % of each part hidden.
SCALE_WEIGHT = 0.5
# chosen: a part of which less than a sixth shows counts as lost, and as bad as two hidden whole.
LOST_SHARE, LOST_WEIGHT = 5 / 6, 1.0
# chosen: points looked at on each side of a box, along each edge.
POINTS = 4


def readable_offsets(assembly: Assembly, boxes: Mapping[str, Box], view: View) -> dict[str, Offset]:
    """Find how far each copy moves from its seat, so that the picture shows every one.

    Wider gaps show more of each part and draw all of them smaller; the best of a few is taken for
    each axis, so that parts that move alike still do.

    Args:
        assembly: The tree that tells what comes off what, and in which direction.
        boxes: Box of each finished copy at its seat, in the piece's axes.
        view: The projection of the picture.

    Returns:
        Offset of each copy, mm, in the piece's axes.
    """
    low, high = corners(assembly, boxes)
    usual = usual_gap_mm(boxes)
    tried: dict[tuple[float, float, float], float] = {}
    best = (usual, usual, usual)
    for axis in ORDER:
        wanted = [_along(best, axis, usual * factor) for factor in FACTORS]
        for gaps in wanted:
            if gaps not in tried:
                shift = slide_apart(assembly, low, high, gaps=np.array(gaps))
                tried[gaps] = round(_cost(low + shift, high + shift, view), 6)
        best = min(wanted, key=lambda gaps: tried[gaps])
    return named(assembly, slide_apart(assembly, low, high, gaps=np.array(best)))


def count_lost(
    boxes: Mapping[str, Box], offsets: Mapping[str, Offset], marks: Collection[str], view: View
) -> int:
    """Count the copies of which a view shows too little to be seen as such.

    Args:
        boxes: Box of each copy that is drawn, at its seat, in the piece's axes.
        offsets: How far each is moved, mm.
        marks: The copies that are to show.
        view: The projection.
    """
    low, high = (
        np.array([[float(v) for v in corner] for corner in ends])
        for ends in zip(*((box.low, box.high) for box in boxes.values()), strict=True)
    )
    shift = np.array([offsets.get(mark, (0.0, 0.0, 0.0)) for mark in boxes])
    counted = np.array([mark in marks for mark in boxes])
    shares = hidden_shares(low + shift, high + shift, view)
    return int((shares[counted] > LOST_SHARE).sum())


def _along(gaps: Offset, axis: Axis, gap: float) -> Offset:
    """The same gaps but for one axis."""
    x, y, z = (gap if i == axis else old for i, old in enumerate(gaps))
    return (x, y, z)


def _cost(low: Floats, high: Floats, view: View) -> float:
    """How hard a spacing is to read: what is hidden, what is lost, and how small it is drawn."""
    hidden = hidden_shares(low, high, view)
    ends = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)])
    flat = view.flat((low[:, None] + ends * (high - low)[:, None]).reshape(-1, 3))
    size = float(np.linalg.norm(flat.max(axis=0) - flat.min(axis=0)))
    lost = float((hidden > LOST_SHARE).mean())
    return float(hidden.mean()) + LOST_WEIGHT * lost + SCALE_WEIGHT * float(np.log(size))


def hidden_shares(low: Floats, high: Floats, view: View) -> Floats:
    """Estimate the share of each box that others hide.

    Args:
        low: (n, 3) low corners of boxes, mm.
        high: (n, 3) high corners.
        view: The projection.

    Returns:
        (n,) share of the area that the box would show alone, 0 to 1.

    >>> from benchleaf.drawing.projection import ISOMETRIC
    >>> low = np.array([[0.0, 0.0, 0.0], [-40.0, 40.0, -40.0]])
    >>> hidden_shares(low, low + 10.0, ISOMETRIC).tolist()
    [0.0, 1.0]
    """
    toward = view.toward_viewer
    steps = (np.arange(POINTS) + 0.5) / POINTS
    shares = np.zeros(len(low))
    total = np.zeros(len(low))
    for axis in range(3):
        spots = np.zeros((POINTS * POINTS, 3))
        spots[:, axis] = 1.0 if toward[axis] > 0 else 0.0
        others = [i for i in range(3) if i != axis]
        spots[:, others] = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
        extents = high - low
        area = abs(toward[axis]) * extents[:, others].prod(axis=1)
        points = low[:, None] + spots * extents[:, None]
        shares += area * _is_covered(points, low, high, toward=toward).mean(axis=1)
        total += area
    return np.divide(shares, total, out=np.zeros(len(low)), where=total > 0)


def _is_covered(points: Floats, low: Floats, high: Floats, *, toward: Floats) -> Flags:
    """Tell for k points on each of n boxes whether another box stands between it and the eye."""
    # A ray from the point enters a box at the last of three slabs and leaves it at the first.
    slope = np.where(np.abs(toward) < 1e-12, 1e-12, toward)
    ends = [(corner[None, None] - points[:, :, None]) / slope for corner in (low, high)]
    enters = np.minimum(*ends).max(axis=3)
    leaves = np.maximum(*ends).min(axis=3)
    # chosen: what is less than a tenth of a mm thick, as boxes that touch, covers nothing.
    covers = leaves - np.maximum(enters, 0) > 0.1
    own = np.arange(len(low))
    covers[own, :, own] = False
    return np.asarray(covers.any(axis=2))
