"""Half lap: two parts cross, meet or corner in one plane, each cut away where the other lies.

Dimensions:
    depth: half of the thickness that they share, in each. Source: NAVEDTRA 14043, half-lap joints.
    length and width: the width of the other part. Source: worked out.

Limits:
    Where both parts go on it is a cross halving, where one ends a tee halving, where both end a
    corner halving; strips that cross on edge, as in an egg crate, are cut half of their height.
    The parts are of one thickness, or one of them is cut from a flush face: what is let in must be
    able to come out again. Something is left in each part.

Tools:
    A marking knife and gauge, a table saw with a dado head or a mitre gauge, or a tenon saw and a
    chisel, a router plane to level.

Source:
    NAVEDTRA 14043, Builder 3 & 2: half-lap joints take half of the thickness of each part.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Number, Vector
from benchleaf.joinery.marking import Marking, N, U, V, at_the_bench, block, unit
from benchleaf.joinery.proportions import factor, planned, proposed, worked
from benchleaf.joinery.records import JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_span
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@at_the_bench
def fit_half_lap(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a half lap out at one crossing."""
    marking.need(ContactKind.CROSSING)
    marking = _along_the_way_out(marking)
    first_is_upper = _is_first_upper(marking)
    sizes = _depths(marking)
    first_cut, second_cut = _cuts(marking, sizes[0].value_mm, first_is_upper)
    contact = marking.contact
    spans = ((_ZERO, contact.u_mm), (_ZERO, contact.v_mm))
    fit = marking.made(
        (
            (marking.on_first("lap", block(*spans, first_cut)),),
            (marking.on_second("lap", block(*spans, second_cut)),),
        ),
        numbers=(sizes, tuple(_setting_out(marking, sizes))),
        free=(unit(N, first_is_upper), *sideways(marking)),
        glued_mm2=contact.u_mm * contact.v_mm if marking.is_yes("glue", usually=True) else _ZERO,
    )
    return fit, tuple(_warnings(marking))


def _along_the_way_out(marking: Marking) -> Marking:
    """The crossing seen along the axis on which one part lifts off the other.

    That is the thinnest, or another along which both parts are as deep as their crossing.
    """
    if any(_can_be_upper(marking).values()):
        return marking
    turned = (marking.seen_along(axis) for axis in (V, U))
    return next((each for each in turned if all(_can_be_upper(each).values())), marking)


def _can_be_upper(marking: Marking) -> dict[bool, bool]:
    """Whether the first part can be the upper one (True), and whether the second can (False)."""
    contact = marking.contact
    return {
        True: contact.first_box.low[N] == 0 and contact.second_box.high[N] == contact.n_mm,
        False: contact.second_box.low[N] == 0 and contact.first_box.high[N] == contact.n_mm,
    }


def _is_first_upper(marking: Marking) -> bool:
    """Tell whether the first copy keeps the side of the lap towards high n.

    The upper part may stand out above the lap and not below, the lower one below and not above.
    What is upper is said of the first part as drawn, so that mirrored copies are cut alike.
    """
    named = marking.words("upper")
    if named and named[0] not in (marking.first, marking.second):
        raise marking.refuse(
            "J131",
            f"`upper: {named[0]}` is neither of the two parts",
            f"Needed: `{marking.first}` or `{marking.second}`.",
            option="upper",
        )
    can_be = _can_be_upper(marking)
    as_drawn = marking.sign_of(marking.contact.first, N) > 0
    wanted = as_drawn if can_be[as_drawn] else not as_drawn
    if named:
        wanted = as_drawn == (named[0] == marking.first)
    if can_be[wanted]:
        return wanted
    upper, lower = (marking.first, marking.second) if wanted else (marking.second, marking.first)
    raise marking.refuse(
        "J132",
        f"{upper} cannot be lifted off {lower}: one of them stands out past the lap on the side "
        "where the other goes",
        "Needed: parts of one thickness, or faces flush on one side. Move one, or use `upper`.",
        option="upper",
    )


def _depths(marking: Marking) -> tuple[JointSize, JointSize]:
    """Depth cut from the first part, and from the second."""
    thickness = marking.contact.n_mm
    given = marking.length("depth")
    if given is None:
        half = thickness * factor("half lap depth")
        return (
            proposed("lap depth in the first part", half, key="half lap depth"),
            proposed("lap depth in the second part", thickness - half, key="half lap depth"),
        )
    if 0 < given < thickness:
        return (
            planned("lap depth in the first part", given),
            worked("lap depth in the second part", thickness - given, "the rest of the thickness"),
        )
    raise marking.refuse(
        "J133",
        f"a lap {marking.show(given)} deep leaves nothing of one part, {marking.show(thickness)} "
        "thick where they cross",
        f"Needed: more than 0 and less than {marking.show(thickness)}; half is usual.",
        option="depth",
    )


def _cuts(
    marking: Marking, first_depth: Fraction, first_is_upper: bool
) -> tuple[tuple[Number, Number], tuple[Number, Number]]:
    """Spans along n that are cut from the first part and from the second."""
    thickness = marking.contact.n_mm
    if first_is_upper:
        return (_ZERO, first_depth), (first_depth, thickness)
    return (thickness - first_depth, thickness), (_ZERO, thickness - first_depth)


def sideways(marking: Marking) -> Iterator[Vector]:
    """Directions in the plane of the lap in which the first copy can be drawn off.

    It leaves towards a side where the second does not go on, if it does not itself go on behind.
    """
    first, second = marking.contact.first_box, marking.contact.second_box
    for axis, extent in ((U, marking.contact.u_mm), (V, marking.contact.v_mm)):
        if second.high[axis] <= extent and first.low[axis] >= 0:
            yield unit(axis, True)
        if second.low[axis] >= 0 and first.high[axis] <= extent:
            yield unit(axis, False)


def _setting_out(marking: Marking, sizes: tuple[JointSize, JointSize]) -> Iterator[SettingOut]:
    contact = marking.contact
    marks = (contact.first, contact.second)
    for axis, extent in ((U, contact.u_mm), (V, contact.v_mm)):
        yield from mark_span(marking, "shoulder of the lap", axis=axis, ends=(_ZERO, extent))
    first_is_upper = _is_first_upper(marking)
    for mark, size, from_high in zip(
        marks, sizes, (not first_is_upper, first_is_upper), strict=True
    ):
        yield SettingOut(
            copy=mark,
            what="depth of the lap",
            reference=marking.own_face(mark, unit(N, from_high)),
            distance_mm=size.value_mm,
            spacer="one depth setting serves both parts" if _is_even(sizes) else "",
        )


def _is_even(sizes: tuple[JointSize, JointSize]) -> bool:
    return sizes[0].value_mm == sizes[1].value_mm


def _warnings(marking: Marking) -> Iterator[Finding]:
    first, second = marking.contact.first_box.size[N], marking.contact.second_box.size[N]
    if first != second:
        yield marking.warn(
            "J134",
            f"{marking.first} is {marking.show(first)} thick at the lap and {marking.second} "
            f"{marking.show(second)}, so only one side is flush",
            "Needed: one thickness for both, or use a `housing`.",
        )


KIND = JointKind(
    code="half lap",
    title="Half lap",
    words=JointWords(
        code="half lap",
        first="one part",
        second="the part that it crosses",
        options=(
            Option(
                name="depth",
                type=OptionType.LENGTH,
                help="How deep the first part is cut; half of the thickness when left out.",
            ),
            Option(
                name="upper",
                type=OptionType.TEXT,
                help="Name of the part that lies on top, to the right or at the back; the first "
                "where either can, when left out.",
            ),
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; yes when left out.",
            ),
        ),
        help="Two parts cross or meet in one plane, each cut away where the other lies.",
    ),
    fit=fit_half_lap,
)
