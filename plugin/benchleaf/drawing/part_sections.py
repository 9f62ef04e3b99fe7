"""What is left standing of a part where joints cut wood away all round it.

Takes the waste and the part's box, gives the sections that remain, and what the sheet says of them.
Must not know views or paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise

from benchleaf.drawing.part_features import SECTION_ROLE, Group, Spot, letter_of
from benchleaf.frames import Axis, Box
from benchleaf.lengths import UnitName, format_length


def group_sections(
    spots: Iterable[Spot], body: Box, along: Axis, *, units: UnitName, before: int
) -> tuple[Group, ...]:
    """Give each section a line of the sheet's list, thickest first.

    Args:
        spots: All that joints do to the part; waste is what has no words of its own.
        body: The part, shoulder to shoulder.
        along: The axis that the grain runs on.
        units: Unit that sizes are written in.
        before: How many letters the list has given already.
    """
    waste = [spot for spot in spots if not spot.is_tagged]
    sections = read_sections([spot.box for spot in waste], body, along)
    sections = tuple(sorted(sections, key=lambda box: (-box.volume_mm3 / box.size[along], box.low)))
    return tuple(
        _group(box, waste, along, units=units, letter=letter_of(before + index))
        for index, box in enumerate(sections)
    )


def _group(box: Box, waste: Iterable[Spot], along: Axis, *, units: UnitName, letter: str) -> Group:
    across = [axis for axis in Axis if axis is not along]
    sizes = sorted((Fraction(box.size[axis]) for axis in across), reverse=True)
    words = f"section {' × '.join(format_length(size, units) for size in sizes)}"
    begun = [
        spot for spot in waste if box.low[along] in (spot.box.low[along], spot.box.high[along])
    ]
    ended = [
        spot for spot in waste if box.high[along] in (spot.box.low[along], spot.box.high[along])
    ]
    # Whose waste begins with the section: the mate that rests on its shoulder.
    mates = dict.fromkeys(mate for spot in (begun or ended) for mate in spot.mates)
    spot = Spot(
        role=SECTION_ROLE,
        box=box,
        faces=tuple((axis, is_high) for axis in across for is_high in (False, True)),
        words=words,
        mates=tuple(mates),
        round_axis=None,
        diameters_mm=(),
        adds=False,
    )
    return Group(letter=letter, words=words, mates=tuple(mates), spots=(spot,))


def read_sections(waste: Sequence[Box], body: Box, along: Axis) -> tuple[Box, ...]:
    """Find the sections left along a part, each as the box of wood that stands there.

    Args:
        waste: Boxes of wood cut away, in the part's own axes.
        body: The part.
        along: The axis that the sections follow one another on.

    >>> body = Box((0, 0, 0), (90, 3, 3))
    >>> sides = [Box((60, 0, 0), (90, 3, 1)), Box((60, 0, 2), (90, 3, 3))]
    >>> read_sections(sides, body, Axis.WIDE)
    (Box(low=(60, 0, 1), high=(90, 3, 2)),)
    """
    stations = sorted({end[along] for box in waste for end in (box.low, box.high)})
    found = []
    for start, end in pairwise(stations):
        there = [box for box in waste if box.low[along] <= start and end <= box.high[along]]
        standing = _trimmed(_stretch(body, along, (start, end)), there, along)
        if there and standing.is_solid():
            found.append(standing)
    return tuple(found)


def is_centred(section: Box, body: Box, along: Axis) -> bool:
    """Tell whether a section stands in the middle of the part: then its size alone places it."""
    return all(
        section.low[axis] + section.high[axis] == body.low[axis] + body.high[axis]
        for axis in Axis
        if axis is not along
    )


def _stretch(body: Box, along: Axis, span: Sequence[object]) -> Box:
    low = tuple(span[0] if axis is along else body.low[axis] for axis in Axis)
    high = tuple(span[1] if axis is along else body.high[axis] for axis in Axis)
    return Box(low, high)  # type: ignore[arg-type]


def _trimmed(standing: Box, waste: Iterable[Box], along: Axis) -> Box:
    """Take waste off the sides that it covers wholly, until nothing more comes off."""
    while True:
        before = standing
        for box in waste:
            for axis in Axis:
                other = next(a for a in Axis if a not in (along, axis))
                covers = (
                    box.low[other] <= standing.low[other]
                    and standing.high[other] <= box.high[other]
                )
                if axis is not along and covers:
                    standing = _without(standing, box, axis)
        if standing == before:
            return standing


def _without(standing: Box, waste: Box, axis: Axis) -> Box:
    """What is left when waste that reaches one side comes off it."""
    low, high = standing.low[axis], standing.high[axis]
    if waste.low[axis] <= low < waste.high[axis]:
        low = waste.high[axis]
    elif waste.low[axis] < high <= waste.high[axis]:
        high = waste.low[axis]
    lows = tuple(low if a is axis else standing.low[a] for a in Axis)
    highs = tuple(high if a is axis else standing.high[a] for a in Axis)
    return Box(lows, highs)  # type: ignore[arg-type]
