"""One joint at one contact, as the families see it: choices typed, faces named, findings worded.

Takes a chosen joint, a contact and the bench; gives what every family asks of them. Works in the
contact's frame: 0 and 1 are u and v across the contact, 2 is n from the first copy into the second.
Knows no single family.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import wraps

from benchleaf.findings import Finding, Severity
from benchleaf.forms import Bore, Form
from benchleaf.frames import Axis, Box, Frame, Number, Vector, direction_name
from benchleaf.joinery.records import Bench, Feature, Hardware, JointFit, JointSize, SettingOut
from benchleaf.lengths import UnitName, format_length, format_with_unit
from benchleaf.piece.meeting import are_square_to_another
from benchleaf.piece.records import (
    ChosenJoint,
    Contact,
    ContactKind,
    Part,
    SolvedFastener,
    SolvedRound,
)
from benchleaf.reading.plan import Units

U, V, N = 0, 1, 2
"""Axes of a contact's frame."""
OFF: Vector = (0, 0, -1)
"""Straight off the second copy."""


class CannotJoinError(Exception):
    """The joint cannot be made here; carries the finding that says why, if there is one to say."""

    def __init__(self, finding: Finding | None) -> None:
        super().__init__(finding.message if finding else "another joint is for this contact")
        self.finding = finding


Answer = tuple[JointFit | None, tuple[Finding, ...]]
Fit = Callable[[ChosenJoint, Contact, Bench], Answer]


def at_the_bench(work: Callable[[Marking], tuple[JointFit, Iterable[Finding]]]) -> Fit:
    """Make the `fit` of a joint kind from a function of one Marking.

    A `CannotJoinError` that the function raises becomes the finding it carries, and no fit. The
    joint is one that is made square: parts that meet at an angle are refused. Families that take
    them at any angle are made with `at_any_angle`.
    """
    return _fit_by(work, is_square=True)


def at_any_angle(work: Callable[[Marking], tuple[JointFit, Iterable[Finding]]]) -> Fit:
    """Make the `fit` of a joint kind that parts may meet in at an angle."""
    return _fit_by(work, is_square=False)


def _fit_by(
    work: Callable[[Marking], tuple[JointFit, Iterable[Finding]]], *, is_square: bool
) -> Fit:

    @wraps(work)
    def fit(chosen: ChosenJoint, contact: Contact, bench: Bench) -> Answer:
        marking = Marking(chosen=chosen, contact=contact, bench=bench)
        try:
            _refuse_negative(marking)
            if is_square:
                marking.need_square()
            made, said = work(marking)
        except CannotJoinError as refusal:
            return None, (refusal.finding,) if refusal.finding else ()
        return made, tuple(said)

    return fit


def _refuse_negative(marking: Marking) -> None:
    for option, value in marking.chosen.choices.items():
        if option == "offset":
            continue
        if isinstance(value, SolvedRound):
            lengths: tuple[object, ...] = (value.diameter_mm, value.length_mm)
        elif isinstance(value, SolvedFastener):
            lengths = (value.length_mm,)
        else:
            lengths = value if isinstance(value, tuple) else (value,)
        for length in lengths:
            if isinstance(length, Fraction) and length < 0:
                shown = marking.show(length)
                message = f"`{option}` comes to {shown}, less than nothing"
                raise marking.refuse("J105", message, "Needed: 0 or more.", option=option)


@dataclass(frozen=True, slots=True, kw_only=True)
class Marking:
    """A joint about to be marked out at one contact."""

    chosen: ChosenJoint
    contact: Contact
    bench: Bench

    # What the author chose.

    def length(self, option: str) -> Fraction | None:
        """A length that the author gave, mm; None where left out."""
        value = self.chosen.choices.get(option)
        if isinstance(value, bool) or not isinstance(value, (int, Fraction)):
            return None
        return Fraction(value)

    def count(self, option: str) -> int | None:
        """A count that the author gave; None where left out."""
        value = self.chosen.choices.get(option)
        return value if isinstance(value, int) and not isinstance(value, bool) else None

    def is_yes(self, option: str, *, usually: bool) -> bool:
        """A yes or no; what is usual where left out."""
        value = self.chosen.choices.get(option)
        return value if isinstance(value, bool) else usually

    def words(self, option: str) -> tuple[str, ...]:
        """Words that the author gave; empty where left out."""
        value = self.chosen.choices.get(option)
        if isinstance(value, str):
            return (value,)
        if isinstance(value, tuple):
            return tuple(word for word in value if isinstance(word, str))
        return ()

    def lengths(self, option: str) -> tuple[Fraction, ...]:
        """Lengths that the author gave, mm; empty where left out."""
        value = self.chosen.choices.get(option)
        if not isinstance(value, tuple):
            alone = self.length(option)
            return () if alone is None else (alone,)
        return tuple(Fraction(v) for v in value if isinstance(v, (int, Fraction)))

    # What to call things.

    @property
    def plan_units(self) -> Units:
        """Units of the plan."""
        return self.bench.piece.plan.units

    @property
    def units(self) -> UnitName:
        """Units of the plan, by name."""
        return self.plan_units.value

    @property
    def first(self) -> str:
        """Name of the part that the joint names first."""
        return self.bench.first.name

    @property
    def second(self) -> str:
        """Name of the part that the joint names second."""
        return self.bench.second.name

    @property
    def marks(self) -> tuple[str, str]:
        """Marks of the first copy and of the second."""
        return self.contact.first, self.contact.second

    def show(self, length_mm: Number) -> str:
        """A length in the plan's units, without the unit."""
        return format_length(Fraction(length_mm), self.units)

    def show_with_unit(self, length_mm: Number) -> str:
        """A length in the plan's units, with the unit."""
        return format_with_unit(Fraction(length_mm), self.units)

    def show_round(self, diameter_mm: Fraction, length_mm: Fraction) -> str:
        """A diameter and a length, as a plan writes them: `3/8 x 2`."""
        return f"{self.show(diameter_mm)} x {self.show(length_mm)}"

    def show_screw(self, screw: SolvedFastener) -> str:
        """A screw as it is bought: `No. 8 x 1-1/4`."""
        return f"No. {screw.gauge} x {self.show(screw.length_mm)}"

    # Where things lie.

    def part_of(self, mark: str) -> Part:
        """The part of which one of the two copies is one."""
        return self.bench.first if mark == self.contact.first else self.bench.second

    def box_of(self, mark: str) -> Box:
        """The whole box of one of the two copies, in the contact's frame."""
        return self.contact.first_box if mark == self.contact.first else self.contact.second_box

    def marked_box(self, mark: str) -> Box:
        """What of a copy is marked out from: its sides, in the contact's frame.

        Of a copy that stands at an angle to the contact, it is the edges of the touching face.
        """
        if self.lies_along(mark):
            return self.box_of(mark)
        zero = Fraction(0)
        return block((zero, self.contact.u_mm), (zero, self.contact.v_mm), (zero, zero))

    def own_face(self, mark: str, direction: Vector) -> str:
        """The face of a copy, by its part's first copy, that looks in a contact direction."""
        outward = self.contact.frame.outward_direction(direction)
        return direction_name(self.bench.piece.copies[mark].frame.inward_direction(outward))

    def axis_of(self, mark: str, own: Axis) -> int:
        """The contact axis along which one of a copy's own axes lies."""
        unit: Vector = (int(own == 0), int(own == 1), int(own == 2))
        outward = self.bench.piece.copies[mark].frame.outward_direction(unit)
        inward = self.contact.frame.inward_direction(outward)
        return max(range(3), key=lambda axis: abs(float(inward[axis])))

    def grain_of(self, mark: str) -> int:
        """The contact axis along which a copy's grain runs."""
        return self.axis_of(mark, self.part_of(mark).grain_axis)

    def sides_of(self, mark: str) -> dict[str, tuple[int, bool]]:
        """Faces of a copy that stand square to the contact: name to axis (U or V) and is_high."""
        ends = [(axis, is_high) for axis in (U, V) for is_high in (False, True)]
        return {self.own_face(mark, unit(axis, is_high)): (axis, is_high) for axis, is_high in ends}

    def sign_of(self, mark: str, axis: int) -> int:
        """1 where a contact axis runs with the copy's own axis, -1 where it runs against it."""
        face = self.own_face(mark, unit(axis, True))
        return 1 if face in {part.high_face for part in Axis} else -1

    def seen_along(self, axis: int) -> Marking:
        """The same crossing looked at along another of its axes: that one becomes n.

        A contact's n runs along the thinnest axis of the common box, which is not always the way
        that the parts come apart: strips on edge cross along their width.
        """
        if axis == N:
            return self
        contact = self.contact
        extents = (contact.u_mm, contact.v_mm, contact.n_mm)
        across = sorted((a for a in range(3) if a != axis), key=lambda a: (-extents[a], a))
        order = (across[0], across[1], axis)
        axes = contact.frame.axes
        frame = Frame(contact.frame.origin, (axes[order[0]], axes[order[1]], axes[order[2]]))
        turned = replace(
            contact,
            frame=frame,
            u_mm=extents[order[0]],
            v_mm=extents[order[1]],
            n_mm=extents[order[2]],
            first_box=contact.first_box.in_order(order),
            second_box=contact.second_box.in_order(order),
        )
        return replace(self, contact=turned)

    # What there is to say.

    def refuse(self, code: str, message: str, remedy: str, *, option: str = "") -> CannotJoinError:
        """An error to raise: the joint cannot be made as chosen."""
        return CannotJoinError(self._say(code, Severity.ERROR, (message, remedy), option=option))

    def warn(self, code: str, message: str, remedy: str, *, option: str = "") -> Finding:
        """A warning: the joint can be made, and will be weak or awkward."""
        return self._say(code, Severity.WARNING, (message, remedy), option=option)

    def _say(
        self, code: str, severity: Severity, words: tuple[str, str], *, option: str
    ) -> Finding:
        subject = f"joints[{self.chosen.index}]"
        path = f"{subject}.{option}" if option in self.chosen.choices else subject
        message, remedy = words
        return Finding(
            code=code,
            severity=severity,
            place=self.bench.piece.plan.place(path),
            subject=subject,
            message=message,
            remedy=remedy,
        )

    def need(self, kind: ContactKind) -> None:
        """Refuse a contact of the other kind; leave it to another joint of the same two parts."""
        if self.contact.kind is kind:
            return
        if any(self._is_alternative(joint) for joint in self.bench.piece.joints):
            raise CannotJoinError(None)
        if kind is ContactKind.FACE:
            message = f"{self.first} and {self.second} stand inside one another"
            remedy = "Place the parts shoulder to shoulder: the joint adds what goes in."
        else:
            message = f"{self.first} and {self.second} only touch"
            remedy = "Place the parts so that they pass through one another: the joint cuts them."
        raise self.refuse("J101", message, remedy)

    def need_square(self) -> None:
        """Refuse parts that meet at an angle: the joint's cuts would not fit both of them."""
        if self.is_square:
            return
        if any(self._is_alternative(joint) for joint in self.bench.piece.joints):
            raise CannotJoinError(None)
        raise self.refuse(
            "J149",
            f"{self.first} and {self.second} meet at an angle, and this joint is made square",
            "Needed: parts that stand square to one another, or a joint that takes any angle: "
            "`butt`, `dowels`, `mitre`, `mortise and tenon`, `round tenon` or `rests on`.",
        )

    @property
    def is_square(self) -> bool:
        """Tell whether both copies lie along the contact's axes and touch over a rectangle."""
        if self.contact.outline:
            return False
        return all(map(self.lies_along, (self.contact.first, self.contact.second)))

    def lies_along(self, mark: str) -> bool:
        """Tell whether a copy's own axes run along the contact's."""
        return are_square_to_another(self.bench.piece.copies[mark].frame, self.contact.frame)

    def _is_alternative(self, joint: ChosenJoint) -> bool:
        pair = {joint.first, joint.second}
        return joint.kind != self.chosen.kind and pair == {self.first, self.second}

    def need_growth(self, what: str) -> None:
        """Refuse to grow the first part in its thickness, which its stock settles."""
        part = self.bench.first
        if self.axis_of(self.contact.first, part.thickness_axis) == N:
            message = (
                f"the {what} would thicken {part.name}: it stands with its face to {self.second}"
            )
            remedy = "Name the parts the other way round, or turn one of them."
            raise self.refuse("J102", message, remedy)

    # What comes of it.

    def on_first(self, role: str, shape: Form, *, adds: bool = False) -> Feature:
        """A feature of the first copy."""
        mate = self.contact.second
        return Feature(role=role, shape=shape, adds=adds, joint=self.chosen.index, mate=mate)

    def on_second(self, role: str, shape: Form, *, adds: bool = False) -> Feature:
        """A feature of the second copy."""
        mate = self.contact.first
        return Feature(role=role, shape=shape, adds=adds, joint=self.chosen.index, mate=mate)

    def made(
        self,
        features: tuple[tuple[Feature, ...], tuple[Feature, ...]],
        *,
        numbers: tuple[tuple[JointSize, ...], tuple[SettingOut, ...]],
        free: tuple[Vector, ...],
        glued_mm2: Fraction,
        hardware: tuple[Hardware, ...] = (),
    ) -> JointFit:
        """The joint worked out.

        Args:
            features: Those of the first copy, those of the second.
            numbers: Sizes; and the numbers to set out by.
            free: Directions in which the first copy comes off the second.
            glued_mm2: Area that is glued, mm2; 0 where there is no glue.
            hardware: What is bought for it.
        """
        return JointFit(
            joint=self.chosen.index,
            kind=self.chosen.kind,
            contact=self.contact,
            first_features=features[0],
            second_features=features[1],
            sizes=numbers[0],
            setting_out=numbers[1],
            hardware=hardware,
            free_directions=free,
            glue_area_mm2=glued_mm2,
            is_glued=glued_mm2 > 0,
        )


def unit(axis: int, is_high: bool) -> Vector:
    """The unit vector along an axis, one way or the other."""
    sign = 1 if is_high else -1
    return (sign * (axis == 0), sign * (axis == 1), sign * (axis == 2))


def block(u: tuple[Number, Number], v: tuple[Number, Number], n: tuple[Number, Number]) -> Box:
    """A box from its three spans."""
    return Box((u[0], v[0], n[0]), (u[1], v[1], n[1]))


def hole(mouth: Vector, direction: Vector, *, diameter_mm: Fraction, depth_mm: Fraction) -> Bore:
    """A plain round hole."""
    return Bore(mouth, direction, diameter_mm, depth_mm, diameter_mm)
