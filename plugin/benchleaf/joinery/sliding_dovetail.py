"""Sliding dovetail: a tail along the end of one part slides into a socket across the other.

Dimensions:
    depth: from 1/4 up to 1/3 of the socketed part's thickness, on the rule. Source: Port Townsend
        School of Woodworking.
    bit: the largest stock size that is at most 3/4 of the entering part's thickness; the tail is as
        wide at its end as the bit would cut there. Source: common practice, no source.
    angle: 14 degrees on each side, that of the usual bit. Source: common practice, no source.
    clearance: 1/32 in (0.5 mm) at the bottom, so that the shoulders close. Source: common practice,
        no source.
    stop: 1/2 in (12 mm) short of the faces named. Source: common practice, no source.

Limits:
    The part that enters is drawn up to the face of the other; the joint adds the tail. The socket
    is open at one end at least, or the tail could not go in. The tail is at least a third of the
    thickness at its neck.

Tools:
    A router with a straight bit for the waste and a dovetail bit, a guide, and the same bit in a
    router table for the tail.

Source:
    Rule of the Port Townsend School of Woodworking for dado and rabbet, as reproduced in 2015; bit
    and angle are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from benchleaf.findings import Finding
from benchleaf.forms import Prism
from benchleaf.frames import Frame, Number
from benchleaf.joinery.channel_options import CLEARANCE, DEPTH, STOP, STOPPED, USUAL, glue_option
from benchleaf.joinery.channels import Channel, cut_channel, set_out_channel, warn_of_depth
from benchleaf.joinery.marking import OFF, Marking, U, V, at_the_bench, unit
from benchleaf.joinery.proportions import factor, planned, proportion, proposed, worked
from benchleaf.joinery.records import JointFit, JointKind, JointSize, SettingOut
from benchleaf.lengths import MM_PER_INCH, UnitName
from benchleaf.outlines import polygon
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)
# chosen: a millionth; sizes stay exact, and no bit is ground as true.
_STEPS = 10**6
# Common practice, no source: bits are ground from 7 to 18 degrees.
_FLATTEST_DEG, _STEEPEST_DEG = 7, 18
_USUAL_DEG = 14
# Common practice, no source: diameters in which dovetail bits are sold.
_BITS: Final[Mapping[UnitName, tuple[Fraction, ...]]] = MappingProxyType(
    {
        "in": tuple(Fraction(n, 8) * MM_PER_INCH for n in (2, 3, 4, 5, 6)),
        "mm": tuple(Fraction(n) for n in (6, 8, 10, 12, 14, 16)),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tail:
    """A tail and its socket in section; mm."""

    channel: Channel
    bit: JointSize
    angle_deg: int
    lean: Fraction
    """How far a side leans for 1 of depth."""
    thick_mm: Fraction

    @property
    def neck_mm(self) -> Fraction:
        """Width at the face of the second part, of tail and socket alike."""
        return self.bit.value_mm - 2 * self.lean * self.channel.depth_mm

    @property
    def neck(self) -> tuple[Fraction, Fraction]:
        """Where the neck lies across the part's thickness: in the middle."""
        side = (self.thick_mm - self.neck_mm) / 2
        return side, self.thick_mm - side

    def prism(self, ends: tuple[Number, Number], depth_mm: Fraction) -> Prism:
        """The section down to a depth, drawn out from one end to the other."""
        (low, high), flare = self.neck, self.lean * depth_mm
        section = ((low, _ZERO), (high, _ZERO), (high + flare, depth_mm), (low - flare, depth_mm))
        frame = Frame((ends[0], _ZERO, _ZERO), ((0, 1, 0), (0, 0, 1), (1, 0, 0)))
        return Prism(frame, polygon(section), ends[1] - ends[0])


@at_the_bench
def fit_sliding_dovetail(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a sliding dovetail out at one contact."""
    tail = _tail(marking)
    channel = tail.channel
    ways = tuple(way for way in channel.free if way != OFF)
    if not ways:
        raise _closed(marking)
    length = Fraction(channel.enter_u[1] - channel.enter_u[0])
    sides = tail.neck_mm + 2 * channel.enter_mm
    fit = marking.made(
        (
            (marking.on_first("dovetail tail", tail.prism(channel.enter_u, channel.enter_mm),
                              adds=True),),
            (marking.on_second("dovetail socket", tail.prism(channel.cut_u, channel.depth_mm)),),
        ),
        numbers=(_sizes(marking, tail), tuple(_setting_out(marking, tail))),
        free=ways,
        glued_mm2=length * sides if marking.is_yes("glue", usually=True) else _ZERO,
    )  # fmt: skip
    return fit, (*warn_of_depth(marking, channel), *_warn_of_edge(marking, tail))


def _tail(marking: Marking) -> _Tail:
    channel = cut_channel(marking, (0, marking.contact.v_mm))
    angle = _angle(marking)
    tail = _Tail(
        channel=channel,
        bit=_bit(marking),
        angle_deg=angle,
        lean=Fraction(round(math.tan(math.radians(angle)) * _STEPS), _STEPS),
        thick_mm=marking.contact.v_mm,
    )
    least = marking.contact.v_mm * factor("dovetail neck, least")
    if tail.neck_mm < least:
        raise marking.refuse(
            "J217",
            f"a {marking.show(tail.bit.value_mm)} bit of {angle} degrees, "
            f"{marking.show(channel.depth_mm)} deep, leaves a neck of "
            f"{marking.show(max(tail.neck_mm, _ZERO))} on {marking.first}, "
            f"{marking.show(tail.thick_mm)} thick",
            f"Needed: at least {marking.show_with_unit(least)}, a third. Take a larger bit, a "
            "shallower socket or a smaller angle.",
            option="bit",
        )
    return replace(tail, channel=replace(channel, cut_v=tail.neck))


def _angle(marking: Marking) -> int:
    angle = marking.count("angle")
    if angle is None:
        return _USUAL_DEG
    if _FLATTEST_DEG <= angle <= _STEEPEST_DEG:
        return angle
    raise marking.refuse(
        "J218",
        f"there is no dovetail bit of {angle} degrees",
        f"Needed: from {_FLATTEST_DEG} to {_STEEPEST_DEG}; {_USUAL_DEG} is usual.",
        option="angle",
    )


def _bit(marking: Marking) -> JointSize:
    """The bit's diameter at its end."""
    thick, given = marking.contact.v_mm, marking.length("bit")
    most = thick * factor("dovetail bit, most")
    if given is None:
        bits = _BITS[marking.units]
        usual = max((bit for bit in bits if bit <= most), default=min(bits))
        if usual <= thick:
            return proposed("bit", usual, key="dovetail bit, most")
        given = usual
    if given <= thick:
        return planned("bit", given)
    raise marking.refuse(
        "J219",
        f"a {marking.show(given)} bit cuts a wider tail than {marking.first} is thick, "
        f"{marking.show(thick)}",
        f"Needed: a bit of at most {marking.show_with_unit(most)}.",
        option="bit",
    )


def _sizes(marking: Marking, tail: _Tail) -> tuple[JointSize, ...]:
    channel, row = tail.channel, proportion("dovetail bit angle")
    is_given = marking.count("angle") is not None
    flare = JointSize(
        name="flare of each side",
        value_mm=tail.lean * channel.depth_mm,
        rule=f"{tail.angle_deg} degrees over the depth" + ("" if is_given else f"; {row.rule}"),
        source="the plan" if is_given else row.source,
    )
    end = tail.neck_mm + 2 * tail.lean * channel.enter_mm
    return (
        *(size for size in channel.sizes if size.name != "channel width"),
        tail.bit,
        flare,
        worked("neck of the tail", tail.neck_mm, "what the bit leaves at the face"),
        worked("end of the tail", end, "as wide as the socket where it ends"),
    )


def _setting_out(marking: Marking, tail: _Tail) -> Iterator[SettingOut]:
    for row in set_out_channel(marking, tail.channel):
        yield replace(row, spacer="") if "wall" in row.what else row


def _closed(marking: Marking) -> Exception:
    second = marking.contact.second
    faces = " nor ".join(marking.own_face(second, unit(U, is_high)) for is_high in (False, True))
    return marking.refuse(
        "J220",
        f"the tail of {marking.first} cannot be slid in: its socket reaches neither {faces} of "
        f"{marking.second}",
        f"Draw {marking.first} out to one of the two, or stop the socket at one end only.",
        option="stopped",
    )


def _warn_of_edge(marking: Marking, tail: _Tail) -> Iterator[Finding]:
    """Say where the wood beside the socket is thin."""
    second, usual = marking.contact.second_box, USUAL["sliding dovetail"]
    flare = tail.lean * tail.channel.depth_mm
    low, high = tail.neck[0] - flare - second.low[V], second.high[V] - tail.neck[1] - flare
    beside = Fraction(min(low, high))
    if beside < tail.thick_mm / 2:
        yield marking.warn(
            "J221",
            f"the {usual.role} leaves {marking.show(max(beside, _ZERO))} beside it, which splits "
            "off when the tail is driven in",
            f"Needed: at least half of the thickness of {marking.first}, "
            f"{marking.show_with_unit(tail.thick_mm / 2)}. Move it in from the edge.",
        )


KIND = JointKind(
    code="sliding dovetail",
    title="Sliding dovetail",
    words=JointWords(
        code="sliding dovetail",
        first="the part with the tail",
        second="the part with the socket",
        options=(
            DEPTH,
            Option(
                name="bit",
                type=OptionType.LENGTH,
                help="Diameter of the dovetail bit at its end; by the thickness when left out.",
            ),
            Option(
                name="angle",
                type=OptionType.COUNT,
                help="The bit's angle in whole degrees; 14 when left out.",
            ),
            STOPPED,
            STOP,
            CLEARANCE,
            glue_option("yes"),
        ),
        help="A tail along the end of one part slides into a socket across the other.",
    ),
    fit=fit_sliding_dovetail,
)
