"""Short grain: wood that stands out across the grain on a foot that is narrow along it.

Takes a part's solid in its own axes, gives how far the worst such piece stands out. Such a piece
breaks off along the grain at a knock. Knows no kind of shaping.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely
from manifold3d import Manifold

from benchleaf.frames import Axis
from benchleaf.piece.records import Part

# common practice, no source: less than an inch of wood along the grain is short grain where it
# stands out by more than that.
SHORT_MM: Final = 25.4
# chosen: a line every half millimetre would find no more; no more lines than this.
_STEP_MM: Final = 1.0
_MOST_LINES: Final = 400

Span = tuple[float, float]


def standing_out_mm(solid: Manifold, part: Part) -> float:
    """How far the worst short grain of a part stands out across the grain; 0 where there is none.

    Args:
        solid: The part, in its own axes.
        part: For its axes.
    """
    face = _section(solid, part)
    if face.is_empty:
        return 0.0
    x0, y0, x1, y1 = face.bounds
    step = max(_STEP_MM, (y1 - y0) / _MOST_LINES)
    worst, open_spans = 0.0, list[tuple[Span, float]]()
    for y in np.arange(y0 + step / 2, y1, step):
        line = shapely.LineString([(x0 - 1, y), (x1 + 1, y)])
        spans = []
        for span in _short_spans(face.intersection(line)):
            below = [
                height for other, height in open_spans if other[0] < span[1] and span[0] < other[1]
            ]
            height = max(below, default=0.0) + step
            spans.append((span, height))
            worst = max(worst, height)
        open_spans = spans
    return worst if worst > SHORT_MM else 0.0


def _section(solid: Manifold, part: Part) -> shapely.Geometry:
    """The cut face through the middle of the thickness: grain along x, width along y."""
    rows = np.zeros((3, 4))
    for row, axis in enumerate((part.grain_axis, part.width_axis, part.thickness_axis)):
        rows[row, axis] = 1.0
    middle = float(part.box.size[Axis(part.thickness_axis)]) / 2
    face: shapely.Geometry = shapely.Polygon()
    for ring in solid.transform(rows).slice(middle).to_polygons():
        if len(ring) > 2:
            face = face.symmetric_difference(shapely.Polygon(ring).buffer(0))
    return face


def _short_spans(cut: shapely.Geometry) -> Iterator[Span]:
    for piece in shapely.get_parts(cut):
        if isinstance(piece, shapely.LineString) and 0 < piece.length < SHORT_MM:
            x0, _, x1, _ = piece.bounds
            yield (x0, x1)
