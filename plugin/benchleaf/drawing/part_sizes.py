"""What is to be measured on a part, each size once, and in which view.

Takes the chosen views and the part's boxes, gives lengths along the part's own axes, with their
words. Must not know paper: where the lines go follows in `part_block`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from typing import Final

from benchleaf.drawing.part_features import Group, Spot, centre_of, even_step_mm
from benchleaf.drawing.part_views import ChosenViews, axis_of
from benchleaf.frames import Axis, Box
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import UnitName, format_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What a part is measured by."""

    body: Box
    """Shoulder to shoulder, in the part's own axes."""
    blank: Box
    """With what joints add."""
    datums_mm: Mapping[Axis, Fraction]
    """Where locations along each axis are measured from."""
    is_round: bool
    """True for a rod: it has a diameter, and its middle needs no finding."""
    units: UnitName


# chosen: labels at their least pitch fill the sheet's width less its margins.
MOST_PLACES: Final = 44


@dataclass(frozen=True, slots=True, kw_only=True)
class Location:
    """A place on a part, measured from the datum of its axis."""

    at_mm: Fraction
    """Along the axis, own axes."""
    text: str
    spots: tuple[Spot, ...]
    """The features that lie there, one at least."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """A whole size of the part: with what joints add, or from shoulder to shoulder."""

    low_mm: Fraction
    high_mm: Fraction
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """All that one sheet measures."""

    datums_mm: Mapping[Axis, Fraction]
    """Where locations along each axis are measured from."""
    locations: Mapping[tuple[str, Axis], tuple[Location, ...]]
    """By view and axis, in order along the axis."""
    extents: Mapping[tuple[str, Axis], tuple[Extent, ...]]
    """By the view that shows them, and axis."""
    steps: Mapping[str, str]
    """Letters of evenly spaced groups, to words on their spacing."""
    leaves_out: bool
    """True where a view has more places along an axis than its side has room for."""


def choose_datums(joinery: Joinery, mark: str, body: Box) -> dict[Axis, Fraction]:
    """Choose the faces that a part is measured from: those that most joints are set out from.

    Args:
        joinery: The joints, whose setting out names reference faces.
        mark: Mark of the copy drawn.
        body: The part, shoulder to shoulder, in its own axes.
    """
    named = [
        line.reference for fit in joinery.fits for line in fit.setting_out if line.copy == mark
    ]
    return {
        axis: Fraction(
            body.high[axis]
            if named.count(axis.high_face) > named.count(axis.low_face)
            else body.low[axis]
        )
        for axis in Axis
    }


def plan_sizes(views: ChosenViews, groups: Sequence[Group], basis: Basis) -> Sizes:
    """Decide what is measured where.

    Args:
        views: The views of the sheet.
        groups: The features in groups.
        basis: What the part is measured by.
    """
    return Sizes(
        datums_mm=basis.datums_mm,
        locations=_locations(views, groups, basis),
        extents=dict(_extents(views, basis)),
        steps={
            group.letter: f"{format_length(step, basis.units)} apart"
            for group in groups
            for step in _steps(views, group, basis.body)
        },
        leaves_out=_leaves_out(views, groups, basis),
    )


def _leaves_out(views: ChosenViews, groups: Sequence[Group], basis: Basis) -> bool:
    return any(
        len({at for at, _ in _places(views.spots[name], groups, axis, basis.body)}) > MOST_PLACES
        for name, axis in _view_axes(views)
    )


def _middles(views: ChosenViews, body: Box) -> Iterator[tuple[Axis, Fraction]]:
    """The middle of the part across the grain."""
    front = views.facings["front"]
    for axis in (axis_of(front.up), axis_of(front.toward)):
        yield axis, Fraction(body.low[axis] + body.high[axis]) / 2


def _locations(
    views: ChosenViews, groups: Sequence[Group], basis: Basis
) -> dict[tuple[str, Axis], tuple[Location, ...]]:
    """Places to be located in each view along its axes, none of them twice."""
    known = set(basis.datums_mm.items())
    if basis.is_round:
        known |= set(_middles(views, basis.body))
    locations = {}
    for name, axis in _view_axes(views):
        datum = basis.datums_mm[axis]
        found: dict[Fraction, list[Spot]] = {}
        for at, spot in _places(views.spots[name], groups, axis, basis.body):
            found.setdefault(at, []).append(spot)
        for spot in _waste_in(views, name, axis):
            for at in _shoulders_of(spot, axis, basis.body):
                found.setdefault(at, []).append(spot)
        fresh = {at: spots for at, spots in found.items() if (axis, at) not in known}
        if len(fresh) > MOST_PLACES:
            fresh = {}
        known |= {(axis, at) for at in fresh}
        locations[name, axis] = tuple(
            Location(
                at_mm=at, text=format_length(abs(at - datum), basis.units), spots=tuple(fresh[at])
            )
            for at in sorted(fresh)
        )
    return locations


def _view_axes(views: ChosenViews) -> Iterator[tuple[str, Axis]]:
    for name, facing in views.facings.items():
        yield name, axis_of(facing.right)
        yield name, axis_of(facing.up)


def _places(
    spots: Sequence[Spot], groups: Iterable[Group], axis: Axis, body: Box
) -> Iterator[tuple[Fraction, Spot]]:
    """Places along an axis of spots shown in one view; of even rows only the ends."""
    for group in groups:
        places = _places_of_group(spots, group, axis, body)
        ends = (min(places), max(places)) if places else ()
        kept = ends if even_step_mm(list(places)) is not None else tuple(places)
        yield from ((at, spot) for at in kept for spot in places[at])


def _waste_in(views: ChosenViews, name: str, axis: Axis) -> Iterator[Spot]:
    """Waste whose sides a view locates: along the grain the front view does so for all."""
    is_along = name == "front" and axis is axis_of(views.facings[name].right)
    for spot in chain.from_iterable(views.spots.values()) if is_along else views.spots[name]:
        if not spot.is_tagged:
            yield spot


def _places_of_group(
    spots: Sequence[Spot], group: Group, axis: Axis, body: Box
) -> dict[Fraction, list[Spot]]:
    found: dict[Fraction, list[Spot]] = {}
    shown = {id(spot) for spot in spots}
    for spot in group.spots:
        if id(spot) in shown:
            for at in _places_of(spot, axis, body):
                found.setdefault(at, []).append(spot)
    return found


def _steps(views: ChosenViews, group: Group, body: Box) -> Iterator[Fraction]:
    """The even steps that a group's spots stand at in the views that show them."""
    for name, axis in _view_axes(views):
        step = even_step_mm(list(_places_of_group(views.spots[name], group, axis, body)))
        if step is not None:
            yield step


def _places_of(spot: Spot, axis: Axis, body: Box) -> Iterator[Fraction]:
    """The centre of a round feature; the low side of a square one that is not flush there."""
    if spot.round_axis is not None:
        if spot.round_axis is not axis:
            yield Fraction(centre_of(spot.box)[axis])
        return
    low, high = spot.box.low[axis], spot.box.high[axis]
    # Flush with a face its size alone places it; outside the body it is a tenon's length.
    if body.low[axis] < low and high < body.high[axis]:
        yield Fraction(low)


def _shoulders_of(spot: Spot, axis: Axis, body: Box) -> Iterator[Fraction]:
    """The sides of waste that leave wood standing."""
    for at in (spot.box.low[axis], spot.box.high[axis]):
        if body.low[axis] < at < body.high[axis]:
            yield Fraction(at)


def _extents(
    views: ChosenViews, basis: Basis
) -> Iterator[tuple[tuple[str, Axis], tuple[Extent, ...]]]:
    """Whole sizes, each in one view: the thickness on an end where one is shown."""
    front = views.facings["front"]
    level, upright, deep = axis_of(front.right), axis_of(front.up), axis_of(front.toward)
    ends_first = ("right", "left", "top", "bottom")
    for_depth = next(name for name in ends_first if name in views.facings)
    wanted = [("front", level), ("front", upright)]
    if not basis.is_round:
        wanted.append((for_depth, deep))
    for name, axis in wanted:
        unit = " dia" if basis.is_round and axis is upright else ""
        whole = (Fraction(basis.blank.low[axis]), Fraction(basis.blank.high[axis]))
        between = (Fraction(basis.body.low[axis]), Fraction(basis.body.high[axis]))
        yield (
            (name, axis),
            tuple(
                Extent(low_mm=low, high_mm=high, text=format_length(high - low, basis.units) + unit)
                for low, high in dict.fromkeys((between, whole))
            ),
        )
