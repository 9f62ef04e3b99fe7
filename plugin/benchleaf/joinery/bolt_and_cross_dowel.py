"""Bolt and cross dowel: a bolt through one part turns into a steel dowel across the end of another.

Dimensions:
    bolt: 1/4 in (6 mm) with a cross dowel 3/8 in (10 mm) thick. Source: common practice, no source.
    distance: the cross dowel's centre 4 of its diameters from the joint, 1-1/2 in (40 mm). Source:
        common practice, no source.
    bolt length: the shortest sold that passes right through the cross dowel. Source: common
        practice, no source.
    bolt hole: 1/32 in (1 mm) larger than the bolt, 1/4 in (6 mm) deeper than it goes. Source:
        NDS, clause 12.1.3, from memory, for the width; common practice, no source, for the depth.
    cross dowel: the longest sold that leaves 1/8 in (3 mm) beyond it, its thread on the bolt.
        Source: common practice, no source.
    inset: a quarter of the joint's length from each end, at most 2 in (50 mm). Source: common
        practice, no source.

Limits:
    The second part stands with its end or edge on the first, thick enough for the cross dowel. Two
    bolts, or a bolt and a dowel, keep it from turning. Nothing is glued: it comes apart.

Tools:
    A drill with a stop and a guide for square holes, a marking gauge, the key of the bolts.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import FACES, Axis
from benchleaf.handbook.hardware import CrossDowels, load_cross_dowels
from benchleaf.joinery.bolt_holes import choose_length, hole_size, item
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, hole, unit
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm, worked
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import (
    Feature,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.rows import OFFSET, Row, lay_out_row, row_options
from benchleaf.joinery.setting_out import mark_both
from benchleaf.piece.records import ContactKind, SolvedRound
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """The face of the second part that the cross dowels go in from."""

    axis: int
    """U or V."""
    is_high: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bolted:
    """Bolts and their cross dowels at one contact, mm."""

    sold: CrossDowels
    bolt_mm: Fraction
    length_mm: Fraction
    hole_mm: Fraction
    bolt_depth_mm: Fraction
    """Of the bolt's hole in the second part."""
    distance_mm: Fraction
    """From the joint to the cross dowel's centre."""
    dowel_length_mm: Fraction
    side: _Side
    row: Row
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_bolt_and_cross_dowel(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work bolts and cross dowels out at one contact."""
    marking.need(ContactKind.FACE)
    bolted = _bolt(marking)
    count = len(bolted.row.centres)
    bolt = item(
        marking,
        "connector bolt",
        diameter_mm=bolted.bolt_mm,
        length_mm=bolted.length_mm,
        count=count,
    )
    cross = item(
        marking,
        "cross dowel",
        diameter_mm=bolted.sold.dowel_mm,
        length_mm=bolted.dowel_length_mm,
        count=count,
    )
    fit = marking.made(
        (tuple(_through(marking, bolted)), tuple(_second_holes(marking, bolted))),
        numbers=(bolted.sizes, tuple(_setting_out(marking, bolted))),
        free=(OFF, *(unit(axis, is_high) for axis in (U, V) for is_high in (False, True))),
        glued_mm2=_ZERO,
        hardware=(bolt, cross),
    )
    return fit, tuple(_warnings(marking, bolted))


def _bolt(marking: Marking) -> _Bolted:
    sold = load_cross_dowels(marking.units)
    given = marking.chosen.choices.get("size")
    if isinstance(given, SolvedRound):
        bolt = planned("bolt diameter", given.diameter_mm)
    else:
        bolt = worked("bolt diameter", sold.bolt_mm, "what cross dowels are sold for")
    room = hole_size(marking, bolt.value_mm)
    distance = _distance(marking, sold)
    first = extent_mm(marking, marking.contact.first)
    least = first + distance.value_mm + sold.dowel_mm / 2
    length = choose_length(marking, least, sold.bolt_lengths_mm, key="cross dowel bolt length")
    if length is None or length.value_mm < least:
        raise marking.refuse(
            "J254",
            f"a bolt through the {marking.show(first)} of {marking.first} and past a cross dowel "
            f"{marking.show(distance.value_mm)} into {marking.second} is longer than "
            f"{marking.show(length.value_mm if length else sold.bolt_lengths_mm[-1])}",
            f"Needed: a bolt at least {marking.show(least)} long, or a shorter `distance`.",
            option="size",
        )
    deep = length.value_mm - first + usual_mm("cross dowel bolt clearance", marking.units)
    _refuse_deep(marking, deep)
    row = lay_out_row(marking, edge_mm=sold.dowel_mm, spacing_key="bolt spacing, most")
    side = _side(marking)
    _refuse_in_line(marking, row, side)
    cross = _cross_dowel(marking, sold, row, side)
    depth = proposed("bolt hole depth", deep, key="cross dowel bolt clearance")
    return _Bolted(
        sold=sold,
        bolt_mm=bolt.value_mm,
        length_mm=length.value_mm,
        hole_mm=room.value_mm,
        bolt_depth_mm=deep,
        distance_mm=distance.value_mm,
        dowel_length_mm=cross.value_mm,
        side=side,
        row=row,
        sizes=(bolt, length, room, depth, distance, cross, *row.sizes),
    )


def _distance(marking: Marking, sold: CrossDowels) -> JointSize:
    given = marking.length("distance")
    if given is None:
        usual = sold.dowel_mm * factor("cross dowel distance")
        return proposed("cross dowel, from the joint", usual, key="cross dowel distance")
    least = sold.dowel_mm
    if given >= least:
        return planned("cross dowel, from the joint", given)
    raise marking.refuse(
        "J255",
        f"a cross dowel {marking.show(given)} from the end of {marking.second} breaks out of it",
        f"Needed: at least {marking.show(least)}; 4 diameters are usual.",
        option="distance",
    )


def _refuse_deep(marking: Marking, deep: Fraction) -> None:
    room = extent_mm(marking, marking.contact.second) - marking.bench.wall_mm
    if deep <= room:
        return
    raise marking.refuse(
        "J256",
        f"the bolt's hole is {marking.show(deep)} deep, and {marking.second} reaches "
        f"{marking.show(extent_mm(marking, marking.contact.second))} from the joint",
        f"Needed: at most {marking.show(max(room, _ZERO))} deep. Name the parts the other way "
        "round, or take `carriage bolts`.",
    )


def _side(marking: Marking) -> _Side:
    """The author's face, or the one that looks at the middle of the piece, where it is hidden."""
    named = marking.words("face")
    sides = marking.sides_of(marking.contact.second)
    if named:
        if named[0] in sides:
            axis, is_high = sides[named[0]]
            return _Side(axis=axis, is_high=is_high)
        raise marking.refuse(
            "J257",
            f"the cross dowels cannot go in at the {named[0]} of {marking.second}: the bolt runs "
            "that way",
            f"Needed: one of {', '.join(sides)}.",
            option="face",
        )
    axis = min((V, U), key=lambda own: (marking.contact.second_box.size[own], own != V))
    overall = marking.bench.piece.overall
    middle = tuple((overall.low[own] + overall.high[own]) / 2 for own in Axis)
    box = marking.contact.second_box
    at = marking.contact.frame.inward((middle[0], middle[1], middle[2]))[axis]
    return _Side(axis=axis, is_high=at > (box.low[axis] + box.high[axis]) / 2)


def _refuse_in_line(marking: Marking, row: Row, side: _Side) -> None:
    """Cross dowels of several bolts go in side by side: none behind another."""
    if side.axis == V or len(row.centres) == 1:
        return
    face = marking.own_face(marking.contact.second, unit(side.axis, side.is_high))
    raise marking.refuse(
        "J281",
        f"{len(row.centres)} cross dowels that go in at the {face} of {marking.second} stand one "
        "behind the other",
        "Needed: a face that the row of bolts does not run to, or a `count` of 1.",
        option="face",
    )


def _to_axis_mm(marking: Marking, row: Row, side: _Side) -> tuple[Fraction, Fraction]:
    """From the side face to the bolts' axis, and from there to the far face, mm."""
    box = marking.contact.second_box
    places = [centre[side.axis] for centre in row.centres]
    near, far = (max(places), min(places)) if side.is_high else (min(places), max(places))
    low, high = Fraction(box.low[side.axis]), Fraction(box.high[side.axis])
    face, back = (high, low) if side.is_high else (low, high)
    return abs(face - near), abs(far - back)


def _cross_dowel(marking: Marking, sold: CrossDowels, row: Row, side: _Side) -> JointSize:
    into, beyond = _to_axis_mm(marking, row, side)
    wall = usual_mm("cross dowel wall, least", marking.units)
    fitting = [own for own in sold.lengths_mm if own / 2 <= into and own / 2 + wall <= beyond]
    if fitting:
        return proposed("cross dowel length", fitting[-1], key="cross dowel wall, least")
    shortest = sold.lengths_mm[0]
    raise marking.refuse(
        "J258",
        f"{marking.second} is too thin for a cross dowel: the shortest is "
        f"{marking.show(shortest)}, and {marking.show(into + beyond)} of wood lies round the bolt",
        f"Needed: at least {marking.show(shortest / 2 + wall)} beyond the bolt's centre. Take "
        "thicker stock, or `dowels`.",
    )


def _through(marking: Marking, bolted: _Bolted) -> Iterator[Feature]:
    extent = extent_mm(marking, marking.contact.first)
    for u, v in bolted.row.centres:
        bored = hole((u, v, -extent), unit(N, True), diameter_mm=bolted.hole_mm, depth_mm=extent)
        yield marking.on_first("bolt hole", bored)


def _second_holes(marking: Marking, bolted: _Bolted) -> Iterator[Feature]:
    side, box = bolted.side, marking.contact.second_box
    for u, v in bolted.row.centres:
        bored = hole(
            (u, v, _ZERO),
            unit(N, True),
            diameter_mm=bolted.hole_mm,
            depth_mm=bolted.bolt_depth_mm,
        )
        yield marking.on_second("bolt hole", bored)
        face = Fraction(box.high[side.axis] if side.is_high else box.low[side.axis])
        axis_at = v if side.axis == V else u
        mouth = (u, face) if side.axis == V else (face, v)
        deep = abs(face - axis_at) + bolted.dowel_length_mm / 2
        yield marking.on_second(
            "cross dowel hole",
            hole(
                (*mouth, bolted.distance_mm),
                unit(side.axis, not side.is_high),
                diameter_mm=bolted.sold.dowel_mm,
                depth_mm=deep,
            ),
        )


def _setting_out(marking: Marking, bolted: _Bolted) -> Iterator[SettingOut]:
    row, second = bolted.row, marking.contact.second
    yield from mark_both(marking, "centre line of the bolts", axis=V, at=row.centres[0][1])
    for number, (u, _) in enumerate(row.centres, start=1):
        yield from mark_both(marking, f"centre of bolt {number}", axis=U, at=u)
    yield SettingOut(
        copy=second,
        what="centre line of the cross dowel holes",
        reference=marking.own_face(second, unit(N, False)),
        distance_mm=bolted.distance_mm,
        spacer="",
    )
    if bolted.side.axis == V:
        lines = [
            mark_both(marking, f"centre of cross dowel hole {number}", axis=U, at=u)
            for number, (u, _) in enumerate(row.centres, start=1)
        ]
    else:
        at = row.centres[0][1]
        lines = [mark_both(marking, "centre of the cross dowel hole", axis=V, at=at)]
    # Measured from the same side as the bolts, and on the second part alone.
    yield from (replace(own, spacer="") for line in lines for own in line if own.copy == second)


def _warnings(marking: Marking, bolted: _Bolted) -> Iterator[Finding]:
    pinned = any(
        joint.kind == "dowels" and {joint.first, joint.second} == {marking.first, marking.second}
        for joint in marking.bench.piece.joints
    )
    if len(bolted.row.centres) == 1 and not pinned:
        yield marking.warn(
            "J259",
            f"one bolt alone lets {marking.second} turn on {marking.first}",
            "Needed: a `count` of 2, or `dowels` between the two as well.",
            option="count",
        )


KIND = JointKind(
    code="bolt and cross dowel",
    title="Bolt and cross dowel",
    words=JointWords(
        code="bolt and cross dowel",
        first="the part that the bolt passes through",
        second="the part with the cross dowel",
        options=(
            Option(
                name="size",
                type=OptionType.ROUND,
                help="Diameter and length of a bolt; the shortest sold that passes the cross "
                "dowel, when left out.",
            ),
            *row_options("Bolts"),
            OFFSET,
            Option(
                name="distance",
                type=OptionType.LENGTH,
                help="From the joint to the cross dowel's centre; 4 of its diameters when left "
                "out.",
            ),
            Option(
                name="face",
                type=OptionType.CHOICE,
                choices=tuple(FACES),
                help="Side of the second part, as drawn, that the cross dowels go in from; the one "
                "that looks at the middle of the piece when left out.",
            ),
        ),
        help="A bolt through one part turns into a steel dowel across the end of another.",
    ),
    fit=fit_bolt_and_cross_dowel,
)
