"""Which views of a part its sheet shows, and in which of them each feature is shown.

Takes spots and the part, gives facings. The grain lies level, a broad face to the front, so that as
few views as possible show every feature open. Must not know paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from benchleaf.drawing.orthographic import Facing, third_angle
from benchleaf.drawing.part_features import Face, Spot
from benchleaf.frames import Axis, Vector, scale
from benchleaf.piece.records import Part

# chosen: the order in which views are taken up: those nearest the front view first, and the right
# end before the left, where upright dimensions of the front view stand.
_ORDER = ("front", "top", "right", "bottom", "left", "back")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenViews:
    """The views of one sheet."""

    facings: Mapping[str, Facing]
    """By name: front, top, right, left, bottom, back; those shown, front first."""
    spots: Mapping[str, tuple[Spot, ...]]
    """The spots that each view shows open."""
    twins: tuple[Spot, ...]
    """Spots of the left end that are as those of the right end, and need no view."""


def choose_views(part: Part, spots: Sequence[Spot], *, is_mirrored: bool) -> ChosenViews:
    """Choose the front and the views beside it.

    Args:
        part: The part.
        spots: Its features.
        is_mirrored: True where the axes of the copy drawn are left-handed.
    """
    fronts = [_front(part, r, t, is_mirrored=is_mirrored) for r, t in product((1, -1), (1, -1))]
    chosen = [_assign(third_angle(front), spots) for front in fronts]
    # The first of the best: fewest views, then those that stand nearest to the front.
    return min(chosen, key=_cost)


def _front(part: Part, along: int, out: int, *, is_mirrored: bool) -> Facing:
    """The front with the grain to the right or left, and one broad face or the other to the eye."""
    right = _unit(part.grain_axis, along)
    # Outward is to the front, the right or the top of the piece.
    natural = -1 if part.thickness_axis is Axis.DEEP else 1
    toward = _unit(part.thickness_axis, out * natural)
    up = cross(toward, right)
    return Facing(right=right, up=scale(up, -1) if is_mirrored else up, toward=toward)


def _unit(axis: Axis, sign: int) -> Vector:
    return tuple(sign if other is axis else 0 for other in Axis)  # type: ignore[return-value]


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product of two vectors."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def face_of(facing: Facing) -> Face:
    """The face that is turned to the eye."""
    axis = axis_of(facing.toward)
    return axis, facing.toward[axis] > 0


def axis_of(direction: Vector) -> Axis:
    """The axis that a signed unit axis runs along."""
    return next(axis for axis in Axis if direction[axis])


def _assign(facings: Mapping[str, Facing], spots: Sequence[Spot]) -> ChosenViews:
    names = {face_of(facing): name for name, facing in facings.items()}
    homes: dict[str, list[Spot]] = {name: [] for name in _ORDER}
    for spot in spots:
        shown = [names[face] for face in spot.faces]
        if shown:
            homes[min(shown, key=_ORDER.index)].append(spot)
    twins = _twins(homes["left"], homes["right"], grain=axis_of(facings["front"].right))
    homes["left"] = [spot for spot in homes["left"] if spot not in twins]
    needed = {"front", *(name for name, found in homes.items() if found)}
    if needed <= {"front", "back"}:
        # The thickness is to be seen somewhere: by custom on the end view.
        needed.add("right")
    return ChosenViews(
        facings={name: facings[name] for name in _ORDER if name in needed},
        spots={name: tuple(homes[name]) for name in _ORDER if name in needed},
        twins=twins,
    )


def _twins(left: Iterable[Spot], right: Iterable[Spot], *, grain: Axis) -> tuple[Spot, ...]:
    """The left end's spots, if every one has its like at the same place on the right end."""
    ends = tuple(left)
    known = {_end_key(spot, grain) for spot in right}
    return ends if all(_end_key(spot, grain) in known for spot in ends) else ()


def _end_key(spot: Spot, grain: Axis) -> tuple[object, ...]:
    across = [axis for axis in Axis if axis is not grain]
    return (spot.words, *(spot.box.low[a] for a in across), *(spot.box.high[a] for a in across))


def _cost(views: ChosenViews) -> tuple[int, int]:
    names = list(views.facings)
    return len(names), sum(_ORDER.index(name) for name in names)
