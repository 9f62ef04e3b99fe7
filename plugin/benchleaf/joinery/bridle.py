"""Bridle joint: a slot in the end of one part straddles the other, which is thinned to a tongue.

Dimensions:
    tongue thickness: 1/3 of the thickness that they share, in its middle, on the rule. Source: Port
        Townsend School of Woodworking, rule for tenons in frames.
    slot: as wide as the tongue and its clearance, as deep as the other part is wide. Source: worked
        out.
    clearance: none, the tongue is pared to the slot. Source: common practice, no source.

Limits:
    Both parts are of one thickness and lie in one plane; they are drawn through one another. The
    second part ends in the joint, so that its slot is open; the first may end there as well, at a
    corner, or run on, in a tee.

Tools:
    A mortise gauge; a tenon saw and a chisel, or a table saw with a sled for the cheeks.

Source:
    Rule of the Port Townsend School of Woodworking for tenons in frames, as reproduced in 2015.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Number
from benchleaf.joinery.half_lap import sideways
from benchleaf.joinery.marking import Marking, N, U, V, at_the_bench, block, unit
from benchleaf.joinery.proportions import (
    grid_mm,
    planned,
    proposed_share,
    worked,
)
from benchleaf.joinery.records import Feature, JointFit, JointKind, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_span
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bridle:
    """A tongue and its slot across the thickness; mm."""

    marking: Marking
    tongue: JointSize
    clearance: JointSize

    @property
    def cheeks(self) -> tuple[Fraction, Fraction]:
        """Where the tongue's cheeks lie along n."""
        side = (self.marking.contact.n_mm - self.tongue.value_mm) / 2
        return side, self.marking.contact.n_mm - side

    @property
    def walls(self) -> tuple[Fraction, Fraction]:
        """Where the slot's walls lie along n."""
        ease = self.clearance.value_mm / 2
        return self.cheeks[0] - ease, self.cheeks[1] + ease


@at_the_bench
def fit_bridle(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a bridle joint out at one crossing."""
    marking.need(ContactKind.CROSSING)
    marking = marking.seen_along(_through_both(marking))
    _need_one_thickness(marking)
    _need_open_slot(marking)
    bridle = _Bridle(marking=marking, tongue=_tongue(marking), clearance=_clearance(marking))
    _refuse_clearance(bridle)
    contact = marking.contact
    glued = marking.is_yes("glue", usually=True)
    fit = marking.made(
        (_waste(bridle), (_slot(bridle),)),
        numbers=(_sizes(bridle), tuple(_setting_out(bridle))),
        free=tuple(sideways(marking)),
        glued_mm2=2 * contact.u_mm * contact.v_mm if glued else _ZERO,
    )
    return fit, tuple(_warnings(bridle))


def _through_both(marking: Marking) -> int:
    """The axis through the plane in which both parts lie."""
    contact = marking.contact
    along = {marking.grain_of(contact.first), marking.grain_of(contact.second)}
    if len(along) == 2:
        return 3 - sum(along)
    raise marking.refuse(
        "J227",
        f"{marking.first} and {marking.second} run the same way",
        "Needed: two parts that cross in one plane, each with its grain along it.",
    )


def _need_one_thickness(marking: Marking) -> None:
    contact = marking.contact
    thick = [marking.box_of(mark).size[N] for mark in (contact.first, contact.second)]
    if thick[0] == thick[1] == contact.n_mm:
        return
    raise marking.refuse(
        "J228",
        f"{marking.first} is {marking.show(thick[0])} thick at the joint and {marking.second} "
        f"{marking.show(thick[1])}, and {marking.show(contact.n_mm)} of it is shared",
        "Needed: one thickness for both, flush on both sides.",
    )


def _need_open_slot(marking: Marking) -> None:
    contact = marking.contact
    axis = marking.grain_of(contact.second)
    extent = contact.u_mm if axis == U else contact.v_mm
    box = marking.box_of(contact.second)
    if box.low[axis] == 0 or box.high[axis] == extent:
        return
    raise marking.refuse(
        "J229",
        f"{marking.second} runs on past {marking.first} on both sides, so that its slot would be "
        "closed",
        f"Needed: {marking.second} ending in the joint. Name the parts the other way round, or use "
        "a `mortise and tenon`.",
    )


def _tongue(marking: Marking) -> JointSize:
    thick = marking.contact.n_mm
    given = marking.length("thickness")
    if given is None:
        return proposed_share(
            "tongue thickness",
            thick,
            key="tenon thickness",
            units=marking.units,
            least_mm=grid_mm(marking.units),
        )
    if 0 < given < thick:
        return planned("tongue thickness", given)
    raise marking.refuse(
        "J230",
        f"a tongue {marking.show(given)} thick leaves nothing of one of the parts, "
        f"{marking.show(thick)} thick",
        f"Needed: more than 0 and less than {marking.show(thick)}; a third is usual.",
        option="thickness",
    )


def _clearance(marking: Marking) -> JointSize:
    given = marking.length("clearance")
    if given is not None:
        return planned("clearance in the slot", given)
    return worked("clearance in the slot", _ZERO, "the tongue is pared to the slot")


def _refuse_clearance(bridle: _Bridle) -> None:
    marking = bridle.marking
    if bridle.walls[0] > 0:
        return
    most = 2 * bridle.cheeks[0]
    raise marking.refuse(
        "J231",
        f"a clearance of {marking.show(bridle.clearance.value_mm)} leaves no walls beside the slot",
        f"Needed: less than {marking.show(most)}.",
        option="clearance",
    )


def _waste(bridle: _Bridle) -> tuple[Feature, ...]:
    """The cheeks' waste on both faces of the first part."""
    contact = bridle.marking.contact
    spans: tuple[tuple[Number, Number], ...] = (
        (_ZERO, bridle.cheeks[0]),
        (bridle.cheeks[1], contact.n_mm),
    )
    return tuple(
        bridle.marking.on_first(
            "bridle cheek", block((_ZERO, contact.u_mm), (_ZERO, contact.v_mm), span)
        )
        for span in spans
    )


def _slot(bridle: _Bridle) -> Feature:
    contact = bridle.marking.contact
    cut = block((_ZERO, contact.u_mm), (_ZERO, contact.v_mm), bridle.walls)
    return bridle.marking.on_second("bridle slot", cut)


def _sizes(bridle: _Bridle) -> tuple[JointSize, ...]:
    marking = bridle.marking
    axis = marking.grain_of(marking.contact.second)
    deep = marking.contact.u_mm if axis == U else marking.contact.v_mm
    return (
        bridle.tongue,
        worked("depth of each cheek", bridle.cheeks[0], "half of what the tongue leaves"),
        worked("slot depth", deep, f"as far as {marking.first} goes in"),
        bridle.clearance,
    )


def _setting_out(bridle: _Bridle) -> Iterator[SettingOut]:
    marking, contact = bridle.marking, bridle.marking.contact
    for axis, extent in ((U, contact.u_mm), (V, contact.v_mm)):
        for row in mark_span(marking, "shoulder of the bridle", axis=axis, ends=(_ZERO, extent)):
            is_slotted = row.copy == contact.second
            yield replace(row, what="shoulder line, from the end") if is_slotted else row
    for mark, what, places in (
        (contact.first, "cheek of the tongue", bridle.cheeks),
        (contact.second, "wall of the slot", bridle.walls),
    ):
        face = marking.own_face(mark, unit(N, False))
        for side, at in zip(("near", "far"), places, strict=True):
            yield SettingOut(
                copy=mark,
                what=f"{side} {what}",
                reference=face,
                distance_mm=at,
                spacer="one setting of the mortise gauge, from the face side of both parts",
            )


def _warnings(bridle: _Bridle) -> Iterator[Finding]:
    marking = bridle.marking
    most = marking.contact.n_mm / 2
    if bridle.tongue.value_mm > most:
        yield marking.warn(
            "J232",
            f"a tongue {marking.show(bridle.tongue.value_mm)} thick leaves thin walls beside the "
            f"slot in {marking.second}",
            f"Needed: at most half of the thickness, {marking.show_with_unit(most)}.",
            option="thickness",
        )


KIND = JointKind(
    code="bridle",
    title="Bridle joint",
    words=JointWords(
        code="bridle",
        first="the part with the tongue",
        second="the part with the slot in its end",
        options=(
            Option(
                name="thickness",
                type=OptionType.LENGTH,
                help="How thick the tongue is; a third of the thickness when left out.",
            ),
            Option(
                name="clearance",
                type=OptionType.LENGTH,
                help="How much wider the slot is than the tongue; none when left out.",
            ),
            Option(
                name="glue",
                type=OptionType.YES_NO,
                help="Whether it is glued; yes when left out.",
            ),
        ),
        help="A slot in the end of one part straddles the other, which is thinned to a tongue.",
    ),
    fit=fit_bridle,
)
