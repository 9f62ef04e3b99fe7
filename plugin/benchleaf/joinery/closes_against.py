"""Closes against: a door or a drawer comes to rest against its stop when it is shut.

Dimensions:
    none: nothing is cut. Source: worked out.

Limits:
    What moves comes up against the side of the stop. It lies on nothing here: for that there is
    `rests on`, or `slides on` for a drawer.

Tools:
    None. A stop is glued or screwed on once the drawer or the door has been tried in its place.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.joinery.marking import Marking, N, at_the_bench
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.joinery.uncut import only_touch
from benchleaf.reading.vocabulary import JointWords


@at_the_bench
def fit_closes_against(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work out what it means to close against a stop: nothing but that it opens again."""
    return only_touch(marking), _warnings(marking)


def _warnings(marking: Marking) -> tuple[Finding, ...]:
    if not marking.contact.frame.axes[N][Axis.HIGH]:
        return ()
    return (
        marking.warn(
            "J305",
            f"{marking.first} and {marking.second} lie one on the other, which stops nothing",
            f"Write `rests on: [{marking.first}, {marking.second}]`, or `slides on` where it runs "
            "on a runner.",
        ),
    )


KIND = JointKind(
    code="closes against",
    title="Closes against",
    words=JointWords(
        code="closes against",
        first="the part of the door or the drawer that is stopped",
        second="the stop",
        options=(),
        help="A door or a drawer comes to rest against its stop when it is shut.",
    ),
    fit=fit_closes_against,
)
