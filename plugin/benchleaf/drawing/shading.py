"""Tones: by which way a face looks, and so that a part is told from its neighbours.

Takes bodies and a view, gives tones for areas, 0 lightest. Knows nothing of sheets.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from benchleaf.drawing.bodies import Body, Floats, Ints, Soup
from benchleaf.drawing.projection import View
from benchleaf.drawing.visibility import faces_eye

# chosen: light from above, over the viewer's left shoulder: tops lightest, then left sides, then
# right.
LIGHT_UP, LIGHT_LEFT, LIGHT_VIEW = 0.8, 0.3, 0.2
# chosen: a face whose brightness is below one, two or three of these takes so many darker tones;
# of a box seen from above top, left and right differ, and undersides come out darkest.
STEPS = (0.6, 0.1, -0.4)
# The sheet's areas have tones 0 to 5.
DARKEST = 5
# chosen: three paper-light tones for parts, for with the three of a box's faces they make six.
PART_TONES = 3
# The sheet's hatches from the quietest: upward, downward, upright.
HATCHES = (0, 1, 2, 5)
# chosen: bodies whose boxes come this near count as neighbours, mm.
NEAR_MM = 1.0


def face_tones(soup: Soup, view: View) -> Ints:
    """Find the tone of each face of a view.

    Args:
        soup: The bodies.
        view: The projection.

    Returns:
        (m,) tones 0 to 5 by number of the face; a smooth surface takes that of its middle.
    """
    front = faces_eye(soup, view)
    a, b, c = (soup.vertices[soup.triangles[front, i]] for i in range(3))
    doubled = np.cross(b - a, c - a)
    count = len(soup.triangles)
    sums = [np.bincount(soup.faces[front], doubled[:, i], minlength=count) for i in range(3)]
    normals = np.stack(sums, axis=1)
    lengths = np.linalg.norm(normals, axis=1)
    shine = np.divide(normals @ _light(view), lengths, out=np.zeros(count), where=lengths > 0)
    turned = (shine[:, None] < np.array(STEPS)).sum(axis=1)
    tints = np.array([body.tone for body in soup.bodies])[soup.owners]
    return np.asarray(np.minimum(turned + tints, DARKEST), dtype=np.intp)


def _light(view: View) -> Floats:
    right = np.array(view.right) / np.linalg.norm(view.right)
    light = LIGHT_UP * np.array([0, 0, 1]) - LIGHT_LEFT * right + LIGHT_VIEW * view.toward_viewer
    return np.asarray(light, dtype=np.float64)


def tell_apart(bodies: Sequence[Body]) -> tuple[Body, ...]:
    """Give bodies tones, and where those run out hatches, so that no two neighbours look alike.

    Copies of a part, A1 and A2, look alike; parts take the first look that no earlier neighbour
    has.
    """
    parts = [body.mark.rstrip("0123456789") for body in bodies]
    low = np.array([body.vertices.min(axis=0) for body in bodies]) - NEAR_MM
    high = np.array([body.vertices.max(axis=0) for body in bodies]) + NEAR_MM
    meets = (low[:, None] <= high[None]).all(axis=2)
    neighbours: dict[str, set[str]] = {part: set() for part in parts}
    for i, j in np.argwhere(meets & meets.T):
        neighbours[parts[i]].add(parts[j])
    looks: dict[str, int] = {}
    for part, near in neighbours.items():
        taken = {looks[other] for other in near if other in looks and other != part}
        free = (look for look in range(len(bodies)) if look not in taken)
        looks[part] = next(free)
    return tuple(
        replace(body, tone=look % PART_TONES, hatch=HATCHES[look // PART_TONES % len(HATCHES)])
        for body, look in zip(bodies, (looks[part] for part in parts), strict=True)
    )
