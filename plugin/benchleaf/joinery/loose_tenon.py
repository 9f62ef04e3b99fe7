"""Loose tenon: mortises in both parts, and a tenon of its own glued into the two.

Dimensions:
    thickness: 1/3 of the thinner part, to the nearest 1/16 in (1 mm). Source: Port Townsend School
        of Woodworking.
    width: 2/3 of the width where the parts meet, at most 6 times the thickness. Source: Port
        Townsend School of Woodworking.
    depth: 5 times the thickness into each part, or what the part bears with the shop's wall left.
        Source: Port Townsend School of Woodworking.
    clearance: each mortise 1/16 in (1.5 mm) deeper than the tenon goes. Source: common practice, no
        source.
    tenon length: what goes into both parts. Source: worked out.

Limits:
    The tenon stays within the faces that meet, and goes into both parts by more than nothing. Each
    mortise keeps the shop's wall beyond it.

Tools:
    A router with a straight bit and an edge guide, or a jig that holds both parts; a saw and a
    plane for the tenon stock.

Source:
    Rules of the Port Townsend School of Woodworking, as reproduced in 2015, for a tenon's section.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.joinery.marking import OFF, Marking, U, V, at_the_bench, block
from benchleaf.joinery.proportions import factor, planned, proposed, round_down, usual_mm, worked
from benchleaf.joinery.reach import bearable_mm, clear_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.setting_out import mark_depth, mark_span
from benchleaf.joinery.tenon_forms import plain_options
from benchleaf.joinery.tenon_section import Section, work_out_section
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@at_the_bench
def fit_loose_tenon(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a loose tenon out at one contact."""
    marking.need(ContactKind.FACE)
    chosen = replace(marking.chosen, choices={**marking.chosen.choices, "haunch": False})
    section = work_out_section(replace(marking, chosen=chosen))
    sizes = _depths(marking, section)
    clearance, into, length = (size.value_mm for size in sizes[:3])
    deep = into + clearance
    around = 2 * (section.across.extent + section.along.extent)
    fit = marking.made(
        (
            (_mortise(marking, section, deep, is_first=True),),
            (_mortise(marking, section, deep, is_first=False),),
        ),
        numbers=((*section.sizes, *sizes), tuple(_setting_out(marking, section, deep))),
        free=(OFF,),
        glued_mm2=marking.contact.u_mm * marking.contact.v_mm
        - section.across.extent * section.along.extent
        + around * length,
        hardware=(_loose(marking, section, length),),
    )
    return fit, ()


def _depths(marking: Marking, section: Section) -> tuple[JointSize, ...]:
    """Clearance, how far the tenon goes into each part, its length, and the mortises' depth."""
    room = usual_mm("loose tenon clearance", marking.units)
    given = marking.length("length")
    if given is not None:
        into, length = given / 2, planned("tenon length", given)
    else:
        into = round_down(_usual_depth(marking, section) - room, marking.units)
        key = "mortise depth to width, most"
        length = proposed("tenon length", 2 * into, key=key, rounding="in both parts")
    _refuse_depth(marking, into, room)
    return (
        proposed("clearance in each mortise", room, key="loose tenon clearance"),
        worked("tenon into each part", into, "half of its length"),
        length,
        worked("mortise depth", into + room, "what the tenon goes in, and the clearance"),
    )


def _usual_depth(marking: Marking, section: Section) -> Fraction:
    footprint = block(section.along.ends, section.across.ends, (_ZERO, _ZERO))
    most = section.across.extent * factor("mortise depth to width, most")
    return min(most, *(clear_mm(marking, mark, footprint) for mark in marking.marks))


def _refuse_depth(marking: Marking, into: Fraction, room: Fraction) -> None:
    borne = min((bearable_mm(marking, mark), mark) for mark in marking.marks)
    if 0 < into <= borne[0] - room:
        return
    thin = marking.part_of(borne[1]).name
    most = max(2 * (borne[0] - room), _ZERO)
    raise marking.refuse(
        "J266",
        f"a loose tenon that goes {marking.show(max(into, _ZERO))} into each part does not suit "
        f"{thin}, which bears {marking.show(borne[0])}",
        f"Needed: a tenon of more than 0 and at most {marking.show(most)}, which leaves "
        f"{marking.show(marking.bench.wall_mm)} beyond the mortise.",
        option="length",
    )


def _mortise(marking: Marking, section: Section, deep: Fraction, *, is_first: bool) -> Feature:
    across, along = section.across.ends, section.along.ends
    if is_first:
        return marking.on_first("loose mortise", block(along, across, (-deep, _ZERO)))
    return marking.on_second("loose mortise", block(along, across, (_ZERO, deep)))


def _loose(marking: Marking, section: Section, length: Fraction) -> Hardware:
    thick, wide = section.across.extent, section.along.extent
    size = " x ".join(marking.show(own) for own in (thick, wide, length))
    return Hardware(kind="loose tenon", size=size, diameter_mm=thick, length_mm=length, count=1)


def _setting_out(marking: Marking, section: Section, deep: Fraction) -> Iterator[SettingOut]:
    yield from mark_span(marking, "cheek of the loose mortise", axis=V, ends=section.across.ends)
    yield from mark_span(marking, "end of the loose mortise", axis=U, ends=section.along.ends)
    stop = "depth stop of the router"
    for mark in marking.marks:
        what = "depth of the loose mortise"
        yield mark_depth(marking, mark, what, distance=deep, spacer=stop)


KIND = JointKind(
    code="loose tenon",
    title="Loose tenon",
    words=JointWords(
        code="loose tenon",
        first="one part",
        second="the other part",
        options=(
            *plain_options("through", "haunch", "haunch length", "length"),
            Option(
                name="length",
                type=OptionType.LENGTH,
                help="Length of the tenon, half of it in each part; 5 times its thickness in each, "
                "or what they bear, when left out.",
            ),
        ),
        help="Mortises in both parts, and a tenon of its own glued into the two.",
    ),
    fit=fit_loose_tenon,
)
