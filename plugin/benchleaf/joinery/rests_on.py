"""Rests on: one part stands or lies on the other, with nothing cut and nothing to hold it.

Dimensions:
    none: nothing is cut. Source: worked out.

Limits:
    The part that rests lies above the other, or leans against its side. It can be lifted off.

Tools:
    None.

Source:
    Common practice, no source: it only says that the two parts are meant to touch.
"""

from __future__ import annotations

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.joinery.marking import Marking, N, at_any_angle
from benchleaf.joinery.records import JointFit, JointKind
from benchleaf.joinery.uncut import only_touch
from benchleaf.reading.vocabulary import JointWords


@at_any_angle
def fit_rests_on(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work out what it means to rest on a part: nothing but that it comes off again."""
    return only_touch(marking), _warnings(marking)


def _warnings(marking: Marking) -> tuple[Finding, ...]:
    if marking.contact.frame.axes[N][Axis.HIGH] <= 0:
        return ()
    return (
        marking.warn(
            "J135",
            f"{marking.first} lies below {marking.second} and cannot rest on it",
            f"Name them the other way round: `rests on: [{marking.second}, {marking.first}]`.",
        ),
    )


KIND = JointKind(
    code="rests on",
    title="Rests on",
    words=JointWords(
        code="rests on",
        first="the part that rests",
        second="the part below it",
        options=(),
        help="One part stands or lies on the other, with nothing cut and nothing to hold it.",
    ),
    fit=fit_rests_on,
)
