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

from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, unit
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords


@at_the_bench
def fit_closes_against(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work out what it means to close against a stop: nothing but that it opens again."""
    marking.need(ContactKind.FACE)
    fit = marking.made(
        ((), ()),
        numbers=((), ()),
        free=(OFF, *(unit(axis, is_high) for axis in (U, V) for is_high in (False, True))),
        glued_mm2=Fraction(0),
    )
    return fit, _warnings(marking)


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
