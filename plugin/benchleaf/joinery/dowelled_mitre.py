"""Dowelled mitre: a mitre with dowels square through the cut, glued into holes in both parts.

Dimensions:
    angle: as for a plain mitre. Source: worked out.
    dowel: at most half of the thickness, in stock sizes, and the longest sold that both parts bear.
        Source: common practice, no source.
    place: in a frame half and five sixths of the cut from the outer corner; in a box 2/3 of it,
        where the wood is deep. Source: common practice, no source.
    spacing: along the corner of a box at most 6 in (150 mm) from centre to centre. Source: common
        practice, no source.
    hole: 1/16 in (1.5 mm) deeper than the dowel goes, in each part. Source: common practice, no
        source.

Limits:
    Every hole keeps the shop's wall to the faces that it runs towards, and goes in by at least 1
    diameter.

Tools:
    Those of a mitre, a dowelling jig or dowel centres, a drill with a stop.

Source:
    Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Bore
from benchleaf.frames import Vector
from benchleaf.handbook.tables import load_dowels
from benchleaf.joinery.dowel_sizes import dowels_needed, round_area_mm2
from benchleaf.joinery.marking import Marking, at_the_bench
from benchleaf.joinery.mitring import Mitre, find_mitre
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm, worked
from benchleaf.joinery.records import Feature, Hardware, JointFit, JointKind, JointSize
from benchleaf.joinery.splined_mitre import room_mm
from benchleaf.piece.records import SolvedRound
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dowels:
    """Dowels through one mitre, mm."""

    diameter_mm: Fraction
    length_mm: Fraction
    deep_mm: Fraction
    """Of each hole."""
    places: tuple[tuple[Fraction, Fraction], ...]
    """Along the cut from its outer end, and along the corner's edge."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_dowelled_mitre(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a dowelled mitre out at one corner."""
    mitre = find_mitre(marking)
    dowels = _dowel(mitre)
    first, second = mitre.waste()
    count = len(dowels.places)
    bored = count * Fraction(355, 452) * dowels.diameter_mm**2  # pi / 4
    round_about = round_area_mm2(dowels.diameter_mm, dowels.length_mm) * count
    fit = mitre.marking.made(
        (
            (first, *_holes(mitre, dowels, is_first=True)),
            (second, *_holes(mitre, dowels, is_first=False)),
        ),
        numbers=((*mitre.sizes(), *dowels.sizes), tuple(mitre.setting_out())),
        free=(mitre.off,),
        glued_mm2=mitre.length_mm * mitre.edge_mm - bored + round_about,
        hardware=(_pins(marking, dowels),),
    )
    return fit, ()


def _dowel(mitre: Mitre) -> _Dowels:
    marking = mitre.marking
    diameter = _diameter(mitre)
    places = tuple(_places(mitre))
    clear = usual_mm("dowel hole clearance", marking.units)
    nearest = min(place for place, _ in places)
    # The hole's rim comes nearer to the outer face than its centre line.
    room = room_mm(mitre, nearest) - diameter.value_mm / 2 - clear
    length = _length(mitre, diameter.value_mm, room)
    deep = length.value_mm / 2 + clear
    return _Dowels(
        diameter_mm=diameter.value_mm,
        length_mm=length.value_mm,
        deep_mm=deep,
        places=places,
        sizes=(
            diameter,
            length,
            worked("hole depth in each part", deep, "half of the dowel, and the clearance"),
            worked("nearest dowel, from the outer corner", nearest, "along the cut"),
        ),
    )


def _diameter(mitre: Mitre) -> JointSize:
    marking = mitre.marking
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        return planned("dowel diameter", given.diameter_mm)
    thin = mitre.edge_mm if mitre.is_flat else min(mitre.first_mm, mitre.second_mm)
    sold = load_dowels(marking.units).diameters_mm
    # In a box the hole slants through the thickness, which bears half as much.
    most = thin * factor("dowel diameter, most") / (1 if mitre.is_flat else 2)
    fitting = [size for size in sold if size <= most] or [sold[0]]
    return proposed("dowel diameter", fitting[-1], key="dowel diameter, most")


def _places(mitre: Mitre) -> Iterator[tuple[Fraction, Fraction]]:
    marking, length = mitre.marking, mitre.length_mm
    count = marking.count("count")
    if mitre.is_flat:
        count = count or 2
        shares = [Fraction(2, 3)] if count == 1 else _spread(Fraction(1, 2), Fraction(5, 6), count)
        yield from ((length * share, mitre.edge_mm / 2) for share in shares)
        return
    most = usual_mm("dowel spacing, most", marking.units)
    count = count or max(2, math.ceil(mitre.edge_mm / most))
    step = mitre.edge_mm / count
    at = length * factor("mitre dowel place")
    yield from ((at, step / 2 + index * step) for index in range(count))


def _spread(low: Fraction, high: Fraction, count: int) -> list[Fraction]:
    step = (high - low) / (count - 1)
    return [low + index * step for index in range(count)]


def _length(mitre: Mitre, diameter: Fraction, room: Fraction) -> JointSize:
    marking = mitre.marking
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        size = planned("dowel length", given.length_mm)
    else:
        usual = 2 * min(room, diameter * factor("dowel depth to diameter, most"))
        fitting = [own for own in load_dowels(marking.units).lengths_mm if own <= usual]
        shortest = load_dowels(marking.units).lengths_mm[0]
        key = "dowel depth to diameter, most"
        rounding = "to the next stock length below"
        size = proposed(
            "dowel length", fitting[-1] if fitting else shortest, key=key, rounding=rounding
        )
    if diameter <= size.value_mm / 2 <= room:
        return size
    raise marking.refuse(
        "J278",
        f"a dowel {marking.show(size.value_mm)} long, {marking.show(diameter)} thick, does not "
        f"suit the mitre of {marking.first} and {marking.second}, which bears "
        f"{marking.show(max(room, Fraction(0)))} in each part",
        "Needed: at least 1 diameter, and no more than that, in each. Take a thinner dowel, or a "
        "`splined mitre`.",
        option="size",
    )


def _holes(mitre: Mitre, dowels: _Dowels, *, is_first: bool) -> Iterator[Feature]:
    side = 1 if is_first else -1
    x, y, z = mitre.off
    way: Vector = (side * x, side * y, side * z)
    hold = mitre.marking.on_first if is_first else mitre.marking.on_second
    for along, edge in dowels.places:
        mouth = mitre.point((along, Fraction(0)), edge)
        across = dowels.diameter_mm
        yield hold("mitre dowel hole", Bore(mouth, way, across, dowels.deep_mm, across))


def _pins(marking: Marking, dowels: _Dowels) -> Hardware:
    return dowels_needed(
        marking,
        diameter_mm=dowels.diameter_mm,
        length_mm=dowels.length_mm,
        count=len(dowels.places),
    )


KIND = JointKind(
    code="dowelled mitre",
    title="Dowelled mitre",
    words=JointWords(
        code="dowelled mitre",
        first="one part",
        second="the other part",
        options=(
            Option(
                name="size",
                type=OptionType.ROUND,
                help="Diameter and length of a dowel; in stock sizes, by what both parts bear, "
                "when left out.",
            ),
            Option(
                name="count",
                type=OptionType.COUNT,
                help="Dowels in each corner; 2 in a frame, by its height in a box, when left out.",
            ),
        ),
        help="A mitre with dowels square through the cut, glued into holes in both parts.",
    ),
    fit=fit_dowelled_mitre,
)
