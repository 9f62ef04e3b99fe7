"""Rebate: the edge of one part, such as a back, lies in a step along the edge of the other.

Dimensions:
    depth: from 1/4 up to 1/3 of the rebated part's thickness, on the rule. Source: Port Townsend
        School of Woodworking.
    width: from the entering part's inner face to the edge. Source: worked out.
    stop: 1/2 in (12 mm) short of the faces named; where none is named the rebate runs through.
        Source: common practice, no source.
    clearance: none, the part goes to the bottom. Source: common practice, no source.

Limits:
    The rebate is at most half as deep as the part is thick. The part that enters lies at most its
    own thickness from the edge; further in, the channel is a housing or a groove.

Tools:
    A table saw, a router table with a fence, a router with a rebate bit, or a rebate plane.

Source:
    Rule of the Port Townsend School of Woodworking for dado and rabbet, as reproduced in 2015; the
    largest depth is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Number, Vector
from benchleaf.joinery.channel_options import CLEARANCE, DEPTH, STOP, STOPPED, glue_option
from benchleaf.joinery.channels import (
    Channel,
    cut_channel,
    fit_channel,
    warn_of_depth,
)
from benchleaf.joinery.marking import Marking, V, at_the_bench, unit
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords


@at_the_bench
def fit_rebate(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a rebate out at one contact."""
    marking.need(ContactKind.FACE)
    cut_v, way = _out_to_the_edge(marking)
    channel = cut_channel(marking, cut_v, sideways=(way,))
    return fit_channel(marking, channel), tuple(_warnings(marking, channel))


def _out_to_the_edge(marking: Marking) -> tuple[tuple[Number, Number], Vector]:
    """What is cut across the rebate, and the way out over the edge."""
    second, thick = marking.contact.second_box, marking.contact.v_mm
    low_gap, high_gap = Fraction(-second.low[V]), Fraction(second.high[V] - thick)
    if low_gap == 0 and high_gap == 0:
        raise marking.refuse(
            "J129",
            f"{marking.first} covers {marking.second} from edge to edge, so a rebate would only "
            "make it shorter",
            f"Needed: a part thinner than {marking.second} is wide there, or a butt joint.",
        )
    if min(low_gap, high_gap) > thick:
        raise marking.refuse(
            "J130",
            f"{marking.first} lies {marking.show(min(low_gap, high_gap))} in from the edge of "
            f"{marking.second}",
            f"Needed: at most its own thickness, {marking.show(thick)}. Further in, call it a "
            "`housing` or a `groove`.",
        )
    if high_gap < low_gap:
        return (Fraction(0), second.high[V]), unit(V, True)
    return (second.low[V], thick), unit(V, False)


def _warnings(marking: Marking, channel: Channel) -> Iterator[Finding]:
    yield from warn_of_depth(marking, channel)


KIND = JointKind(
    code="rebate",
    title="Rebate",
    words=JointWords(
        code="rebate",
        first="the part that enters",
        second="the part that is rebated",
        options=(DEPTH, STOPPED, STOP, CLEARANCE, glue_option("yes")),
        help="The edge of one part lies in a step along the edge of the other.",
    ),
    fit=fit_rebate,
)
