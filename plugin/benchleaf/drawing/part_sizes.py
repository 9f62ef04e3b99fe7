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

from benchleaf.drawing.part_datums import Datums
from benchleaf.drawing.part_features import SECTION_ROLE, Group, Spot, even_step_mm
from benchleaf.drawing.part_sections import is_centred, read_sections
from benchleaf.drawing.part_views import ChosenViews, axis_of
from benchleaf.frames import Axis, Box
from benchleaf.lengths import UnitName, format_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What a part is measured by."""

    body: Box
    """Shoulder to shoulder, in the part's own axes."""
    datums: Datums
    """The ends that places are measured from."""
    along: Axis
    """The axis that the grain runs on."""
    is_round: bool
    """True for a rod: it has a diameter, and its middle needs no finding."""
    units: UnitName

    @property
    def blank(self) -> Box:
        """The part with what joints add."""
        return self.datums.blank


# chosen: labels at their least pitch fill the sheet's width less its margins.
MOST_PLACES: Final = 44


@dataclass(frozen=True, slots=True, kw_only=True)
class Location:
    """A place on a part, measured from one of its ends."""

    at_mm: Fraction
    """Along the axis, own axes."""
    from_high: bool
    """True where it is measured from the high end of the axis."""
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

    datums: Datums
    """The ends that places are measured from."""
    locations: Mapping[tuple[str, Axis], tuple[Location, ...]]
    """By view and axis, in order along the axis."""
    extents: Mapping[tuple[str, Axis], tuple[Extent, ...]]
    """By the view that shows them, and axis."""
    steps: Mapping[str, str]
    """Letters of evenly spaced groups, to words on their spacing."""
    leaves_out: bool
    """True where a view has more places along an axis than its side has room for."""


def plan_sizes(views: ChosenViews, groups: Sequence[Group], basis: Basis) -> Sizes:
    """Decide what is measured where.

    Args:
        views: The views of the sheet.
        groups: The features in groups.
        basis: What the part is measured by.
    """
    found = {
        (name, axis): _places(views, groups, basis, where=(name, axis))
        for name, axis in _view_axes(views)
    }
    return Sizes(
        datums=basis.datums,
        locations=_locations(found, basis),
        extents=_extents(views, groups, basis),
        steps={
            group.letter: f"{format_length(step, basis.units)} apart"
            for group in groups
            for step in _steps(views, group, basis)
        },
        leaves_out=any(len(places) > MOST_PLACES for places in found.values()),
    )


# A place, from which end it is measured, and what lies there.
Found = dict[tuple[Fraction, bool], list[Spot]]


def _locations(
    found: Mapping[tuple[str, Axis], Found], basis: Basis
) -> dict[tuple[str, Axis], tuple[Location, ...]]:
    """Places to be located in each view along its axes, none twice in views that line up."""
    known: set[tuple[str, Axis, Fraction, bool]] = set()
    locations = {}
    for (name, axis), places in found.items():
        row = _line_of_views(name, axis, basis)
        fresh = {
            place: spots
            for place, spots in sorted(places.items())
            if (row, axis, *place) not in known and len(places) <= MOST_PLACES
        }
        known |= {(row, axis, *place) for place in fresh}
        locations[name, axis] = tuple(
            _location(axis, place, spots, basis) for place, spots in fresh.items()
        )
    return locations


def _location(
    axis: Axis, place: tuple[Fraction, bool], spots: Sequence[Spot], basis: Basis
) -> Location:
    at, from_high = place
    distance = abs(at - basis.datums.end_mm(axis, is_high=from_high))
    return Location(
        at_mm=at,
        from_high=from_high,
        text=format_length(distance, basis.units),
        spots=tuple(spots),
    )


def _line_of_views(name: str, axis: Axis, basis: Basis) -> str:
    """Which views stand in line, so that one size serves them all along an axis.

    Along the grain those above and below the front do; across it the ends do, beside the front.
    """
    if axis is basis.along:
        return "level"
    return "upright" if name in ("front", "left", "right") else name


def _view_axes(views: ChosenViews) -> Iterator[tuple[str, Axis]]:
    for name, facing in views.facings.items():
        yield name, axis_of(facing.right)
        yield name, axis_of(facing.up)


def _places(
    views: ChosenViews, groups: Iterable[Group], basis: Basis, *, where: tuple[str, Axis]
) -> Found:
    """Places along an axis of what one view shows; of even rows the ends, where all are too many.

    The ends of the part and the middle of a rod need no finding.
    """
    name, axis = where
    waste = [
        *_waste_places(views, basis, where=where),
        *_places_into_ends(views, basis, where=where),
    ]
    rows = [_places_of_group(views.spots[name], group, axis, basis) for group in groups]
    every = _measured([*waste, *_listed(rows)], axis, basis)
    if len(every) <= MOST_PLACES:
        return every
    ends = [
        {min(row): row[min(row)], max(row): row[max(row)]}
        if even_step_mm(list(row)) is not None
        else row
        for row in rows
    ]
    return _measured([*waste, *_listed(ends)], axis, basis)


def _listed(
    rows: Iterable[Mapping[Fraction, Sequence[Spot]]],
) -> Iterator[tuple[Fraction, Spot]]:
    for row in rows:
        yield from ((at, spot) for at, spots in row.items() for spot in spots)


def _measured(places: Iterable[tuple[Fraction, Spot]], axis: Axis, basis: Basis) -> Found:
    blank, body = basis.blank, basis.body
    plain = {blank.low[axis], blank.high[axis]}
    if basis.is_round and axis is not basis.along:
        plain.add((body.low[axis] + body.high[axis]) / 2)
    found: Found = {}
    for at, spot in places:
        if at not in plain:
            for from_high in basis.datums.ends_for(axis, at):
                found.setdefault((at, from_high), []).append(spot)
    return found


def _waste_places(
    views: ChosenViews, basis: Basis, *, where: tuple[str, Axis]
) -> Iterator[tuple[Fraction, Spot]]:
    """Sides of waste that leave wood standing: along the grain the front view has those of all.

    Across it a section in the middle of the part is listed by its size.
    """
    name, axis = where
    is_along = name == "front" and axis is axis_of(views.facings[name].right)
    if not is_along and _sections(views, name, basis):
        return
    for spot in chain.from_iterable(views.spots.values()) if is_along else views.spots[name]:
        if not spot.is_tagged:
            yield from ((at, spot) for at in _shoulders_of(spot, axis, basis.body))


def _places_into_ends(
    views: ChosenViews, basis: Basis, *, where: tuple[str, Axis]
) -> Iterator[tuple[Fraction, Spot]]:
    """Lines that are set out for cuts into the ends: the front view shows how far in they lie.

    The end view, which shows such a cut open, looks along the grain and cannot measure it there.
    """
    name, axis = where
    if name != "front" or axis is not basis.along:
        return
    ends = [other for other, facing in views.facings.items() if axis_of(facing.toward) is axis]
    for spot in chain.from_iterable(views.spots[other] for other in ends):
        if spot.is_tagged and not spot.adds and spot.round_axis is None and spot.places is None:
            yield from ((at, spot) for at in _lines_inside(spot, axis, basis))


def _lines_inside(spot: Spot, axis: Axis, basis: Basis) -> Iterator[Fraction]:
    """Lines set out for a feature, those at an end of the body left out."""
    low, high = basis.body.low[axis], basis.body.high[axis]
    lines = basis.datums.lines_within(axis, spot.box, spot.mates)
    yield from (at for at in lines if low < at < high)


def _sections(views: ChosenViews, name: str, basis: Basis) -> tuple[Box, ...]:
    """The sections that a view shows, if all of them stand in the middle of the part."""
    facing = views.facings[name]
    if axis_of(facing.toward) is not basis.along:
        return ()
    waste = [spot.box for spot in views.spots[name] if not spot.is_tagged]
    found = read_sections(waste, basis.body, basis.along)
    return found if all(is_centred(box, basis.body, basis.along) for box in found) else ()


def _places_of_group(
    spots: Sequence[Spot], group: Group, axis: Axis, basis: Basis
) -> dict[Fraction, list[Spot]]:
    found: dict[Fraction, list[Spot]] = {}
    shown = {id(spot) for spot in spots}
    for spot in group.spots:
        if id(spot) in shown:
            for at in _places_of(spot, axis, basis):
                found.setdefault(at, []).append(spot)
    return found


def _steps(views: ChosenViews, group: Group, basis: Basis) -> Iterator[Fraction]:
    """The even steps that a group's spots stand at in the views that show them."""
    for name, axis in _view_axes(views):
        if _places_of_group(views.spots[name], group, axis, basis):
            middles = {_middle(spot, axis) for spot in group.spots}
            step = even_step_mm(list(middles))
            if step is not None:
                yield step


def _middle(spot: Spot, axis: Axis) -> Fraction:
    return Fraction(spot.box.low[axis] + spot.box.high[axis]) / 2


def _places_of(spot: Spot, axis: Axis, basis: Basis) -> Iterator[Fraction]:
    """The centre of a round feature; of a square one the sides that are set out, or the near one.

    Flush with a face its size alone places it; outside the body it is a tenon's length.
    """
    if spot.role == SECTION_ROLE:
        return
    if spot.places is not None:
        yield from (at for own, at in spot.places if own is axis)
        return
    if spot.round_axis is not None:
        if spot.round_axis is not axis:
            yield _middle(spot, axis)
        return
    body = basis.body

    def is_inside(at: Fraction) -> bool:
        return bool(body.low[axis] < at < body.high[axis])

    named = basis.datums.lines_within(axis, spot.box, spot.mates)
    if named:
        yield from filter(is_inside, named)
        return
    sides = (Fraction(spot.box.low[axis]), Fraction(spot.box.high[axis]))
    if all(is_inside(at) for at in sides):
        yield sides[1 if basis.datums.usual[axis] else 0]


def _shoulders_of(spot: Spot, axis: Axis, body: Box) -> Iterator[Fraction]:
    """The sides of waste that leave wood standing."""
    for at in (spot.box.low[axis], spot.box.high[axis]):
        if body.low[axis] < at < body.high[axis]:
            yield Fraction(at)


def _extents(
    views: ChosenViews, groups: Sequence[Group], basis: Basis
) -> dict[tuple[str, Axis], tuple[Extent, ...]]:
    """Whole sizes, each in one view: the thickness on an end where one is shown."""
    front = views.facings["front"]
    level, upright, deep = axis_of(front.right), axis_of(front.up), axis_of(front.toward)
    ends_first = ("right", "left", "top", "bottom")
    for_depth = next(name for name in ends_first if name in views.facings)
    wanted = [("front", level), ("front", upright)]
    if not basis.is_round:
        wanted.append((for_depth, deep))
    added = [spot.box for group in groups for spot in group.spots if spot.adds]
    found = {}
    for name, axis in wanted:
        boxes = (_between_shoulders(added, axis, basis), basis.blank)
        unit = " dia" if basis.is_round and axis is upright else ""
        extents = (_extent(box, axis, basis, unit=unit) for box in boxes)
        found[name, axis] = tuple(dict.fromkeys(extents))
    return found


def _extent(box: Box, axis: Axis, basis: Basis, *, unit: str) -> Extent:
    low, high = Fraction(box.low[axis]), Fraction(box.high[axis])
    return Extent(low_mm=low, high_mm=high, text=format_length(high - low, basis.units) + unit)


def _between_shoulders(added: Sequence[Box], axis: Axis, basis: Basis) -> Box:
    """The body, but with the ends at which no shoulder is to be seen taken to the wood's end.

    What enters a housing with its whole section has no shoulder that a rule could touch.
    """
    body, blank = basis.body, basis.blank
    across = [other for other in Axis if other is not axis]
    low, high = list(body.low), list(body.high)
    for box in added:
        is_whole = all(box.low[a] <= body.low[a] and body.high[a] <= box.high[a] for a in across)
        if is_whole and box.low[axis] < body.low[axis]:
            low[axis] = blank.low[axis]
        if is_whole and box.high[axis] > body.high[axis]:
            high[axis] = blank.high[axis]
    return Box(tuple(low), tuple(high))  # type: ignore[arg-type]
