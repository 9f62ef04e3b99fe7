"""One part on the bench, as the kinds of shaping see it: choices typed, findings worded.

Takes a part with one chosen shaping and what was done to the part before; gives what every kind
asks of it. Knows no single kind.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from benchleaf.findings import Finding, Severity
from benchleaf.frames import FACES, Axis, Box, Number, face_name
from benchleaf.lengths import UnitName, format_length, parse_length
from benchleaf.outlines import Outline
from benchleaf.piece.records import ChosenShaping, Part, SolvedPair
from benchleaf.reading.plan import Plan
from benchleaf.shaping.records import FaceLine, ShapedSize

PAST_MM: Final = Fraction(1)
"""How far a cut runs on outside the wood, so that it leaves no skin. chosen: any length does."""


class CannotShapeError(Exception):
    """The shaping cannot be done; carries the finding that says why."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Workpiece:
    """A part about to be shaped."""

    part: Part
    plan: Plan
    chosen: ChosenShaping
    lines: tuple[FaceLine, ...] = ()
    """Faces that earlier shaping changed."""
    rims: tuple[tuple[Axis, Outline], ...] = ()
    """Outlines that earlier shaping left, with the axis that each is seen along."""

    # What the author chose.

    @property
    def places(self) -> tuple[str, ...]:
        """Faces or edges named."""
        return self.chosen.places

    @property
    def face(self) -> str:
        """The face named, where one is."""
        return self.chosen.places[0]

    def length(self, option: str) -> Fraction | None:
        """A length that the author gave, mm, more than 0; None where left out."""
        value = self.chosen.choices.get(option)
        if not isinstance(value, Fraction):
            return None
        if value <= 0:
            raise self._refuse_nothing(option, value)
        return value

    def distance(self, option: str) -> Fraction | None:
        """A length that may be 0, mm; None where left out."""
        value = self.chosen.choices.get(option)
        if not isinstance(value, Fraction):
            return None
        if value < 0:
            raise self._refuse_nothing(option, value, least="0 or more")
        return value

    def _refuse_nothing(
        self, option: str, value: Fraction, *, least: str = "more than 0"
    ) -> CannotShapeError:
        message = f"`{option}` comes to {self.show(value)}"
        return self.refuse("F101", message, f"Needed: {least}.", option=option)

    def size(self, option: str) -> tuple[Fraction, Fraction] | None:
        """Two lengths that the author gave with an x between, both more than 0."""
        value = self.chosen.choices.get(option)
        if not isinstance(value, SolvedPair):
            return None
        for length in (value.first_mm, value.second_mm):
            if length <= 0:
                raise self._refuse_nothing(option, length)
        return value.first_mm, value.second_mm

    def place(self, option: str) -> tuple[Fraction, Fraction] | None:
        """A place on the face, along its two own axes from their low ends; it may lie outside."""
        value = self.chosen.choices.get(option)
        return (value.first_mm, value.second_mm) if isinstance(value, SolvedPair) else None

    def points(self, option: str) -> tuple[tuple[Fraction, Fraction], ...]:
        """Places on the face; empty where left out."""
        value = self.chosen.choices.get(option)
        pairs = value if isinstance(value, tuple) else (value,)
        return tuple((p.first_mm, p.second_mm) for p in pairs if isinstance(p, SolvedPair))

    def word(self, option: str, usual: str) -> str:
        """A word that the author gave; the usual one where left out."""
        value = self.chosen.choices.get(option)
        return value if isinstance(value, str) else usual

    # What the part is.

    @property
    def body(self) -> Box:
        """The part, shoulder to shoulder, in its own axes."""
        zero = Fraction(0)
        return Box((zero, zero, zero), self.part.box.size)

    def extent(self, axis: Axis) -> Fraction:
        """How long the part is along an own axis, mm."""
        return Fraction(self.part.box.size[axis])

    def usual(self, inches: str, millimetres: str) -> Fraction:
        """A length proposed: round in the plan's own units."""
        return parse_length(inches if self.units == "in" else millimetres, self.units)

    def usual_words(self, inches: str, millimetres: str) -> str:
        """A length proposed, in words."""
        return self.show(self.usual(inches, millimetres))

    # What to call things.

    @property
    def units(self) -> UnitName:
        """Units of the plan, by name."""
        return self.plan.units.value

    def show(self, length_mm: Number) -> str:
        """A length in the plan's units, without the unit."""
        return format_length(Fraction(length_mm), self.units)

    def refuse(self, code: str, message: str, remedy: str, *, option: str = "") -> CannotShapeError:
        """An error to raise: the shaping cannot be done as chosen."""
        return CannotShapeError(self._say(Severity.ERROR, code, (message, remedy), option))

    def warn(self, code: str, message: str, remedy: str, *, option: str = "") -> Finding:
        """A warning: it can be done, and will be weak or awkward."""
        return self._say(Severity.WARNING, code, (message, remedy), option)

    def _say(self, severity: Severity, code: str, words: tuple[str, str], option: str) -> Finding:
        subject = f"parts.{self.part.name}.shape[{self.chosen.index}]"
        path = subject
        if not self.plan.places.get(subject):
            # A lone entry may stand without a list.
            path = f"parts.{self.part.name}.shape"
        if option in self.chosen.choices:
            path = f"{path}.{option}"
        return Finding(
            code=code,
            severity=severity,
            place=self.plan.place(path),
            subject=subject,
            message=words[0],
            remedy=words[1],
        )


def sizes(**lengths: Fraction) -> tuple[ShapedSize, ...]:
    """Sizes by name, in the order given; an underscore stands for a space."""
    return tuple(
        ShapedSize(name=name.replace("_", " "), value_mm=value) for name, value in lengths.items()
    )


def face_axes(face: str) -> tuple[Axis, Axis]:
    """The two own axes that a face lies along: wide before deep before high.

    >>> [axis.extent for axis in face_axes("left")]
    ['deep', 'high']
    """
    normal = FACES[face][0]
    u, v = (axis for axis in Axis if axis is not normal)
    return u, v


def describe_place(face: str) -> str:
    """From which faces places on a face are measured: `left and bottom`."""
    return " and ".join(axis.low_face for axis in face_axes(face))


def opposite(face: str) -> str:
    """The face across the part from another."""
    axis, is_high = FACES[face]
    return face_name(axis, not is_high)
