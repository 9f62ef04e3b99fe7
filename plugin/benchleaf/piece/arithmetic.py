"""Working an expression out: exact, and with a sense of what is a length and what a number.

Takes a term and a way to look lengths up, gives a length in mm, or raises `SolvingError`. A bare
number is a length where a length is wanted, and a factor beside `*` and `/`. Must not know parts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from benchleaf.lengths import MM_PER_INCH, UnitName
from benchleaf.reading.expressions import (
    Literal,
    Negative,
    OverallSize,
    PartSize,
    SizeName,
    StockThickness,
    Sum,
    Term,
)

# chosen: a length in mm with twelve digits over a denominator of twelve takes 80 bits; plans that
# square a ratio again and again would otherwise fill the memory.
_MAX_BITS: Final = 512

# chosen: a kilometre; nothing that is carried out of a workshop is longer.
_LONGEST_MM: Final = 1_000_000

LookUp = Callable[[SizeName | OverallSize | StockThickness | PartSize], Fraction]
"""Gives the length, mm, of a name or measure."""


class SolvingError(ValueError):
    """Arithmetic that comes to no length: a code, `what` was found and what is `needed`."""

    def __init__(self, code: str, what: str, needed: str) -> None:
        super().__init__(f"{what}. {needed}")
        self.code = code
        self.what = what
        self.needed = needed


class _Kind(Enum):
    """What a value is."""

    BARE = "a bare number"
    """Typed by the author: a length where one is wanted, else a factor."""
    LENGTH = "a length"
    RATIO = "a plain number"
    """One length divided by another."""


@dataclass(frozen=True, slots=True)
class _Value:
    number: Fraction
    kind: _Kind


def work_out(term: Term, units: UnitName, look_up: LookUp) -> Fraction:
    """Work an expression out to a length in mm.

    Args:
        term: The expression's tree; its depth is bounded by the parser.
        units: Unit of bare numbers.
        look_up: Gives the length of a name or measure, mm.

    Raises:
        SolvingError: It comes to no length.
    """
    value = _work_out(term, units, look_up)
    if value.kind is _Kind.RATIO:
        message = "it comes to a plain number, not to a length"
        raise SolvingError("P005", message, "Needed: a length; multiply the number by one.")
    length_mm = _as_length(value, units)
    if abs(length_mm) > _LONGEST_MM:
        raise SolvingError("P007", "it comes to more than a kilometre", "Needed: less than that.")
    return length_mm


def _as_length(value: _Value, units: UnitName) -> Fraction:
    if value.kind is _Kind.BARE and units == "in":
        return value.number * MM_PER_INCH
    return value.number


def _work_out(term: Term, units: UnitName, look_up: LookUp) -> _Value:
    if isinstance(term, Literal):
        return _Value(term.value, _Kind.LENGTH if term.is_length else _Kind.BARE)
    if isinstance(term, Negative):
        of = _work_out(term.of, units, look_up)
        return _Value(-of.number, of.kind)
    if not isinstance(term, Sum):
        return _bound(_Value(look_up(term), _Kind.LENGTH))
    left = _work_out(term.left, units, look_up)
    right = _work_out(term.right, units, look_up)
    return _bound(_OPERATIONS[term.operator](left, right, units))


def _bound(value: _Value) -> _Value:
    if max(value.number.numerator.bit_length(), value.number.denominator.bit_length()) > _MAX_BITS:
        message = "it comes to a number with more than 150 digits"
        raise SolvingError("P007", message, "Write the length out.")
    return value


def _add(left: _Value, right: _Value, units: UnitName) -> _Value:
    if {left.kind, right.kind} == {_Kind.LENGTH, _Kind.RATIO}:
        message = "a length and a plain number are put together"
        raise SolvingError("P005", message, "Needed: a length on both sides.")
    kinds = (left.kind, right.kind)
    if _Kind.LENGTH in kinds:
        total = _as_length(left, units) + _as_length(right, units)
        return _Value(total, _Kind.LENGTH)
    kind = _Kind.RATIO if _Kind.RATIO in kinds else _Kind.BARE
    return _Value(left.number + right.number, kind)


def _subtract(left: _Value, right: _Value, units: UnitName) -> _Value:
    return _add(left, _Value(-right.number, right.kind), units)


def _multiply(left: _Value, right: _Value, _units: UnitName) -> _Value:
    kinds = (left.kind, right.kind)
    if kinds == (_Kind.LENGTH, _Kind.LENGTH):
        message = "a length is multiplied by a length"
        raise SolvingError("P005", message, "Needed: a bare number on one side of `*`.")
    order = (_Kind.LENGTH, _Kind.RATIO, _Kind.BARE)
    kind = next(kind for kind in order if kind in kinds)
    return _Value(left.number * right.number, kind)


def _divide(left: _Value, right: _Value, units: UnitName) -> _Value:
    if not right.number:
        message = "it divides by zero"
        raise SolvingError("P006", message, "Needed: a number other than 0 after `/`.")
    number = left.number / right.number
    if right.kind is not _Kind.LENGTH:
        is_ratio = _Kind.RATIO in (left.kind, right.kind) and left.kind is not _Kind.LENGTH
        return _Value(number, _Kind.RATIO if is_ratio else left.kind)
    if left.kind is _Kind.RATIO:
        message = "a plain number is divided by a length"
        raise SolvingError("P005", message, "Needed: a length before `/`, or a number after it.")
    # A bare number over a length is a length over a length: `48 / step`.
    return _Value(_as_length(left, units) / right.number, _Kind.RATIO)


_OPERATIONS: Final = {"+": _add, "-": _subtract, "*": _multiply, "/": _divide}
