"""What a part sheet has to say about each thing that joints put on a part or take from it.

Takes a cut copy, gives spots: where each feature lies in the part's own axes, on which faces it
opens, and its sizes in words. Must not know views or paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, pairwise
from typing import Final

from benchleaf.drawing.prism_words import describe_prism, exact_box, profile_axis, round_of
from benchleaf.forms import Bore, Prism, box_round, entry_axis
from benchleaf.frames import Axis, Box, Vector, add, main_axis, scale, tidy_point
from benchleaf.joinery.records import (
    CutCopy,
    Feature,
)
from benchleaf.lengths import UnitName, format_degrees, format_length

# The joint families' word for wood taken away round what is left standing.
WASTE_ROLE: Final = "shoulder"
# What is left standing between such waste.
SECTION_ROLE: Final = "section"

Face = tuple[Axis, bool]
"""An axis of the part's own, and whether the face at its high end is meant."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One feature, or several bored on one centre, in the part's own axes."""

    role: str
    box: Box
    """Round it, cut off where the wood ends."""
    faces: tuple[Face, ...]
    """Faces that show it open (or standing out), the best to show it on first."""
    words: str
    """Its sizes: `mortise 3/8 × 2-1/4, 1-1/4 deep`."""
    mates: tuple[str, ...]
    """Marks of the copies at the other side."""
    round_axis: Axis | None
    """Axis of a bore; None for what is square."""
    diameters_mm: tuple[Fraction, ...]
    """Of a bore: at its mouth, and others bored on the same centre."""
    adds: bool
    places: tuple[tuple[Axis, Fraction], ...] | None = None
    """Places along own axes to measure; None where they follow from the box."""

    @property
    def is_tagged(self) -> bool:
        """Tell whether it has sizes of its own to be listed; waste shows by what is left."""
        return bool(self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Features of one kind and size: one line of the sheet's list."""

    letter: str
    words: str
    mates: tuple[str, ...]
    spots: tuple[Spot, ...]


def read_spots(cut: CutCopy, body: Box, units: UnitName) -> tuple[Spot, ...]:
    """Read the features of a cut copy.

    Args:
        cut: The copy to draw.
        body: The part as placed, shoulder to shoulder, in its own axes.
        units: Unit that sizes are written in.
    """
    features = [f for f in cut.features if f.role not in OF_TENONS]
    bores = [f for f in features if isinstance(f.shape, Bore)]
    blocks = [f for f in features if isinstance(f.shape, Box)]
    spots = [_block_spot(feature, body, cut.blank, units=units) for feature in blocks]
    spots += [
        _bore_spot(tuple(alike), body, cut.blank, units=units)
        for _, alike in groupby(sorted(bores, key=_centre_key), key=_centre_key)
    ]
    spots += [
        _prism_spot(f, f.shape, (body, cut.blank), units=units)
        for f in features
        if isinstance(f.shape, Prism)
    ]
    return tuple(_merge_twins(spots))


# How a round tenon is finished off is told with its joint, and shows in the views.
OF_TENONS: Final = frozenset({"round tenon slot", "tenon end"})
"""Roles that get no letter and no size of their own."""


def group_spots(spots: Iterable[Spot]) -> tuple[Group, ...]:
    """Put features of one kind and size together, in order of kind, then size."""
    tagged = sorted((spot for spot in spots if spot.is_tagged), key=_group_key)
    groups = []
    for index, (_, alike) in enumerate(groupby(tagged, key=_group_key)):
        members = tuple(alike)
        mates = dict.fromkeys(mate for spot in members for mate in spot.mates)
        groups.append(
            Group(
                letter=letter_of(index),
                words=members[0].words,
                mates=tuple(mates),
                spots=members,
            )
        )
    return tuple(groups)


def even_step_mm(places: Sequence[Fraction]) -> Fraction | None:
    """The step of evenly spaced places, or None where they are fewer than four or not even.

    >>> even_step_mm([Fraction(n) for n in (10, 30, 50, 70)])
    Fraction(20, 1)
    """
    steps = {after - before for before, after in pairwise(sorted(places))}
    # chosen: up to three places are as soon measured one by one.
    return steps.pop() if len(places) > 3 and len(steps) == 1 else None


def _group_key(spot: Spot) -> tuple[bool, str, str]:
    return (not spot.adds, spot.role, spot.words)


def letter_of(index: int) -> str:
    """Lower-case letters, since capitals mark parts; `aa` after `z`.

    >>> letter_of(0), letter_of(25), letter_of(26)
    ('a', 'z', 'aa')
    """
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


def _merge_twins(spots: Iterable[Spot]) -> list[Spot]:
    """Make one of features that lie in one place, cut for two mates."""
    merged: dict[tuple[object, ...], Spot] = {}
    for spot in spots:
        key = (spot.role, spot.box.low, spot.box.high, spot.words)
        known = merged.get(key)
        mates = (*known.mates, *spot.mates) if known else spot.mates
        merged[key] = replace(spot, mates=tuple(dict.fromkeys(mates)))
    return list(merged.values())


def _block_spot(feature: Feature, body: Box, blank: Box, *, units: UnitName) -> Spot:
    assert isinstance(feature.shape, Box)  # noqa: S101 - the caller parts blocks from bores
    box = feature.shape.meet(blank)
    if feature.adds:
        faces = _standing_faces(box, body)
    elif feature.role == WASTE_ROLE:
        faces = _nearest_end(box, body)
    else:
        faces = _open_faces(box, body)
    return Spot(
        role=feature.role,
        box=box,
        faces=faces,
        words=_block_words(feature, box, body, faces=faces, units=units),
        mates=(feature.mate,),
        round_axis=None,
        diameters_mm=(),
        adds=feature.adds,
    )


def _prism_spot(feature: Feature, prism: Prism, wood: tuple[Box, Box], *, units: UnitName) -> Spot:
    """A tail, a pin, a slot at an angle: shown where its outline is seen."""
    body, blank = wood
    box = exact_box(box_round(prism)).meet(blank)
    along, found = profile_axis(prism), round_of(prism)
    ends = _touched(box, body, along) if along is not None else ()
    faces = _open_faces(box, body)
    if along is not None and ends:
        faces = tuple((along, is_high) for is_high in ends)
    sizes = describe_prism(prism, body, blank, adds=feature.adds, units=units)
    return Spot(
        role=feature.role,
        box=box,
        faces=faces,
        words=f"{feature.role} {sizes}",
        mates=(feature.mate,),
        round_axis=found[0] if found else None,
        diameters_mm=(found[1],) if found else (),
        adds=feature.adds,
    )


def _touched(box: Box, body: Box, axis: Axis) -> tuple[bool, ...]:
    """The ends of an axis at which a cut opens: whether each is the high one."""
    found = (box.low[axis] <= body.low[axis], box.high[axis] >= body.high[axis])
    return tuple(is_high for is_high in (False, True) if found[is_high])


def _standing_faces(box: Box, body: Box) -> tuple[Face, ...]:
    """Faces that a tenon stands out of, farthest first."""
    reach = {
        (axis, is_high): (
            box.high[axis] - body.high[axis] if is_high else body.low[axis] - box.low[axis]
        )
        for axis in Axis
        for is_high in (False, True)
    }
    standing = [face for face, length in reach.items() if length > 0]
    return tuple(sorted(standing, key=lambda face: -reach[face]))


def _open_faces(box: Box, body: Box) -> tuple[Face, ...]:
    """Faces that a cut opens on, the best to show it on first.

    A housing opens on one face and on both edges, that it runs between: the face shows it. Where
    nothing is open on one side only, the cut goes through, and either of its faces shows it. Of a
    rebate or a stopped housing, open on a face and an edge, the broad face shows the width.
    """
    sides: dict[Axis, list[bool]] = {axis: [] for axis in Axis}
    for axis in Axis:
        sides[axis] += _touched(box, body, axis)
    single = [(axis, found[0]) for axis, found in sides.items() if len(found) == 1]
    paired = [(axis, high) for axis, found in sides.items() if len(found) == 2 for high in found]
    ordered = sorted(single or paired, key=lambda f: (body.size[f[0]], -_face_area(box, f[0]), f))
    return tuple(ordered[:1] if single else (f for f in ordered if f[0] is ordered[0][0]))


def _nearest_end(box: Box, body: Box) -> tuple[Face, ...]:
    """The end of the part that waste lies nearer to: seen from there, its steps show."""
    axis = max(Axis, key=lambda a: (body.size[a], a))
    return ((axis, box.low[axis] + box.high[axis] > body.low[axis] + body.high[axis]),)


def _face_area(box: Box, axis: Axis) -> Fraction:
    size = box.size
    area = size[(axis + 1) % 3] * size[(axis + 2) % 3]
    return Fraction(area)


def _is_through(box: Box, body: Box, axis: Axis) -> bool:
    return box.low[axis] <= body.low[axis] and box.high[axis] >= body.high[axis]


def _block_words(
    feature: Feature, box: Box, body: Box, *, faces: tuple[Face, ...], units: UnitName
) -> str:
    """Write a block's sizes; nothing for waste, which shows by what is left standing."""
    if not faces or feature.role == WASTE_ROLE:
        return ""
    axis = faces[0][0]
    across = [Axis((axis + 1) % 3), Axis((axis + 2) % 3)]
    if feature.adds:
        sizes = " × ".join(_sizes(box, across, units))
        standing = max(body.low[axis] - box.low[axis], box.high[axis] - body.high[axis])
        return f"{feature.role} {sizes}, {format_length(Fraction(standing), units)} long"
    inside = [other for other in across if not _is_through(box, body, other)]
    sizes = " × ".join(_sizes(box, inside, units))
    if len(inside) == 1:
        sizes += " wide"
    if _is_through(box, body, axis):
        return _through(f"{feature.role} {sizes}".rstrip())
    depth = format_length(Fraction(box.size[axis]), units)
    return f"{feature.role} {sizes}, {depth} deep" if sizes else f"{feature.role} {depth} deep"


def _through(words: str) -> str:
    """Say that a cut goes through, unless its name does."""
    return words if "through" in words else f"{words}, through"


def _sizes(box: Box, axes: Iterable[Axis], units: UnitName) -> list[str]:
    """Sizes along axes, least first."""
    return [format_length(size, units) for size in sorted(Fraction(box.size[a]) for a in axes)]


def _bore_axis(feature: Feature) -> Axis:
    bore = _bore(feature)
    # A round mortise is bored down through a face, however it leans.
    return main_axis(bore.direction) if feature.role in _LEANING else entry_axis(bore)


_LEANING: Final = frozenset({"round mortise", "round tenon"})


def _leaning_box(bore: Bore, body: Box, axis: Axis) -> Box:
    """Where a hole that leans is set out: round its centre on the face that it is bored from."""
    way = bore.direction
    face = body.low[axis] if way[axis] > 0 else body.high[axis]
    step = (face - bore.mouth[axis]) / way[axis]
    centre = tidy_point(add(bore.mouth, scale(way, step)))
    radius = bore.diameter_mm / 2
    low, high = ([part + sign * radius for part in centre] for sign in (-1, 1))
    deep = box_round(bore).meet(body)
    low[axis], high[axis] = deep.low[axis], deep.high[axis]
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _centre_key(feature: Feature) -> tuple[object, ...]:
    """Bores that share a centre line and a mate are one hole to the maker."""
    bore = feature.shape
    assert isinstance(bore, Bore)  # noqa: S101 - the caller parts bores from blocks
    axis = _bore_axis(feature)
    centre = tuple(part for other, part in enumerate(bore.mouth) if other != axis)
    return (feature.adds, axis, bore.direction[axis], centre, feature.mate)


def _bore_spot(features: Sequence[Feature], body: Box, blank: Box, *, units: UnitName) -> Spot:
    deepest = max(features, key=lambda f: (_bore(f).depth_mm, -_bore(f).diameter_mm))
    bore = _bore(deepest)
    axis = _bore_axis(deepest)
    box = box_round(bore)
    for feature in features:
        box = box.join(box_round(_bore(feature)))
    diameters = sorted({_bore(f).diameter_mm for f in features}, reverse=True)
    goes_through = _is_through(box, body, axis)
    # The direction runs into the wood: the hole opens on the face behind it.
    mouth = (axis, bore.direction[axis] < 0)
    faces: tuple[Face, ...] = (mouth,)
    leans = deepest.role == "round mortise" and bore.direction.count(0) < 2
    if deepest.adds:
        faces = _standing_faces(box, body) or faces
    elif leans:
        box = _leaning_box(bore, body, axis)
    elif goes_through and len(diameters) == 1:
        faces = (mouth, (axis, not mouth[1]))
    return Spot(
        role=deepest.role,
        box=box.meet(blank),
        faces=faces,
        words=_bore_words(features, deepest, is_through=goes_through, units=units),
        mates=tuple(dict.fromkeys(feature.mate for feature in features)),
        round_axis=axis,
        diameters_mm=tuple(diameters),
        adds=deepest.adds,
    )


def _bore(feature: Feature) -> Bore:
    assert isinstance(feature.shape, Bore)  # noqa: S101 - the caller parts bores from blocks
    return feature.shape


def _bore_words(
    features: Sequence[Feature], deepest: Feature, *, is_through: bool, units: UnitName
) -> str:
    bore = _bore(deepest)
    diameter = format_length(bore.diameter_mm, units)
    depth = format_length(bore.depth_mm, units)
    if deepest.adds:
        words = f"{deepest.role} {diameter} dia, {depth} long"
    elif is_through:
        words = _through(f"{deepest.role} {diameter} dia")
    else:
        words = f"{deepest.role} {diameter} dia, {depth} deep"
    if deepest.role == "round mortise" and bore.direction.count(0) < 2:
        lean = math.degrees(math.acos(min(max(abs(float(way)) for way in bore.direction), 1.0)))
        words += f", leaning {format_degrees(lean)}"
    for other in features:
        if other is deepest:
            continue
        words += f", {other.role} {format_length(_bore(other).diameter_mm, units)} dia"
    return words


def centre_of(box: Box) -> Vector:
    """The middle of a box."""
    low, high = box.low, box.high
    return ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2)


def short_marks(mates: Iterable[str], part_marks: Mapping[str, str]) -> str:
    """Write which parts a group is for: each part's mark once, in order.

    >>> short_marks(["B1", "B2", "C"], {"B1": "B", "B2": "B", "C": "C"})
    'B, C'
    """
    return ", ".join(sorted(dict.fromkeys(part_marks[mate] for mate in mates)))
