"""The piece: parts with exact sizes, their copies, and where the copies touch.

Made by `place_parts`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from benchleaf.frames import Axis, Box, Frame, Number, Vector
from benchleaf.reading.plan import Plan, Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedFastener:
    """A wood screw: gauge number and length."""

    gauge: int
    length_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedRound:
    """A dowel: diameter and length."""

    diameter_mm: Fraction
    length_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedPair:
    """Two lengths, such as a place on a face."""

    first_mm: Fraction
    second_mm: Fraction


Choice = (
    Fraction
    | int
    | bool
    | str
    | tuple[str, ...]
    | tuple[Fraction, ...]
    | SolvedFastener
    | SolvedRound
    | SolvedPair
    | tuple[SolvedPair, ...]
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenShaping:
    """One entry of a part's `shape` with its lengths worked out."""

    index: int
    """Place in the part's list, from 0."""
    kind: str
    places: tuple[str, ...]
    """Own faces, or edges by their two faces in order of axes: `front top`."""
    choices: Mapping[str, Choice]
    """By option name; only those the author gave."""
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """A plane that cuts the end or the edge of a part at an angle, in the part's own axes."""

    face: str
    """The own face that is cut so: `top`."""
    normal: Vector
    """Unit vector out of the wood; what lies beyond is waste."""
    offset_mm: Number
    """Where the plane lies along its normal, from the own origin."""
    to: str
    """What it meets, as the author wrote it: `seat.bottom`, `floor`; empty for the level ends of a
    splayed leg."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One shape with its sizes worked out, shoulder to shoulder: before joints add or cut."""

    name: str
    mark: str
    """A, B, C...; its copies are A1, A2..., or just A where there is one."""
    stock: Stock
    layers: int
    """Layers glued up; 1 for a plain part."""
    box: Box
    """Where the first copy is placed, in the piece's axes, before it is turned; its size is that of
    the part in its own axes, from the farthest point of each end that is cut at an angle."""
    thickness_axis: Axis
    grain_axis: Axis
    allowance_mm: Fraction
    """Rough minus final on length and on width; 0 where the part is cut to size at once."""
    note: str
    shaping: tuple[ChosenShaping, ...] = ()
    """In the plan's order: what comes later is done to what comes before."""
    trims: tuple[Trim, ...] = ()
    """Ends and edges cut at an angle, in the order of faces."""

    @property
    def width_axis(self) -> Axis:
        """The axis that is neither thickness nor grain."""
        return Axis(3 - self.thickness_axis - self.grain_axis)


def own_box(part: Part) -> Box:
    """A part as placed, shoulder to shoulder, in its own axes: from (0, 0, 0) to its size, mm."""
    zero = Fraction(0)
    return Box((zero, zero, zero), part.box.size)


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One copy of a part, in its place."""

    mark: str
    part: str
    frame: Frame
    """The part's own axes (origin at its low corner; wide, deep, high of the first copy) in the
    piece's. Mirrored copies have a left-handed frame."""
    box: Box
    """The box round it where it stands, in the piece's axes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupCopy:
    """One copy of a group: the copies of its parts that are placed as one."""

    group: str
    """Name of the group."""
    number: int
    """Which of its copies, from 1."""
    count: int
    """How many copies of the group there are."""
    box: Box
    """The box that it stands in, in the piece's axes, mm."""
    marks: tuple[str, ...]
    """Marks of the copies in it, in the plan's order of parts."""

    @property
    def title(self) -> str:
        """What it is called: `drawer`, or `drawer 2` where there are several."""
        return self.group if self.count == 1 else f"{self.group} {self.number}"

    @property
    def called(self) -> str:
        """What it is called in a sentence: `the drawer`, or `drawer 2` where there are several."""
        return f"the {self.group}" if self.count == 1 else self.title


class ContactKind(StrEnum):
    """How two copies meet."""

    FACE = "face"
    """Two faces touch over an area."""
    CROSSING = "crossing"
    """The boxes share volume: one passes through or laps the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """A place where two copies meet, seen from a frame of its own.

    The frame's third axis n points from the first copy into the second; u and v span the touching
    rectangle, which runs from (0, 0) to (u_mm, v_mm) at n = 0. u is the longer side (at a tie,
    the earlier axis of the piece). Joint families work in this frame alone, so that a turned part
    needs nothing new. For a CROSSING the common box is (0, 0, 0) to (u_mm, v_mm, n_mm) and n runs
    along the axis in which the common box is thinnest.
    """

    kind: ContactKind
    first: str
    """Mark of the copy that the joint's first part names."""
    second: str
    frame: Frame
    u_mm: Fraction
    v_mm: Fraction
    n_mm: Fraction
    """Extent of the common box along n; 0 for a FACE contact."""
    first_box: Box
    """The first copy's whole box, in the contact's frame."""
    second_box: Box
    """The second copy's whole box, in the contact's frame."""
    outline: tuple[tuple[Fraction, Fraction], ...] = ()
    """Where copies that are turned do not touch over the whole rectangle: the corners, (u, v), of
    the figure over which they do, in order round it."""
    common_mm3: float | None = None
    """For a CROSSING of copies that are turned: the volume that they share; else the box's."""

    @property
    def area_mm2(self) -> Fraction:
        """Area over which the copies touch; of a CROSSING, that of its box across n."""
        if not self.outline:
            return self.u_mm * self.v_mm
        around = zip(self.outline, (*self.outline[1:], self.outline[0]), strict=True)
        return abs(sum((a[0] * b[1] - a[1] * b[0] for a, b in around), Fraction(0))) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenJoint:
    """A joint entry with its lengths worked out."""

    index: int
    kind: str
    first: str
    second: str
    choices: Mapping[str, Choice]
    note: str
    contacts: tuple[Contact, ...]
    """Every contact between copies of the two parts, in order of marks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """The piece, placed."""

    plan: Plan
    overall: Box
    sizes: Mapping[str, Fraction]
    """Named sizes, mm."""
    parts: Mapping[str, Part]
    """By name, in the plan's order."""
    copies: Mapping[str, Copy]
    """By mark, in order."""
    joints: tuple[ChosenJoint, ...]
    loose_contacts: tuple[Contact, ...]
    """Contacts that no joint names."""
    groups: tuple[GroupCopy, ...] = ()
    """Every copy of every group, in the plan's order."""

    def part_of(self, mark: str) -> Part:
        """The part of which a mark is a copy."""
        return self.parts[self.copies[mark].part]

    def group_of(self, mark: str) -> GroupCopy | None:
        """The copy of a group that a copy of a part is in; None for a part of the piece itself."""
        return next((group for group in self.groups if mark in group.marks), None)

    def copies_of(self, part: str) -> tuple[Copy, ...]:
        """The copies of a part, in order."""
        return tuple(copy for copy in self.copies.values() if copy.part == part)
