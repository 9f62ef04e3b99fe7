from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.lengths import (
    MM_PER_INCH,
    LengthError,
    format_both,
    format_length,
    format_with_unit,
    parse_length,
    parse_literal,
)

IN = MM_PER_INCH


def test_inch_and_foot_are_those_of_the_standard():
    # NIST SP 811 (2008), appendix B.8: inch 2.54 E-02 m, foot 3.048 E-01 m, both exact.
    assert parse_length("1 in", "mm") == Fraction("25.4")
    assert parse_length("1 ft", "mm") == Fraction("304.8")
    assert parse_length("100 in", "mm") == parse_length("2.54 m", "mm")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("0", "0"),
        ("3/4", "3/4"),
        ("23/32", "23/32"),
        ("29-1/2", "59/2"),
        ("29 1/2", "59/2"),
        ("29  1/2", "59/2"),
        ("1 1/2 in", "3/2"),
        ('12-15/16"', "207/16"),
        ("1.5", "3/2"),
        (".5", "1/2"),
        ("1.", "1"),
        ("2'", "24"),
        ("2' 6\"", "30"),
        ("2'6\"", "30"),
        ("2'-6\"", "30"),
        ("2' 6-1/2\"", "61/2"),
        ("2 ft 6-1/2 in", "61/2"),
        ("2 feet 6 inches", "30"),
        ("1-1/2'", "18"),
        ("2\N{RIGHT SINGLE QUOTATION MARK} 6\N{RIGHT DOUBLE QUOTATION MARK}", "30"),
        ("2\N{PRIME} 6\N{DOUBLE PRIME}", "30"),
        ("½", "1/2"),
        ("29½", "59/2"),
        ("29-½", "59/2"),
        ("29 ½ in", "59/2"),
        ("1\N{FRACTION SLASH}2", "1/2"),
        ("29\N{NO-BREAK SPACE}1/2", "59/2"),
        ("-3/8", "-3/8"),
        ("- 3/8", "-3/8"),
        ("\N{MINUS SIGN}3/8", "-3/8"),
        ("  3/4  ", "3/4"),
    ],
)
def test_lengths_read_as_people_write_them(text, inches):
    assert parse_length(text, "in") == Fraction(inches) * IN


@pytest.mark.parametrize(
    ("text", "mm"),
    [("18", 18), ("18 mm", 18), ("3 cm", 30), ("1.2 m", 1200), ("1/2 mm", Fraction(1, 2)),
     ("18mm", 18)],
)  # fmt: skip
def test_bare_numbers_are_in_the_unit_given(text, mm):
    assert parse_length(text, "mm") == mm


@pytest.mark.parametrize(
    ("text", "what", "needed"),
    [
        (
            "three",
            "`three` is not a length",
            "Needed: a length such as 3/4, 29-1/2, 18 mm, 1.5 in or 2' 6-1/2\".",
        ),
        (
            "18,5 mm",
            "`18,5 mm` is not a length",
            "Needed: a decimal point, as in `18.5 mm`.",
        ),
        (
            "2' 6",
            "`2' 6` is not a length",
            "Needed: an inch mark at the end, as in `2' 6\"`.",
        ),
        ("3/0", "`3/0` divides by zero", "Needed: a fraction such as 3/4."),
        (
            "10-8/2",
            "`10-8/2` reads as a mixed number, and its `8/2` is not less than 1",
            "Needed: spaces round a minus sign (`10 - 8/2`), or a fraction less than 1.",
        ),
        (
            "1" * 13,
            "`1111111111111` has more than 12 digits in a row",
            "Needed: at most 12 digits.",
        ),
    ],
)
def test_what_is_no_length_says_so_in_the_authors_spelling(text, what, needed):
    with pytest.raises(LengthError) as caught:
        parse_length(text, "in")
    assert (caught.value.what, caught.value.needed) == (what, needed)


@pytest.mark.parametrize(
    "text",
    ["", " ", "-", "in", "1e9", "1e999", "1_000", "0x10", "١٢", "1//2", "1/2/3", "3 mm mm",
     "6\" 2'", "2 ft in", "nan", "inf", "1 2", "3/4 yd", "--1", "+1", "9" * 1000],
)  # fmt: skip
def test_near_misses_are_refused(text):
    with pytest.raises(LengthError):
        parse_length(text, "in")


def test_a_megabyte_of_digits_is_refused_unread():
    # Would take quadratic time if it reached the regular expression.
    with pytest.raises(LengthError):
        parse_length("1" * 1_000_000 + "x", "mm")


def test_a_literal_tells_whether_it_has_a_unit():
    assert parse_literal("18 mm") == (Fraction(18), True)
    assert parse_literal("18") == (Fraction(18), False)


@pytest.mark.parametrize(
    ("mm", "inches", "metric"),
    # Decimal equivalents of fractions of an inch, as printed on drill charts, from memory:
    # 1/64 = 0.3969 mm, 1/8 = 3.175, 23/32 = 18.2563, 45/64 = 17.8594.
    [
        (Fraction(0), "0", "0"),
        (IN / 64, "1/64", "≈0.4"),
        (IN / 8, "1/8", "≈3.2"),
        (IN * 23 / 32, "23/32", "≈18.3"),
        (Fraction("749.3"), "29-1/2", "749.3"),
        (Fraction(18), "≈45/64", "18"),
        (Fraction("17.86"), "≈45/64", "≈17.9"),
        (-IN / 2, "-1/2", "-12.7"),
        (Fraction("0.01"), "under 1/64", "under 0.1"),
        (-Fraction("0.01"), "under 1/64", "under 0.1"),
    ],
)
def test_lengths_are_shown_reduced_and_rounding_shows(mm, inches, metric):
    assert format_length(mm, "in") == inches
    assert format_length(mm, "mm") == metric


def test_a_coarser_grid_rounds_to_it_halves_away_from_zero():
    assert format_length(IN * 5 / 32, "in", grid=16) == "≈3/16"
    assert format_length(-IN * 5 / 32, "in", grid=16) == "≈-3/16"
    assert format_length(IN * 3 / 16, "in", grid=16) == "3/16"


def test_both_units_stand_together():
    assert format_with_unit(Fraction("749.3"), "in") == "29-1/2 in"
    assert format_with_unit(Fraction("749.3"), "mm") == "749.3 mm"
    assert format_both(Fraction("749.3"), "in") == "29-1/2 in (749.3 mm)"
    assert format_both(Fraction("749.3"), "mm") == "749.3 mm (29-1/2 in)"
    assert format_both(IN * 23 / 32, "in") == "23/32 in (18.3 mm)"


@given(st.integers(-64 * 500, 64 * 500))
def test_inches_on_the_grid_come_back(count):
    length_mm = Fraction(count, 64) * IN
    assert parse_length(format_length(length_mm, "in"), "in") == length_mm
    assert parse_length(format_with_unit(length_mm, "in"), "mm") == length_mm


@given(st.integers(-100_000, 100_000))
def test_tenths_of_a_millimetre_come_back(count):
    length_mm = Fraction(count, 10)
    assert parse_length(format_length(length_mm, "mm"), "mm") == length_mm


@given(st.fractions(0, 5000, max_denominator=10_000))
def test_millimetres_round_as_decimal_rounds(length_mm):
    # Outside check: the decimal module's ROUND_HALF_UP, to one place.
    with localcontext() as context:
        context.prec = 60
        exact = Decimal(length_mm.numerator) / Decimal(length_mm.denominator)
        rounded = exact.quantize(Decimal("0.1"), rounding=ROUND_HALF_UP)
    shown = format_length(length_mm, "mm", show_rounding=False)
    assert Decimal(shown) == rounded


@given(st.fractions(-5000, 5000, max_denominator=10_000))
def test_no_shown_inch_is_further_off_than_half_a_mark(length_mm):
    shown = format_length(length_mm, "in")
    if shown == "under 1/64":
        assert 0 < abs(length_mm) < IN / 64
        return
    back_mm = parse_length(shown.removeprefix("≈"), "in")
    assert abs(back_mm - length_mm) <= IN / 128
    assert shown.startswith("≈") == (back_mm != length_mm)


def refusal(text):
    try:
        parse_length(text, "in")
    except LengthError as error:
        return error.needed
    return "Needed: nothing"


@given(st.text(max_size=80))
def test_any_text_is_a_length_or_a_length_error(text):
    assert refusal(text).startswith("Needed: ")
