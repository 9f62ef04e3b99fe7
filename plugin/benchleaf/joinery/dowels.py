"""Dowels: round pins glued into holes that are bored in both parts where they meet.

Dimensions:
    diameter: the largest stock size that is at most half the thinner part and that both parts bear
        deep enough. Source: common practice, no source.
    depth: 2 diameters into each part, less where a part is thin or another joint is in the way; the
        dowel is the longest stock length that fits. Source: common practice, no source.
    hole depth: 1/16 in (1.5 mm) more than the dowel goes in, on each side. Source: common practice,
        no source.
    inset: a quarter of the joint's length from each end, at most 2 in (50 mm). Source: common
        practice, no source.
    spacing: at most 6 in (150 mm) from centre to centre; two dowels where two fit. Source: common
        practice, no source.

Limits:
    Every centre stands at least 1 diameter from the edges of the joint, and 2 diameters from the
    next. A dowel goes at least 1-1/2 diameters into each part. The shop's wall is left beyond
    every hole.

Tools:
    A marking gauge and a square, a drill with a dowel jig or a drill press with a fence, a
    brad-point bit with a depth stop.

Source:
    Common practice, no source: sizes and distances are those usual in workshops, and each is
    stated beside the number that it gives.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.handbook.tables import load_dowels
from benchleaf.joinery.marking import (
    OFF,
    Marking,
    N,
    U,
    V,
    at_the_bench,
    block,
    hole,
    round_area_mm2,
    unit,
)
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    planned,
    proposed,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.reach import bearable_mm, clear_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.rows import Row, edge_distance_mm, lay_out_row
from benchleaf.joinery.setting_out import mark_both, mark_depth
from benchleaf.piece.records import ContactKind, SolvedRound
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dowel:
    """One dowel: its size and how far it goes into each part, mm."""

    diameter_mm: Fraction
    into_first_mm: Fraction
    into_second_mm: Fraction
    clearance_mm: Fraction
    """How much deeper each hole is than the dowel goes."""
    sizes: tuple[JointSize, ...]

    @property
    def length_mm(self) -> Fraction:
        return self.into_first_mm + self.into_second_mm

    @property
    def shares_mm(self) -> tuple[Fraction, Fraction]:
        return self.into_first_mm, self.into_second_mm


@at_the_bench
def fit_dowels(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work dowels out at one contact."""
    marking.need(ContactKind.FACE)
    diameter, row = _choose(marking)
    dowel = _cut_to_length(marking, diameter, row)
    contact = marking.contact
    bored = len(row.centres) * Fraction(355, 452) * dowel.diameter_mm**2  # pi / 4
    round_about = round_area_mm2(dowel.diameter_mm, dowel.length_mm) * len(row.centres)
    fit = marking.made(
        (
            _holes(marking, row, dowel, is_first=True),
            _holes(marking, row, dowel, is_first=False),
        ),
        numbers=((*dowel.sizes, *row.sizes), tuple(_setting_out(marking, row, dowel))),
        free=(OFF,),
        glued_mm2=contact.u_mm * contact.v_mm - bored + round_about,
        hardware=(_pins(marking, row, dowel),),
    )
    return fit, tuple(_warnings(marking, row, dowel))


def _choose(marking: Marking) -> tuple[JointSize, Row]:
    """The diameter and the row: the author's, or the thickest stock dowel that both parts bear."""
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        diameter = _checked_diameter(marking, given.diameter_mm)
        return planned("dowel diameter", diameter), _row(marking, diameter)
    fitting = _stock_diameters(marking)
    chosen = next((d for d in reversed(fitting) if _holds(marking, d)), fitting[0])
    size = proposed("dowel diameter", chosen, key="dowel diameter, most")
    return size, _row(marking, chosen)


def _row(marking: Marking, diameter: Fraction) -> Row:
    edge = diameter * factor("dowel edge distance to diameter, least")
    return lay_out_row(marking, edge_mm=edge, spacing_key="dowel spacing, most")


def _holds(marking: Marking, diameter: Fraction) -> bool:
    """Tell whether a dowel goes deep enough into both parts."""
    clearance = usual_mm("dowel hole clearance", marking.units)
    least = diameter * factor("dowel depth to diameter, least")
    return min(_usual(marking, diameter, _row(marking, diameter), clearance)) >= least


def _stock_diameters(marking: Marking) -> list[Fraction]:
    """Stock diameters that are at most half of the thinner part, ascending."""
    thin = marking.contact.v_mm
    most = thin * factor("dowel diameter, most")
    fitting = [d for d in load_dowels(marking.units).diameters_mm if d <= most]
    if fitting:
        return fitting
    least = load_dowels(marking.units).diameters_mm[0]
    raise marking.refuse(
        "J106",
        f"no stock dowel is at most half of the {marking.show(thin)} where {marking.first} "
        f"and {marking.second} meet; the thinnest is {marking.show(least)}",
        f"Needed: {marking.show(2 * least)} of wood, or a `size` of your own.",
    )


def _checked_diameter(marking: Marking, diameter: Fraction) -> Fraction:
    thin = marking.contact.v_mm
    # chosen: beyond two thirds less than a sixth of the thickness is left on each side.
    most = round_down(thin * Fraction(2, 3), marking.units)
    if 0 < diameter <= most:
        return diameter
    raise marking.refuse(
        "J107",
        f"a dowel of {marking.show(diameter)} does not suit the {marking.show(thin)} where "
        f"{marking.first} and {marking.second} meet",
        f"Needed: more than 0 and at most {marking.show(most)}; half of the thickness is usual.",
        "size",
    )


def _cut_to_length(marking: Marking, diameter: JointSize, row: Row) -> _Dowel:
    clearance = usual_mm("dowel hole clearance", marking.units)
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        length = planned("dowel length", given.length_mm)
        first, second = _bearable(marking, clearance)
    else:
        length, (first, second) = _stock_length(marking, diameter.value_mm, row, clearance)
    into_second = _share(marking, length.value_mm, first, second)
    into_first = length.value_mm - into_second
    _refuse_too_long(marking, (into_first, into_second), clearance)
    share = (
        planned("depth in the second part", into_second)
        if marking.length("depth") is not None
        else worked("depth in the second part", into_second, "half of the dowel, if it bears that")
    )
    rule = "the dowel's share and the clearance"
    depths = (
        worked("hole depth in the first part", into_first + clearance, rule),
        worked("hole depth in the second part", into_second + clearance, rule),
    )
    room = proposed("hole clearance", clearance, key="dowel hole clearance")
    return _Dowel(
        diameter_mm=diameter.value_mm,
        into_first_mm=into_first,
        into_second_mm=into_second,
        clearance_mm=clearance,
        sizes=(diameter, length, share, *depths, room),
    )


def _bearable(marking: Marking, clearance: Fraction) -> tuple[Fraction, Fraction]:
    """How far a dowel may go into each part at the very most, mm."""
    first, second = marking.contact.first, marking.contact.second
    return (
        max(bearable_mm(marking, first) - clearance, Fraction(0)),
        max(bearable_mm(marking, second) - clearance, Fraction(0)),
    )


def _usual(
    marking: Marking, diameter: Fraction, row: Row, clearance: Fraction
) -> tuple[Fraction, Fraction]:
    """How far a dowel usually goes into each part, mm."""
    low_u, row_v = row.centres[0]
    high_u = row.centres[-1][0]
    half = diameter / 2
    footprint = block(
        (low_u - half, high_u + half), (row_v - half, row_v + half), (Fraction(0), Fraction(0))
    )
    usual = diameter * factor("dowel depth to diameter, most")
    first, second = (
        max(min(usual, clear_mm(marking, mark, footprint) - clearance), Fraction(0))
        for mark in (marking.contact.first, marking.contact.second)
    )
    return first, second


def _stock_length(
    marking: Marking, diameter: Fraction, row: Row, clearance: Fraction
) -> tuple[JointSize, tuple[Fraction, Fraction]]:
    """The length of a stock dowel, and how far it may go into each part, mm.

    It is the longest that fits; where none does, the shortest, deeper in the part that bears more.
    """
    lengths = load_dowels(marking.units).lengths_mm
    key = "dowel depth to diameter, most"
    usual = _usual(marking, diameter, row, clearance)
    fitting = [length for length in lengths if length <= sum(usual)]
    if fitting:
        rounding = "to the next stock length below"
        return proposed("dowel length", fitting[-1], key=key, rounding=rounding), usual
    first, second = _bearable(marking, clearance)
    grown = (first, usual[1]) if first >= second else (usual[0], second)
    if lengths[0] <= sum(grown):
        rounding = "the shortest sold, deeper in the thicker part"
        return proposed("dowel length", lengths[0], key=key, rounding=rounding), grown
    raise marking.refuse(
        "J108",
        f"{marking.first} and {marking.second} take {marking.show(sum(grown))} of a "
        f"{marking.show(diameter)} dowel between them, and the shortest sold is "
        f"{marking.show(lengths[0])}",
        "Needed: thicker parts, a thinner `wall` in the shop settings, or a `size` of your own.",
    )


def _share(marking: Marking, length: Fraction, first: Fraction, second: Fraction) -> Fraction:
    """How much of a dowel goes into the second part, mm: half, or what each can bear."""
    given = marking.length("depth")
    if given is not None:
        return given
    half = length / 2
    if length > first + second:
        return half
    if second < half:
        return second
    return length - first if first < half else half


def _refuse_too_long(
    marking: Marking, into: tuple[Fraction, Fraction], clearance: Fraction
) -> None:
    bearable = _bearable(marking, clearance)
    names = (marking.first, marking.second)
    for name, goes, most in zip(names, into, bearable, strict=True):
        if 0 < goes <= most:
            continue
        given = "depth" if marking.length("depth") is not None else "size"
        raise marking.refuse(
            "J109",
            f"{marking.show(goes)} of the dowel would go into {name}, which takes "
            f"{marking.show(most)} with {marking.show(marking.bench.wall_mm)} left beyond the hole",
            f"Needed: more than 0 and at most {marking.show(most)} in {name}.",
            given,
        )


def _holes(marking: Marking, row: Row, dowel: _Dowel, *, is_first: bool) -> tuple[Feature, ...]:
    into = dowel.into_first_mm if is_first else dowel.into_second_mm
    hold = marking.on_first if is_first else marking.on_second
    way = unit(N, not is_first)
    depth = into + dowel.clearance_mm
    return tuple(
        hold("dowel hole", hole((u, v, Fraction(0)), way, dowel.diameter_mm, depth))
        for u, v in row.centres
    )


def _setting_out(marking: Marking, row: Row, dowel: _Dowel) -> Iterator[SettingOut]:
    yield from mark_both(marking, "centre line of the dowels", axis=V, at=row.centres[0][1])
    for number, (u, _) in enumerate(row.centres, start=1):
        yield from mark_both(marking, f"centre of dowel {number}", axis=U, at=u)
    contact = marking.contact
    stop = "depth stop on the bit"
    marks = (contact.first, contact.second)
    for mark, into in zip(marks, dowel.shares_mm, strict=True):
        deep = into + dowel.clearance_mm
        yield mark_depth(marking, mark, "depth of the dowel holes", distance=deep, spacer=stop)


def _pins(marking: Marking, row: Row, dowel: _Dowel) -> Hardware:
    return Hardware(
        kind="dowel",
        size=marking.show_round(dowel.diameter_mm, dowel.length_mm),
        diameter_mm=dowel.diameter_mm,
        length_mm=dowel.length_mm,
        count=len(row.centres),
    )


def _warnings(marking: Marking, row: Row, dowel: _Dowel) -> Iterator[Finding]:
    edge = edge_distance_mm(marking, row)
    needed = dowel.diameter_mm * factor("dowel edge distance to diameter, least")
    # chosen: half a step of the rule is within what a person sets out by.
    if edge < needed - grid_mm(marking.units) / 2:
        yield marking.warn(
            "J110",
            f"a {marking.show(dowel.diameter_mm)} dowel stands {marking.show(edge)} from an edge "
            f"of the joint between {marking.first} and {marking.second}, centre to edge",
            f"Needed: at least {marking.show(needed)}, 1 diameter. Take a thinner dowel, or "
            "move it.",
        )
    apart = dowel.diameter_mm * factor("dowel spacing to diameter, least")
    if 0 < row.spacing_mm < apart:
        yield marking.warn(
            "J111",
            f"the dowels stand {marking.show(row.spacing_mm)} from centre to centre",
            f"Needed: at least {marking.show(apart)}, 2 diameters. Use fewer.",
        )
    least = dowel.diameter_mm * factor("dowel depth to diameter, least")
    names = (marking.first, marking.second)
    for name, into in zip(names, dowel.shares_mm, strict=True):
        if into < least:
            yield marking.warn(
                "J112",
                f"the dowel goes only {marking.show(into)} into {name}",
                f"Needed: at least {marking.show(least)}, 1-1/2 diameters.",
            )


KIND = JointKind(
    code="dowels",
    title="Dowels",
    words=JointWords(
        code="dowels",
        first="one part",
        second="the other part",
        options=(
            Option(
                name="size",
                type=OptionType.ROUND,
                help="Diameter and length of a dowel; by the thinner part, in stock sizes, when "
                "left out.",
            ),
            Option(
                name="count",
                type=OptionType.COUNT,
                help="Dowels at each place where the parts meet; by the joint's length when left "
                "out.",
            ),
            Option(
                name="inset",
                type=OptionType.LENGTH,
                help="From each end of the joint to the nearest centre; a quarter of its length, "
                "at most 2 in (50 mm), when left out.",
            ),
            Option(
                name="offset",
                type=OptionType.LENGTH,
                help="How far the row stands off the middle, towards the back, right or top of the "
                "first part as drawn; 0 when left out.",
            ),
            Option(
                name="depth",
                type=OptionType.LENGTH,
                help="How far the dowels go into the second part; half their length when left out.",
            ),
        ),
        help="Round pins glued into holes bored in both parts.",
    ),
    fit=fit_dowels,
)
