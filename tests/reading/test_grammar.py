from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.findings import Place
from benchleaf.frames import Axis
from benchleaf.piece.arithmetic import SolvingError, work_out
from benchleaf.reading.expressions import (
    Literal,
    Negative,
    OverallSize,
    PartSize,
    SizeName,
    StockThickness,
    Sum,
    iterate_terms,
)
from benchleaf.reading.grammar import ExpressionError, parse_expression

PLACE = Place(file="bench.plan.yml", line=1, column=1)


def parse(text):
    return parse_expression(text, PLACE, "sizes.x").term


def number(value):
    return Literal(Fraction(value), False)


def mm(value):
    return Literal(Fraction(value), True)


@pytest.mark.parametrize(
    ("text", "term"),
    [
        ("29-1/2", number("59/2")),
        ("1 1/2", number("3/2")),
        ("29 - 1/2", Sum("-", number(29), number("1/2"))),
        ("29 -1/2", Sum("-", number(29), number("1/2"))),
        ("29- 1/2", Sum("-", number(29), number("1/2"))),
        ("18 mm", mm(18)),
        ("2' 6\"", mm("762")),  # 30 in of 25.4 mm
        ("leg", SizeName("leg")),
        ("long rail", SizeName("long rail")),
        ("long   rail", SizeName("long rail")),
        ("rail 2", SizeName("rail 2")),
        ("leg-3/8", Sum("-", SizeName("leg"), number("3/8"))),
        ("long rail.top - 3/8", Sum("-", PartSize("long rail", "top"), number("3/8"))),
        ("leg.centre wide", PartSize("leg", "centre wide")),
        ("slat.copy(3).top", PartSize("slat", "top", (), 3)),
        ("leg.mirrored(left-right).left", PartSize("leg", "left", (Axis.WIDE,))),
        (
            "leg.mirrored( front-back , left-right ).copy( 2 ).deep",
            PartSize("leg", "deep", (Axis.WIDE, Axis.DEEP), 2),
        ),
        ("ply.thickness", StockThickness("ply")),
        ("overall.high", OverallSize(Axis.HIGH)),
        ("-leg", Negative(SizeName("leg"))),
        ("\N{MINUS SIGN}leg", Negative(SizeName("leg"))),
        ("2 \N{MULTIPLICATION SIGN} leg", Sum("*", number(2), SizeName("leg"))),
        ("leg \N{DIVISION SIGN} 2", Sum("/", SizeName("leg"), number(2))),
        ("leg / (3/4)", Sum("/", SizeName("leg"), number("3/4"))),
        ("leg / 1-1/2", Sum("/", SizeName("leg"), number("3/2"))),
        (
            "a - b - c",
            Sum("-", Sum("-", SizeName("a"), SizeName("b")), SizeName("c")),
        ),
        ("a + b * c", Sum("+", SizeName("a"), Sum("*", SizeName("b"), SizeName("c")))),
        ("(a + b) * c", Sum("*", Sum("+", SizeName("a"), SizeName("b")), SizeName("c"))),
        ("a\n  + b", Sum("+", SizeName("a"), SizeName("b"))),
    ],
)
def test_arithmetic_reads_as_it_is_written(text, term):
    assert parse(text) == term


@pytest.mark.parametrize(
    ("text", "code", "offset"),
    [
        ("", "R030", 0),
        ("leg +", "R030", 5),
        ("leg + * 2", "R030", 6),
        ("2 leg", "R030", 2),
        ("leg (2)", "R030", 4),
        ("(leg", "R030", 4),
        ("leg; import os", "R030", 3),
        ("__import__('os')", "R030", 10),
        ("leg ** 2", "R030", 5),
        ("leg.__class__", "R033", 3),
        ("3 / 0/1", "R035", 2),
        ("leg.left.right", "R033", 3),
        ("leg.mirrored(left-right)", "R033", 0),
        ("leg.mirrored(sideways).left", "R034", 3),
        ("leg.copy(0).left", "R034", 3),
        ("leg.copy(99999).left", "R034", 3),
        ("leg.copy(x).left", "R034", 3),
        ("overall.left", "R033", 7),
        ("overall.thickness", "R033", 7),
        ("ply.copy(2).thickness", "R033", 11),
        ("1/0", "R020", 0),
        ("9999999999999", "R020", 0),
        ("(" * 150 + "1", "R030", 151),
        ("leg" * 100, "R031", 0),
        ("-" * 60 + "1", "R031", 20),
    ],
)
def test_what_is_no_arithmetic_is_refused_where_it_goes_wrong(text, code, offset):
    with pytest.raises(ExpressionError) as caught:
        parse(text)
    assert (caught.value.code, caught.value.offset) == (code, offset)


def test_terms_are_told_left_to_right():
    terms = list(iterate_terms(parse("a.left - (b + -2) * c.thickness")))
    assert terms == [PartSize("a", "left"), SizeName("b"), number(2), StockThickness("c")]


numbers = st.fractions(0, 99, max_denominator=64)


def _write_number(value):
    whole, part = divmod(value, 1)
    return f"{whole}-{part}" if whole and part else str(value)


leaves = numbers.map(lambda value: (f"({_write_number(value)})", value))


def _join(pair):
    (left, a), operator, (right, b) = pair
    operations = {"+": lambda: a + b, "-": lambda: a - b, "*": lambda: a * b,
                  "/": lambda: a / b if b else None}  # fmt: skip
    known = a is not None and b is not None
    return f"({left} {operator} {right})", operations[operator]() if known else None


trees = st.recursive(
    leaves,
    lambda inner: (
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(_join)
        | inner.map(lambda pair: (f"-{pair[0]}", None if pair[1] is None else -pair[1]))
    ),
    max_leaves=12,
)


def worked_out(text):
    try:
        return work_out(parse(text), "mm", lambda term: pytest.fail(f"looked up {term}"))
    except SolvingError as error:
        return error.code
    except ExpressionError as error:
        return error.code


@given(trees)
def test_random_arithmetic_comes_to_what_fractions_come_to(tree):
    # Outside check: Python's own exact rationals, worked out beside the text.
    text, value = tree
    result = worked_out(text)
    if len(text) > 200:
        assert result == "R031"
    elif value is None:
        assert result == "P006"
    elif abs(value) > 1_000_000 or value.denominator.bit_length() > 512:
        assert result == "P007"
    else:
        assert result == value


@given(st.text(alphabet="leg rail.()+-*/×½0123456789'\" mcopyird,", max_size=60))
def test_anything_like_arithmetic_is_read_or_refused(text):
    assert worked_out_or_refused(text)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text):
    assert worked_out_or_refused(text)


def worked_out_or_refused(text):
    try:
        return parse(text) is not None
    except ExpressionError as error:
        return 0 <= error.offset <= len(text) and error.what and error.needed
