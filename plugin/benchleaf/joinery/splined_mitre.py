"""Splined mitre: a mitre with a groove in both cuts, and a spline of wood glued into the two.

Dimensions:
    angle: as for a plain mitre. Source: worked out.
    spline thickness: a quarter of the parts' thickness, down to the 1/16 in (1 mm). Source: common
        practice, no source.
    spline depth: 2 of its thicknesses into each part, square to the cut. Source: common practice,
        no source.
    clearance: each groove 1/32 in (1 mm) deeper than the spline goes. Source: common practice, no
        source.
    place: in the middle of a frame's thickness; in a box a third of the cut from the inner corner,
        where the wood is deep. Source: common practice, no source.

Limits:
    The groove stays within the wood beside the cut. The spline's grain runs across the cut, or it
    splits along it.

Tools:
    Those of a mitre, a table saw with a jig at 45 degrees or a router table for the grooves.

Source:
    Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Prism
from benchleaf.joinery.marking import Marking, at_the_bench
from benchleaf.joinery.mitring import PAST_MM, Flat, Mitre, find_mitre
from benchleaf.joinery.proportions import (
    factor,
    grid_mm,
    grid_words,
    planned,
    proposed,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.records import Hardware, JointFit, JointKind, JointSize
from benchleaf.reading.vocabulary import JointWords, Option, OptionType


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spline:
    """A spline in its grooves, mm."""

    thick_mm: Fraction
    into_mm: Fraction
    """Into each part, square to the cut."""
    deep_mm: Fraction
    """Of each groove."""
    place_mm: Fraction
    """Centre line: along the corner's edge in a frame, along the cut from outside in a box."""
    sizes: tuple[JointSize, ...]


@at_the_bench
def fit_splined_mitre(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a splined mitre out at one corner."""
    mitre = find_mitre(marking)
    spline = _spline(mitre)
    first, second = mitre.waste()
    length = mitre.length_mm if mitre.is_flat else mitre.edge_mm
    off = mitre.off
    free = (off,) if mitre.is_flat else (off, *_ways_along(mitre))
    fit = mitre.marking.made(
        (
            (first, mitre.marking.on_first("spline groove", _groove(mitre, spline, 1))),
            (second, mitre.marking.on_second("spline groove", _groove(mitre, spline, -1))),
        ),
        numbers=((*mitre.sizes(), *spline.sizes), tuple(mitre.setting_out())),
        free=free,
        glued_mm2=mitre.length_mm * mitre.edge_mm + 4 * spline.into_mm * length,
        hardware=(_piece(mitre, spline, length),),
    )
    return fit, ()


def _ways_along(mitre: Mitre) -> tuple[tuple[int, int, int], ...]:
    """Both ways along the edge of a box's corner, along which the spline runs."""
    low, high = [0, 0, 0], [0, 0, 0]
    low[mitre.edge_axis], high[mitre.edge_axis] = -1, 1
    return ((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _thickness_mm(mitre: Mitre) -> Fraction:
    """Thickness of the thinner part: a frame's along its edge, a box's across it."""
    return mitre.edge_mm if mitre.is_flat else min(mitre.first_mm, mitre.second_mm)


def _spline(mitre: Mitre) -> _Spline:
    marking = mitre.marking
    thick = _thickness(mitre)
    clear = proposed(
        "clearance in each groove",
        usual_mm("spline clearance", marking.units),
        key="spline clearance",
    )
    place = mitre.edge_mm / 2 if mitre.is_flat else mitre.length_mm * factor("mitre dowel place")
    room = room_mm(mitre, place if not mitre.is_flat else mitre.length_mm / 2)
    if not mitre.is_flat:
        room -= thick.value_mm / 2
    into = _into(mitre, thick.value_mm, room - clear.value_mm)
    deep = into.value_mm + clear.value_mm
    if into.value_mm <= 0 or deep > room:
        most = max(room - clear.value_mm, Fraction(0))
        raise marking.refuse(
            "J276",
            f"a spline {marking.show(into.value_mm)} into each part comes out of "
            f"{marking.first} or {marking.second}",
            f"Needed: more than 0 and at most {marking.show(round_down(most, marking.units))}.",
            option="depth",
        )
    return _Spline(
        thick_mm=thick.value_mm,
        into_mm=into.value_mm,
        deep_mm=deep,
        place_mm=place,
        sizes=(
            thick,
            into,
            clear,
            worked("groove depth", deep, "what the spline goes in, and the clearance"),
        ),
    )


def _into(mitre: Mitre, thick: Fraction, most: Fraction) -> JointSize:
    """How far the spline goes into each part: the author's, or what is usual and fits."""
    marking, name = mitre.marking, "spline into each part"
    given = marking.length("depth")
    if given is not None:
        return planned(name, given)
    usual = thick * factor("spline depth")
    fitting = round_down(most, marking.units)
    if usual <= fitting:
        return proposed(name, usual, key="spline depth")
    return proposed(name, fitting, key="spline depth", rounding="or what the corner bears")


def room_mm(mitre: Mitre, at_mm: Fraction) -> Fraction:
    """How deep a hole square to the cut may be, the shop's wall left, mm.

    Args:
        mitre: The mitre.
        at_mm: Where on the cut, from its outer end.
    """
    # Square to the cut it comes nearer to the outer faces: similar triangles.
    beside = at_mm * min(mitre.first_mm / mitre.second_mm, mitre.second_mm / mitre.first_mm)
    return max(beside - mitre.marking.bench.wall_mm, Fraction(0))


def _thickness(mitre: Mitre) -> JointSize:
    marking = mitre.marking
    given, name = marking.length("thickness"), "spline thickness"
    whole = _thickness_mm(mitre)
    if given is None:
        usual = round_down(whole * factor("spline thickness"), marking.units)
        usual = max(usual, grid_mm(marking.units))
        rounding = f"down to the {grid_words(marking.units)}"
        return proposed(name, usual, key="spline thickness", rounding=rounding)
    if 0 < given <= whole / 2:
        return planned(name, given)
    raise marking.refuse(
        "J277",
        f"a spline {marking.show(given)} thick leaves too little beside it in "
        f"{marking.show(whole)}",
        f"Needed: more than 0 and at most {marking.show(whole / 2)}; a quarter is usual.",
        option="thickness",
    )


def _groove(mitre: Mitre, spline: _Spline, side: int) -> Prism:
    """The groove in the first part (side 1) or in the second (side -1)."""
    out, half = side * spline.deep_mm, spline.thick_mm / 2
    if mitre.is_flat:
        # Out through both ends of the cut, however they slant.
        past = 2 * spline.deep_mm
        low, high = -past, mitre.length_mm + past
        edge = (spline.place_mm - half, spline.place_mm + half)
    else:
        low, high = spline.place_mm - half, spline.place_mm + half
        edge = (-PAST_MM, mitre.edge_mm + PAST_MM)
    zero = Fraction(0)
    flat: list[Flat] = [(low, zero), (high, zero), (high, out), (low, out)]
    return mitre.prism(flat, edge)


def _piece(mitre: Mitre, spline: _Spline, length: Fraction) -> Hardware:
    marking = mitre.marking
    sizes = (spline.thick_mm, 2 * spline.into_mm, length)
    return Hardware(
        kind="spline",
        size=" x ".join(marking.show(own) for own in sizes),
        diameter_mm=spline.thick_mm,
        length_mm=length,
        count=1,
    )


KIND = JointKind(
    code="splined mitre",
    title="Splined mitre",
    words=JointWords(
        code="splined mitre",
        first="one part",
        second="the other part",
        options=(
            Option(
                name="thickness",
                type=OptionType.LENGTH,
                help="Thickness of the spline; a quarter of the parts' thickness when left out.",
            ),
            Option(
                name="depth",
                type=OptionType.LENGTH,
                help="How far the spline goes into each part; 2 of its thicknesses when left out.",
            ),
        ),
        help="A mitre with a groove in both cuts, and a spline of wood glued into the two.",
    ),
    fit=fit_splined_mitre,
)
