"""Lengths: from the text a maker writes to exact millimetres, and back to the text on the page.

Takes literal text and the unit of bare numbers, gives `Fraction` millimetres; or takes millimetres,
gives text. Must not know plans, names or arithmetic: those are the reader's.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import Final, Literal

UnitName = Literal["in", "mm"]
"""Unit of bare numbers and of pages; `Units` of the reader passes, being these very strings."""

# NIST SP 811 (2008), appendix B.8: 1 inch = 2.54 E-02 metre, exactly.
MM_PER_INCH: Final = Fraction(254, 10)
# NIST SP 811 (2008), appendix B.8: 1 foot = 3.048 E-01 metre, exactly.
_MM_PER_FOOT: Final = Fraction(3048, 10)

# chosen: 1/64 in is the finest mark of a common steel rule; finer is not set out by eye.
FINEST_GRID: Final = 64
# chosen: 12 digits is a thousand kilometres in whole millimetres; longer is a slip or an attack.
MAX_DIGITS: Final = 12

# chosen: a length with both its parts and units spelt out takes some thirty characters.
_MAX_TEXT: Final = 60

_QUOTES = '"\N{RIGHT DOUBLE QUOTATION MARK}\N{DOUBLE PRIME}'
_TICKS = "'\N{RIGHT SINGLE QUOTATION MARK}\N{PRIME}"
_MM_PER: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    **dict.fromkeys(("in", "inch", "inches", *_QUOTES), MM_PER_INCH),
    **dict.fromkeys(("ft", "foot", "feet", *_TICKS), _MM_PER_FOOT),
}

_SLASH = "[/\N{FRACTION SLASH}]"
_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_FRACTION = rf"(?:[0-9]+{_SLASH}[0-9]+|[{_VULGAR}])"
_MIXED = rf"[0-9]+(?:(?:-| +)[0-9]+{_SLASH}[0-9]+|(?:-| *)[{_VULGAR}])"
_DECIMAL = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
_NUMBER = rf"(?:{_MIXED}|{_FRACTION}|{_DECIMAL})"
_INCH_MARK = rf"(?: *(?:[{_QUOTES}]|in(?:ch(?:es)?)?\b))"
_FOOT_MARK = rf"(?: *(?:[{_TICKS}]|(?:ft|foot|feet)\b))"
_METRIC_MARK = r"(?: *(?:mm|cm|m)\b)"

LENGTH_PATTERN: Final = (
    rf"(?:{_NUMBER}{_FOOT_MARK}(?:-| *){_NUMBER}{_INCH_MARK}"
    rf"|{_NUMBER}(?:{_FOOT_MARK}|{_INCH_MARK}|{_METRIC_MARK})?)"
)
"""Regular expression of one length or bare number, without a sign; for the reader's lexer too."""

_ONE_LENGTH = re.compile(LENGTH_PATTERN)
_NUMBER_THEN_MARK = re.compile(
    rf"(?P<number>{_NUMBER})(?P<mark>{_FOOT_MARK}|{_INCH_MARK}|"
    rf"{_METRIC_MARK})?-? *"
)
_MIXED_PARTS = re.compile(
    rf"(?P<whole>[0-9]+)(?:[- ]+(?P<part>[0-9]+{_SLASH}[0-9]+)|[- ]*(?P<vulgar>[{_VULGAR}]))"
)

EXAMPLES: Final = "3/4, 29-1/2, 18 mm, 1.5 in or 2' 6-1/2\""
"""What a finding shows as good lengths."""


class LengthError(ValueError):
    """A text that is not a length: `what` was found and what is `needed`, both ready to show."""

    def __init__(self, what: str, needed: str) -> None:
        super().__init__(f"{what}. {needed}")
        self.what = what
        self.needed = needed


def parse_length(text: str, unit: UnitName) -> Fraction:
    """Read a length as people write it; a bare number is in `unit`.

    A number written without spaces is one number: `29-1/2` is twenty-nine and a half.

    Args:
        text: Such as `3/4`, `29-1/2`, `1 1/2`, `2' 6-1/2"`, `18 mm`; may start with a minus sign.
        unit: Unit of a number without a mark, `in` or `mm`.

    Returns:
        The length in mm, exact.

    Raises:
        LengthError: The text is not a length.

    >>> parse_length("29-1/2", "in")
    Fraction(7493, 10)
    >>> parse_length('2 ft 6½"', "mm") == parse_length("30.5", "in")
    True
    """
    stripped = text.strip().replace("\N{NO-BREAK SPACE}", " ")
    negative = stripped.startswith(("-", "\N{MINUS SIGN}"))
    value, has_unit = parse_literal(stripped[1:].lstrip() if negative else stripped)
    value_mm = value if has_unit else value * _MM_PER[unit]
    return -value_mm if negative else value_mm


def parse_literal(text: str) -> tuple[Fraction, bool]:
    """Read one unsigned length or bare number.

    Returns:
        The value and whether it carried a unit: then it is in mm, else a plain number.

    Raises:
        LengthError: The text is neither.

    >>> parse_literal("1 1/2 in"), parse_literal("3/4")
    ((Fraction(381, 10), True), (Fraction(3, 4), False))
    """
    if len(text) > _MAX_TEXT or not _ONE_LENGTH.fullmatch(text):
        raise LengthError(f"`{_shorten(text)}` is not a length", _needed_instead_of(text))
    if any(len(digits) > MAX_DIGITS for digits in re.findall(r"[0-9]+", text)):
        raise LengthError(
            f"`{_shorten(text)}` has more than {MAX_DIGITS} digits in a row",
            f"Needed: at most {MAX_DIGITS} digits.",
        )
    pieces = list(_NUMBER_THEN_MARK.finditer(text))
    marks = [(match["mark"] or "").strip() for match in pieces]
    values = [_parse_number(match["number"]) for match in pieces]
    total = sum(
        (value * _MM_PER.get(mark, 1) for value, mark in zip(values, marks, strict=True)),
        start=Fraction(0),
    )
    return total, any(marks)


def _parse_number(text: str) -> Fraction:
    mixed = _MIXED_PARTS.fullmatch(text)
    if not mixed:
        return _parse_fraction(text)
    written = mixed["part"] or mixed["vulgar"]
    part = _parse_fraction(written)
    if part >= 1:
        raise LengthError(
            f"`{text}` reads as a mixed number, and its `{written}` is not less than 1",
            f"Needed: spaces round a minus sign (`{mixed['whole']} - {written}`), or a "
            "fraction less than 1.",
        )
    return int(mixed["whole"]) + part


def _parse_fraction(text: str) -> Fraction:
    # NFKC spells a vulgar fraction out: one character becomes 1, fraction slash, 2.
    top, slash, below = (
        unicodedata.normalize("NFKC", text).replace("\N{FRACTION SLASH}", "/").partition("/")
    )
    if not slash:
        return Fraction(top.rstrip("."))
    if not int(below):
        raise LengthError(f"`{text}` divides by zero", "Needed: a fraction such as 3/4.")
    return Fraction(int(top), int(below))


def _needed_instead_of(text: str) -> str:
    if len(text) > _MAX_TEXT:
        return f"Needed: a length such as {EXAMPLES}."
    if re.fullmatch(r"[0-9]+,[0-9]+.*", text):
        return f"Needed: a decimal point, as in `{_shorten(text.replace(',', '.', 1))}`."
    if re.fullmatch(rf"{_NUMBER}{_FOOT_MARK}(?:-| *){_NUMBER}", text):
        return f'Needed: an inch mark at the end, as in `{_shorten(text)}"`.'
    return f"Needed: a length such as {EXAMPLES}."


def _shorten(text: str, limit: int = 40) -> str:
    # chosen: 40 characters show what was meant without flooding a one-line finding.
    return text if len(text) <= limit else text[: limit - 3] + "..."


def format_length(
    length_mm: Fraction, units: UnitName, *, grid: int = FINEST_GRID, show_rounding: bool = True
) -> str:
    """Write a length as a page shows it, without its unit.

    Inches are reduced mixed fractions to the nearest 1/grid; millimetres have at most one decimal.
    Halves round away from zero. Where the text is not the exact length it starts with `≈`, so that
    nobody takes a rounded figure for a setting; what would round to nothing is said to be under the
    finest step.

    Args:
        length_mm: Length, mm.
        units: `in` or `mm`.
        grid: Finest part of an inch shown; has no bearing on millimetres.
        show_rounding: False leaves the `≈` away, where the words around say that it is rounded.

    >>> format_length(Fraction(7493, 10), "in"), format_length(Fraction(7493, 10), "mm")
    ('29-1/2', '749.3')
    >>> format_length(Fraction(18), "in")
    '≈45/64'
    >>> format_length(Fraction(0), "in"), format_length(Fraction(1, 10), "in")
    ('0', 'under 1/64')
    """
    steps = grid if units == "in" else 10  # one decimal of a millimetre
    exact = length_mm / _MM_PER[units]
    # Nearest step; halves go away from zero.
    count = (abs(exact) * steps + Fraction(1, 2)).__floor__()
    shown = Fraction(count, steps)
    if show_rounding and exact and not shown:
        return f"under 1/{steps}" if units == "in" else "under 0.1"
    sign = "-" if exact < 0 and shown else ""
    text = _write_mixed(shown) if units == "in" else _write_decimal(shown)
    rounded = "≈" if show_rounding and shown != abs(exact) else ""
    return f"{rounded}{sign}{text}"


def format_degrees(angle_deg: float) -> str:
    """Write an angle as a page shows it: to the nearest tenth of a degree, as saws are read.

    Args:
        angle_deg: The true angle, degrees; whoever works with it keeps it.

    >>> format_degrees(7.0532), format_degrees(45.0), format_degrees(89.97)
    ('7.1°', '45°', '90°')
    """
    return f"{round(angle_deg, 1):.1f}".removesuffix(".0") + "°"


def _write_mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole}-{part}" if whole else str(part)


def _write_decimal(value: Fraction) -> str:
    whole, tenths = divmod((value * 10).__floor__(), 10)
    return f"{whole}.{tenths}" if tenths else str(whole)


def format_with_unit(
    length_mm: Fraction, units: UnitName, *, grid: int = FINEST_GRID, show_rounding: bool = True
) -> str:
    """Write a length with its unit, as `format_length` rounds it.

    >>> format_with_unit(Fraction(7493, 10), "in")
    '29-1/2 in'
    """
    text = format_length(length_mm, units, grid=grid, show_rounding=show_rounding)
    return f"{text} {units}"


def format_both(length_mm: Fraction, units: UnitName, *, grid: int = FINEST_GRID) -> str:
    """Write a length in the page's unit, with the other in brackets.

    The bracketed figure is there to compare, never to set out by; it is rounded without a mark.

    >>> format_both(Fraction(7493, 10), "in")
    '29-1/2 in (749.3 mm)'
    >>> format_both(Fraction(18), "mm")
    '18 mm (45/64 in)'
    """
    other: UnitName = "mm" if units == "in" else "in"
    first = format_with_unit(length_mm, units, grid=grid)
    second = format_with_unit(length_mm, other, grid=grid, show_rounding=False)
    return f"{first} ({second})"
