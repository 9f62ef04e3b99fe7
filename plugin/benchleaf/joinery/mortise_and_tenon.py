"""Mortise and tenon: a tongue on the end of one part, glued into a hole that fits it in the other.

Dimensions:
    thickness: 1/3 of the thinner part, to the nearest 1/16 in (1 mm), or less where a blind mortise
        could not be 3 times as deep. Source: Port Townsend School of Woodworking.
    width: 2/3 of the width where the parts meet, at most 6 times the thickness. Source: Port
        Townsend School of Woodworking.
    mortise depth: 5 times its width, less where the shop's wall or another joint of the same part
        is in the way; a through mortise goes all the way. Source: Port Townsend School of
        Woodworking.
    tenon length: 1/8 in (3 mm) less than the mortise is deep. Source: Port Townsend School of
        Woodworking.
    haunch: as long as the tenon is thick, where a plain mortise would run out of the end of an
        upright. Source: Port Townsend School of Woodworking.
    shoulders: what is left of the part beside the tenon. Source: worked out.
    in a panel's groove: as thick as the groove is wide, clear of the rail's own groove; its haunch
        fills the groove to the end, or as a stub it stands in the groove alone. Source: worked out.
    at an angle: the shoulder follows the face that it meets; the tenon runs on along its part, or
        stands square to that face. Its lowest corner keeps the shop's wall. Source: worked out.

Limits:
    The tenon stays within the faces that meet. A blind mortise keeps the shop's wall beyond it, and
    is at least 3 times as deep as wide. A tenon is at most 6 times as wide as thick.

Tools:
    A mortise gauge and a marking knife, a chisel and mallet or a router with a fence, a tenon saw
    or a table saw with a tenon jig, a shoulder plane.

Source:
    Rules of the Port Townsend School of Woodworking, after Moxon, as reproduced in 2015; haunched
    forms as in NAVEDTRA 14043, figure 3-55.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import FACES
from benchleaf.joinery.marking import OFF, Marking, U, V, at_any_angle, block
from benchleaf.joinery.panel_grooves import fits_groove, warn_of_groove
from benchleaf.joinery.proportions import (
    factor,
    grid_words,
    planned,
    proposed,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.reach import bearable_mm, clear_mm, extent_mm
from benchleaf.joinery.records import Feature, JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_depth, mark_span
from benchleaf.joinery.slanting_tenon import fit_slanting_tenon
from benchleaf.joinery.tenon_section import Section, work_out_section
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lengths:
    """How far a tenon goes and how deep its mortise is, mm."""

    tenon_mm: Fraction
    mortise_mm: Fraction
    haunch_mm: Fraction
    """0 without a haunch."""
    clearance_mm: Fraction
    is_through: bool
    sizes: tuple[JointSize, ...]


@at_any_angle
def fit_mortise_and_tenon(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a mortise and tenon out at one contact."""
    marking.need(ContactKind.FACE)
    if not marking.is_square:
        return fit_slanting_tenon(marking), ()
    marking.need_growth("tenon")
    section = work_out_section(marking)
    lengths = _lengths(marking, section)
    sides = 2 * (section.across.extent + section.along.extent)
    glued_length = min(lengths.tenon_mm, lengths.mortise_mm or lengths.tenon_mm)
    fit = marking.made(
        (_tenon(marking, section, lengths), _mortise(marking, section, lengths)),
        numbers=(
            (*section.sizes, *lengths.sizes),
            tuple(_setting_out(marking, section, lengths)),
        ),
        free=(OFF,),
        glued_mm2=sides * glued_length,
    )
    return fit, tuple(_warnings(marking, section, lengths))


def _lengths(marking: Marking, section: Section) -> _Lengths:
    if marking.is_yes("stub", usually=False):
        return _stub(marking, section)
    is_through = marking.is_yes("through", usually=False)
    sizes = _through(marking) if is_through else _blind(marking, section)
    by_name = {size.name: size.value_mm for size in sizes}
    clearance = by_name.get("depth clearance", _ZERO)
    haunch = _haunch_length(marking, section, by_name["tenon length"])
    return _Lengths(
        tenon_mm=by_name["tenon length"],
        mortise_mm=by_name["mortise depth"],
        haunch_mm=haunch.value_mm if haunch else _ZERO,
        clearance_mm=clearance,
        is_through=is_through,
        sizes=(*sizes, haunch) if haunch else sizes,
    )


def _stub(marking: Marking, section: Section) -> _Lengths:
    """A tenon that stands in the panel's groove alone: as long as that is deep, less a little."""
    groove = section.groove
    given, name = marking.length("length"), "tenon length"
    deep = groove.depth_mm if groove and groove.runs_under(section.along.ends) else _ZERO
    room = usual_mm("tongue clearance", marking.units)
    length = proposed(name, deep - room, key="tongue clearance")
    if given is not None:
        length = planned(name, given)
    if groove is None or not 0 < length.value_mm <= deep:
        raise marking.refuse(
            "J359",
            f"a stub tenon on {marking.first} needs a panel's groove in {marking.second} that runs "
            "on under it" + (f", {marking.show(length.value_mm)} deep or more" if deep else ""),
            "Needed: a `frame and panel` joint whose groove is `through: yes`; or a mortise of its "
            "own, `stub: no`.",
            option="stub",
        )
    return _Lengths(
        tenon_mm=length.value_mm,
        mortise_mm=_ZERO,
        haunch_mm=_ZERO,
        clearance_mm=deep - length.value_mm,
        is_through=False,
        sizes=(length, worked("groove depth", deep, "the panel's groove, which it stands in")),
    )


def _through(marking: Marking) -> tuple[JointSize, ...]:
    thickness = extent_mm(marking, marking.contact.second)
    given = marking.length("length")
    if given is not None and given < thickness:
        raise marking.refuse(
            "J118",
            f"a through tenon {marking.show(given)} long does not reach through the "
            f"{marking.show(thickness)} of {marking.second}",
            f"Needed: at least {marking.show(thickness)}, or `through: no`.",
            option="length",
        )
    rule = f"all the way through {marking.second}"
    length = worked("tenon length", thickness, rule)
    if given is not None:
        length = planned("tenon length", given)
    return length, worked("mortise depth", thickness, rule)


def _blind(marking: Marking, section: Section) -> tuple[JointSize, ...]:
    clearance = usual_mm("mortise depth clearance", marking.units)
    room = proposed("depth clearance", clearance, key="mortise depth clearance")
    given = marking.length("length")
    if given is not None:
        length = planned("tenon length", given)
    else:
        usual = _usual_depth(marking, section) - clearance
        rounding = f"down to the {grid_words(marking.units)}, less the depth clearance"
        length = proposed(
            "tenon length",
            round_down(usual, marking.units),
            key="mortise depth to width, most",
            rounding=rounding,
        )
    depth = length.value_mm + clearance
    _refuse_depth(marking, length.value_mm, depth)
    return length, worked("mortise depth", depth, "the tenon's length and the clearance"), room


def _usual_depth(marking: Marking, section: Section) -> Fraction:
    footprint = block(section.along.ends, section.across.ends, (_ZERO, _ZERO))
    clear = clear_mm(marking, marking.contact.second, footprint)
    return min(section.across.extent * factor("mortise depth to width, most"), clear)


def _refuse_depth(marking: Marking, length: Fraction, depth: Fraction) -> None:
    most = bearable_mm(marking, marking.contact.second)
    if length > 0 and depth <= most:
        return
    thickness = extent_mm(marking, marking.contact.second)
    longest = max(most - (depth - length), _ZERO)
    raise marking.refuse(
        "J119",
        f"a tenon {marking.show(length)} long asks for a mortise {marking.show(depth)} deep in the "
        f"{marking.show(thickness)} of {marking.second}",
        f"Needed: a tenon of more than 0 and at most {marking.show(longest)}, which leaves "
        f"{marking.show(marking.bench.wall_mm)} beyond the mortise; or `through: yes`.",
        option="length",
    )


def _haunch_length(marking: Marking, section: Section, tenon: Fraction) -> JointSize | None:
    if section.haunch is None:
        return None
    given = marking.length("haunch length")
    if given is None and section.groove and section.groove.runs_under(section.haunch.ends):
        deep = min(section.groove.depth_mm, tenon)
        return worked("haunch length", deep, "it fills the panel's groove, which runs out there")
    if given is None:
        usual = section.across.extent * factor("haunch length")
        return proposed("haunch length", min(usual, tenon / 2), key="haunch length")
    if 0 < given < tenon:
        return planned("haunch length", given)
    raise marking.refuse(
        "J120",
        f"a haunch {marking.show(given)} long on a tenon of {marking.show(tenon)} is no haunch",
        f"Needed: more than 0 and less than {marking.show(tenon)}.",
        option="haunch length",
    )


def _tenon(marking: Marking, section: Section, lengths: _Lengths) -> tuple[Feature, ...]:
    across, along = section.across.ends, section.along.ends
    tenon = marking.on_first("tenon", block(along, across, (_ZERO, lengths.tenon_mm)), adds=True)
    if section.haunch is None:
        return (tenon,)
    shape = block(section.haunch.ends, across, (_ZERO, lengths.haunch_mm))
    return tenon, marking.on_first("haunch", shape, adds=True)


def _mortise(marking: Marking, section: Section, lengths: _Lengths) -> tuple[Feature, ...]:
    across, along = section.across.ends, section.along.ends
    if not lengths.mortise_mm:
        return ()
    mortise = marking.on_second("mortise", block(along, across, (_ZERO, lengths.mortise_mm)))
    if section.haunch is None or _is_in_groove(section, lengths.haunch_mm):
        return (mortise,)
    deep = lengths.haunch_mm + lengths.clearance_mm
    return mortise, marking.on_second("haunch", block(section.haunch.ends, across, (_ZERO, deep)))


def _is_in_groove(section: Section, haunch_mm: Fraction) -> bool:
    """Tell whether a haunch has its place in the panel's groove, with nothing left to cut."""
    groove, span = section.groove, section.haunch
    return (
        groove is not None
        and span is not None
        and groove.runs_under(span.ends)
        and section.across.ends == groove.across
        and haunch_mm <= groove.depth_mm
    )


def _setting_out(marking: Marking, section: Section, lengths: _Lengths) -> Iterator[SettingOut]:
    yield from mark_span(marking, "cheek of the tenon", axis=V, ends=section.across.ends)
    yield from mark_span(marking, "edge of the tenon", axis=U, ends=section.along.ends)
    contact = marking.contact
    yield SettingOut(
        copy=contact.first,
        what="shoulder line, from the end of the tenon",
        reference=marking.own_face(contact.first, (0, 0, 1)),
        distance_mm=lengths.tenon_mm,
        spacer="one stop serves every tenon of this length",
    )
    if not lengths.is_through and lengths.mortise_mm:
        stop = "depth stop, or tape on the chisel"
        deep = lengths.mortise_mm
        yield mark_depth(
            marking, contact.second, "depth of the mortise", distance=deep, spacer=stop
        )


def _warnings(marking: Marking, section: Section, lengths: _Lengths) -> Iterator[Finding]:
    thick, wide = section.across.extent, section.along.extent
    ends = (section.across.ends, section.along.ends)
    if section.groove and not fits_groove(section.groove, *ends, marking.contact.u_mm):
        yield warn_of_groove(marking, section.groove, ends)
    if not lengths.mortise_mm:
        return
    if not lengths.is_through:
        least = thick * factor("mortise depth to width, least")
        if lengths.mortise_mm < least:
            yield marking.warn(
                "J121",
                f"the mortise in {marking.second} is {marking.show(lengths.mortise_mm)} deep and "
                f"{marking.show(thick)} wide",
                f"Needed: at least {marking.show(least)} deep, 3 times its width. Thin the tenon, "
                "or go through.",
            )
    most = thick * factor("tenon width to thickness, most")
    if not lengths.is_through and wide > most:
        yield marking.warn(
            "J122",
            f"a tenon {marking.show(wide)} wide and {marking.show(thick)} thick moves with the "
            "seasons and weakens the mortise's cheeks",
            f"Needed: at most {marking.show(most)} wide, 6 times its thickness.",
        )


KIND = JointKind(
    code="mortise and tenon",
    title="Mortise and tenon",
    words=JointWords(
        code="mortise and tenon",
        first="the part with the tenon",
        second="the part with the mortise",
        options=(
            Option(
                name="through",
                type=OptionType.YES_NO,
                help="Whether the mortise goes right through; no when left out.",
            ),
            Option(
                name="shoulder",
                type=OptionType.LENGTH,
                help="How far the tenon stands in from each side that has a shoulder; by thickness "
                "and width when left out.",
            ),
            Option(
                name="face shoulder",
                type=OptionType.LENGTH,
                help="Shoulder on the two faces, which sets the thickness; by thickness when left "
                "out.",
            ),
            Option(
                name="edge shoulder",
                type=OptionType.LENGTH,
                help="Shoulder on the two edges, which sets the width; by width when left out.",
            ),
            Option(
                name="shoulders",
                type=OptionType.CHOICE_LIST,
                choices=tuple(FACES),
                help="Sides of the first part, as drawn, that have a shoulder; all four when left "
                "out. A bare-faced tenon leaves one out.",
            ),
            Option(
                name="thickness",
                type=OptionType.LENGTH,
                help="Thickness of the tenon; 1/3 of the thinner part when left out.",
            ),
            Option(
                name="width",
                type=OptionType.LENGTH,
                help="Width of the tenon; 2/3 of the width where the parts meet, at most 6 times "
                "the thickness, when left out.",
            ),
            Option(
                name="length",
                type=OptionType.LENGTH,
                help="Length of the tenon; 5 times its thickness, or what the second part bears, "
                "when left out.",
            ),
            Option(
                name="haunch",
                type=OptionType.YES_NO,
                help="Whether a haunch fills the shoulder at the near end of the second part; yes "
                "where the mortise would run out of that end, when left out.",
            ),
            Option(
                name="haunch length",
                type=OptionType.LENGTH,
                help="How far the haunch goes in; the tenon's thickness when left out.",
            ),
            Option(
                name="stub",
                type=OptionType.YES_NO,
                help="Whether the tenon stands in a panel's groove alone, as long as that is deep, "
                "without a mortise; no when left out.",
            ),
            Option(
                name="offset",
                type=OptionType.LENGTH,
                help="How far the tenon stands off the middle of its thickness, towards the back, "
                "right or top of the first part as drawn; 0 when left out.",
            ),
            Option(
                name="tenon",
                type=OptionType.CHOICE,
                choices=("along", "square"),
                help="Where the parts meet at an angle: whether the tenon runs along its part, or "
                "stands square to the face that it goes into; along when left out.",
            ),
        ),
        help="A tongue on the end of one part, glued into a hole that fits it in the other.",
    ),
    fit=fit_mortise_and_tenon,
)
