"""Through post: a post passes through a panel and carries it on a shoulder.

Dimensions:
    shoulder: 1/8 of the post's narrower side, on each side that has one, so that three quarters of
        it go on. Source: chosen.
    section: what is left of the post above the shoulder; each panel further up takes its own
        shoulder from what the one below has left. Source: worked out.
    hole: the section and 1/64 in (0.4 mm) on each side, so that the panel slides down by hand.
        Source: chosen.
    bearing area: what of the shoulder lies under the panel. Source: worked out.

Limits:
    The post passes all the way through the panel, and the panel has something to lie on. Something
    is left of the post.

Tools:
    A table saw with a mitre gauge or a tenon saw and a shoulder plane for the post; a jigsaw or a
    router with a template for the holes.

Source:
    Common practice, no source: each panel lies on its own shoulder, and the post is reduced
    upwards so that every panel slides down to its place.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import FACES, Box
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, block, unit
from benchleaf.joinery.post_sections import PostLevel, find_level
from benchleaf.joinery.proportions import planned, proposed, usual_mm, worked
from benchleaf.joinery.records import JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_line, measures_from_high
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@at_the_bench
def fit_through_post(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a through post out at one crossing."""
    marking.need(ContactKind.CROSSING)
    marking = _along_the_post(marking)
    level = find_level(marking)
    clearance = _clearance(marking)
    hole = _hole(marking, level, clearance.value_mm)
    bearing = _bearing_mm2(marking, level, hole)
    _refuse_no_bearing(marking, bearing)
    fit = marking.made(
        (
            tuple(marking.on_first("shoulder", ring) for ring in _rings(marking, level)),
            (marking.on_second("through hole", hole),),
        ),
        numbers=(
            _sizes(marking, level, clearance, bearing=bearing),
            tuple(_setting_out(marking, level)),
        ),
        free=(OFF,),
        glued_mm2=_glued_mm2(marking, level, bearing),
    )
    return fit, ()


def _along_the_post(marking: Marking) -> Marking:
    """The crossing seen along the axis on which the post passes right through the panel."""
    for axis in (N, V, U):
        seen = marking.seen_along(axis)
        if _passes_through(seen):
            return seen
    contact = marking.contact
    face = marking.own_face(contact.second, unit(N, False))
    raise marking.refuse(
        "J136",
        f"{marking.first} does not pass through {marking.second} from its {face} side to the other",
        f"Needed: {marking.first} from below the {face} of {marking.second} at least to its other "
        "side.",
    )


def _passes_through(marking: Marking) -> bool:
    contact = marking.contact
    post, panel = contact.first_box, contact.second_box
    is_whole = panel.low[N] == 0 and panel.high[N] == contact.n_mm
    return is_whole and post.low[N] < 0 and post.high[N] >= contact.n_mm


def _clearance(marking: Marking) -> JointSize:
    given = marking.length("clearance")
    if given is not None:
        return planned("clearance on each side", given)
    usual = usual_mm("post clearance", marking.units)
    return proposed("clearance on each side", usual, key="post clearance")


def _hole(marking: Marking, level: PostLevel, clearance: Fraction) -> Box:
    """The hole in the panel, no further than the panel goes."""
    section = level.section
    grown = block(
        (section.low[U] - clearance, section.high[U] + clearance),
        (section.low[V] - clearance, section.high[V] + clearance),
        (_ZERO, marking.contact.n_mm),
    )
    return grown.meet(marking.contact.second_box)


def _bearing_mm2(marking: Marking, level: PostLevel, hole: Box) -> Fraction:
    """The area on which the panel lies, mm2."""
    under = _flat(level.below.meet(marking.contact.second_box))
    return under - _flat(level.below.meet(hole))


def _flat(box: Box) -> Fraction:
    size = box.size
    return Fraction(max(size[U], 0) * max(size[V], 0))


def _refuse_no_bearing(marking: Marking, bearing: Fraction) -> None:
    if bearing > 0:
        return
    raise marking.refuse(
        "J137",
        f"nothing of {marking.first} is left under {marking.second} to carry it",
        "Needed: a `shoulder` of more than the clearance, on a side that lies under the panel.",
        option="shoulder",
    )


def _rings(marking: Marking, level: PostLevel) -> Iterator[Box]:
    """What is cut off round the section, from the panel's lower face to the post's end."""
    below, section = level.below, level.section
    n = (_ZERO, marking.contact.first_box.high[N])
    across = (below.low[V], below.high[V])
    along = (section.low[U], section.high[U])
    waste = (
        block((below.low[U], section.low[U]), across, n),
        block((section.high[U], below.high[U]), across, n),
        block(along, (below.low[V], section.low[V]), n),
        block(along, (section.high[V], below.high[V]), n),
    )
    return (box for box in waste if box.is_solid())


def _sizes(
    marking: Marking, level: PostLevel, clearance: JointSize, *, bearing: Fraction
) -> tuple[JointSize, ...]:
    size = level.section.size
    rule = f"what is left of {marking.first} above the shoulder"
    area = JointSize(
        name="bearing area",
        value_mm=bearing,
        rule=f"what of the shoulder lies under {marking.second}",
        source="worked out",
        is_area=True,
    )
    return (
        *level.sizes,
        worked("section, longer side", Fraction(max(size[U], size[V])), rule),
        worked("section, shorter side", Fraction(min(size[U], size[V])), rule),
        clearance,
        area,
    )


def _setting_out(marking: Marking, level: PostLevel) -> Iterator[SettingOut]:
    """The shoulders of the post, and its section on the panel: clearance is pared, not marked."""
    post, panel = marking.contact.first, marking.contact.second
    yield SettingOut(
        copy=post,
        what="shoulder line",
        reference=marking.own_face(post, unit(N, False)),
        distance_mm=Fraction(-marking.contact.first_box.low[N]),
        spacer="one stop at the end serves every post",
    )
    for axis, is_high in level.sides:
        box, section = level.below, level.section
        cut = section.low[axis] - box.low[axis]
        if is_high:
            cut = box.high[axis] - section.high[axis]
        if cut > 0:
            yield SettingOut(
                copy=post,
                what="depth of the shoulder, from the section below",
                reference=marking.own_face(post, unit(axis, is_high)),
                distance_mm=Fraction(cut),
                spacer="one depth setting serves every side cut alike",
            )
    for axis in (U, V):
        near, far = level.section.low[axis], level.section.high[axis]
        if measures_from_high(marking, axis, alone=panel):
            near, far = far, near
        yield mark_line(marking, panel, "near side of the hole", axis=axis, at=near)
        yield mark_line(marking, panel, "far side of the hole", axis=axis, at=far)


def _glued_mm2(marking: Marking, level: PostLevel, bearing: Fraction) -> Fraction:
    if not marking.is_yes("glue", usually=True):
        return _ZERO
    size = level.section.size
    return bearing + 2 * Fraction(size[U] + size[V]) * marking.contact.n_mm


KIND = JointKind(
    code="through post",
    title="Through post",
    words=JointWords(
        code="through post",
        first="the post",
        second="the panel that it passes through and carries",
        options=(
            Option(
                name="shoulder",
                type=OptionType.LENGTH,
                help="How far each side is cut back from the section just below; 1/8 of its "
                "narrower side when left out.",
            ),
            Option(
                name="section",
                type=OptionType.LENGTH_LIST,
                help="Section that is left, instead of a shoulder: one length for both sides, or "
                "two in the order wide, deep, high.",
            ),
            Option(
                name="sides",
                type=OptionType.CHOICE_LIST,
                choices=tuple(FACES),
                help="Faces of the post, as drawn, that are cut back; all four when left out.",
            ),
            Option(
                name="clearance",
                type=OptionType.LENGTH,
                help="How much larger the hole is on each side; 1/64 in (0.4 mm) when left out.",
            ),
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether the panel is glued to the post; yes when left out.",
            ),
        ),
        help="A post passes through a panel and carries it on a shoulder.",
    ),
    fit=fit_through_post,
)
