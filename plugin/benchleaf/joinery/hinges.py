"""Hinges: butt hinges between a door or lid and its post or carcase, their leaves let into both.

Dimensions:
    size: the longest hinge whose leaf is no wider than the edge, and two of which take no more than
        a third of its length. Source: common practice, no source.
    count: two up to 48 in (1200 mm), three beyond. Source: common practice, no source.
    inset: the length of a hinge from each end of the edge. Source: common practice, no source.
    gap: 1/16 in (1.5 mm) taken off a door at its hinges; none under a lid. Source: common practice,
        no source.
    mortises: as long as the hinge, as wide as its leaf to the pin's centre, as deep as a leaf is
        thick less half of the gap. Source: worked out.

Limits:
    Both parts are flush on the side of the pins. The leaves are thicker than half of the gap. The
    hinges stay on the edge, clear of one another.

Tools:
    A marking knife and gauge, a chisel or a small router, an awl, a drill, a screwdriver.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import FACES, Axis, Number
from benchleaf.handbook.hardware import ButtHinge, load_butt_hinges
from benchleaf.joinery.marking import (
    OFF,
    CannotJoinError,
    Marking,
    N,
    U,
    V,
    at_the_bench,
    block,
    unit,
)
from benchleaf.joinery.moving import CLOSES
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm, worked
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.setting_out import mark_both
from benchleaf.joinery.tenon_forms import looks_outward
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hung:
    """Hinges along one edge, mm."""

    hinge: ButtHinge
    gap_mm: Fraction
    deep_mm: Fraction
    """Of each mortise."""
    starts: tuple[Fraction, ...]
    """Along u, the low end of each hinge."""
    is_high: bool
    """Whether the pins are at the high side of v."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_hinges(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work butt hinges out along one edge."""
    marking.need(ContactKind.FACE)
    hung = _hang(marking)
    gap = (_gap_feature(marking, hung),) if hung.gap_mm else ()
    fit = marking.made(
        (
            (*gap, *_mortises(marking, hung, is_first=True)),
            tuple(_mortises(marking, hung, is_first=False)),
        ),
        numbers=(hung.sizes, tuple(_setting_out(marking, hung))),
        free=(OFF, *(unit(axis, is_high) for axis in (U, V) for is_high in (False, True))),
        glued_mm2=_ZERO,
        hardware=tuple(_hardware(marking, hung)),
    )
    return fit, ()


def _hang(marking: Marking) -> _Hung:
    gap = _gap(marking)
    hinge, length = _choose(marking)
    deep = hinge.thickness_mm - gap.value_mm / 2
    if deep <= 0:
        raise marking.refuse(
            "J285",
            f"a gap of {marking.show(gap.value_mm)} is wider than the two leaves of the hinge are "
            "thick",
            f"Needed: less than {marking.show(2 * hinge.thickness_mm)}.",
            option="gap",
        )
    starts, inset = _starts(marking, hinge)
    is_high = _pin_side(marking)
    return _Hung(
        hinge=hinge,
        gap_mm=gap.value_mm,
        deep_mm=deep,
        starts=starts,
        is_high=is_high,
        sizes=(
            length,
            worked("leaf let in", hinge.leaf_mm, "to the centre of the pin"),
            gap,
            worked("mortise depth", deep, "a leaf's thickness less half of the gap"),
            inset,
        ),
    )


def _gap(marking: Marking) -> JointSize:
    given = marking.length("gap")
    if given is not None:
        return planned("gap", given)
    is_lid = bool(marking.contact.frame.axes[N][Axis.HIGH])
    usual = _ZERO if is_lid else usual_mm("hinge gap", marking.units)
    return proposed("gap", usual, key="hinge gap")


def _choose(marking: Marking) -> tuple[ButtHinge, JointSize]:
    sold = load_butt_hinges(marking.units)
    given = marking.length("size")
    if given is not None:
        found = next((own for own in sold if own.length_mm == given), None)
        if found is None:
            raise marking.refuse(
                "J286",
                f"there is no butt hinge {marking.show(given)} long among the common sizes",
                f"Needed: one of {', '.join(marking.show(own.length_mm) for own in sold)}.",
                option="size",
            )
        return found, planned("hinge length", given)
    contact = marking.contact
    fitting = [
        own for own in sold if own.leaf_mm <= contact.v_mm and 6 * own.length_mm <= contact.u_mm
    ]
    hinge = fitting[-1] if fitting else sold[0]
    rule = "the longest whose leaf fits the edge, two of them on a third of its length"
    size = JointSize(
        name="hinge length",
        value_mm=hinge.length_mm,
        rule=rule,
        source="common practice, no source",
    )
    return hinge, size


def _starts(marking: Marking, hinge: ButtHinge) -> tuple[tuple[Fraction, ...], JointSize]:
    length = marking.contact.u_mm
    usual = 2 if length <= usual_mm("hinges, two up to", marking.units) else 3
    count = marking.count("count") or usual
    given = marking.length("inset")
    name = "hinge, from the end"
    inset = (
        proposed(name, hinge.length_mm * factor("hinge inset"), key="hinge inset")
        if given is None
        else planned(name, given)
    )
    free = length - 2 * inset.value_mm - count * hinge.length_mm
    if free < 0 or hinge.leaf_mm > marking.contact.v_mm or count < 2:
        raise marking.refuse(
            "J287",
            f"{count} hinges {marking.show(hinge.length_mm)} long, with leaves "
            f"{marking.show(hinge.leaf_mm)} wide, do not suit an edge {marking.show(length)} long "
            f"and {marking.show(marking.contact.v_mm)} wide",
            "Needed: at least two, clear of one another and no wider than the edge. Take a shorter "
            "hinge, or a smaller `inset`.",
            option="size",
        )
    step = hinge.length_mm + free / (count - 1)
    return tuple(inset.value_mm + index * step for index in range(count)), inset


def _pin_side(marking: Marking) -> bool:
    """The author's side, or the outer one; both parts must be flush there."""
    named = marking.words("pins")
    is_high = looks_outward(marking, _off_centre(marking), V)
    if named:
        sides = {
            face: high
            for face, (axis, high) in marking.sides_of(marking.contact.first).items()
            if axis == V
        }
        if named[0] not in sides:
            raise marking.refuse(
                "J288",
                f"the pins cannot stand at the {named[0]} of {marking.first}: its edge runs that "
                "way",
                f"Needed: {' or '.join(sides)}.",
                option="pins",
            )
        is_high = sides[named[0]]
    first, second = marking.contact.first_box, marking.contact.second_box
    faces = [(box.high if is_high else box.low)[V] for box in (first, second)]
    if faces[0] == faces[1]:
        return is_high
    if _is_stopped(marking):
        raise CannotJoinError(None)
    raise marking.refuse(
        "J289",
        f"{marking.first} and {marking.second} are not flush where the pins stand",
        "Needed: both faces in one plane on that side. Move one, or name the other side in `pins`.",
        option="pins",
    )


def _off_centre(marking: Marking) -> str:
    """The copy that tells which side is the outer one: the door, or else what it hangs on.

    A door over the whole front has its middle where the piece has.
    """
    overall, box = marking.bench.piece.overall, marking.contact.first_box
    x, y, z = ((low + high) / 2 for low, high in zip(overall.low, overall.high, strict=True))
    at = marking.contact.frame.inward((x, y, z))[V]
    is_centred = 2 * at == box.low[V] + box.high[V]
    return marking.contact.second if is_centred else marking.contact.first


def _is_stopped(marking: Marking) -> bool:
    """Tell whether the door may only close against this copy of the part: it hangs on another."""
    pair = {marking.first, marking.second}
    return any(
        joint.kind == CLOSES and {joint.first, joint.second} == pair
        for joint in marking.bench.piece.joints
    )


def _gap_feature(marking: Marking, hung: _Hung) -> Feature:
    box = marking.contact.first_box
    shape = block((box.low[U], box.high[U]), (box.low[V], box.high[V]), (-hung.gap_mm, _ZERO))
    return marking.on_first("edge clearance", shape)


def _mortises(marking: Marking, hung: _Hung, *, is_first: bool) -> Iterator[Feature]:
    leaf, deep = hung.hinge.leaf_mm, hung.deep_mm
    box = marking.contact.first_box
    face = Fraction(box.high[V] if hung.is_high else box.low[V])
    across: tuple[Number, Number] = (face - leaf, face) if hung.is_high else (face, face + leaf)
    into = (-hung.gap_mm - deep, -hung.gap_mm) if is_first else (_ZERO, deep)
    hold = marking.on_first if is_first else marking.on_second
    for start in hung.starts:
        ends = (start, start + hung.hinge.length_mm)
        yield hold("hinge mortise", block(ends, across, into))


def _setting_out(marking: Marking, hung: _Hung) -> Iterator[SettingOut]:
    for number, start in enumerate(hung.starts, start=1):
        for at in (start, start + hung.hinge.length_mm):
            yield from mark_both(marking, f"end of hinge mortise {number}", axis=U, at=at)


def _hardware(marking: Marking, hung: _Hung) -> Iterator[Hardware]:
    hinge, count = hung.hinge, len(hung.starts)
    yield Hardware(
        kind="butt hinge",
        size=marking.show(hinge.length_mm),
        diameter_mm=2 * hinge.thickness_mm,
        length_mm=hinge.length_mm,
        count=count,
    )
    yield Hardware(
        kind="hinge screw",
        size=f"No. {hinge.gauge} x {marking.show(hinge.screw_mm)}",
        diameter_mm=hinge.thickness_mm,
        length_mm=hinge.screw_mm,
        count=2 * hinge.screws * count,
    )


KIND = JointKind(
    code="hinges",
    title="Hinges",
    words=JointWords(
        code="hinges",
        first="the door or the lid",
        second="the post or the carcase that it hangs on",
        options=(
            Option(
                name="size",
                type=OptionType.LENGTH,
                help="Length of a hinge, of the common sizes; by the edge when left out.",
            ),
            Option(
                name="count",
                type=OptionType.COUNT,
                help="Hinges along the edge; by its length when left out.",
            ),
            Option(
                name="inset",
                type=OptionType.LENGTH,
                help="From each end of the edge to the nearest hinge; the length of a hinge when "
                "left out.",
            ),
            Option(
                name="gap",
                type=OptionType.LENGTH,
                help="Gap between the two when closed, taken off the first; 1/16 in (1.5 mm) for a "
                "door and none for a lid, when left out.",
            ),
            Option(
                name="pins",
                type=OptionType.CHOICE,
                choices=tuple(FACES),
                help="Side of the first part, as drawn, at which the pins stand; the outer one "
                "when left out.",
            ),
        ),
        help="Butt hinges between a door or lid and its post or carcase, their leaves let into "
        "both.",
    ),
    fit=fit_hinges,
)
