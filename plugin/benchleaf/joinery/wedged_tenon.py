"""Wedged tenon: a through tenon, slit at its end and spread by wedges in a mortise that flares.

Dimensions:
    thickness and width: as for a plain mortise and tenon. Source: Port Townsend School of
        Woodworking.
    mortise slope: 1 in 12 at each end, to the nearest 1/16 in (1 mm), at least half of that.
        Source: common practice, no source.
    slots: two saw cuts 1/16 in (1.5 mm) wide, a sixth of the tenon's width in from its edges, 2/3
        of its length deep. Source: common practice, no source.
    wedges: as wide as the tenon is thick, as long as the slots are deep, and as thick as the slope
        and the kerf together. Source: worked out.

Limits:
    The mortise goes right through, and its slopes stay within the part. The wedges spread the tenon
    along the grain of the mortised part; across it they would split it.

Tools:
    Those of a mortise and tenon, a fine saw for the slots, a hammer, glue on every wedge.

Source:
    Common practice, no source, for slope, slots and wedges; the tenon by the rules of the Port
    Townsend School of Woodworking, as reproduced in 2015.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Prism
from benchleaf.frames import Box, Frame, Number
from benchleaf.joinery.marking import Marking, N, U, V, at_the_bench, block
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    planned,
    proposed,
    proposed_share,
    round_down,
    round_nearest,
    usual_mm,
    worked,
)
from benchleaf.joinery.reach import extent_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.setting_out import mark_line
from benchleaf.joinery.tenon_forms import block_of, extent, plain_options, plain_tenon
from benchleaf.outlines import polygon
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wedging:
    """How a through tenon is spread, mm."""

    tenon: Box
    slope_mm: Fraction
    """How much longer the mortise is at each end of the far face."""
    kerf_mm: Fraction
    deep_mm: Fraction
    """Of the slots, from the tenon's end."""
    slots: tuple[Fraction, Fraction]
    """Centre lines along u."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_wedged_tenon(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a wedged through tenon out at one contact."""
    plain, said = plain_tenon(marking, through=True, haunch=False)
    wedging = _wedge(marking, block_of(plain.first_features, "tenon"))
    slots = tuple(_slots(marking, wedging))
    slopes = tuple(_slopes(marking, wedging))
    fit = replace(
        plain,
        kind=marking.chosen.kind,
        first_features=(*plain.first_features, *slots),
        second_features=(*plain.second_features, *slopes),
        sizes=(*plain.sizes, *wedging.sizes),
        setting_out=(*plain.setting_out, *_setting_out(marking, wedging)),
        hardware=(_wedges(marking, wedging),),
    )
    return fit, (*said, *_warnings(marking))


def _wedge(marking: Marking, tenon: Box) -> _Wedging:
    slope = _slope(marking, tenon)
    width, length = extent(tenon, U), extent(tenon, N)
    kerf = usual_mm("wedge kerf", marking.units)
    deep = max(round_down(length * factor("wedge slot depth"), marking.units), length / 2)
    inset = max(round_nearest(width * factor("wedge slot inset"), marking.units), kerf)
    if 2 * inset + 2 * kerf >= width:
        raise marking.refuse(
            "J260",
            f"a tenon {marking.show(width)} wide is too narrow to be slit twice for wedges",
            f"Needed: more than {marking.show(2 * inset + 2 * kerf)}. Widen the tenon.",
            option="width",
        )
    return _Wedging(
        tenon=tenon,
        slope_mm=slope.value_mm,
        kerf_mm=kerf,
        deep_mm=deep,
        slots=(Fraction(tenon.low[U] + inset), Fraction(tenon.high[U] - inset)),
        sizes=(
            slope,
            proposed("wedge slot, in from the edge", inset, key="wedge slot inset"),
            proposed("wedge slot depth", deep, key="wedge slot depth"),
            worked("wedge, thick end", slope.value_mm + kerf, "the slope and the kerf"),
        ),
    )


def _slope(marking: Marking, tenon: Box) -> JointSize:
    """How much longer the mortise is at each end of its far face."""
    given, name = marking.length("slope"), "mortise slope at each end"
    second = marking.contact.second_box
    room = Fraction(min(tenon.low[U] - second.low[U], second.high[U] - tenon.high[U]))
    most = max(room - marking.bench.wall_mm, _ZERO)
    if given is None:
        size = proposed_share(
            name,
            extent_mm(marking, marking.contact.second),
            key="wedge slope",
            units=marking.units,
            least_mm=grid_mm(marking.units) / 2,
        )
    else:
        size = planned(name, given)
    if 0 < size.value_mm <= most:
        return size
    raise marking.refuse(
        "J261",
        f"the mortise, {marking.show(size.value_mm)} longer at each end, does not stay within "
        f"{marking.second}: {marking.show(room)} of wood stands beyond the tenon",
        f"Needed: a slope of more than 0 and at most {marking.show(most)}. Narrow the tenon, or "
        "move it from the end.",
        option="slope",
    )


def _slots(marking: Marking, wedging: _Wedging) -> Iterator[Feature]:
    tenon, half = wedging.tenon, wedging.kerf_mm / 2
    end = tenon.high[N]
    for at in wedging.slots:
        shape = block(
            (at - half, at + half), (tenon.low[V], tenon.high[V]), (end - wedging.deep_mm, end)
        )
        yield marking.on_first("wedge slot", shape)


def _slopes(marking: Marking, wedging: _Wedging) -> Iterator[Feature]:
    """What is pared from both ends of the mortise, to nothing at the near face."""
    tenon, deep = wedging.tenon, extent_mm(marking, marking.contact.second)
    frame = Frame((_ZERO, tenon.low[V], _ZERO), ((1, 0, 0), (0, 0, 1), (0, 1, 0)))
    ends = ((tenon.low[U], -wedging.slope_mm), (tenon.high[U], wedging.slope_mm))
    for at, out in ends:
        corners: list[tuple[Number, Number]] = [(at, _ZERO), (at + out, deep), (at, deep)]
        prism = Prism(frame, polygon(corners), extent(tenon, V))
        yield marking.on_second("mortise slope", prism)


def _wedges(marking: Marking, wedging: _Wedging) -> Hardware:
    thick = wedging.slope_mm + wedging.kerf_mm
    wide = extent(wedging.tenon, V)
    size = " x ".join(marking.show(own) for own in (wedging.deep_mm, wide, thick))
    return Hardware(kind="wedge", size=size, diameter_mm=thick, length_mm=wedging.deep_mm, count=2)


def _setting_out(marking: Marking, wedging: _Wedging) -> Iterator[SettingOut]:
    mark = marking.contact.first
    for number, at in enumerate(wedging.slots, start=1):
        yield mark_line(marking, mark, f"centre line of wedge slot {number}", axis=U, at=at)


def _warnings(marking: Marking) -> Iterator[Finding]:
    if marking.grain_of(marking.contact.second) == V:
        yield marking.warn(
            "J262",
            f"the wedges spread the tenon of {marking.first} across the grain of "
            f"{marking.second}, and split it",
            f"Needed: a tenon whose width lies along the grain of {marking.second}. Turn "
            f"{marking.first}, or leave the wedges out.",
        )


KIND = JointKind(
    code="wedged tenon",
    title="Wedged tenon",
    words=JointWords(
        code="wedged tenon",
        first="the part with the tenon",
        second="the part with the mortise",
        options=(
            *plain_options("through", "haunch", "haunch length"),
            Option(
                name="slope",
                type=OptionType.LENGTH,
                help="How much longer the mortise is at each end of its far face; 1 in 12 of its "
                "depth when left out.",
            ),
        ),
        help="A through tenon, slit at its end and spread by wedges in a mortise that flares.",
    ),
    fit=fit_wedged_tenon,
)
