"""Which views of a part its sheet shows, and in which of them each feature is shown.

Takes spots and the part, gives facings. The grain lies level, a broad face to the front, so that as
few views as possible show every feature open. Must not know paper.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from benchleaf.drawing.orthographic import Facing, third_angle
from benchleaf.drawing.part_features import Face, Spot
from benchleaf.frames import Axis, Vector, main_axis, scale
from benchleaf.piece.records import Part

# chosen: the order in which views are taken up: those nearest the front view first, and the right
# end before the left, where upright dimensions of the front view stand.
_ORDER = ("front", "top", "right", "bottom", "left", "back")

# chosen: what is three times as wide as thick reads as a face with an edge.
_PANEL_RATIO = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenViews:
    """The views of one sheet."""

    facings: Mapping[str, Facing]
    """By name: front, top, right, left, bottom, back; those shown, front first."""
    spots: Mapping[str, tuple[Spot, ...]]
    """The spots that each view shows open. What the left end has just like the right, or the bottom
    like the top, is shown once."""


def choose_views(part: Part, spots: Sequence[Spot], *, is_mirrored: bool) -> ChosenViews:
    """Choose the front and the views beside it.

    Args:
        part: The part.
        spots: Its features.
        is_mirrored: True where the axes of the copy drawn are left-handed.
    """
    fronts = [
        _front(part, axis, (along, out), is_mirrored=is_mirrored)
        for axis in (part.thickness_axis, part.width_axis)
        for along, out in product((1, -1), (1, -1))
    ]
    facings = [third_angle(front) for front in fronts]
    # What is open on several faces is shown in the nearest view; or, where that asks for more of
    # them, in as few views as show everything.
    chosen = [_assign(views, spots, among=_ORDER) for views in facings]
    chosen += [_assign(views, spots, among=_fewest(views, spots)) for views in facings]
    # The first of the best: fewest views, a panel's face in front, none from behind, a broad front,
    # right way up (of what lies flat the back above, as seen from the front), views near to it.
    return min(chosen, key=lambda views: _cost(views, part))


def _front(part: Part, axis: Axis, ways: tuple[int, int], *, is_mirrored: bool) -> Facing:
    """The front with the grain to the right or left, and one face or the opposite to the eye."""
    along, out = ways
    right = _unit(part.grain_axis, along)
    # Outward is to the front, the right or the top of the piece.
    natural = -1 if axis is Axis.DEEP else 1
    toward = _unit(axis, out * natural)
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
    return main_axis(direction)


def _fewest(facings: Mapping[str, Facing], spots: Iterable[Spot]) -> tuple[str, ...]:
    """The least number of views that show every spot between them, the front view one of them."""
    open_in = [names for spot in spots if (names := _showing(facings, spot))]
    for count in range(len(_ORDER)):
        for others in combinations(_ORDER[1:], count):
            views = ("front", *others)
            if all(names & set(views) for names in open_in):
                return views
    return _ORDER


def _showing(facings: Mapping[str, Facing], spot: Spot) -> set[str]:
    """The views that show a spot open."""
    names = {face_of(facing): name for name, facing in facings.items()}
    return {names[face] for face in spot.faces}


def _assign(
    facings: Mapping[str, Facing], spots: Sequence[Spot], *, among: Collection[str]
) -> ChosenViews:
    """Give each spot to the nearest of some views that shows it open."""
    homes: dict[str, list[Spot]] = {name: [] for name in _ORDER}
    for spot in spots:
        showing = _showing(facings, spot) & set(among)
        if showing:
            homes[min(showing, key=_ORDER.index)].append(spot)
    for other, shown in (("left", "right"), ("bottom", "top")):
        if _are_twins(homes[other], homes[shown], axis_of(facings[shown].toward)):
            homes[other] = []
    needed = {"front", *(name for name, found in homes.items() if found)}
    if needed <= {"front", "back"}:
        # The thickness is to be seen somewhere: by custom on the end view.
        needed.add("right")
    return ChosenViews(
        facings={name: facings[name] for name in _ORDER if name in needed},
        spots={name: tuple(homes[name]) for name in _ORDER if name in needed},
    )


def _are_twins(others: Iterable[Spot], shown: Iterable[Spot], across: Axis) -> bool:
    """Tell whether every spot has its like on the opposite face."""
    known = {_face_key(spot, across) for spot in shown}
    return all(_face_key(spot, across) in known for spot in others)


def _face_key(spot: Spot, across: Axis) -> tuple[object, ...]:
    axes = [axis for axis in Axis if axis is not across]
    return (spot.words, *(spot.box.low[a] for a in axes), *(spot.box.high[a] for a in axes))


def _cost(views: ChosenViews, part: Part) -> tuple[int, bool, bool, bool, bool, int, bool]:
    names = list(views.facings)
    front = views.facings["front"]
    on_edge = axis_of(front.toward) is not part.thickness_axis
    size = part.box.size
    is_panel = size[part.width_axis] >= _PANEL_RATIO * size[part.thickness_axis]
    near = sum(_ORDER.index(name) for name in names)
    # What is as long as high lies on its side on the sheet: then its top is to the right.
    lies = axis_of(front.right) is Axis.HIGH
    upside_down = not lies and front.up[axis_of(front.up)] < 0
    turned = lies and front.right[Axis.HIGH] < 0
    panel_on_edge = on_edge and is_panel
    return len(names), panel_on_edge, "back" in names, on_edge, upside_down, near, turned
