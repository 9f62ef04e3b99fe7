"""Slides on: a drawer runs on a runner, with nothing cut and nothing to hold it.

Dimensions:
    bearing: the width over which the two touch. Source: worked out.
    runs on: the length over which the two touch. Source: worked out.
    drawn out: two thirds of that length at the most; the last third still bears. Source: common
        practice, no source.
    at the sides: 1/16 in (1.5 mm) between a drawer and each side of its opening. Source: common
        practice, no source.

Limits:
    The drawer lies on the runner. The runner bears at least half the thickness of what lies on it,
    and at least two thirds of its length. It slides out at the front where nothing else is said.

Tools:
    None; wax on both.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import FACES, Axis, face_name
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, unit
from benchleaf.joinery.proportions import factor, proposed, usual_mm, worked
from benchleaf.joinery.records import JointFit, JointKind, JointSize
from benchleaf.piece.records import ContactKind, own_box
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_USUAL_WAY = "front"


@at_the_bench
def fit_slides_on(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work out how a drawer bears on a runner, and which way it comes out."""
    marking.need(ContactKind.FACE)
    axis, is_high = _way_out(marking)
    fit = marking.made(
        ((), ()),
        numbers=(_sizes(marking, axis), ()),
        free=(
            unit(axis, is_high),
            unit(axis, not is_high),
            OFF,
            *(unit(V if axis == U else U, end) for end in (False, True)),
        ),
        glued_mm2=Fraction(0),
    )
    return fit, tuple(_warnings(marking, axis))


def _way_out(marking: Marking) -> tuple[int, bool]:
    """The axis of the contact along which it slides out, and which way."""
    named = marking.words("out")
    ways = {
        face_name(axis, is_high): (across, is_high == _runs_with(marking, across, axis))
        for axis in Axis
        for across in (U, V)
        if marking.contact.frame.axes[across][axis]
        for is_high in (False, True)
    }
    if named and named[0] not in ways:
        raise marking.refuse(
            "J301",
            f"{marking.first} cannot slide out to the {named[0]}: it lies on {marking.second} that "
            "way",
            f"Needed: one of {', '.join(sorted(ways, key=list(FACES).index))}.",
            option="out",
        )
    return ways[named[0]] if named else ways.get(_USUAL_WAY, (U, False))


def _runs_with(marking: Marking, across: int, axis: Axis) -> bool:
    return marking.contact.frame.axes[across][axis] > 0


def _along_and_across(marking: Marking, axis: int) -> tuple[Fraction, Fraction]:
    lengths = (marking.contact.u_mm, marking.contact.v_mm)
    return lengths[axis], lengths[1 - axis]


def _sizes(marking: Marking, axis: int) -> tuple[JointSize, ...]:
    along, across = _along_and_across(marking, axis)
    return (
        worked("bearing", across, "the width over which the two touch"),
        worked("runs on", along, "the length over which the two touch"),
        proposed("drawn out, at most", along * factor("drawer drawn out"), key="drawer drawn out"),
        proposed(
            "room at each side",
            usual_mm("drawer room at the side", marking.units),
            key="drawer room at the side",
        ),
    )


def _warnings(marking: Marking, axis: int) -> Iterator[Finding]:
    if marking.contact.frame.axes[N][Axis.HIGH] >= 0:
        yield marking.warn(
            "J302",
            f"{marking.first} does not lie on {marking.second} and cannot slide on it",
            f"Name them the other way round: `slides on: [{marking.second}, {marking.first}]`, or "
            "place one on the other.",
        )
        return
    along, across = _along_and_across(marking, axis)
    box = marking.box_of(marking.contact.first)
    thick = Fraction(own_box(marking.bench.first).size[marking.bench.first.thickness_axis])
    if across < thick * factor("runner bearing"):
        yield marking.warn(
            "J303",
            f"{marking.first} bears on {marking.second} over {marking.show(across)} of its "
            f"{marking.show(thick)}, and can slip off",
            f"Needed: at least {marking.show(thick * factor('runner bearing'))}. Make the runner "
            "wider, or the room at the side less.",
        )
    if along < Fraction(box.size[axis]) * factor("drawer drawn out"):
        yield marking.warn(
            "J304",
            f"{marking.second} carries {marking.first} over {marking.show(along)} of its "
            f"{marking.show(box.size[axis])}",
            "Needed: a runner along two thirds of it, at the least. Make the runner longer.",
        )


KIND = JointKind(
    code="slides on",
    title="Slides on",
    words=JointWords(
        code="slides on",
        first="the part of the drawer that lies on the runner",
        second="the runner",
        options=(
            Option(
                name="out",
                type=OptionType.CHOICE,
                choices=tuple(FACES),
                help="Side of the piece at which it slides out; the front when left out.",
            ),
        ),
        help="A drawer runs on a runner, with nothing cut and nothing to hold it.",
    ),
    fit=fit_slides_on,
)
