"""Groove: the edge of one part, such as a panel, stands in a channel along the grain of the other.

Dimensions:
    depth: 3/8 in (9 mm), and at most 1/3 of the grooved part's thickness. Source: common practice,
        no source.
    width: the thickness of the part that enters. Source: worked out.
    clearance: 1/16 in (1.5 mm) at the bottom, for a panel to move. Source: common practice, no
        source.
    stop: 1/2 in (12 mm) short of the faces named. Source: common practice, no source.

Limits:
    The groove is seldom deeper than a third of the thickness. It runs along the grain; across it
    the same channel is a housing. At the very edge it is a rebate. It is not glued unless the plan
    says so, because a panel of solid wood moves.

Tools:
    A table saw, a router with a fence, or a plough plane.

Source:
    Depth of a panel's groove: common practice, no source. Largest depth: rule of the Port Townsend
    School of Woodworking for dado and rabbet, as reproduced in 2015.
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
from benchleaf.joinery.marking import Marking, V, at_the_bench
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.reading.vocabulary import JointWords


@at_the_bench
def fit_groove(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a groove out at one contact."""
    channel = cut_channel(marking, (0, marking.contact.v_mm))
    return fit_channel(marking, channel), tuple(_warnings(marking, channel))


def _warnings(marking: Marking, channel: Channel) -> Iterator[Finding]:
    yield from warn_of_depth(marking, channel)
    if is_at_edge(marking):
        yield warn_of_edge(marking)
    elif has_grain(marking) and marking.grain_of(marking.contact.second) == V:
        yield warn_of_word(marking, "housing", "across")


KIND = JointKind(
    code="groove",
    title="Groove",
    words=JointWords(
        code="groove",
        first="the part that enters",
        second="the part that is grooved",
        options=(DEPTH, STOPPED, STOP, CLEARANCE, glue_option("no")),
        help="The edge of one part stands in a channel along the grain of the other.",
    ),
    fit=fit_groove,
)
