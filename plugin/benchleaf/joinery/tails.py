"""Tails and pins along a corner: how many, how wide, at what slope; from widths and the wood.

Takes a Corner, gives the row of tails with its figures, sizes and numbers to set out by. The two
families of dovetails say how far the tails reach; this does the rest.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from benchleaf.findings import Finding
from benchleaf.handbook.materials import find_material
from benchleaf.joinery.corner import Corner, Flat
from benchleaf.joinery.marking import Marking
from benchleaf.joinery.proportions import (
    factor,
    planned,
    proportion,
    proposed,
    proposed_share,
    round_down,
    usual_mm,
    worked,
)
from benchleaf.joinery.records import JointSize, SettingOut
from benchleaf.reading.vocabulary import Option, OptionType

_Figure = tuple[Flat, ...]

# chosen: a tail narrower than twice a pin's least width at its root is a sliver.
_ROOT_TO_PIN = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """How far a side leans: so much across for 1 along."""

    lean: Fraction
    rule: str
    source: str

    @property
    def words(self) -> str:
        """`1:8, 7.1 degrees`."""
        along = 1 / self.lean
        shown = str(along) if along.denominator == 1 else f"{float(along):.1f}"
        return f"1:{shown}, {math.degrees(math.atan(self.lean)):.1f} degrees"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tails:
    """A row of tails at the end of the first board of a corner; mm."""

    corner: Corner
    spans: tuple[tuple[Fraction, Fraction], ...]
    """Each tail at its end, the widest, along the corner's edge."""
    flare_mm: Fraction
    """How much narrower a side is at the root."""
    slope: Slope
    tail: JointSize
    pin: JointSize
    half_pin: JointSize

    @property
    def roots(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """Each tail at its root, the narrowest."""
        return tuple((low + self.flare_mm, high - self.flare_mm) for low, high in self.spans)

    def tails(self) -> Iterator[_Figure]:
        """Each tail on the first board's face: what is cut from the second."""
        reach = self.corner.reach_mm
        for (low, high), (root_low, root_high) in zip(self.spans, self.roots, strict=True):
            yield ((root_low, Fraction(0)), (root_high, Fraction(0)), (high, reach), (low, reach))

    def waste(self) -> Iterator[_Figure]:
        """What stands between the tails and beside them: what is cut from the first."""
        reach, edge, zero = self.corner.reach_mm, self.corner.edge_mm, Fraction(0)
        ends = [(zero, zero), *self.spans, (edge, edge)]
        roots = [(zero, zero), *self.roots, (edge, edge)]
        for (one, other), (root, other_root) in zip(pairwise(ends), pairwise(roots), strict=True):
            yield ((root[1], zero), (other_root[0], zero), (other[0], reach), (one[1], reach))

    @property
    def sides_mm2(self) -> Fraction:
        """The area of all sloping sides, which is what glue holds, mm2."""
        slant = math.hypot(float(self.corner.reach_mm), float(self.flare_mm))
        side = Fraction(round(slant * 1000), 1000) * self.corner.first_mm
        return 2 * len(self.spans) * side


def lay_out_tails(corner: Corner) -> Tails:
    """Work out the tails of a corner."""
    marking = corner.marking
    slope = slope_of(marking)
    pin = _pin(corner)
    least_half = _half_pin(corner, pin)
    count = marking.count("tails") or _usual_count(corner, pin.value_mm, least_half.value_mm)
    room = corner.edge_mm - 2 * least_half.value_mm - (count - 1) * pin.value_mm
    flare = corner.reach_mm * slope.lean
    _refuse_slivers(corner, root=room / count - 2 * flare if count > 0 else Fraction(0))
    width, half = _shared_out(corner, count, room, pin=pin.value_mm)
    step = width + pin.value_mm
    spans = tuple((half + k * step, half + k * step + width) for k in range(count))
    is_given = marking.length("half pin") is not None
    shared = f"what {count} tails on the rule leave"
    return Tails(
        corner=corner,
        spans=spans,
        flare_mm=flare,
        slope=slope,
        tail=proposed("tail width at the end", width, key="tail width", rounding=f"{count} of them")
        if marking.count("tails") is None
        else worked("tail width at the end", width, f"{count} of them fill the width"),
        pin=pin,
        half_pin=least_half if is_given else worked("half pin at the edge", half, shared),
    )


def _shared_out(
    corner: Corner, count: int, room: Fraction, *, pin: Fraction
) -> tuple[Fraction, Fraction]:
    """Width of a tail, on the rule where it may be, and of the half pins, which take the rest."""
    width = room / count
    if corner.marking.length("half pin") is None:
        width = round_down(width, corner.marking.units) or width
    return width, (corner.edge_mm - count * width - (count - 1) * pin) / 2


def slope_of(marking: Marking) -> Slope:
    """The slope of a dovetail: the plan's, or what is usual in the wood of the tails."""
    given = marking.words("slope")
    if given:
        return Slope(lean=_read_slope(marking, given[0]), rule="from the plan", source="the plan")
    material = find_material(marking.bench.first.stock.material)
    wood = "panel" if material and material.panel else material.group if material else "hardwood"
    row = proportion(f"dovetail slope, {wood}")
    return Slope(lean=row.factor, rule=row.rule, source=row.source)


def _read_slope(marking: Marking, text: str) -> Fraction:
    one, colon, along = (word.strip() for word in text.partition(":"))
    is_plain = one == "1" and colon and along.isascii() and along.isdigit() and len(along) < 3
    if is_plain and int(along):
        return Fraction(1, int(along))
    raise marking.refuse(
        "J210",
        f"`slope: {text}` is no slope",
        "Needed: one across to so many along, such as 1:8.",
        option="slope",
    )


def _pin(corner: Corner) -> JointSize:
    marking = corner.marking
    given = marking.length("pin")
    if given is not None:
        return planned("pin at its narrow side", given)
    return proposed_share(
        "pin at its narrow side",
        corner.first_mm,
        key="dovetail pin width",
        units=marking.units,
        least_mm=usual_mm("dovetail pin width, least", marking.units),
    )


def _half_pin(corner: Corner, pin: JointSize) -> JointSize:
    """The least that a half pin may be, or what the plan has."""
    given = corner.marking.length("half pin")
    if given is not None:
        return planned("half pin at the edge", given)
    least = usual_mm("half pin width", corner.marking.units)
    value = max(least, pin.value_mm)
    return proposed("half pin at the edge", value, key="half pin width")


def _usual_count(corner: Corner, pin: Fraction, half: Fraction) -> int:
    wanted = factor("tail width") * max(corner.first_mm, corner.second_mm)
    share = (corner.edge_mm - 2 * half + pin) / (wanted + pin)
    return max(math.floor(share + Fraction(1, 2)), 1)


def _refuse_slivers(corner: Corner, *, root: Fraction) -> None:
    marking = corner.marking
    least = _ROOT_TO_PIN * usual_mm("dovetail pin width, least", marking.units)
    if root >= least:
        return
    shown = marking.show(max(root, Fraction(0)))
    raise marking.refuse(
        "J211",
        f"the tails would be {shown} wide at their roots, slivers that break off",
        f"Needed: at least {marking.show_with_unit(least)}. Take fewer tails, narrower pins or a "
        "steadier slope.",
        option="tails" if marking.count("tails") is not None else "pin",
    )


def tail_sizes(tails: Tails) -> tuple[JointSize, ...]:
    """Sizes that all dovetails have."""
    flare = JointSize(
        name="flare of each side",
        value_mm=tails.flare_mm,
        rule=f"{tails.slope.words}, over the length of the tails; {tails.slope.rule}",
        source=tails.slope.source,
    )
    reach = tails.corner.reach_mm
    return (
        worked("tail length", reach, f"as far as they go into {tails.corner.marking.second}"),
        tails.tail,
        tails.pin,
        tails.half_pin,
        flare,
    )


def set_out_tails(tails: Tails) -> Iterator[SettingOut]:
    """Where each tail stands, at its end and at its root; the pins are marked from them."""
    corner = tails.corner
    mark = corner.marking.contact.first
    yield corner.from_end(
        mark, "shoulder line, from the end", corner.reach_mm, spacer="gauge set to that length"
    )
    for what, spans in (("corner", tails.spans), ("root", tails.roots)):
        ordered = reversed(spans) if corner.is_from_high else spans
        for number, span in enumerate(ordered, start=1):
            near, far = reversed(span) if corner.is_from_high else span
            yield corner.from_edge(mark, f"near {what} of tail {number}", near)
            yield corner.from_edge(mark, f"far {what} of tail {number}", far)


def warn_of_tails(tails: Tails) -> Iterator[Finding]:
    """Say what of the plan's own choices is weak."""
    marking = tails.corner.marking
    least_half = usual_mm("half pin width", marking.units)
    if tails.half_pin.value_mm < least_half:
        yield marking.warn(
            "J212",
            f"half pins {marking.show(tails.half_pin.value_mm)} wide split off at the edges",
            f"Needed: at least {marking.show_with_unit(least_half)} at their narrow side.",
            option="half pin",
        )
    least = usual_mm("dovetail pin width, least", marking.units)
    if tails.pin.value_mm < least:
        yield marking.warn(
            "J213",
            f"pins {marking.show(tails.pin.value_mm)} wide at their narrow side leave no room for "
            "a chisel between the tails",
            f"Needed: at least {marking.show_with_unit(least)}.",
            option="pin",
        )
    steepest, flattest = factor("dovetail slope, steepest"), factor("dovetail slope, flattest")
    if not flattest <= tails.slope.lean <= steepest:
        yield marking.warn(
            "J214",
            f"a slope of {tails.slope.words.partition(',')[0]} "
            + ("leaves short grain" if tails.slope.lean > steepest else "hardly holds"),
            f"Needed: from 1:{1 / steepest} to 1:{1 / flattest}.",
            option="slope",
        )


TAILS = Option(
    name="tails",
    type=OptionType.COUNT,
    help="How many tails there are; by the width when left out.",
)
PIN = Option(
    name="pin",
    type=OptionType.LENGTH,
    help="How wide a pin is at its narrow side; a third of the thickness when left out.",
)
HALF_PIN = Option(
    name="half pin",
    type=OptionType.LENGTH,
    help="How wide the half pins at the edges are at their narrow side; what is left over when "
    "left out.",
)
SLOPE = Option(
    name="slope",
    type=OptionType.TEXT,
    help="The slope of the sides, such as 1:8; by the wood when left out.",
)
GLUE = Option(
    name="glue",
    type=OptionType.YES_NO,
    help="Whether it is glued; yes when left out.",
)
