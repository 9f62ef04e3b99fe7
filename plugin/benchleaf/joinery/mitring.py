"""Mitres: two parts drawn to the outside of a corner, each cut from the inner corner to the outer.

Takes a Marking, gives the mitre with its own axes: along the cut, off the cut into the first part,
and along the corner's edge. Knows no single family.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.forms import Prism
from benchleaf.frames import Frame, Number, Vector
from benchleaf.joinery.marking import CannotJoinError, Marking, N, unit
from benchleaf.joinery.proportions import worked
from benchleaf.joinery.records import Feature, JointSize, SettingOut
from benchleaf.outlines import polygon
from benchleaf.piece.records import ContactKind

_ZERO = Fraction(0)
# chosen: what is cut off reaches this far past the wood, so that rounding leaves no film at a face.
PAST_MM = Fraction(1)
Flat = tuple[Number, Number]
"""A point across the mitre: along the cut from the outer corner, and off it into the first part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mitre:
    """A mitre, in the contact's frame; the first part runs along n."""

    marking: Marking
    second_axis: int
    """The contact's axis that the second part runs along."""
    edge_axis: int
    """The contact's axis along the edge of the corner."""
    is_first_high: bool
    """Whether the first part goes on towards high n."""
    is_second_high: bool
    """Whether the second part goes on towards its high side."""

    @property
    def first_mm(self) -> Fraction:
        """How far the corner reaches along the first part: the second's width there."""
        return self.marking.contact.n_mm

    @property
    def second_mm(self) -> Fraction:
        """How far the corner reaches along the second part: the first's width there."""
        return self._extent(self.second_axis)

    @property
    def edge_mm(self) -> Fraction:
        """Length of the corner's edge: the thickness of a frame, the height of a box."""
        return self._extent(self.edge_axis)

    def _extent(self, axis: int) -> Fraction:
        contact = self.marking.contact
        return (contact.u_mm, contact.v_mm, contact.n_mm)[axis]

    @property
    def length_mm(self) -> Fraction:
        """Length of the cut, from the outer corner to the inner, to a thousandth."""
        length = math.hypot(self.first_mm, self.second_mm)
        return Fraction(round(length * 1000), 1000)

    @property
    def is_flat(self) -> bool:
        """Tell whether the cut runs across the face of a frame, and not through its thickness."""
        marking = self.marking
        first = marking.contact.first
        return marking.axis_of(first, marking.part_of(first).thickness_axis) == self.edge_axis

    # Axes.

    @property
    def _first_way(self) -> Vector:
        return unit(N, self.is_first_high)

    @property
    def _second_way(self) -> Vector:
        return unit(self.second_axis, self.is_second_high)

    @property
    def corner(self) -> Vector:
        """The outer corner, at the low end of the edge."""
        point: list[Number] = [_ZERO] * 3
        point[N] = _ZERO if self.is_first_high else self.first_mm
        point[self.second_axis] = _ZERO if self.is_second_high else self.second_mm
        return (point[0], point[1], point[2])

    @property
    def along(self) -> Vector:
        """Unit vector along the cut, from the outer corner to the inner."""
        return self._mixed(self.first_mm, self.second_mm)

    @property
    def off(self) -> Vector:
        """Unit vector off the cut, into the first part."""
        return self._mixed(self.second_mm, -self.first_mm)

    def _mixed(self, first: Fraction, second: Fraction) -> Vector:
        length = math.hypot(first, second)
        a, b = float(first) / length, float(second) / length
        x, y, z = (
            a * float(p) + b * float(q)
            for p, q in zip(self._first_way, self._second_way, strict=True)
        )
        return (x, y, z)

    @property
    def opening(self) -> tuple[Vector, ...]:
        """The ways in which a plain mitre opens: along either part, and square to the cut."""
        back = unit(self.second_axis, not self.is_second_high)
        return (self._first_way, back, self.off)

    def point(self, flat: Flat, edge: Number) -> Vector:
        """A place on the cut or off it, at a place along the corner's edge."""
        out = unit(self.edge_axis, True)
        x, y, z = (
            float(c)
            + float(flat[0]) * float(a)
            + float(flat[1]) * float(o)
            + float(edge) * float(e)
            for c, a, o, e in zip(self.corner, self.along, self.off, out, strict=True)
        )
        return (x, y, z)

    def prism(self, flat: Sequence[Flat], edge: tuple[Fraction, Fraction]) -> Prism:
        """A figure across the mitre, drawn out between two places along the corner's edge."""
        frame = Frame(
            self.point((_ZERO, _ZERO), edge[0]),
            (self.along, self.off, unit(self.edge_axis, True)),
        )
        return Prism(frame, polygon(flat), edge[1] - edge[0])

    # What every mitre has.

    def waste(self) -> tuple[Feature, Feature]:
        """What is cut from the first part, and from the second: triangles that reach past it."""
        corner, out = self.corner, unit(self.edge_axis, True)
        x, y, z = (c - PAST_MM * e for c, e in zip(corner, out, strict=True))
        frame = Frame((x, y, z), (self._first_way, self._second_way, out))
        first_past, second_past = PAST_MM, PAST_MM * self.second_mm / self.first_mm
        outer: Flat = (-first_past, -second_past)
        inner: Flat = (self.first_mm + first_past, self.second_mm + second_past)
        deep = self.edge_mm + 2 * PAST_MM
        first = polygon([outer, inner, (outer[0], inner[1])])
        second = polygon([outer, (inner[0], outer[1]), inner])
        return (
            self.marking.on_first("mitre", Prism(frame, first, deep)),
            self.marking.on_second("mitre", Prism(frame, second, deep)),
        )

    def sizes(self) -> tuple[JointSize, ...]:
        """The length of the cut, with the angles of both parts' cuts off square."""
        first, second = (
            f"{float(angle_deg(*pair)):g}"
            for pair in ((self.first_mm, self.second_mm), (self.second_mm, self.first_mm))
        )
        rule = "from the inner corner to the outer, "
        if first == second:
            rule += f"{first} degrees off square in both parts"
        else:
            rule += f"{first} degrees off square in the first part, {second} in the second"
        return (worked("length of the cut", self.length_mm, rule),)

    def setting_out(self) -> Iterator[SettingOut]:
        """Where the inner end of the cut lies on each part, from its end."""
        marking = self.marking
        ends = (
            (marking.contact.first, unit(N, not self.is_first_high), self.first_mm),
            (
                marking.contact.second,
                unit(self.second_axis, not self.is_second_high),
                self.second_mm,
            ),
        )
        for mark, way, reach in ends:
            yield SettingOut(
                copy=mark,
                what="inner end of the mitre",
                reference=marking.own_face(mark, way),
                distance_mm=reach,
                spacer="",
            )


def angle_deg(reach_mm: Fraction, width_mm: Fraction) -> Fraction:
    """How far a cut stands off square, degrees to a thousandth: 45 where both are alike.

    >>> angle_deg(Fraction(50), Fraction(50))
    Fraction(45, 1)
    """
    return Fraction(round(math.degrees(math.atan2(reach_mm, width_mm)) * 1000), 1000)


def find_mitre(marking: Marking) -> Mitre:
    """Find the corner that two parts make, both drawn to the outside of it."""
    marking.need(ContactKind.CROSSING)
    first, second = (_past(marking, mark) for mark in marking.marks)
    if len(first) != 1 or len(second) != 1 or first == second:
        raise _no_corner(marking, first, second)
    (along,) = first
    turned = marking.seen_along(along)
    contact = turned.contact
    (second_axis,) = _past(turned, contact.second)
    return Mitre(
        marking=turned,
        second_axis=second_axis,
        edge_axis=1 - second_axis,
        is_first_high=contact.first_box.high[N] > contact.n_mm,
        is_second_high=contact.second_box.high[second_axis]
        > (contact.u_mm, contact.v_mm)[second_axis],
    )


def _no_corner(marking: Marking, first: set[int], second: set[int]) -> CannotJoinError:
    """Why two parts make no corner: they are not alike along its edge, or one runs past."""
    for edge in range(3):
        one, other = first - {edge}, second - {edge}
        if len(one) == len(other) == 1 and one != other:
            return marking.refuse(
                "J275",
                f"{marking.first} and {marking.second} are not alike along the edge of the corner",
                "Needed: one thickness for a frame, one height for a box.",
            )
    return marking.refuse(
        "J274",
        f"{marking.first} and {marking.second} do not corner: one of them runs past the other",
        "Needed: both drawn to the outside of the corner, and ending there.",
    )


def _past(marking: Marking, mark: str) -> set[int]:
    """The axes along which a copy goes on past the corner; all three if on both sides."""
    contact, box = marking.contact, marking.box_of(mark)
    extents = (contact.u_mm, contact.v_mm, contact.n_mm)
    sides = [
        (axis, goes)
        for axis in range(3)
        for goes in (box.low[axis] < 0, box.high[axis] > extents[axis])
        if goes
    ]
    axes = {axis for axis, _ in sides}
    return axes if len(sides) == len(axes) else {0, 1, 2}
