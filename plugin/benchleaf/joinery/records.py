"""What joints come to: features on parts, sizes with their rules, setting-out numbers.

Made by `cut_joints`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from benchleaf.findings import Finding
from benchleaf.forms import Form
from benchleaf.frames import Box, Vector
from benchleaf.piece.records import ChosenJoint, Contact, Part, Piece
from benchleaf.reading.vocabulary import JointWords
from benchleaf.shaping.records import ShapedCut


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One thing that a joint puts on a copy or takes from it."""

    role: str
    """Trade word: tenon, haunch, mortise, dowel hole, pilot hole, clearance hole, countersink,
    housing, groove, rebate, lap, shoulder (waste round a tenon or post), through hole."""
    shape: Form
    """In the holder's frame: the contact's in a JointFit, the part's own in a CutCopy."""
    adds: bool
    """True where material is added (the blank grows), False where it is cut away."""
    joint: int
    """Index of the joint in the plan."""
    mate: str
    """Mark of the copy at the other side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSize:
    """One size of a joint, and how it came about."""

    name: str
    """`tenon thickness`."""
    value_mm: Fraction
    rule: str
    """`1/3 of the rail's thickness, to the nearest 1/16`, or `from the plan`."""
    source: str
    """Author or standard; `common practice, no source`; `the plan`."""
    is_area: bool = False
    """True where `value_mm` is an area in mm2, such as what a shoulder bears on."""
    is_angle: bool = False
    """True where `value_mm` is an angle in degrees; its true value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingOut:
    """A number that a person sets out by, on one of the mates."""

    copy: str
    """Mark of the copy marked out."""
    what: str
    """What is marked: `centre of dowel hole 1`, `near cheek of the mortise`."""
    reference: str
    """Face or end measured from, of the part's own first copy: `bottom`."""
    distance_mm: Fraction
    spacer: str
    """Spacer, gauge or stop that sets it without a rule, or empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """Something bought by the piece, or cut from a rod, that the joint needs."""

    kind: str
    """`dowel`, `wood screw`."""
    size: str
    """`3/8 x 2`, `No. 8 x 1-1/4`, in the plan's units."""
    diameter_mm: Fraction
    length_mm: Fraction
    count: int
    is_sized_in_units: bool = True
    """False where `size` is a number of the trade alone: `No. 20`."""

    def size_in(self, unit: str) -> str:
        """The size with the plan's unit, where it is a length."""
        return f"{self.size} {unit}" if self.is_sized_in_units else self.size


@dataclass(frozen=True, slots=True, kw_only=True)
class JointFit:
    """One joint at one contact, worked out."""

    joint: int
    kind: str
    contact: Contact
    first_features: tuple[Feature, ...]
    """In the contact's frame."""
    second_features: tuple[Feature, ...]
    """In the contact's frame."""
    sizes: tuple[JointSize, ...]
    setting_out: tuple[SettingOut, ...]
    hardware: tuple[Hardware, ...]
    free_directions: tuple[Vector, ...]
    """Unit directions, in the contact's frame, in which the first copy comes off the second."""
    glue_area_mm2: Fraction
    is_glued: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What a joint family may look at besides the contact."""

    first: Part
    second: Part
    wall_mm: Fraction
    """Least wood to leave beyond a blind hole."""
    piece: Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class JointKind:
    """One family of joints: the row that the registry holds."""

    code: str
    title: str
    words: JointWords
    fit: Callable[[ChosenJoint, Contact, Bench], tuple[JointFit | None, tuple[Finding, ...]]]
    """Chosen joint, one of its contacts, and the bench, to the joint worked out (None if it
    cannot be) and findings J1xx."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCopy:
    """One copy with everything that joints do to it, in the part's own axes."""

    mark: str
    part: str
    features: tuple[Feature, ...]
    """Sorted; own frame: origin at the low corner of the shoulder-to-shoulder box."""
    blank: Box
    """The least box, in the part's own frame, that holds the finished copy, tenons and all."""
    shaping: tuple[ShapedCut, ...] = ()
    """What is shaped of the part by itself, in own frame and in the plan's order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Copies of a part that are cut alike: as drawn, or as its mirror image."""

    part: str
    name: str
    """The part's name; `left side`-like suffix letters (`side, shape b`) where copies differ."""
    as_drawn: tuple[str, ...]
    """Marks of the copies that are exactly as drawn."""
    mirrored: tuple[str, ...]
    """Marks of copies that are the mirror image; empty where the shape is its own mirror image."""
    drawn: CutCopy
    """The copy to draw."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """A node of the assembly tree: copies that are together before they join the rest.

    A leaf is one copy. An inner node is put together by moving `parts[0]` onto the others: the
    explode view and the glue-ups follow it.
    """

    copies: tuple[str, ...]
    """Marks in this assembly, sorted."""
    moved: Assembly | None
    """The sub-assembly that goes on last; None for a leaf."""
    fixed: Assembly | None
    """What it goes onto; None for a leaf."""
    direction: Vector
    """Unit vector, in the piece's axes, in which `moved` comes off again; zero for a leaf."""
    is_locked: bool = False
    """True where no way was found in which `moved` reaches its seat."""
    shift_mm: Vector = (0, 0, 0)
    """How far `moved` is first shifted, mm, before it comes off in `direction`: a shelf that is
    lifted off its pins. Zero where one straight slide does."""
    fixed_direction: Vector = (0, 0, 0)
    """Unit vector in which `fixed` moves at the same time and as fast; zero where it stays."""
    is_with_fixed: bool = False
    """True where `fixed` comes apart at the same moment and speed: the sides of a mitred frame."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stops:
    """What stops what on its way straight off: by its wood, or because a joint does not let go."""

    numbers: Mapping[str, int]
    """Number of each copy, by mark."""
    by_way: Mapping[Vector, tuple[int, ...]]
    """For each unit direction looked at, in the piece's axes, for each copy by its number, the
    copies that stop it: the bits of a whole number."""

    def is_free(self, moved: Iterable[str], rest: Iterable[str], way: Vector) -> bool:
        """Tell whether some copies come straight off others, which stay where they are."""
        stay = sum(1 << self.numbers[mark] for mark in set(rest))
        stopped = self.by_way[way]
        return not any(stopped[self.numbers[mark]] & stay for mark in moved)

    def in_the_way(self, moved: Iterable[str], rest: Iterable[str], way: Vector) -> tuple[str, ...]:
        """Those of the rest that stop some copies on their way straight off, in order."""
        stopped = self.by_way[way]
        held = [stopped[self.numbers[mark]] for mark in moved]
        return tuple(mark for mark in rest if any(own >> self.numbers[mark] & 1 for own in held))


@dataclass(frozen=True, slots=True, kw_only=True)
class Joinery:
    """All joints of the piece, worked out."""

    piece: Piece
    fits: tuple[JointFit, ...]
    """In order of joint, then contact."""
    copies: Mapping[str, CutCopy]
    """By mark."""
    shapes: tuple[Shape, ...]
    """In the plan's order of parts."""
    assembly: Assembly
    stops: Stops | None = None
    """Along the axes and the directions of joints; None for joinery that was never looked at."""
