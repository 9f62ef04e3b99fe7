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
    every hole. Where a part is glued up from layers, holes that run along them stand in the middle
    of a layer, if there is room for that.

Tools:
    A marking gauge and a square, a drill with a dowel jig or a drill press with a fence, a
    brad-point bit with a depth stop.

Source:
    Common practice, no source: sizes and distances are those usual in workshops, and each is
    stated beside the number that it gives.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.joinery.dowel_sizes import Dowel, choose_dowel, dowels_needed, round_area_mm2
from benchleaf.joinery.marking import (
    OFF,
    Marking,
    N,
    U,
    V,
    at_any_angle,
    hole,
    unit,
)
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
)
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    SettingOut,
)
from benchleaf.joinery.rows import OFFSET, Row, edge_distance_mm, row_options
from benchleaf.joinery.setting_out import mark_both, mark_depth
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@at_any_angle
def fit_dowels(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work dowels out at one contact."""
    marking.need(ContactKind.FACE)
    dowel, row, marking = choose_dowel(marking)
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
        glued_mm2=contact.area_mm2 - bored + round_about,
        hardware=(_pins(marking, row, dowel),),
    )
    return fit, tuple(_warnings(marking, row, dowel))


def _holes(marking: Marking, row: Row, dowel: Dowel, *, is_first: bool) -> tuple[Feature, ...]:
    into = dowel.into_first_mm if is_first else dowel.into_second_mm
    hold = marking.on_first if is_first else marking.on_second
    way = unit(N, not is_first)
    depth = into + dowel.clearance_mm
    return tuple(
        hold(
            "dowel hole",
            hole((u, v, Fraction(0)), way, diameter_mm=dowel.diameter_mm, depth_mm=depth),
        )
        for u, v in row.centres
    )


def _setting_out(marking: Marking, row: Row, dowel: Dowel) -> Iterator[SettingOut]:
    yield from mark_both(marking, "centre line of the dowels", axis=V, at=row.centres[0][1])
    for number, (u, _) in enumerate(row.centres, start=1):
        yield from mark_both(marking, f"centre of dowel {number}", axis=U, at=u)
    contact = marking.contact
    stop = "depth stop on the bit"
    marks = (contact.first, contact.second)
    for mark, into in zip(marks, dowel.shares_mm, strict=True):
        deep = into + dowel.clearance_mm
        yield mark_depth(marking, mark, "depth of the dowel holes", distance=deep, spacer=stop)


def _pins(marking: Marking, row: Row, dowel: Dowel) -> Hardware:
    return dowels_needed(
        marking, diameter_mm=dowel.diameter_mm, length_mm=dowel.length_mm, count=len(row.centres)
    )


def _warnings(marking: Marking, row: Row, dowel: Dowel) -> Iterator[Finding]:
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
            *row_options("Dowels"),
            OFFSET,
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
