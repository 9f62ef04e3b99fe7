"""Parallel projections: from the piece's axes to a picture's plane and its place on the sheet.

Takes points in mm in the piece's axes, gives points on the picture plane (x to the right, y up, mm
of the piece), and the shift and scale that fit them into a box on the sheet. Knows nothing of
bodies.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Axis3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A parallel projection, upright or oblique: two rows that take (x, y, z) to the picture."""

    name: str
    """Words for captions: isometric view, dimetric view from behind."""
    right: Axis3
    """How far to the right on the picture one mm along x, y and z goes."""
    up: Axis3
    """How far up on the picture one mm along x, y and z goes."""

    @property
    def toward_viewer(self) -> Floats:
        """Unit vector in the piece's axes along which all lines of sight run, to the viewer."""
        (a, b, c), (d, e, f) = self.right, self.up
        x, y, z = b * f - c * e, c * d - a * f, a * e - b * d
        length = math.sqrt(x * x + y * y + z * z)
        return np.array([x / length, y / length, z / length])

    def flat(self, points: Floats) -> Floats:
        """Project points, (n, 3) to (n, 2)."""
        return np.asarray(points @ np.array([self.right, self.up]).T, dtype=np.float64)


def _axonometric(name: str, *, wide_deg: float, deep_deg: float, deep_ratio: float) -> View:
    """A view by the slopes of its wide and deep axes, up to the right; the high axis is upright."""
    wide, deep = math.radians(wide_deg), math.radians(deep_deg)
    return View(
        name=name,
        right=(math.cos(wide), deep_ratio * math.cos(deep), 0.0),
        up=(math.sin(wide), deep_ratio * math.sin(deep), 1.0),
    )


# ISO 5456-3: isometric, axes at 30 deg, ratios 1 : 1 : 1. From the right, front and above.
ISOMETRIC = _axonometric("isometric view", wide_deg=-30, deep_deg=30, deep_ratio=1)
# ISO 5456-3: dimetric, axes at 7 and 42 deg, depth at one half. From the right, front and above.
DIMETRIC = _axonometric("dimetric view", wide_deg=-7, deep_deg=42, deep_ratio=0.5)


def turned_over(view: View) -> View:
    """The same view of a piece that lies upside down, turned about its wide axis."""
    (a, b, c), (d, e, f) = view.right, view.up
    return View(name=f"{view.name}, upside down", right=(a, -b, -c), up=(d, -e, -f))


def from_left(view: View) -> View:
    """The same kind of view from the other hand: the left side shows in place of the right."""
    (rx, ry, rz), (ux, uy, uz) = view.right, view.up
    return View(name=f"{view.name} from the left", right=(rx, -ry, rz), up=(-ux, uy, uz))


def from_back(view: View) -> View:
    """The same kind of view from behind: the piece turned half round on the floor."""
    (rx, ry, rz), (ux, uy, uz) = view.right, view.up
    return View(name=f"{view.name} from behind", right=(-rx, -ry, rz), up=(-ux, -uy, uz))


def from_below(view: View) -> View:
    """The same kind of view from under the piece: undersides show in place of tops."""
    (ux, uy, uz) = view.up
    return View(name=f"{view.name} from below", right=view.right, up=(-ux, -uy, uz))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """Shift and scale from the picture plane to the sheet, where y runs down."""

    scale: float
    """Sheet mm for one mm of the piece along an axis of ratio 1."""
    left: float
    """x on the sheet of the picture's origin, mm."""
    base: float
    """y on the sheet of the picture's origin, mm."""

    def on_sheet(self, flat: Floats) -> Floats:
        """Picture points to sheet points, (..., 2)."""
        return flat * [self.scale, -self.scale] + [self.left, self.base]

    def on_plane(self, sheet: Floats) -> Floats:
        """Sheet points to picture points, (..., 2)."""
        return (sheet - [self.left, self.base]) / [self.scale, -self.scale]


def fit_into(flat: Floats, low: tuple[float, float], high: tuple[float, float]) -> Fit:
    """Fit picture points into a box on the sheet, as large as it allows, in its middle.

    Args:
        flat: (n, 2) picture points.
        low: Left and top of the box, mm on the sheet.
        high: Right and foot of the box.

    >>> fit = fit_into(np.array([[0.0, 0.0], [200.0, 100.0]]), (0, 0), (50, 50))
    >>> fit.scale, fit.on_sheet(np.array([0.0, 0.0])).tolist()
    (0.25, [0.0, 37.5])
    """
    least, most = flat.min(axis=0), flat.max(axis=0)
    extent = np.maximum(most - least, 1e-9)
    room = np.subtract(high, low)
    scale = float((room / extent).min())
    middle = (least + most) / 2
    centre = np.add(low, high) / 2
    return Fit(
        scale=scale,
        left=float(centre[0] - middle[0] * scale),
        base=float(centre[1] + middle[1] * scale),
    )
