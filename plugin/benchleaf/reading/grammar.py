"""Arithmetic as plans write it, from text to an expression tree.

Takes one value's text, gives an `Expression` or raises `ExpressionError` with the offset of what is
wrong. A lark LALR grammar: nothing is ever evaluated here, and nothing but the terms of
`expressions` can come out. Must not know which names a plan has; `references` checks those.

A number written without spaces is one number: `29-1/2` is a mixed number, `29 - 1/2` a subtraction.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, cast

from lark import Lark, Token, Transformer, UnexpectedCharacters, UnexpectedToken, v_args

from benchleaf.findings import Place
from benchleaf.frames import FACES, Axis
from benchleaf.lengths import EXAMPLES, LENGTH_PATTERN, LengthError, parse_literal
from benchleaf.reading.expressions import (
    Expression,
    Literal,
    Negative,
    OverallSize,
    PartSize,
    SizeName,
    StockThickness,
    Sum,
    Term,
)
from benchleaf.reading.showing import needed_word, quote

# chosen: the longest sum in the plans drawn up for trial has 90 characters.
MAX_CHARACTERS: Final = 200
# chosen: twice what a readable sum needs, and far from the depth at which Python gives up.
MAX_DEPTH: Final = 40

MIRRORS: Final = {"left-right": Axis.WIDE, "front-back": Axis.DEEP, "bottom-top": Axis.HIGH}
"""The word for a mirror to the axis that it is across."""
EXTENTS: Final = {axis.extent: axis for axis in Axis}
"""The word for an extent to its axis."""
MEASURES: Final = (*FACES, *EXTENTS, *(f"centre {extent}" for extent in EXTENTS))
"""What can be asked of a part: faces, extents, centres."""

_GRAMMAR: Final = rf"""
    ?start: sum
    ?sum: product
        | sum PLUS product      -> operate
        | sum MINUS product     -> operate
    ?product: factor
        | product TIMES factor  -> operate
        | product OVER factor   -> operate
    ?factor: atom
        | MINUS factor          -> negate
    ?atom: LITERAL              -> literal
        | "(" sum ")"           -> bracket
        | NAME step*            -> refer
    step: MIRRORED | COPY | WHAT

    PLUS: "+"
    MINUS: /[-\u2212]/
    TIMES: /[*\u00d7]/
    OVER: /[\/\u00f7]/
    LITERAL: /{LENGTH_PATTERN.replace("/", chr(92) + "/")}/
    NAME: /[^\W\d]\w*(?: +\w+)*/
    WHAT: /\. *[^\W\d]\w*(?: +\w+)*/
    MIRRORED.2: /\. *mirrored *\([^()]*\)/
    COPY.2: /\. *copy *\([^()]*\)/
    %ignore /[ \t\n]+/
"""


class ExpressionError(ValueError):
    """Text that is no arithmetic: `what` was found, at which `offset`, and what is `needed`."""

    def __init__(self, code: str, offset: int, what: str, *, needed: str) -> None:
        super().__init__(f"{what}. {needed}")
        self.code = code
        self.offset = offset
        self.what = what
        self.needed = needed


@dataclass(frozen=True, slots=True)
class _Grown:
    """A term and how deep it is."""

    term: Term
    depth: int
    text: str = ""
    """The literal's text, where it is one."""


@v_args(inline=True)
class _Grow(Transformer[Token, _Grown]):
    """Turns what the grammar finds into terms."""

    def literal(self, token: Token) -> _Grown:
        """A length or a bare number."""
        try:
            value, has_unit = parse_literal(str(token))
        except LengthError as error:
            raise ExpressionError("R020", _start(token), error.what, needed=error.needed) from None
        return _Grown(Literal(value, has_unit), 1, str(token))

    def bracket(self, inner: _Grown) -> _Grown:
        """A term in brackets: as a literal's text, it can be read in one way only."""
        return _Grown(inner.term, inner.depth)

    def negate(self, minus: Token, of: _Grown) -> _Grown:
        """Minus a term."""
        return _Grown(Negative(of.term), _deepen(of.depth, minus))

    def operate(self, left: _Grown, operator: Token, right: _Grown) -> _Grown:
        """Two terms with an operator between."""
        sign = _SIGNS.get(str(operator), str(operator))
        if sign == "/" and re.fullmatch(r"[0-9]+[/\u2044].*", right.text):
            message = f"the fraction {quote(right.text)} after `/` can be read in two ways"
            needed = f"Write `/ ({right.text})`, or put the divisors in brackets."
            raise ExpressionError("R035", _start(operator), message, needed=needed)
        depth = _deepen(max(left.depth, right.depth), operator)
        return _Grown(Sum(sign, left.term, right.term), depth)

    def step(self, token: Token) -> Token:
        """One `.word` after a name."""
        return token

    def refer(self, name: Token, *steps: Token) -> _Grown:
        """A named size, or a measure of a part, of the stock, or of the whole piece."""
        return _Grown(_read_reference(_words(name), _start(name), steps), 1)


def _deepen(depth: int, operator: Token) -> int:
    if depth >= MAX_DEPTH:
        message = f"the arithmetic is nested more than {MAX_DEPTH} deep"
        raise ExpressionError("R031", _start(operator), message, needed=_SPLIT)
    return depth + 1


_SIGNS: Final = {"\N{MINUS SIGN}": "-", "\N{MULTIPLICATION SIGN}": "*", "\N{DIVISION SIGN}": "/"}
_SPLIT: Final = "Give a part of it a name under `sizes` and use that."
_PARSER: Final = Lark(_GRAMMAR, parser="lalr", transformer=_Grow())


def parse_expression(text: str, place: Place, path: str) -> Expression:
    """Read arithmetic over lengths.

    Args:
        text: Such as `29-1/2`, `depth - 2 * leg`, `leg.mirrored(left-right).left - 18 mm`.
        place: Where the text stands.
        path: Path in the plan of the value.

    Returns:
        The expression, with its text as written.

    Raises:
        ExpressionError: The text is no arithmetic, or too much of it.

    >>> place = Place(file="bench.plan.yml", line=1, column=1)
    >>> parse_expression("depth - 2 * leg", place, "sizes.rail").term.operator
    '-'
    """
    if len(text) > MAX_CHARACTERS:
        message = f"the arithmetic has {len(text)} characters, more than {MAX_CHARACTERS}"
        raise ExpressionError("R031", 0, message, needed=_SPLIT)
    try:
        # With a transformer inside the parser, what comes out is what `_Grow` made.
        grown = cast(_Grown, _PARSER.parse(text.replace("\N{NO-BREAK SPACE}", " ")))
    except UnexpectedCharacters as error:
        offset = error.pos_in_stream or 0
        message = f"{quote(text[offset])} has no meaning in arithmetic"
        raise ExpressionError("R030", offset, message, needed=_ALLOWED) from None
    except UnexpectedToken as error:
        raise _explain(error.token, error.token_history, text) from None
    return Expression(term=grown.term, text=text, place=place, path=path)


_ALLOWED: Final = f"Needed: lengths such as {EXAMPLES}, names, `part.face`, `+ - * /` and brackets."


def _explain(token: Token, history: list[Token] | None, text: str) -> ExpressionError:
    before = str(history[-1]).strip() if history else ""
    if token.type == "$END":
        message = f"{quote(text)} ends too soon" if text.strip() else "the value is empty"
        return ExpressionError("R030", len(text), message, needed=_ALLOWED)
    offset = _start(token)
    is_value = token.type in {"LITERAL", "NAME", "LPAR"}
    if before and is_value and before[-1] not in "+-*/(":
        message = f"{quote(before)} and {quote(str(token))} stand side by side"
        needed = "Put an operator between them: `+`, `-`, `*` or `/`."
        return ExpressionError("R030", offset, message, needed=needed)
    return ExpressionError(
        "R030", offset, f"{quote(str(token))} is not expected here", needed=_ALLOWED
    )


def _read_reference(name: str, offset: int, steps: tuple[Token, ...]) -> Term:
    if not steps:
        return SizeName(name)
    last = steps[-1]
    if last.type != "WHAT":
        message = f"{quote(name)} is a part; which of its faces or extents is meant?"
        needed = f"Needed: a face or extent at the end, as in `{name}{_bare(last)}.right`."
        raise ExpressionError("R033", offset, message, needed=needed)
    what = _words(last)
    mirrored, copy = _read_copy_steps(steps[:-1])
    is_plain = len(steps) == 1
    if name == "overall" and is_plain and what in EXTENTS:
        return OverallSize(EXTENTS[what])
    if what == "thickness" and is_plain and name != "overall":
        return StockThickness(name)
    if name != "overall" and what in MEASURES:
        return PartSize(name, what, mirrored, copy)
    message = f"{quote(name)} has no {quote(what)}"
    allowed = EXTENTS if name == "overall" else (*MEASURES, "thickness")
    needed = needed_word("after the dot", what, allowed)
    raise ExpressionError("R033", _start(last), message, needed=needed)


def _read_copy_steps(steps: tuple[Token, ...]) -> tuple[tuple[Axis, ...], int]:
    mirrored: tuple[Axis, ...] = ()
    copy = 1
    for step in steps:
        if step.type == "MIRRORED":
            mirrored += _read_mirrors(step)
        elif step.type == "COPY":
            copy = _read_copy(step)
        else:
            message = f"{quote(_words(step))} stands before the last dot"
            needed = (
                "Needed: `mirrored(...)` or `copy(...)` there, and one face or extent at the end."
            )
            raise ExpressionError("R033", _start(step), message, needed=needed)
    return tuple(sorted(set(mirrored))), copy


def _read_mirrors(step: Token) -> tuple[Axis, ...]:
    words = [word.strip() for word in _arguments(step).split(",")]
    for word in words:
        if word not in MIRRORS:
            message = f"{quote(word)} is no mirror"
            needed = needed_word("a mirror", word, MIRRORS)
            raise ExpressionError("R034", _start(step), message, needed=needed)
    return tuple(MIRRORS[word] for word in words)


def _read_copy(step: Token) -> int:
    number = _arguments(step)
    # chosen: four digits are more copies than a plan may hold.
    if not re.fullmatch(r"[1-9][0-9]{0,3}", number):
        message = f"{quote(number)} is no number of a copy"
        raise ExpressionError(
            "R034", _start(step), message, needed="Needed: a whole number from 1."
        )
    return int(number)


def _arguments(step: Token) -> str:
    return str(step).partition("(")[2].removesuffix(")").strip()


def _bare(step: Token) -> str:
    return re.sub(r"\s+", "", str(step))


def _words(token: Token) -> str:
    return " ".join(str(token).lstrip(".").split())


def _start(token: Token) -> int:
    return token.start_pos or 0
