"""Housing: the end of one part, such as a shelf, stands in a channel across the grain of the other.

Dimensions:
    depth: from 1/4 up to 1/3 of the housed part's thickness, on the rule. Source: Port Townsend
        School of Woodworking.
    width: the thickness of the part that enters. Source: worked out.
    stop: 1/2 in (12 mm) short of the faces named. Source: common practice, no source.
    clearance: none, the part goes to the bottom. Source: common practice, no source.

Limits:
    The housing is seldom deeper than a third of the thickness. It runs across the grain; along it
    the same channel is a groove. At the very edge it is a rebate.

Tools:
    A router with a straight edge and a straight bit, or a tenon saw, a chisel and a hand router
    plane, or a table saw with a dado head.

Source:
    Rule of the Port Townsend School of Woodworking for dado and rabbet, as reproduced in 2015.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.findings import Finding
from benchleaf.joinery.channel_options import CLEARANCE, DEPTH, STOP, STOPPED, glue_option
from benchleaf.joinery.channels import (
    Channel,
    cut_channel,
    fit_channel,
    has_grain,
    is_at_edge,
    warn_of_depth,
    warn_of_edge,
    warn_of_word,
)
from benchleaf.joinery.marking import Marking, U, at_the_bench
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.reading.vocabulary import JointWords


@at_the_bench
def fit_housing(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a housing out at one contact."""
    channel = cut_channel(marking, (0, marking.contact.v_mm))
    return fit_channel(marking, channel), tuple(_warnings(marking, channel))


def _warnings(marking: Marking, channel: Channel) -> Iterator[Finding]:
    yield from warn_of_depth(marking, channel)
    if is_at_edge(marking):
        yield warn_of_edge(marking)
    elif has_grain(marking) and marking.grain_of(marking.contact.second) == U:
        yield warn_of_word(marking, "groove", "along")


KIND = JointKind(
    code="housing",
    title="Housing",
    words=JointWords(
        code="housing",
        first="the part that enters",
        second="the part that is housed into",
        options=(DEPTH, STOPPED, STOP, CLEARANCE, glue_option("yes")),
        help="The end of one part stands in a channel across the grain of the other.",
    ),
    fit=fit_housing,
)
