"""Carriage bolts: round-headed bolts through both parts, drawn up with washers and nuts.

Dimensions:
    diameter: a quarter of the thinner part's thickness, in stock sizes from 1/4 in (6 mm). Source:
        common practice, no source.
    length: through both parts, and 1-1/2 diameters for washer, nut and two threads, up to the next
        length sold. Source: common practice, no source.
    hole: 1/32 in (1 mm) larger than the bolt, so that it goes in when the wood has swollen. Source:
        NDS, clause 12.1.3, from memory.
    inset: a quarter of the joint's length from each end, at most 2 in (50 mm). Source: common
        practice, no source.
    spacing: at most 8 in (200 mm) from centre to centre. Source: common practice, no source.
    counterbore: 3 diameters wide, as deep as the plan says. Source: common practice, no source.

Limits:
    Every centre stands at least 1-1/2 diameters from the edges of the joint. The shop's wall is
    left under a sunk nut. The bolts carry the joint alone: there is no glue, and it comes apart.

Tools:
    A drill with a long bit, a hammer to seat the heads, a spanner; a larger bit for counterbores.

Source:
    Common practice, no source, for sizes; edge distance and hole as in NDS, chapter 12, from
    memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.handbook.hardware import load_bolts
from benchleaf.joinery.bolt_holes import choose_diameter, choose_length, hole_size, item
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, hole, unit
from benchleaf.joinery.proportions import factor, grid_mm, planned, proposed
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.rows import OFFSET, Row, edge_distance_mm, lay_out_row, row_options
from benchleaf.joinery.setting_out import mark_both
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bolted:
    """Bolts at one contact, mm."""

    diameter_mm: Fraction
    length_mm: Fraction
    hole_mm: Fraction
    counterbore_mm: Fraction
    """Depth under the second part's face; 0 where the nut stands on it."""
    row: Row
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_carriage_bolts(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work carriage bolts out at one contact."""
    bolted = _bolt(marking)
    sideways = tuple(unit(axis, is_high) for axis in (U, V) for is_high in (False, True))
    # Parts that cross are held by the lap that lets them; the bolts bar no way.
    both_ways = (OFF, unit(N, True)) if _is_lapped(marking) else (OFF,)
    fit = marking.made(
        (tuple(_first_holes(marking, bolted)), tuple(_second_holes(marking, bolted))),
        numbers=(bolted.sizes, tuple(_setting_out(marking, bolted))),
        free=(*both_ways, *sideways),
        glued_mm2=_ZERO,
        hardware=_hardware(marking, bolted),
    )
    return fit, tuple(_warnings(marking, bolted))


def _is_lapped(marking: Marking) -> bool:
    return marking.contact.kind is ContactKind.CROSSING


def _goes_up(marking: Marking) -> bool:
    """Tell whether a bolt goes towards high n, from its head to its nut.

    The first part of a lap is its upper one as drawn, and has the heads.
    """
    return not _is_lapped(marking) or marking.sign_of(marking.contact.first, N) < 0


def _span_mm(marking: Marking, mark: str) -> tuple[Fraction, Fraction]:
    """Where a copy's wood begins and ends along n, mm."""
    box = marking.box_of(mark)
    return Fraction(box.low[N]), Fraction(box.high[N])


def _through_mm(marking: Marking) -> Fraction:
    """The wood that a bolt passes through, mm."""
    first, second = (_span_mm(marking, mark) for mark in marking.marks)
    return max(first[1], second[1]) - min(first[0], second[0])


def _bolt(marking: Marking) -> _Bolted:
    sold = load_bolts(marking.units)
    extents = [high - low for low, high in (_span_mm(marking, mark) for mark in marking.marks)]
    diameter = choose_diameter(marking, min(extents), sold.diameters_mm)
    counterbore = _counterbore(marking)
    end = diameter.value_mm * factor("bolt end to diameter, least")
    least = _through_mm(marking) - counterbore + end
    length = choose_length(marking, least, sold.lengths_mm, key="bolt end to diameter, least")
    if length is None:
        raise marking.refuse(
            "J250",
            f"{marking.first} and {marking.second} ask for a bolt {marking.show(least)} long, and "
            f"the longest sold is {marking.show(sold.lengths_mm[-1])}",
            "Needed: a `counterbore`, or a `size` of your own.",
        )
    _refuse_short(marking, length.value_mm, least, diameter.value_mm)
    room = hole_size(marking, diameter.value_mm)
    edge = diameter.value_mm * factor("bolt edge distance to diameter, least")
    row = lay_out_row(marking, edge_mm=edge, spacing_key="bolt spacing, most")
    sunk = (planned("counterbore depth", counterbore),) if counterbore else ()
    return _Bolted(
        diameter_mm=diameter.value_mm,
        length_mm=length.value_mm,
        hole_mm=room.value_mm,
        counterbore_mm=counterbore,
        row=row,
        sizes=(diameter, length, room, *sunk, *_washer(diameter, counterbore), *row.sizes),
    )


def _washer(diameter: JointSize, counterbore: Fraction) -> tuple[JointSize, ...]:
    if not counterbore:
        return ()
    key = "washer diameter to bolt, counterbored"
    return (proposed("counterbore", diameter.value_mm * factor(key), key=key),)


def _counterbore(marking: Marking) -> Fraction:
    given = marking.length("counterbore") or _ZERO
    low, high = _span_mm(marking, marking.contact.second)
    most = max(high - low - marking.bench.wall_mm, _ZERO)
    if given <= most:
        return given
    raise marking.refuse(
        "J251",
        f"a counterbore {marking.show(given)} deep leaves too little of the "
        f"{marking.show(high - low)} of {marking.second} under the washer",
        f"Needed: at most {marking.show(most)}.",
        option="counterbore",
    )


def _refuse_short(marking: Marking, length: Fraction, least: Fraction, diameter: Fraction) -> None:
    # Washer and nut, and no thread to spare, come to about one diameter.
    bare = least - diameter * (factor("bolt end to diameter, least") - 1)
    if length >= bare:
        return
    raise marking.refuse(
        "J252",
        f"a bolt {marking.show(length)} long does not reach through {marking.first} and "
        f"{marking.second} with its washer and nut",
        f"Needed: at least {marking.show(least)}, or a `counterbore`.",
        option="size",
    )


def _first_holes(marking: Marking, bolted: _Bolted) -> Iterator[Feature]:
    low, high = _span_mm(marking, marking.contact.first)
    # Bored from the head's side.
    is_up = _goes_up(marking)
    start, way = (low, unit(N, True)) if is_up else (high, unit(N, False))
    for u, v in bolted.row.centres:
        bored = hole((u, v, start), way, diameter_mm=bolted.hole_mm, depth_mm=high - low)
        yield marking.on_first("bolt hole", bored)


def _second_holes(marking: Marking, bolted: _Bolted) -> Iterator[Feature]:
    low, high = _span_mm(marking, marking.contact.second)
    is_up = _goes_up(marking)
    far, back = (high, unit(N, False)) if is_up else (low, unit(N, True))
    near, way = (low, unit(N, True)) if is_up else (high, unit(N, False))
    sunk = bolted.counterbore_mm
    wide = bolted.diameter_mm * factor("washer diameter to bolt, counterbored")
    for u, v in bolted.row.centres:
        bored = hole((u, v, near), way, diameter_mm=bolted.hole_mm, depth_mm=high - low)
        yield marking.on_second("bolt hole", bored)
        if sunk:
            yield marking.on_second(
                "counterbore", hole((u, v, far), back, diameter_mm=wide, depth_mm=sunk)
            )


def _setting_out(marking: Marking, bolted: _Bolted) -> Iterator[SettingOut]:
    centres = bolted.row.centres
    yield from mark_both(marking, "centre line of the bolts", axis=V, at=centres[0][1])
    for number, (u, _) in enumerate(centres, start=1):
        yield from mark_both(marking, f"centre of bolt {number}", axis=U, at=u)
    if bolted.counterbore_mm:
        yield SettingOut(
            copy=marking.contact.second,
            what="depth of the counterbores",
            reference=marking.own_face(marking.contact.second, unit(N, _goes_up(marking))),
            distance_mm=bolted.counterbore_mm,
            spacer="depth stop on the bit",
        )


def _hardware(marking: Marking, bolted: _Bolted) -> tuple[Hardware, ...]:
    count, across = len(bolted.row.centres), bolted.diameter_mm
    bolt = item(
        marking, "carriage bolt", diameter_mm=across, length_mm=bolted.length_mm, count=count
    )
    others = (
        item(marking, kind, diameter_mm=across, length_mm=_ZERO, count=count)
        for kind in ("nut", "washer")
    )
    return (bolt, *others)


def _warnings(marking: Marking, bolted: _Bolted) -> Iterator[Finding]:
    edge = edge_distance_mm(marking, bolted.row)
    least = bolted.diameter_mm * factor("bolt edge distance to diameter, least")
    # chosen: half a step of the rule is within what a person sets out by.
    if edge < least - grid_mm(marking.units) / 2:
        yield marking.warn(
            "J253",
            f"a {marking.show(bolted.diameter_mm)} bolt stands {marking.show(edge)} from an edge "
            f"of the joint between {marking.first} and {marking.second}, centre to edge",
            f"Needed: at least {marking.show(least)}, 1-1/2 diameters. Take a thinner bolt, or "
            "move it.",
        )


KIND = JointKind(
    code="carriage bolts",
    title="Carriage bolts",
    words=JointWords(
        code="carriage bolts",
        first="the part with the bolts' heads",
        second="the part with the nuts",
        options=(
            Option(
                name="size",
                type=OptionType.ROUND,
                help="Diameter and length of a bolt; by the parts' thickness, in stock sizes, when "
                "left out.",
            ),
            *row_options("Bolts"),
            OFFSET,
            Option(
                name="counterbore",
                type=OptionType.LENGTH,
                help="How deep the nuts and washers are sunk into the second part; 0 when left "
                "out.",
            ),
        ),
        help="Round-headed bolts through both parts, drawn up with washers and nuts.",
    ),
    fit=fit_carriage_bolts,
)
