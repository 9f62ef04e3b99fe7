"""When a rule holds: a small language of comparisons over named facts.

Takes a rule's `when` text and gives a tree; takes a tree and facts and gives True, False or, where
a fact is missing, None (Kleene's three-valued logic). Must not know rules or what a fact means.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Final, TypeGuard

from lark import Lark, Token, Transformer
from lark.exceptions import LarkError

from benchleaf.sequencing.records import Fact

# chosen: the longest rule takes half as much; longer text is a slip, and stays cheap to refuse.
MAX_TEXT: Final = 300

_GRAMMAR: Final = r"""
    ?start: either
    ?either: both ("or" both)*
    ?both: negated ("and" negated)*
    ?negated: "not" negated -> negation
        | holds
    ?holds: sum COMPARATOR sum -> comparison
        | sum "in" "[" word ("," word)* "]" -> membership
        | sum
    ?sum: product
        | sum SUM_SIGN product -> arithmetic
    ?product: atom
        | product PRODUCT_SIGN atom -> arithmetic
    ?atom: NAME -> name
        | NUMBER -> number
        | word
        | "(" either ")"
    word: QUOTED
    COMPARATOR: "<=" | ">=" | "==" | "!=" | "<" | ">"
    SUM_SIGN: "+" | "-"
    PRODUCT_SIGN: "*" | "/"
    NAME: /[a-z]+\.[a-z_]+/
    QUOTED: /'[^']*'/
    NUMBER: /[0-9]+(\.[0-9]+)?/
    %ignore " "
"""

Value = Fraction | float | bool | str


class ConditionError(ValueError):
    """A `when` text that is not a condition."""


@dataclass(frozen=True, slots=True)
class Name:
    """A fact by its dotted name."""

    name: str


@dataclass(frozen=True, slots=True)
class Known:
    """A number or a word as written."""

    value: Fraction | str


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """Two numbers joined by + - * or /."""

    left: Condition
    sign: str
    right: Condition


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two values compared."""

    left: Condition
    comparator: str
    right: Condition


@dataclass(frozen=True, slots=True)
class Membership:
    """A word among words."""

    left: Condition
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Negation:
    """The opposite of a condition."""

    part: Condition


@dataclass(frozen=True, slots=True)
class Joined:
    """Conditions that must all hold, or one of which must."""

    parts: tuple[Condition, ...]
    is_and: bool


Condition = Name | Known | Arithmetic | Comparison | Membership | Negation | Joined


class _Builder(Transformer[Token, Condition]):
    """Turns lark's tree into ours; each method is named after a branch of the grammar."""

    def name(self, children: list[Token]) -> Name:
        return Name(str(children[0]))

    def number(self, children: list[Token]) -> Known:
        return Known(Fraction(str(children[0])))

    def word(self, children: list[Token]) -> Known:
        return Known(str(children[0])[1:-1])

    def arithmetic(self, children: list[Condition]) -> Arithmetic:
        left, sign, right = children
        return Arithmetic(left, str(sign), right)

    def comparison(self, children: list[Condition]) -> Comparison:
        left, comparator, right = children
        return Comparison(left, str(comparator), right)

    def membership(self, children: list[Condition]) -> Membership:
        left, *words = children
        return Membership(left, tuple(str(w.value) for w in words if isinstance(w, Known)))

    def negation(self, children: list[Condition]) -> Negation:
        return Negation(children[0])

    def either(self, children: list[Condition]) -> Joined:
        return Joined(tuple(children), is_and=False)

    def both(self, children: list[Condition]) -> Joined:
        return Joined(tuple(children), is_and=True)


@cache
def _parser() -> Lark:
    return Lark(_GRAMMAR, parser="lalr", maybe_placeholders=False)


def parse_condition(text: str) -> Condition:
    """Read a condition.

    Args:
        text: Such as `cut.kind == 'rip' and cut.fence_gap_mm < 150`.

    Raises:
        ConditionError: The text is not a condition, or too long.

    >>> parse_condition("cut.depth_mm > 3")
    Comparison(left=Name(name='cut.depth_mm'), comparator='>', right=Known(value=Fraction(3, 1)))
    """
    if len(text) > MAX_TEXT:
        raise ConditionError(f"a condition of {len(text)} characters; at most {MAX_TEXT} are read")
    try:
        tree = _parser().parse(text)
        return _Builder().transform(tree)
    except LarkError as error:
        raise ConditionError(f"`{text}` is not a condition: {error}") from error


def holds(condition: Condition, facts: Mapping[str, Fact]) -> bool | None:
    """Tell whether a condition holds for these facts; None where a missing fact decides it.

    >>> rule = parse_condition("cut.through and cut.depth_mm > 3")
    >>> holds(rule, {"cut.through": False}), holds(rule, {"cut.through": True})
    (False, None)
    """
    match condition:
        case Joined(parts, is_and):
            return _join([holds(part, facts) for part in parts], is_and)
        case Negation(part):
            inner = holds(part, facts)
            return None if inner is None else not inner
        case Comparison(left, comparator, right):
            return _compare(_value(left, facts), comparator, _value(right, facts))
        case Membership(left, words):
            found = _value(left, facts)
            return None if found is None else found in words
        case _:
            value = _value(condition, facts)
            return value if isinstance(value, bool) else None


def _join(parts: list[bool | None], is_and: bool) -> bool | None:
    decisive = not is_and
    if decisive in parts:
        return decisive
    return None if None in parts else is_and


def _value(term: Condition, facts: Mapping[str, Fact]) -> Value | None:
    match term:
        case Known(value):
            return value
        case Name(name):
            return facts.get(name)
        case Arithmetic(left, sign, right):
            return _work_out(_value(left, facts), sign, _value(right, facts))
        case _:
            return holds(term, facts)


def _work_out(left: Value | None, sign: str, right: Value | None) -> Fraction | float | None:
    if not (_is_number(left) and _is_number(right)):
        return None
    if sign == "+":
        return left + right
    if sign == "-":
        return left - right
    if sign == "*":
        return left * right
    return left / right if right else None


def _is_number(value: Value | None) -> TypeGuard[Fraction | float]:
    return isinstance(value, (int, float, Fraction)) and not isinstance(value, bool)


def _compare(left: Value | None, comparator: str, right: Value | None) -> bool | None:
    if left is None or right is None:
        return None
    if comparator in {"==", "!="}:
        return (left == right) == (comparator == "==")
    if not (_is_number(left) and _is_number(right)):
        return None
    if comparator in {"<", ">"}:
        return left < right if comparator == "<" else left > right
    return left <= right if comparator == "<=" else left >= right


def names_in(condition: Condition) -> Iterator[str]:
    """The names of all facts that a condition looks at."""
    match condition:
        case Name(name):
            yield name
        case Joined(parts, _):
            for part in parts:
                yield from names_in(part)
        case Negation(part) | Membership(part, _):
            yield from names_in(part)
        case Arithmetic(left, _, right) | Comparison(left, _, right):
            yield from names_in(left)
            yield from names_in(right)


def numbers_in(condition: Condition) -> Iterator[Fraction]:
    """The figures that a condition holds facts to.

    >>> [int(number) for number in numbers_in(parse_condition("a.x > 3 * b.y or a.x > 60"))]
    [3, 60]
    """
    match condition:
        case Known(value) if isinstance(value, Fraction):
            yield value
        case Joined(parts, _):
            for part in parts:
                yield from numbers_in(part)
        case Negation(part):
            yield from numbers_in(part)
        case Arithmetic(left, _, right) | Comparison(left, _, right):
            yield from numbers_in(left)
            yield from numbers_in(right)


def atoms_in(condition: Condition) -> Iterator[Condition]:
    """The single tests that a condition is joined from: comparisons, memberships and flags.

    >>> [type(test).__name__ for test in atoms_in(parse_condition("not a.x and b.y > 3"))]
    ['Name', 'Comparison']
    """
    match condition:
        case Joined(parts, _):
            for part in parts:
                yield from atoms_in(part)
        case Negation(part):
            yield from atoms_in(part)
        case _:
            yield condition


def how_far_past(condition: Condition, facts: Mapping[str, Fact]) -> float:
    """How far the worst number is past its limit, as a share of the limit; 0 without numbers.

    >>> how_far_past(parse_condition("cut.fence_gap_mm < 150"), {"cut.fence_gap_mm": 75})
    0.5
    """
    match condition:
        case Joined(parts, _):
            return max(how_far_past(part, facts) for part in parts)
        case Comparison(left, comparator, right) if holds(condition, facts):
            value, limit = _value(left, facts), _value(right, facts)
            if comparator in {"==", "!="} or not (_is_number(value) and _is_number(limit)):
                return 0.0
            return abs(float(value) - float(limit)) / abs(float(limit)) if limit else 0.0
        case _:
            return 0.0
