"""Butt joint: two parts meet face to face, glued, screwed, or both.

Dimensions:
    clearance hole: the shank's diameter, up to the next 1/64 in (0.5 mm). Source: common practice,
        no source.
    pilot hole: 70 % of the thread's root in softwood, 90 % in hardwood and fibreboard, to the
        nearest 1/64 in (0.5 mm); the root is about 2/3 of the shank. Source: Wood Handbook,
        chapter 8.
    countersink: twice the shank at its mouth, for a head of 82 degrees. Source: from memory.
    counterbore: where the first part is too thick for the screw, so that half of the screw holds in
        the second. Source: common practice, no source.
    inset: a quarter of the joint's length from each end, at most 2 in (50 mm). Source: common
        practice, no source.
    spacing: at most 8 in (200 mm) from centre to centre. Source: common practice, no source.

Limits:
    A screw ends in the second part, with the shop's wall beyond its tip, and holds there by at
    least 3 shank diameters. Every centre stands at least 2 shank diameters from the edges of the
    joint.

Tools:
    A drill with a pilot bit, a clearance bit and a countersink; a driver; clamps.

Source:
    Wood Handbook FPL-GTR-282, chapter 8, for shank diameters and lead holes; FPL-GTR-190, p. 8-10,
    for the root.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Bore
from benchleaf.handbook.tables import load_screws
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_any_angle, hole, unit
from benchleaf.joinery.proportions import factor, grid_mm, planned, proposed, worked
from benchleaf.joinery.reach import bearable_mm, extent_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.rows import OFFSET, Row, edge_distance_mm, lay_out_row, row_options
from benchleaf.joinery.screws import ScrewHoles, work_out_holes
from benchleaf.joinery.setting_out import mark_line
from benchleaf.piece.records import ContactKind, SolvedFastener
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Driven:
    """Screws at one contact: where they go, their holes, and how deep, mm."""

    screw: SolvedFastener
    holes: ScrewHoles
    row: Row
    counterbore_mm: Fraction
    """Depth of the counterbore; 0 where the head is level with the face."""
    hold_mm: Fraction
    """How far the screw goes into the second part."""


@at_any_angle
def fit_butt(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a butt joint out at one contact."""
    marking.need(ContactKind.FACE)
    screw = marking.chosen.choices.get("screws")
    glued = marking.is_yes("glue", usually=True)
    area = marking.contact.u_mm * marking.contact.v_mm if glued else _ZERO
    free = (OFF, *(unit(axis, is_high) for axis in (U, V) for is_high in (False, True)))
    if not isinstance(screw, SolvedFastener):
        plain = marking.made(((), ()), numbers=((), ()), free=free, glued_mm2=area)
        return plain, tuple(_warnings_without_screws(marking, glued))
    driven = _drive(marking, screw)
    fit = marking.made(
        (tuple(_first_holes(marking, driven)), tuple(_pilots(marking, driven))),
        numbers=(_sizes(marking, driven), tuple(_setting_out(marking, driven))),
        free=free,
        glued_mm2=area,
        hardware=(_hardware(marking, driven),),
    )
    return fit, tuple(_warnings(marking, driven))


def _drive(marking: Marking, screw: SolvedFastener) -> _Driven:
    gauges = load_screws().shank_mm
    if screw.gauge not in gauges:
        raise marking.refuse(
            "J143",
            f"there is no wood screw of gauge {screw.gauge}",
            f"Needed: one of {', '.join(map(str, gauges))}.",
            option="screws",
        )
    into = marking.bench.second.stock.material
    holes = work_out_holes(screw.gauge, into, marking.units)
    edge = holes.shank_mm * factor("screw edge distance to shank, least")
    counterbore, hold = _depths(marking, screw, holes)
    return _Driven(
        screw=screw,
        holes=holes,
        row=lay_out_row(marking, edge_mm=edge, spacing_key="screw spacing, most"),
        counterbore_mm=counterbore,
        hold_mm=hold,
    )


def _depths(
    marking: Marking, screw: SolvedFastener, holes: ScrewHoles
) -> tuple[Fraction, Fraction]:
    """Depth of the counterbore, and how far the screw goes into the second part, mm."""
    thickness = extent_mm(marking, marking.contact.first)
    hold = screw.length_mm - thickness
    most = bearable_mm(marking, marking.contact.second)
    if hold > most:
        raise marking.refuse(
            "J144",
            f"a {marking.show_screw(screw)} screw through the {marking.show(thickness)} of "
            f"{marking.first} goes {marking.show(hold)} into {marking.second}, which takes "
            f"{marking.show(most)} with {marking.show(marking.bench.wall_mm)} left beyond the tip",
            f"Needed: at most {marking.show(thickness + most)} long.",
            option="screws",
        )
    if hold >= holes.shank_mm * factor("screw hold to shank, least"):
        return _ZERO, hold
    half = min(screw.length_mm * factor("screw hold to length, counterbored"), most)
    return _counterbored(marking, screw, holes, hold=half)


def _counterbored(
    marking: Marking, screw: SolvedFastener, holes: ScrewHoles, *, hold: Fraction
) -> tuple[Fraction, Fraction]:
    thickness = extent_mm(marking, marking.contact.first)
    left = screw.length_mm - hold
    least = holes.shank_mm * factor("screw hold to shank, least")
    if hold >= least and left > holes.countersink_mm:
        return thickness - left, hold
    raise marking.refuse(
        "J145",
        f"a {marking.show_screw(screw)} screw does not hold {marking.first}, "
        f"{marking.show(thickness)} thick, on {marking.second}, "
        f"{marking.show(extent_mm(marking, marking.contact.second))} thick",
        f"Needed: {marking.show(least)} of it in {marking.second}, 3 shank diameters, and its head "
        f"in {marking.first}. Take a longer or thinner screw.",
        option="screws",
    )


def _first_holes(marking: Marking, driven: _Driven) -> Iterator[Feature]:
    holes = driven.holes
    thickness = extent_mm(marking, marking.contact.first)
    way = unit(N, True)
    for u, v in driven.row.centres:
        face = (u, v, -thickness)
        seat = (u, v, driven.counterbore_mm - thickness)
        if driven.counterbore_mm:
            bored = hole(face, way, diameter_mm=holes.plug_mm, depth_mm=driven.counterbore_mm)
            yield marking.on_first("counterbore", bored)
        through = thickness - driven.counterbore_mm
        yield marking.on_first(
            "clearance hole", hole(seat, way, diameter_mm=holes.clearance_mm, depth_mm=through)
        )
        sink = min(holes.countersink_mm, through)
        cone = Bore(seat, way, holes.head_mm, sink, holes.clearance_mm)
        yield marking.on_first("countersink", cone)


def _pilots(marking: Marking, driven: _Driven) -> Iterator[Feature]:
    for u, v in driven.row.centres:
        bored = hole(
            (u, v, _ZERO), unit(N, True), diameter_mm=driven.holes.pilot_mm, depth_mm=driven.hold_mm
        )
        yield marking.on_second("pilot hole", bored)


def _sizes(marking: Marking, driven: _Driven) -> tuple[JointSize, ...]:
    holes, rule = driven.holes, driven.holes.pilot_rule
    bit = "1/64" if marking.units == "in" else "0.5 mm"
    pilot = JointSize(
        name="pilot hole",
        value_mm=holes.pilot_mm,
        rule=f"{rule.rule}, to the nearest {bit}",
        source=rule.source,
    )
    clearance = worked(
        "clearance hole", holes.clearance_mm, f"the shank's diameter, up to the next {bit}"
    )
    counterbore: tuple[JointSize, ...] = ()
    if driven.counterbore_mm:
        key = "screw hold to length, counterbored"
        counterbore = (proposed("counterbore depth", driven.counterbore_mm, key=key),)
    return (
        planned("screw length", driven.screw.length_mm),
        clearance,
        pilot,
        worked("pilot depth", driven.hold_mm, "to the screw's tip"),
        *counterbore,
        *driven.row.sizes,
    )


def _setting_out(marking: Marking, driven: _Driven) -> Iterator[SettingOut]:
    mark = marking.contact.first
    row_v = driven.row.centres[0][1]
    yield mark_line(marking, mark, "centre line of the screws", axis=V, at=row_v)
    for number, (u, _) in enumerate(driven.row.centres, start=1):
        yield mark_line(marking, mark, f"centre of screw {number}", axis=U, at=u)
    face = marking.own_face(mark, unit(N, False))
    if driven.counterbore_mm:
        yield SettingOut(
            copy=mark,
            what="depth of the counterbores",
            reference=face,
            distance_mm=driven.counterbore_mm,
            spacer="depth stop on the bit",
        )
    yield SettingOut(
        copy=marking.contact.second,
        what="depth of the pilot holes",
        reference=marking.own_face(marking.contact.second, unit(N, False)),
        distance_mm=driven.hold_mm,
        spacer="bore them through the clearance holes, the parts held in place",
    )


def _hardware(marking: Marking, driven: _Driven) -> Hardware:
    return Hardware(
        kind="wood screw",
        size=marking.show_screw(driven.screw),
        diameter_mm=driven.holes.shank_mm,
        length_mm=driven.screw.length_mm,
        count=len(driven.row.centres),
    )


def _warnings(marking: Marking, driven: _Driven) -> Iterator[Finding]:
    edge = edge_distance_mm(marking, driven.row)
    least = driven.holes.shank_mm * factor("screw edge distance to shank, least")
    # chosen: half a step of the rule is within what a person sets out by.
    if edge < least - grid_mm(marking.units) / 2:
        yield marking.warn(
            "J146",
            f"a No. {driven.screw.gauge} screw stands {marking.show(edge)} from an edge of the "
            f"joint between {marking.first} and {marking.second}",
            f"Needed: at least {marking.show(least)}, 2 shank diameters. Take a thinner screw, or "
            "move it.",
        )


def _warnings_without_screws(marking: Marking, glued: bool) -> Iterator[Finding]:
    options = [name for name in ("count", "inset", "offset") if name in marking.chosen.choices]
    if options:
        yield marking.warn(
            "J147",
            f"`{options[0]}` is given, and there are no screws",
            "Name the screws, such as `screws: 8 x 1-1/4`, or leave it out.",
            option=options[0],
        )
    if not glued:
        yield marking.warn(
            "J148",
            f"neither glue nor screws hold {marking.first} to {marking.second}",
            "Name the screws, or call it `rests on`.",
            option="glue",
        )


KIND = JointKind(
    code="butt",
    title="Butt joint",
    words=JointWords(
        code="butt",
        first="the part that the screws pass through",
        second="the part that they hold in",
        options=(
            Option(
                name="screws",
                type=OptionType.FASTENER,
                help="Gauge and length of the screws; glued only when left out.",
            ),
            *row_options("Screws"),
            OFFSET,
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; yes when left out.",
            ),
        ),
        help="Two parts meet face to face, glued, screwed, or both.",
    ),
    fit=fit_butt,
)
