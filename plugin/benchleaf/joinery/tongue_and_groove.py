"""Tongue and groove: two boards meet edge to edge, a tongue on one in a groove in the other.

Dimensions:
    tongue thickness: 1/3 of the thinner board's thickness, in its middle, on the rule. Source:
        common practice, no source.
    tongue length: as long as it is thick. Source: common practice, no source.
    clearance: 1/32 in (0.5 mm) at the bottom of the groove, so that the shoulders close. Source:
        common practice, no source.

Limits:
    The boards lie in one plane and are drawn edge to edge; the joint adds the tongue to the first.
    It is not glued unless the plan says so: boards side by side are left to move.

Tools:
    A router with an edge fence, or a router table; a plough plane and a tonguing plane; or a table
    saw with a dado head.

Source:
    Thickness and length: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.joinery.channels import has_grain
from benchleaf.joinery.marking import OFF, Marking, U, V, at_the_bench, block, unit
from benchleaf.joinery.proportions import (
    grid_mm,
    planned,
    proposed,
    proposed_share,
    usual_mm,
)
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_depth, mark_span
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tongue:
    """A tongue in section, and its groove; mm."""

    thickness: JointSize
    length: JointSize
    clearance: JointSize
    low_mm: Fraction
    """From the low face to the tongue."""

    @property
    def span(self) -> tuple[Fraction, Fraction]:
        """Across the thickness."""
        return self.low_mm, self.low_mm + self.thickness.value_mm

    @property
    def depth_mm(self) -> Fraction:
        """Of the groove."""
        return self.length.value_mm + self.clearance.value_mm


@at_the_bench
def fit_tongue_and_groove(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a tongue and its groove out along one edge."""
    marking.need(ContactKind.FACE)
    _need_edges(marking)
    tongue = _tongue(marking)
    along = (_ZERO, marking.contact.u_mm)
    added = block(along, tongue.span, (_ZERO, tongue.length.value_mm))
    cut = block(along, tongue.span, (_ZERO, tongue.depth_mm))
    area = marking.contact.u_mm * (marking.contact.v_mm + 2 * tongue.length.value_mm)
    fit = marking.made(
        (
            (marking.on_first("edge tongue", added, adds=True),),
            (marking.on_second("edge groove", cut),),
        ),
        numbers=(
            (tongue.thickness, tongue.length, tongue.clearance),
            tuple(_setting_out(marking, tongue)),
        ),
        free=(OFF, *(unit(U, is_high) for is_high in (False, True))),
        glued_mm2=area if marking.is_yes("glue", usually=False) else _ZERO,
    )
    return fit, tuple(_warnings(marking, tongue))


def _need_edges(marking: Marking) -> None:
    contact, bench = marking.contact, marking.bench
    pairs = ((contact.first, bench.first), (contact.second, bench.second))
    if all(marking.axis_of(mark, part.thickness_axis) == V for mark, part in pairs):
        return
    raise marking.refuse(
        "J222",
        f"{marking.first} and {marking.second} do not meet edge to edge",
        "Needed: two boards in one plane. For an edge at a face, use a `groove`.",
    )


def _tongue(marking: Marking) -> _Tongue:
    thin = marking.contact.v_mm
    thickness = _thickness(marking, thin)
    given = marking.length("length")
    length = (
        planned("tongue length", given)
        if given is not None
        else proposed("tongue length", thickness.value_mm, key="tongue length")
    )
    room = marking.length("clearance")
    usual = usual_mm("tongue clearance", marking.units)
    clearance = (
        planned("clearance at the bottom", room)
        if room is not None
        else proposed("clearance at the bottom", usual, key="tongue clearance")
    )
    tongue = _Tongue(
        thickness=thickness,
        length=length,
        clearance=clearance,
        low_mm=(thin - thickness.value_mm) / 2,
    )
    _refuse_length(marking, tongue)
    return tongue


def _thickness(marking: Marking, thin: Fraction) -> JointSize:
    given = marking.length("thickness")
    if given is None:
        return proposed_share(
            "tongue thickness",
            thin,
            key="tongue thickness",
            units=marking.units,
            least_mm=grid_mm(marking.units),
        )
    if 0 < given < thin:
        return planned("tongue thickness", given)
    raise marking.refuse(
        "J223",
        f"a tongue {marking.show(given)} thick leaves no shoulder on boards {marking.show(thin)} "
        "thick",
        f"Needed: more than 0 and less than {marking.show(thin)}; a third is usual.",
        option="thickness",
    )


def _refuse_length(marking: Marking, tongue: _Tongue) -> None:
    wide = extent_mm(marking, marking.contact.second)
    if tongue.length.value_mm > 0 and tongue.depth_mm < wide:
        return
    raise marking.refuse(
        "J224",
        f"a groove {marking.show(tongue.depth_mm)} deep for a tongue "
        f"{marking.show(tongue.length.value_mm)} long does not suit {marking.second}, "
        f"{marking.show(wide)} wide",
        f"Needed: a tongue longer than 0 and a groove shallower than {marking.show(wide)}.",
        option="length",
    )


def _setting_out(marking: Marking, tongue: _Tongue) -> Iterator[SettingOut]:
    yield from mark_span(marking, "cheek of the tongue", axis=V, ends=tongue.span)
    yield mark_depth(
        marking,
        marking.contact.second,
        "depth of the groove",
        distance=tongue.depth_mm,
        spacer="one depth setting serves every one of them",
    )


def _warnings(marking: Marking, tongue: _Tongue) -> Iterator[Finding]:
    thin = marking.contact.v_mm
    most = thin / 2
    if tongue.thickness.value_mm > most:
        yield marking.warn(
            "J225",
            f"a tongue {marking.show(tongue.thickness.value_mm)} thick leaves thin walls beside "
            f"its groove in {marking.second}",
            f"Needed: at most half of the thickness, {marking.show_with_unit(most)}.",
            option="thickness",
        )
    first = marking.contact.first
    if has_grain(marking) and marking.grain_of(first) != U:
        yield marking.warn(
            "J226",
            f"the tongue runs across the grain of {marking.first}, and breaks off",
            f"Turn the grain of {marking.first} to run along the joint.",
        )


KIND = JointKind(
    code="tongue and groove",
    title="Tongue and groove",
    words=JointWords(
        code="tongue and groove",
        first="the board with the tongue",
        second="the board with the groove",
        options=(
            Option(
                name="thickness",
                type=OptionType.LENGTH,
                help="How thick the tongue is; a third of the thickness when left out.",
            ),
            Option(
                name="length",
                type=OptionType.LENGTH,
                help="How long the tongue is; as long as it is thick when left out.",
            ),
            Option(
                name="clearance",
                type=OptionType.LENGTH,
                help="Room left at the bottom of the groove; what is usual when left out.",
            ),
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; no when left out.",
            ),
        ),
        help="Two boards meet edge to edge, a tongue on one in a groove in the other.",
    ),
    fit=fit_tongue_and_groove,
)
