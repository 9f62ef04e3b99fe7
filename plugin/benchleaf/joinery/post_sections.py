"""The sections of a post that carries one panel above another, each smaller than the one below.

Takes the Marking of one panel, gives the post's section below that panel and in it. What the panels
further down have taken is worked out from their own choices, from the bottom up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.frames import Axis, Box, Number, main_axis
from benchleaf.joinery.marking import Marking, N, U, V, block
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    grid_words,
    planned,
    proposed,
    round_down,
)
from benchleaf.joinery.records import Bench, JointSize
from benchleaf.piece.records import ContactKind

Sides = tuple[tuple[int, bool], ...]
"""Sides of a post in the contact's frame: axis (U or V) and whether it is the high one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PostLevel:
    """A post at one of its panels; boxes in that contact's frame, whose n runs right through."""

    below: Box
    """The section just below the panel."""
    section: Box
    """The section in the panel and above."""
    sides: Sides
    """Sides that are cut back."""
    sizes: tuple[JointSize, ...]


def find_level(marking: Marking) -> PostLevel:
    """Work out a post's sections at one panel, after all the panels further down."""
    below = _whole(marking)
    for lower in _lower_panels(marking):
        cut = _cut_back(lower, _carry(marking, lower, below))
        below = _carry(lower, marking, cut.section)
    return _cut_back(marking, below)


def _whole(marking: Marking) -> Box:
    post, n = marking.contact.first_box, marking.contact.n_mm
    return block((post.low[U], post.high[U]), (post.low[V], post.high[V]), (Fraction(0), n))


def _carry(source: Marking, target: Marking, section: Box) -> Box:
    """A section seen from another contact of the same post, along that one's n."""
    placed = source.contact.frame.box_outward(section)
    seen = target.contact.frame.box_inward(placed)
    n = (Fraction(0), target.contact.n_mm)
    return block((seen.low[U], seen.high[U]), (seen.low[V], seen.high[V]), n)


def _lower_panels(marking: Marking) -> list[Marking]:
    """The panels that the same post carries further down, lowest first."""
    ours = marking.contact
    axis = main_axis(ours.frame.axes[N])
    found = [
        (other.contact.frame.origin[axis], other.seen_along(other.contact.frame.axes.index(way)))
        for way in (ours.frame.axes[N],)
        for other in _panels_of(marking, ours.first)
        if other.contact.frame.origin[axis] < ours.frame.origin[axis]
    ]
    return [other for _, other in sorted(found, key=lambda pair: pair[0])]


def _panels_of(marking: Marking, post: str) -> Iterator[Marking]:
    piece = marking.bench.piece
    for joint in piece.joints:
        if joint.kind != marking.chosen.kind:
            continue
        bench = Bench(
            first=piece.parts[joint.first],
            second=piece.parts[joint.second],
            wall_mm=marking.bench.wall_mm,
            piece=piece,
        )
        for contact in joint.contacts:
            if contact.first == post and contact.kind is ContactKind.CROSSING:
                yield Marking(chosen=joint, contact=contact, bench=bench)


def _cut_back(marking: Marking, below: Box) -> PostLevel:
    sides = _sides(marking)
    lengths = marking.lengths("section")
    if lengths and marking.length("shoulder") is not None:
        raise marking.refuse(
            "J138",
            f"`section` and `shoulder` both settle what is left of {marking.first}",
            "Needed: one of the two.",
            option="section",
        )
    if lengths:
        section = _sized(marking, below, sides, lengths=lengths)
        sizes: tuple[JointSize, ...] = ()
    else:
        shoulder = _shoulder(marking, below)
        section = _shouldered(below, sides, shoulder.value_mm)
        sizes = (shoulder,)
    _refuse_bad_section(marking, below, section)
    return PostLevel(below=below, section=section, sides=sides, sizes=sizes)


def _sides(marking: Marking) -> Sides:
    faces = marking.sides_of(marking.contact.first)
    words = marking.words("sides")
    for word in words:
        if word not in faces:
            raise marking.refuse(
                "J139",
                f"the {word} of {marking.first} is one of its ends",
                f"Needed: some of {', '.join(faces)}.",
                option="sides",
            )
    return tuple(faces[face] for face in faces if not words or face in words)


def _shoulder(marking: Marking, below: Box) -> JointSize:
    given = marking.length("shoulder")
    if given is not None:
        return planned("shoulder", given)
    narrow = Fraction(min(below.size[U], below.size[V]))
    part = narrow * factor("post shoulder")
    usual = round_down(part, marking.units) or min(part, grid_mm(marking.units))
    rounding = f"down to the {grid_words(marking.units)}"
    return proposed("shoulder", usual, key="post shoulder", rounding=rounding)


def _shouldered(below: Box, sides: Sides, shoulder: Fraction) -> Box:
    low, high = list(below.low), list(below.high)
    for axis, is_high in sides:
        if is_high:
            high[axis] -= shoulder
        else:
            low[axis] += shoulder
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _sized(marking: Marking, below: Box, sides: Sides, *, lengths: tuple[Fraction, ...]) -> Box:
    spans = []
    for axis, extent in zip((U, V), _in_contact_order(marking, lengths), strict=True):
        cut = below.size[axis] - extent
        ends = [is_high for side, is_high in sides if side == axis]
        share: Number = cut / len(ends) if ends else 0
        low = below.low[axis] + (share if False in ends else 0)
        high = below.high[axis] - (share if True in ends else 0)
        if cut != 0 and not ends:
            raise marking.refuse(
                "J140",
                f"a section of {marking.show(extent)} asks for a cut on a side that `sides` leaves "
                "whole",
                f"Needed: {marking.show(below.size[axis])} that way, or more `sides`.",
                option="section",
            )
        spans.append((low, high))
    return block(spans[0], spans[1], (below.low[N], below.high[N]))


def _in_contact_order(marking: Marking, lengths: tuple[Fraction, ...]) -> tuple[Fraction, Fraction]:
    """The author's section along u and along v: given in the order wide, deep, high."""
    if len(lengths) == 1:
        return lengths[0], lengths[0]
    if len(lengths) > 2:
        raise marking.refuse(
            "J141",
            f"`section` lists {len(lengths)} lengths",
            "Needed: one length for a square, or two.",
            option="section",
        )
    across = [axis for axis in Axis if marking.axis_of(marking.contact.first, axis) != N]
    by_axis = {
        marking.axis_of(marking.contact.first, axis): length
        for axis, length in zip(across, lengths, strict=True)
    }
    return by_axis[U], by_axis[V]


def _refuse_bad_section(marking: Marking, below: Box, section: Box) -> None:
    if section.size[U] > 0 and section.size[V] > 0 and below.contains(section):
        return
    sides = [f"{marking.show(below.size[axis])}" for axis in (U, V)]
    raise marking.refuse(
        "J142",
        f"{marking.first} is {' x '.join(sides)} below {marking.second}, and cannot be cut to "
        f"{marking.show(section.size[U])} x {marking.show(section.size[V])} there",
        "Needed: a section smaller than the one below, with something left of it.",
    )
