"""Drawbored tenon: a peg through mortise and tenon, its hole in the tenon offset to draw it tight.

Dimensions:
    thickness, width, length: as for a plain mortise and tenon. Source: Port Townsend School of
        Woodworking.
    peg: at most 2/3 of the tenon's thickness, in stock sizes from 1/4 in (6 mm). Source: common
        practice, no source.
    distance: the peg's centre 2 diameters from the shoulder. Source: common practice, no source.
    draw: the hole in the tenon 1/32 in (1 mm) nearer to the shoulder in hardwood, 1/16 in (1.5 mm)
        in softwood. Source: common practice, no source.
    count: one peg in a tenon up to 2 in (50 mm) wide, two in a wider one. Source: common practice,
        no source.
    peg length: the part's thickness and 1/2 in (12 mm) for the taper that starts it. Source: common
        practice, no source.

Limits:
    At least 1-1/2 diameters of tenon are left beyond the peg, or it shears out. The draw is less
    than half of the peg.

Tools:
    Those of a mortise and tenon, a drill, a centre punch or the bit's own point, pegs of straight
    grain, a hammer.

Source:
    Common practice, no source, for pegs and draw; the tenon by the rules of the Port Townsend
    School of Woodworking, as reproduced in 2015.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.frames import Box
from benchleaf.handbook.tables import load_dowels
from benchleaf.joinery.marking import Marking, N, U, V, at_the_bench, hole, unit
from benchleaf.joinery.proportions import (
    factor,
    planned,
    proposed,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.screws import screw_group
from benchleaf.joinery.setting_out import mark_line
from benchleaf.joinery.tenon_forms import (
    block_of,
    extent,
    looks_outward,
    plain_options,
    plain_tenon,
)
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pegging:
    """Pegs through one tenon, mm."""

    tenon: Box
    diameter_mm: Fraction
    distance_mm: Fraction
    """From the shoulder to the centre of the hole in the mortised part."""
    draw_mm: Fraction
    """How much nearer to the shoulder the tenon's hole is."""
    length_mm: Fraction
    places: tuple[Fraction, ...]
    """Along u, ascending."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_drawbored_tenon(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a drawbored tenon out at one contact."""
    plain, said = plain_tenon(marking)
    pegging = _peg(marking, block_of(plain.first_features, "tenon"))
    peg = Hardware(
        kind="peg",
        size=marking.show_round(pegging.diameter_mm, pegging.length_mm),
        diameter_mm=pegging.diameter_mm,
        length_mm=pegging.length_mm,
        count=len(pegging.places),
    )
    is_high = looks_outward(marking, marking.contact.second, V)
    fit = replace(
        plain,
        kind=marking.chosen.kind,
        first_features=(*plain.first_features, *_first_holes(marking, pegging, is_high)),
        second_features=(*plain.second_features, *_second_holes(marking, pegging, is_high)),
        sizes=(*plain.sizes, *pegging.sizes),
        setting_out=(*plain.setting_out, *_setting_out(marking, pegging)),
        hardware=(peg,),
    )
    return fit, (*said, *_warnings(marking, pegging))


def _peg(marking: Marking, tenon: Box) -> _Pegging:
    diameter = _diameter(marking, tenon)
    distance = _distance(marking, tenon, diameter.value_mm)
    draw = _draw(marking, diameter.value_mm)
    places = _places(marking, tenon)
    thick = extent(marking.contact.second_box, V)
    spare = usual_mm("peg spare length", marking.units)
    length = proposed("peg length", thick + spare, key="peg spare length")
    return _Pegging(
        tenon=tenon,
        diameter_mm=diameter.value_mm,
        distance_mm=distance.value_mm,
        draw_mm=draw.value_mm,
        length_mm=length.value_mm,
        places=places,
        sizes=(diameter, distance, draw, length, *_inset(tenon, places)),
    )


def _inset(tenon: Box, places: tuple[Fraction, ...]) -> tuple[JointSize, ...]:
    rule = "in the middle of the tenon" if len(places) == 1 else "a quarter of the tenon's width"
    return (worked("peg, from the tenon's edge", places[0] - Fraction(tenon.low[U]), rule),)


def _diameter(marking: Marking, tenon: Box) -> JointSize:
    given = marking.length("peg")
    if given is not None:
        return planned("peg diameter", given)
    sold = load_dowels(marking.units).diameters_mm
    usual = extent(tenon, V) * factor("peg diameter")
    fitting = [size for size in sold if size <= usual] or [sold[0]]
    return proposed("peg diameter", fitting[-1], key="peg diameter")


def _distance(marking: Marking, tenon: Box, diameter: Fraction) -> JointSize:
    given, name = marking.length("distance"), "peg, from the shoulder"
    usual = diameter * factor("peg distance")
    size = proposed(name, usual, key="peg distance") if given is None else planned(name, given)
    most = extent(tenon, N) - diameter * factor("peg relish, least")
    if diameter <= size.value_mm <= most:
        return size
    raise marking.refuse(
        "J263",
        f"a {marking.show(diameter)} peg {marking.show(size.value_mm)} from the shoulder shears "
        f"out of a tenon {marking.show(extent(tenon, N))} long",
        f"Needed: from {marking.show(diameter)} to {marking.show(max(most, _ZERO))} from the "
        "shoulder. Take a thinner peg, or lengthen the tenon.",
        option="distance",
    )


def _draw(marking: Marking, diameter: Fraction) -> JointSize:
    given, name = marking.length("draw"), "draw"
    if given is None:
        key = f"draw in {screw_group(marking.bench.first.stock.material)}"
        return proposed(name, usual_mm(key, marking.units), key=key)
    if given < diameter / 2:
        return planned(name, given)
    raise marking.refuse(
        "J264",
        f"a draw of {marking.show(given)} bends a {marking.show(diameter)} peg until it breaks",
        f"Needed: less than {marking.show(diameter / 2)}; 1/32 in (1 mm) is usual in hardwood.",
        option="draw",
    )


def _places(marking: Marking, tenon: Box) -> tuple[Fraction, ...]:
    width, low = extent(tenon, U), Fraction(tenon.low[U])
    usual = 1 if width <= usual_mm("pegs, one up to", marking.units) else 2
    count = marking.count("pegs") or usual
    if count == 1:
        return (low + width / 2,)
    inset = max(round_down(width / 4, marking.units), width / 8)
    step = (width - 2 * inset) / (count - 1)
    return tuple(low + inset + index * step for index in range(count))


def _first_holes(marking: Marking, pegging: _Pegging, is_high: bool) -> Iterator[Feature]:
    tenon = pegging.tenon
    face = tenon.high[V] if is_high else tenon.low[V]
    for u in pegging.places:
        mouth = (u, face, pegging.distance_mm - pegging.draw_mm)
        bored = hole(
            mouth,
            unit(V, not is_high),
            diameter_mm=pegging.diameter_mm,
            depth_mm=extent(tenon, V),
        )
        yield marking.on_first("drawn peg hole", bored)


def _second_holes(marking: Marking, pegging: _Pegging, is_high: bool) -> Iterator[Feature]:
    box = marking.contact.second_box
    face = box.high[V] if is_high else box.low[V]
    for u in pegging.places:
        bored = hole(
            (u, face, pegging.distance_mm),
            unit(V, not is_high),
            diameter_mm=pegging.diameter_mm,
            depth_mm=extent(box, V),
        )
        yield marking.on_second("peg hole", bored)


def _setting_out(marking: Marking, pegging: _Pegging) -> Iterator[SettingOut]:
    second = marking.contact.second
    yield SettingOut(
        copy=second,
        what="centre line of the peg holes",
        reference=marking.own_face(second, unit(N, False)),
        distance_mm=pegging.distance_mm,
        spacer="",
    )
    for number, u in enumerate(pegging.places, start=1):
        yield mark_line(marking, second, f"centre of peg hole {number}", axis=U, at=u)


def _warnings(marking: Marking, pegging: _Pegging) -> Iterator[Finding]:
    edge = min(
        pegging.places[0] - Fraction(pegging.tenon.low[U]),
        Fraction(pegging.tenon.high[U]) - pegging.places[-1],
    )
    if edge < pegging.diameter_mm:
        yield marking.warn(
            "J265",
            f"a {marking.show(pegging.diameter_mm)} peg stands {marking.show(edge)} from the edge "
            "of its tenon, centre to edge",
            f"Needed: at least {marking.show(pegging.diameter_mm)}, 1 diameter. Take fewer pegs, "
            "or thinner ones.",
            option="pegs",
        )


KIND = JointKind(
    code="drawbored tenon",
    title="Drawbored tenon",
    words=JointWords(
        code="drawbored tenon",
        first="the part with the tenon",
        second="the part with the mortise",
        options=(
            *plain_options(),
            Option(
                name="peg",
                type=OptionType.LENGTH,
                help="Diameter of the pegs; at most 2/3 of the tenon's thickness, in stock sizes, "
                "when left out.",
            ),
            Option(
                name="pegs",
                type=OptionType.COUNT,
                help="Pegs in each tenon; one up to 2 in (50 mm) of width, two beyond, when left "
                "out.",
            ),
            Option(
                name="distance",
                type=OptionType.LENGTH,
                help="From the shoulder to the pegs' centre line; 2 diameters when left out.",
            ),
            Option(
                name="draw",
                type=OptionType.LENGTH,
                help="How much nearer to the shoulder the tenon's hole is; by the wood when left "
                "out.",
            ),
        ),
        help="A peg through mortise and tenon, its hole in the tenon offset to draw it tight.",
    ),
    fit=fit_drawbored_tenon,
)
