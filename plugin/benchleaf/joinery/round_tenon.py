"""Round tenon: the end of a part shaved round and driven into a hole bored along its own line.

Dimensions:
    diameter: 2/3 of the thinner side of the part, down to the next 1/8 in (2 mm), as bits are sold.
        Source: common practice, no source.
    tenon length: right through where `through` says so; else as deep as the shop's wall allows.
        Source: worked out.
    mortise depth: 1/16 in (1.5 mm) deeper than the tenon is long; right through for a through
        tenon. Source: common practice, no source.
    shoulder: what is left of the part beside the tenon. Source: worked out.
    lean and sight line: the angle between the tenon and a line square to the face, and the line on
        the face in which it leans, from the grain. Source: worked out, tan2 of the lean is the sum
        of tan2 of the splays seen from the front and from the side.
    slot for a wedge: one saw cut across the grain of the mortised part, 2/3 of the tenon's length
        deep. Source: common practice, no source.

Limits:
    The tenon runs along the grain of its part, and leans at most 45 degrees. It keeps a shoulder of
    1/8 in (3 mm) all round. A blind mortise keeps the shop's wall beyond its lowest point. A wedge
    goes into a through tenon only.

Tools:
    A drill with a bit of the tenon's diameter, a sliding bevel set to the lean, a tenon saw for the
    shoulder, a spokeshave; a fine saw and a mallet for the wedge.

Source:
    Common practice, no source; the angles follow from the parts as they stand.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Bore, Prism
from benchleaf.frames import Axis, Frame, Vector, add, dot, scale, subtract
from benchleaf.joinery.dowel_sizes import round_area_mm2
from benchleaf.joinery.marking import Marking, N, U, V, at_any_angle, hole
from benchleaf.joinery.proportions import factor, planned, proposed, usual_mm, worked
from benchleaf.joinery.reach import bearable_mm, extent_mm
from benchleaf.joinery.records import (
    Feature,
    Hardware,
    JointFit,
    JointKind,
    JointSize,
    SettingOut,
)
from benchleaf.joinery.setting_out import mark_depth, mark_line
from benchleaf.lengths import MM_PER_INCH
from benchleaf.outlines import ellipse, polygon
from benchleaf.piece.records import ContactKind
from benchleaf.reading.vocabulary import JointWords, Option, OptionType

_ZERO = Fraction(0)
# chosen: beyond this a bit wanders off its centre, and no bevel guides it.
_STEEPEST_DEG = 45
# chosen: more wood than any rounding leaves, so that a hole opens the whole of both faces. mm
_CLEAR_MM = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pin:
    """A round tenon in the contact's frame, mm."""

    mouth: Vector
    """Where its line goes through the touching face."""
    way: Vector
    """Unit vector from the first part into the second."""
    lean_rad: float
    diameter_mm: Fraction
    tenon_mm: Fraction
    """Along its line, from the touching face to the middle of its end."""
    mortise_mm: Fraction
    is_through: bool
    sizes: tuple[JointSize, ...]

    @property
    def slant_mm(self) -> Fraction:
        """How far along its line the touching face cuts it, before and after the middle."""
        return _up(float(self.diameter_mm) / 2 * math.tan(self.lean_rad))


@at_any_angle
def fit_round_tenon(marking: Marking) -> tuple[JointFit, tuple[Finding, ...]]:
    """Work a round tenon out at one contact."""
    marking.need(ContactKind.FACE)
    pin = _pin(marking)
    wedged = _is_wedged(marking, pin)
    tenon = tuple(_tenon(marking, pin))
    slot = tuple(_slot(marking, pin)) if wedged else ()
    length = min(pin.tenon_mm, pin.mortise_mm)
    fit = marking.made(
        ((*tenon, *slot), (_mortise(marking, pin),)),
        numbers=((*pin.sizes, *_angles(marking, pin)), tuple(_setting_out(marking, pin))),
        free=(scale(pin.way, -1),),
        glued_mm2=round_area_mm2(pin.diameter_mm, length),
        hardware=(_wedge(marking, pin),) if wedged else (),
    )
    return fit, ()


def _up(length_mm: float) -> Fraction:
    """A length that an angle made inexact, to the next thousandth of a millimetre above."""
    return Fraction(math.ceil(length_mm * 1000 - 1e-6), 1000)


# The pin.


def _pin(marking: Marking) -> _Pin:
    contact = marking.contact
    way = _way(marking)
    lean = math.acos(min(float(way[N]), 1.0))
    diameter = _diameter(marking)
    is_through = marking.is_yes("through", usually=False)
    thick = extent_mm(marking, contact.second)
    if is_through:
        along = _up(float(thick) / math.cos(lean))
        rule = f"all the way through {marking.second}"
        sizes: tuple[JointSize, ...] = (
            worked("tenon length", along, rule),
            worked("mortise depth", along, rule),
        )
    else:
        sizes = _blind(marking, lean, diameter.value_mm)
    shoulder = (min(_section(marking)) - diameter.value_mm) / 2
    return _Pin(
        mouth=(contact.u_mm / 2, contact.v_mm / 2, _ZERO),
        way=way,
        lean_rad=lean,
        diameter_mm=diameter.value_mm,
        tenon_mm=sizes[0].value_mm,
        mortise_mm=sizes[1].value_mm,
        is_through=is_through,
        sizes=(diameter, *sizes, worked("shoulder", shoulder, "what is left beside the tenon")),
    )


def _way(marking: Marking) -> Vector:
    """The grain of the first part, towards the second."""
    way = _grain_in_contact(marking, marking.contact.first)
    if way[N] < 0:
        way = scale(way, -1)
    if float(way[N]) < math.cos(math.radians(_STEEPEST_DEG)) - 1e-9:
        angle = math.degrees(math.acos(min(float(way[N]), 1.0)))
        raise marking.refuse(
            "J150",
            f"a round tenon runs along the grain of {marking.first}, and that meets "
            f"{marking.second} {angle:.0f} degrees off square",
            f"Needed: at most {_STEEPEST_DEG} degrees. Turn the part, or its `grain`.",
        )
    return way


def _grain_in_contact(marking: Marking, mark: str) -> Vector:
    copy = marking.bench.piece.copies[mark]
    return marking.contact.frame.inward_direction(copy.frame.axes[marking.part_of(mark).grain_axis])


def _section(marking: Marking) -> list[Fraction]:
    """The sides of the first part across its grain, mm."""
    part = marking.bench.first
    return [Fraction(part.box.size[axis]) for axis in Axis if axis is not part.grain_axis]


def _diameter(marking: Marking) -> JointSize:
    thin = min(_section(marking))
    given, least = marking.length("diameter"), usual_mm("round shoulder, least", marking.units)
    if given is None:
        step = MM_PER_INCH / 8 if marking.units == "in" else Fraction(2)
        wanted = math.floor(thin * factor("round tenon diameter") / step) * step
        rounding = "down to the next bit"
        return proposed(
            "tenon diameter", max(wanted, step), key="round tenon diameter", rounding=rounding
        )
    if 0 < given <= thin - 2 * least:
        return planned("tenon diameter", given)
    raise marking.refuse(
        "J151",
        f"a tenon {marking.show(given)} across leaves no shoulder on the {marking.show(thin)} of "
        f"{marking.first}",
        f"Needed: more than 0 and at most {marking.show(thin - 2 * least)}.",
        option="diameter",
    )


def _blind(
    marking: Marking, lean: float, diameter: Fraction
) -> tuple[JointSize, JointSize, JointSize]:
    """Length and depth of a blind tenon, whose lowest point keeps the wall."""
    clearance = usual_mm("round mortise clearance", marking.units)
    bearable = bearable_mm(marking, marking.contact.second)
    lowest = float(bearable) - float(diameter) / 2 * math.sin(lean)
    most = Fraction(math.floor(lowest / math.cos(lean) * 1000), 1000) - clearance
    given = marking.length("length")
    length = most if given is None else given
    if not 0 < length <= most:
        raise marking.refuse(
            "J152",
            f"a round tenon {marking.show(length)} long goes too far into {marking.second}",
            f"Needed: more than 0 and at most {marking.show(max(most, _ZERO))}, which leaves "
            f"{marking.show(marking.bench.wall_mm)} beyond the lowest point of its hole; or "
            "`through: yes`.",
            option="length",
        )
    rule = f"as deep as the wall in {marking.second} allows"
    return (
        planned("tenon length", length)
        if given is not None
        else worked("tenon length", length, rule),
        worked("mortise depth", length + clearance, "the tenon's length and the clearance"),
        proposed("depth clearance", clearance, key="round mortise clearance"),
    )


def _is_wedged(marking: Marking, pin: _Pin) -> bool:
    if not marking.is_yes("wedged", usually=False):
        return False
    if pin.is_through:
        return True
    raise marking.refuse(
        "J153",
        "a wedge is driven into a tenon from the far side, and this tenon does not come through",
        "Needed: `through: yes`, or no wedge.",
        option="wedged",
    )


# What is cut.


def _tenon(marking: Marking, pin: _Pin) -> Iterator[Feature]:
    back = add(pin.mouth, scale(pin.way, -pin.slant_mm))
    long = pin.tenon_mm + pin.slant_mm
    if pin.is_through:
        long += pin.slant_mm
    shape = hole(back, pin.way, diameter_mm=pin.diameter_mm, depth_mm=long)
    yield marking.on_first("round tenon", shape, adds=True)
    if pin.is_through and pin.lean_rad > 0:
        yield marking.on_first("tenon end", _beyond(marking, pin))


def _beyond(marking: Marking, pin: _Pin) -> Prism:
    """What stands out of the far face: a round that holds all of it, drawn out from that face."""
    far = extent_mm(marking, marking.contact.second)
    out = add(pin.mouth, scale(pin.way, pin.tenon_mm))
    reach = pin.diameter_mm + pin.slant_mm
    units: tuple[Vector, Vector, Vector] = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    frame = Frame((out[U], out[V], far), units)
    return Prism(frame, ellipse((_ZERO, _ZERO), (reach, reach)), 2 * pin.slant_mm + _CLEAR_MM)


def _mortise(marking: Marking, pin: _Pin) -> Feature:
    start = add(pin.mouth, scale(pin.way, -(pin.slant_mm + _CLEAR_MM)))
    deep = pin.mortise_mm + pin.slant_mm + _CLEAR_MM
    if pin.is_through:
        deep += pin.slant_mm + _CLEAR_MM
    shape = Bore(start, pin.way, pin.diameter_mm, deep, pin.diameter_mm)
    return marking.on_second("round mortise", shape)


def _slot(marking: Marking, pin: _Pin) -> Iterator[Feature]:
    """A saw cut down the tenon, so that the wedge spreads it along the grain of the mortise."""
    grain = _grain_in_contact(marking, marking.contact.second)
    flat = subtract(grain, scale(pin.way, dot(grain, pin.way)))
    size = math.sqrt(float(dot(flat, flat)))
    if size < 0.1:  # end grain: either way will do
        flat, size = (1, 0, 0), 1.0
    spread = scale(flat, 1 / size)
    across = _cross(pin.way, spread)
    kerf = usual_mm("wedge kerf", marking.units)
    half, wide = kerf / 2, pin.diameter_mm / 2 + _CLEAR_MM
    deep = _slot_depth(pin)
    foot = add(pin.mouth, scale(pin.way, pin.tenon_mm - deep))
    corners = [(-half, -wide), (half, -wide), (half, wide), (-half, wide)]
    frame = Frame(foot, (spread, across, pin.way))
    shape = Prism(frame, polygon(corners), deep + pin.slant_mm + _CLEAR_MM)
    yield marking.on_first("round tenon slot", shape)


def _cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def _slot_depth(pin: _Pin) -> Fraction:
    return pin.tenon_mm * factor("wedge slot depth")


def _wedge(marking: Marking, pin: _Pin) -> Hardware:
    """As wide as the tenon; twice as thick as its slot, so that it spreads it."""
    thick, deep = 2 * usual_mm("wedge kerf", marking.units), _slot_depth(pin)
    sixteenth = MM_PER_INCH / 16 if marking.units == "in" else Fraction(1)
    long = math.ceil(deep / sixteenth) * sixteenth
    size = " x ".join(marking.show(own) for own in (long, pin.diameter_mm, thick))
    return Hardware(kind="wedge", size=size, diameter_mm=thick, length_mm=long, count=1)


# Numbers.


def _angles(marking: Marking, pin: _Pin) -> Iterator[JointSize]:
    if pin.lean_rad < math.radians(0.005):
        return
    lean = math.degrees(pin.lean_rad)
    rule = "the resultant of both splays, from square to the face"
    yield _angle("lean", lean, rule)
    line = sight_line_deg(_grain_in_contact(marking, marking.contact.second), pin.way)
    yield _angle("sight line", line, f"on the face, from the grain of {marking.second}")


def _angle(name: str, angle_deg: float, rule: str) -> JointSize:
    value = Fraction(angle_deg).limit_denominator(10**6)
    return JointSize(name=name, value_mm=value, rule=rule, source="worked out", is_angle=True)


def sight_line_deg(grain: Vector, way: Vector) -> float:
    """The angle between the grain and the line in which a tenon leans, on the face, 0 to 90.

    Args:
        grain: Of the mortised part, in the contact's frame.
        way: Of the tenon, in the contact's frame.

    >>> round(sight_line_deg((1, 0, 0), (0.2, 0.2, 0.96)), 6)
    45.0
    """
    along = abs(float(grain[U] * way[U] + grain[V] * way[V]))
    across = abs(float(grain[U] * way[V] - grain[V] * way[U]))
    return math.degrees(math.atan2(across, along))


def _setting_out(marking: Marking, pin: _Pin) -> Iterator[SettingOut]:
    contact = marking.contact
    for axis, at in ((U, pin.mouth[U]), (V, pin.mouth[V])):
        yield mark_line(marking, contact.second, "centre of the round mortise", axis=axis, at=at)
    yield SettingOut(
        copy=contact.first,
        what="shoulder line in the middle, from the end of the tenon",
        reference=marking.own_face(contact.first, pin.way),
        distance_mm=pin.tenon_mm + (pin.slant_mm if pin.is_through else 0),
        spacer="",
    )
    if not pin.is_through:
        yield mark_depth(
            marking,
            contact.second,
            "depth of the round mortise, along the bit",
            distance=pin.mortise_mm,
            spacer="depth stop, or tape on the bit",
        )


KIND = JointKind(
    code="round tenon",
    title="Round tenon",
    words=JointWords(
        code="round tenon",
        first="the part with the tenon",
        second="the part that is bored",
        options=(
            Option(
                name="diameter",
                type=OptionType.LENGTH,
                help="Diameter of the tenon; 2/3 of the part, down to the next bit, when left out.",
            ),
            Option(
                name="length",
                type=OptionType.LENGTH,
                help="Length of a blind tenon, along its own line; as long as the wall allows when "
                "left out.",
            ),
            Option(
                name="through",
                type=OptionType.YES_NO,
                help="Whether the tenon goes right through; no when left out.",
            ),
            Option(
                name="wedged",
                type=OptionType.YES_NO,
                help="Whether a wedge is driven into the end of a through tenon; no when left out.",
            ),
        ),
        help="The end of a part, shaved round, in a hole bored along its own line.",
    ),
    fit=fit_round_tenon,
)
