"""Biscuits: pressed slips of beech glued into slots that a biscuit jointer cuts in both parts.

Dimensions:
    size: the largest of No. 0 (47 x 15 x 4 mm), No. 10 (53 x 19 x 4 mm) and No. 20 (56 x 23 x 4
        mm) that both parts bear. Source: common practice, no source: sizes read on several pages,
        no standard found.
    slot: half of the biscuit deep and 1/32 in (1 mm) more, in the middle of the thickness. Source:
        common practice, no source.
    slot length: the chord that a cutter of 100 mm leaves at that depth. Source: worked out.
    spacing: at most 8 in (200 mm) from centre to centre. Source: common practice, no source.
    inset: a quarter of the joint's length from each end, at most 2 in (50 mm), and clear of the
        ends. Source: common practice, no source.

Limits:
    The joint is longer than one slot and 1/4 in (6 mm) at each end. The shop's wall is left beyond
    the bottom of every slot. Half of the thickness at least is left beside it.

Tools:
    A biscuit jointer with a fence, a pencil, glue that is worked into the slots, clamps.

Source:
    Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Prism
from benchleaf.frames import Frame
from benchleaf.handbook.hardware import Biscuit, load_biscuit_cutter_mm, load_biscuits
from benchleaf.joinery.marking import OFF, Marking, U, V, at_the_bench
from benchleaf.joinery.proportions import usual_mm, worked
from benchleaf.joinery.reach import bearable_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.rows import OFFSET, Row, count_option, lay_out_row
from benchleaf.joinery.setting_out import mark_both
from benchleaf.outlines import Line, Outline, arc_over
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Slot:
    """What a biscuit jointer cuts for one biscuit, mm."""

    biscuit: Biscuit
    deep_mm: Fraction
    chord_mm: Fraction
    """Along the face, to a hundredth."""


@at_the_bench
def fit_biscuits(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work biscuits out at one contact."""
    marking.need(ContactKind.FACE)
    slot, is_given = _choose(marking)
    edge = slot.chord_mm / 2 + usual_mm("biscuit end wall", marking.units)
    row = lay_out_row(marking, edge_mm=edge, spacing_key="biscuit spacing, most")
    _refuse_near_ends(marking, row, edge)
    faces = 2 * slot.biscuit.length_mm * slot.biscuit.width_mm
    fit = marking.made(
        (
            tuple(_slots(marking, slot, row, is_first=True)),
            tuple(_slots(marking, slot, row, is_first=False)),
        ),
        numbers=(
            (*_sizes(slot, is_given), *row.sizes),
            tuple(_setting_out(marking, row)),
        ),
        free=(OFF,),
        glued_mm2=marking.contact.u_mm * marking.contact.v_mm + faces * len(row.centres),
        hardware=(_biscuits(slot, row),),
    )
    return fit, ()


def _choose(marking: Marking) -> tuple[_Slot, bool]:
    """The author's size, or the largest that fits; and whether it is the author's."""
    sold = [_slot(marking, biscuit) for biscuit in load_biscuits().values()]
    named = marking.words("size")
    if named:
        slot = next(own for own in sold if own.biscuit.number == named[0])
        _refuse_large(marking, slot)
        return slot, True
    fitting = [own for own in sold if _fits(marking, own)]
    if not fitting:
        _refuse_large(marking, sold[0])
    return fitting[-1], False


def _slot(marking: Marking, biscuit: Biscuit) -> _Slot:
    deep = biscuit.width_mm / 2 + usual_mm("biscuit slot clearance", marking.units)
    cutter = load_biscuit_cutter_mm()
    chord = 2 * math.sqrt(deep * (cutter - deep))
    return _Slot(biscuit=biscuit, deep_mm=deep, chord_mm=Fraction(round(chord * 100), 100))


def _room_mm(marking: Marking) -> tuple[Fraction, Fraction, Fraction]:
    """Room along the joint, across it, and into the thinner of the two parts, mm."""
    contact = marking.contact
    length = contact.u_mm - 2 * usual_mm("biscuit end wall", marking.units)
    return length, contact.v_mm, min(bearable_mm(marking, mark) for mark in marking.marks)


def _fits(marking: Marking, slot: _Slot) -> bool:
    length, thick, deep = _room_mm(marking)
    return (
        slot.chord_mm <= length and slot.deep_mm <= deep and 2 * slot.biscuit.thickness_mm <= thick
    )


def _refuse_large(marking: Marking, slot: _Slot) -> None:
    if _fits(marking, slot):
        return
    length, thick, deep = _room_mm(marking)
    raise marking.refuse(
        "J272",
        f"a No. {slot.biscuit.number} biscuit asks for a slot {marking.show(slot.chord_mm)} long, "
        f"{marking.show(slot.deep_mm)} deep and {marking.show(slot.biscuit.thickness_mm)} wide, "
        f"and {marking.first} and {marking.second} have room for {marking.show(length)}, "
        f"{marking.show(deep)} and half of {marking.show(thick)}",
        "Needed: a smaller biscuit, wider or thicker parts, or `dowels`.",
        option="size",
    )


def _refuse_near_ends(marking: Marking, row: Row, edge: Fraction) -> None:
    if row.inset_mm >= edge:
        return
    raise marking.refuse(
        "J273",
        f"a slot {marking.show(row.inset_mm)} from the end of the joint, centre to end, comes out "
        "of it",
        f"Needed: an inset of at least {marking.show(edge)}.",
        option="inset",
    )


def _sizes(slot: _Slot, is_given: bool) -> tuple[JointSize, ...]:
    chosen = "from the plan" if is_given else "the largest that both parts bear"
    source = "the plan" if is_given else "common practice, no source"
    number = f"No. {slot.biscuit.number} biscuit, length"
    return (
        JointSize(name=number, value_mm=slot.biscuit.length_mm, rule=chosen, source=source),
        worked("slot depth", slot.deep_mm, "half of the biscuit's width, and the clearance"),
        worked("slot length", slot.chord_mm, "what a cutter of 100 mm leaves at that depth"),
        worked("slot width", slot.biscuit.thickness_mm, "the biscuit's thickness"),
    )


def _slots(marking: Marking, slot: _Slot, row: Row, *, is_first: bool) -> Iterator[Feature]:
    half, wide = slot.chord_mm / 2, slot.biscuit.thickness_mm
    into = -1 if is_first else 1
    hold = marking.on_first if is_first else marking.on_second
    for u, v in row.centres:
        low, high = (u - half, _ZERO), (u + half, _ZERO)
        outline = Outline(high, (Line(low), arc_over(low, high, slot.deep_mm)))
        frame = Frame((_ZERO, v - wide / 2, _ZERO), ((1, 0, 0), (0, 0, into), (0, 1, 0)))
        yield hold("biscuit slot", Prism(frame, outline, wide))


def _setting_out(marking: Marking, row: Row) -> Iterator[SettingOut]:
    yield from mark_both(marking, "centre line of the biscuits", axis=V, at=row.centres[0][1])
    for number, (u, _) in enumerate(row.centres, start=1):
        yield from mark_both(marking, f"centre of biscuit {number}", axis=U, at=u)


def _biscuits(slot: _Slot, row: Row) -> Hardware:
    return Hardware(
        kind="biscuit",
        size=f"No. {slot.biscuit.number}",
        diameter_mm=slot.biscuit.thickness_mm,
        length_mm=slot.biscuit.width_mm,
        count=len(row.centres),
        is_sized_in_units=False,
    )


KIND = JointKind(
    code="biscuits",
    title="Biscuits",
    words=JointWords(
        code="biscuits",
        first="one part",
        second="the other part",
        options=(
            Option(
                name="size",
                type=OptionType.CHOICE,
                choices=("0", "10", "20"),
                help="Number of the biscuits' size; the largest that both parts bear when left "
                "out.",
            ),
            count_option("Biscuits"),
            Option(
                name="inset",
                type=OptionType.LENGTH,
                help="From each end of the joint to the nearest centre; a quarter of its length, "
                "at most 2 in (50 mm), and clear of the ends, when left out.",
            ),
            OFFSET,
        ),
        help="Pressed slips of beech glued into slots that a biscuit jointer cuts in both parts.",
    ),
    fit=fit_biscuits,
)
