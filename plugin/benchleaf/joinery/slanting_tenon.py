"""Mortises and tenons of parts that meet at an angle: the shoulder slants, or the tenon does.

Takes a Marking whose parts are not square to one another, gives the joint. The tenon runs on along
the grain of its part and leans in its mortise, or stands square to the face that it goes into.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.forms import Prism
from benchleaf.frames import Axis, Frame, Vector, add, scale
from benchleaf.joinery.marking import Marking, N, U, V
from benchleaf.joinery.proportions import (
    factor,
    planned,
    proposed,
    round_down,
    stock_tenon_mm,
    usual_mm,
    worked,
)
from benchleaf.joinery.reach import bearable_mm
from benchleaf.joinery.records import JointFit, JointSize, SettingOut
from benchleaf.joinery.setting_out import mark_depth, mark_line
from benchleaf.outlines import polygon
from benchleaf.piece.records import Part

_ZERO = Fraction(0)
# chosen: beyond this a tenon is all slope, and its mortise cannot be chopped.
_STEEPEST_DEG = 45
# chosen: a mortise is cut from a little outside, so that its mouth is open all over. mm
_CLEAR_MM = Fraction(1)
_SQUARE_ONLY = (
    "through",
    "shoulder",
    "face shoulder",
    "edge shoulder",
    "shoulders",
    "haunch",
    "haunch length",
    "stub",
    "offset",
)
"""Options of tenons between parts that are square to one another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tongue:
    """A tenon in the contact's frame, mm."""

    mouth: Vector
    """Where its middle line goes through the touching face."""
    axes: tuple[Vector, Vector, Vector]
    """Along its width, along its thickness, and from the first part into the second."""
    width_mm: Fraction
    thickness_mm: Fraction
    length_mm: Fraction
    """Along its middle line, from the touching face."""
    clearance_mm: Fraction
    sizes: tuple[JointSize, ...]

    @property
    def slant_mm(self) -> Fraction:
        """How far along its line the touching face cuts it, before and after the middle."""
        reach = _corner_reach_mm(self.axes, self.width_mm, self.thickness_mm)
        return Fraction(math.ceil(reach / float(self.axes[2][N]) * 1000), 1000)


def fit_slanting_tenon(marking: Marking) -> JointFit:
    """Work a mortise and tenon out between parts that meet at an angle."""
    for option in _SQUARE_ONLY:
        if option in marking.chosen.choices:
            raise marking.refuse(
                "J154",
                f"{marking.first} and {marking.second} meet at an angle, and `{option}` is for "
                "tenons between square parts",
                "Needed: `thickness`, `width` and `length` only; or a `round tenon`.",
                option=option,
            )
    tongue = _tongue(marking)
    length = tongue.length_mm
    return marking.made(
        (
            (marking.on_first("slanting tenon", _prism(tongue, 0, 0), adds=True),),
            (marking.on_second("slanting mortise", _prism(tongue, 1, tongue.clearance_mm)),),
        ),
        numbers=(
            (*tongue.sizes, *_angles(marking)),
            tuple(_setting_out(marking, tongue)),
        ),
        free=(scale(tongue.axes[2], -1),),
        glued_mm2=2 * (tongue.width_mm + tongue.thickness_mm) * length,
    )


def _prism(tongue: _Tongue, outside: int, deeper_mm: Fraction | int) -> Prism:
    """The tongue from where it leaves its part; `outside` of 1 begins in front of the face."""
    before = tongue.slant_mm + outside * _CLEAR_MM
    start = add(tongue.mouth, scale(tongue.axes[2], -before))
    half_w, half_t = tongue.width_mm / 2, tongue.thickness_mm / 2
    corners = [(-half_w, -half_t), (half_w, -half_t), (half_w, half_t), (-half_w, half_t)]
    return Prism(Frame(start, tongue.axes), polygon(corners), before + tongue.length_mm + deeper_mm)


def _tongue(marking: Marking) -> _Tongue:
    part, contact = marking.bench.first, marking.contact
    axes = _axes(marking, part)
    thickness = _thickness(marking, part)
    width = _width(marking, part)
    clearance = usual_mm("mortise depth clearance", marking.units)
    corner = _corner_reach_mm(axes, width.value_mm, thickness.value_mm)
    room = float(bearable_mm(marking, contact.second)) - corner
    most = Fraction(math.floor(room / float(axes[2][N]) * 1000), 1000) - clearance
    length = _length(marking, thickness.value_mm, most)
    return _Tongue(
        mouth=(contact.u_mm / 2, contact.v_mm / 2, _ZERO),
        axes=axes,
        width_mm=width.value_mm,
        thickness_mm=thickness.value_mm,
        length_mm=length.value_mm,
        clearance_mm=clearance,
        sizes=(
            thickness,
            width,
            length,
            worked(
                "mortise depth",
                length.value_mm + clearance,
                "along the tenon, its length and the clearance",
            ),
            proposed("depth clearance", clearance, key="mortise depth clearance"),
        ),
    )


def _corner_reach_mm(
    axes: tuple[Vector, Vector, Vector], width_mm: Fraction, thickness_mm: Fraction
) -> float:
    """How far a corner of the end lies beyond its middle, square to the face, mm."""
    return float(width_mm) / 2 * abs(float(axes[0][N])) + float(thickness_mm) / 2 * abs(
        float(axes[1][N])
    )


def _grain(marking: Marking) -> Vector:
    copy = marking.bench.piece.copies[marking.contact.first]
    way = copy.frame.axes[marking.bench.first.grain_axis]
    inward = marking.contact.frame.inward_direction(way)
    return inward if inward[N] > 0 else scale(inward, -1)


def _axes(marking: Marking, part: Part) -> tuple[Vector, Vector, Vector]:
    grain = _grain(marking)
    if float(grain[N]) < math.cos(math.radians(_STEEPEST_DEG)) - 1e-9:
        angle = math.degrees(math.acos(min(float(grain[N]), 1.0)))
        raise marking.refuse(
            "J155",
            f"the grain of {marking.first} meets {marking.second} {angle:.0f} degrees off square, "
            "too slanting for a tenon",
            f"Needed: at most {_STEEPEST_DEG} degrees. Turn the part, or its `grain`.",
        )
    frame = marking.contact.frame
    copy = marking.bench.piece.copies[marking.contact.first]
    width, thick = (
        frame.inward_direction(copy.frame.axes[axis])
        for axis in (part.width_axis, part.thickness_axis)
    )
    if "square" not in marking.words("tenon"):
        return (width, thick, grain)
    is_along = abs(float(width[U])) >= abs(float(width[V]))
    return ((1, 0, 0), (0, 1, 0), (0, 0, 1)) if is_along else ((0, 1, 0), (1, 0, 0), (0, 0, 1))


def _side_mm(part: Part, axis: Axis) -> Fraction:
    return Fraction(part.box.size[axis])


def _thickness(marking: Marking, part: Part) -> JointSize:
    side = _side_mm(part, part.thickness_axis)
    given = marking.length("thickness")
    if given is None:
        return proposed(
            "tenon thickness", stock_tenon_mm(side, marking.units), key="tenon thickness"
        )
    return _within(marking, given, side, name="thickness")


def _width(marking: Marking, part: Part) -> JointSize:
    side = _side_mm(part, part.width_axis)
    given = marking.length("width")
    if given is None:
        return proposed(
            "tenon width",
            round_down(side * factor("tenon width"), marking.units),
            key="tenon width",
        )
    return _within(marking, given, side, name="width")


def _within(marking: Marking, given: Fraction, side: Fraction, *, name: str) -> JointSize:
    if 0 < given <= side:
        return planned(f"tenon {name}", given)
    raise marking.refuse(
        "J156",
        f"a tenon {marking.show(given)} in {name} does not stay within the {marking.show(side)} of "
        f"{marking.first}",
        f"Needed: more than 0 and at most {marking.show(side)}.",
        option=name,
    )


def _length(marking: Marking, thickness: Fraction, most: Fraction) -> JointSize:
    given = marking.length("length")
    usual = round_down(min(thickness * factor("mortise depth to width, most"), most), marking.units)
    length = usual if given is None else given
    if not 0 < length <= most:
        raise marking.refuse(
            "J157",
            f"a tenon {marking.show(length)} long goes too far into {marking.second} at this angle",
            f"Needed: more than 0 and at most {marking.show(max(most, _ZERO))}, which leaves "
            f"{marking.show(marking.bench.wall_mm)} beyond the lowest corner of its mortise.",
            option="length",
        )
    if given is not None:
        return planned("tenon length", given)
    return proposed("tenon length", usual, key="mortise depth to width, most")


def _angles(marking: Marking) -> Iterator[JointSize]:
    lean = math.degrees(math.acos(min(float(_grain(marking)[N]), 1.0)))
    rule = f"between {marking.first} and a line square to the face of {marking.second}"
    value = Fraction(lean).limit_denominator(10**6)
    yield JointSize(name="lean", value_mm=value, rule=rule, source="worked out", is_angle=True)


def _setting_out(marking: Marking, tongue: _Tongue) -> Iterator[SettingOut]:
    contact = marking.contact
    for axis, at in ((U, tongue.mouth[U]), (V, tongue.mouth[V])):
        yield mark_line(marking, contact.second, "middle of the mortise", axis=axis, at=at)
    yield SettingOut(
        copy=contact.first,
        what="shoulder line in the middle, from the end of the tenon",
        reference=marking.own_face(contact.first, (0, 0, 1)),
        distance_mm=tongue.length_mm,
        spacer="",
    )
    yield mark_depth(
        marking,
        contact.second,
        "depth of the mortise, along the tenon",
        distance=tongue.length_mm + tongue.clearance_mm,
        spacer="depth stop, or tape on the chisel",
    )
