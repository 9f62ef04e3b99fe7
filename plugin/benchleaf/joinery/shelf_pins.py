"""Shelf pins: an adjustable shelf on pins, in two columns of holes bored in the side.

Dimensions:
    pins: 1/4 in (5 mm) thick, two under each end of the shelf. Source: common practice, no source.
    holes: 3/8 in (10 mm) deep, every 1-1/4 in (32 mm), five in a column, with the shelf as drawn on
        the middle ones. Source: common practice, no source.
    columns: 1-1/2 in (37 mm) from the front and the back of the shelf. Source: common practice, no
        source.
    clearance: 1/16 in (1.5 mm) cut off each end of the shelf, 1/8 in (3 mm) in all. Source: common
        practice, no source.

Limits:
    The shelf lies level, its end at the face of the side. The shop's wall is left beyond the bottom
    of each hole, and every hole stays 2 diameters from the ends of the side.

Tools:
    A template of the holes, a drill with a stop or a self-centring bit, a saw for the shelf.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Axis
from benchleaf.joinery.marking import OFF, Marking, N, U, V, at_the_bench, block, hole, unit
from benchleaf.joinery.proportions import planned, proposed, usual_mm, worked
from benchleaf.joinery.reach import bearable_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.setting_out import mark_line
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)
# chosen: as many as give two steps up and two down.
_USUAL_HOLES = 5
# chosen: a column longer than any side.
_MOST_HOLES = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pins:
    """Two columns of holes, mm."""

    diameter_mm: Fraction
    deep_mm: Fraction
    clearance_mm: Fraction
    columns: tuple[Fraction, Fraction]
    """Along u."""
    heights: tuple[Fraction, ...]
    """Along v, from the lowest hole up."""
    is_up: bool
    """Whether v runs upwards."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_shelf_pins(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work rows of holes for shelf pins out at one end of a shelf."""
    marking.need(ContactKind.FACE)
    pins = _pins(marking)
    clear = (_clearance(marking, pins),) if pins.clearance_mm else ()
    hardware = Hardware(
        kind="shelf pin",
        size=marking.show(pins.diameter_mm),
        diameter_mm=pins.diameter_mm,
        length_mm=2 * pins.deep_mm,
        count=2,
    )
    fit = marking.made(
        (clear, tuple(_holes(marking, pins))),
        numbers=(pins.sizes, tuple(_setting_out(marking, pins))),
        free=(OFF, unit(V, pins.is_up), unit(U, True), unit(U, False)),
        glued_mm2=_ZERO,
        hardware=(hardware,),
    )
    return fit, ()


def _pins(marking: Marking) -> _Pins:
    rise = marking.contact.frame.axes[V][Axis.HIGH]
    if not rise:
        raise marking.refuse(
            "J282",
            f"{marking.first} does not lie level against {marking.second}",
            "Needed: a level shelf, its end at the face of an upright side.",
        )
    diameter = _given(marking, "diameter", "pin diameter", key="shelf pin diameter")
    deep = _depth(marking)
    inset = _inset(marking, diameter.value_mm)
    step = _given(marking, "step", "from hole to hole", key="shelf pin step")
    clear = _given(marking, "clearance", "clearance at each end", key="adjustable shelf clearance")
    heights = tuple(_heights(marking, diameter.value_mm, step.value_mm, rise > 0))
    count = worked("holes in a column, height", heights[-1] - heights[0], _count_words(heights))
    return _Pins(
        diameter_mm=diameter.value_mm,
        deep_mm=deep.value_mm,
        clearance_mm=clear.value_mm,
        columns=(inset.value_mm, marking.contact.u_mm - inset.value_mm),
        heights=heights,
        is_up=rise > 0,
        sizes=(diameter, deep, inset, step, count, clear),
    )


def _depth(marking: Marking) -> JointSize:
    deep = _given(marking, "depth", "hole depth", key="shelf pin hole depth")
    most = bearable_mm(marking, marking.contact.second)
    if not 0 < deep.value_mm <= most:
        raise marking.refuse(
            "J283",
            f"a hole {marking.show(deep.value_mm)} deep for a pin does not suit {marking.second}, "
            f"which bears {marking.show(most)}",
            f"Needed: more than 0 and at most {marking.show(most)}.",
            option="depth",
        )
    return deep


def _inset(marking: Marking, diameter_mm: Fraction) -> JointSize:
    inset = _given(marking, "inset", "column, from the shelf's edge", key="shelf pin inset")
    if 2 * inset.value_mm + 2 * diameter_mm > marking.contact.u_mm:
        raise marking.refuse(
            "J284",
            f"columns {marking.show(inset.value_mm)} from both edges leave no room on a shelf "
            f"{marking.show(marking.contact.u_mm)} deep",
            f"Needed: an inset under {marking.show(marking.contact.u_mm / 2)}.",
            option="inset",
        )
    return inset


def _count_words(heights: tuple[Fraction, ...]) -> str:
    return f"{len(heights)} holes, the shelf as drawn on one of them"


def _given(marking: Marking, option: str, name: str, *, key: str) -> JointSize:
    given = marking.length(option)
    if given is not None:
        return planned(name, given)
    return proposed(name, usual_mm(key, marking.units), key=key)


def _heights(
    marking: Marking, diameter: Fraction, step: Fraction, is_up: bool
) -> Iterator[Fraction]:
    """Centres of the holes that stay within the side, ascending along v in the piece's sense."""
    count = min(marking.count("holes") or _USUAL_HOLES, _MOST_HOLES)
    up = 1 if is_up else -1
    under = _ZERO if is_up else marking.contact.v_mm
    seat = under - up * diameter / 2
    below = (count - 1) // 2
    box = marking.contact.second_box
    low, high = box.low[V] + 2 * diameter, box.high[V] - 2 * diameter
    places = [seat + up * (index - below) * step for index in range(count)]
    inside = [at for at in places if low <= at <= high or at == seat]
    yield from inside if is_up else reversed(inside)


def _clearance(marking: Marking, pins: _Pins) -> Feature:
    box = marking.contact.first_box
    shape = block((box.low[U], box.high[U]), (box.low[V], box.high[V]), (-pins.clearance_mm, _ZERO))
    return marking.on_first("end clearance", shape)


def _holes(marking: Marking, pins: _Pins) -> Iterator[Feature]:
    for u in pins.columns:
        for v in pins.heights:
            bored = hole(
                (u, v, _ZERO),
                unit(N, True),
                diameter_mm=pins.diameter_mm,
                depth_mm=pins.deep_mm,
            )
            yield marking.on_second("pin hole", bored)


def _setting_out(marking: Marking, pins: _Pins) -> Iterator[SettingOut]:
    second = marking.contact.second
    for number, u in enumerate(pins.columns, start=1):
        yield mark_line(marking, second, f"centre line of the pin holes {number}", axis=U, at=u)
    lowest = pins.heights[0] if pins.is_up else pins.heights[-1]
    yield mark_line(marking, second, "centre of the lowest pin hole", axis=V, at=lowest)


KIND = JointKind(
    code="shelf pins",
    title="Shelf pins",
    words=JointWords(
        code="shelf pins",
        first="the shelf",
        second="the side with the holes",
        options=(
            Option(
                name="diameter",
                type=OptionType.LENGTH,
                help="Diameter of the pins; 1/4 in (5 mm) when left out.",
            ),
            Option(
                name="depth",
                type=OptionType.LENGTH,
                help="How deep the holes are; 3/8 in (10 mm) when left out.",
            ),
            Option(
                name="inset",
                type=OptionType.LENGTH,
                help="From the shelf's front and back edges to the columns; 1-1/2 in (37 mm) when "
                "left out.",
            ),
            Option(
                name="step",
                type=OptionType.LENGTH,
                help="From hole to hole; 1-1/4 in (32 mm) when left out.",
            ),
            Option(
                name="holes",
                type=OptionType.COUNT,
                help="Holes in each column, half of them above the shelf as drawn; 5 when left "
                "out.",
            ),
            Option(
                name="clearance",
                type=OptionType.LENGTH,
                help="What is cut off each end of the shelf; 1/16 in (1.5 mm) when left out.",
            ),
        ),
        help="An adjustable shelf on pins, in two columns of holes bored in the side.",
    ),
    fit=fit_shelf_pins,
)
