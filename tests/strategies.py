"""Strategies that tests share: what sizes of wood and of pieces are made of."""

from fractions import Fraction

from hypothesis import strategies as st

from benchleaf.lengths import MM_PER_INCH, parse_length


def sixteenths(least: str, most: str) -> st.SearchStrategy[Fraction]:
    """Lengths in inches on the sixteenths of a rule, from least to most."""
    low, high = (parse_length(text, "in") / MM_PER_INCH * 16 for text in (least, most))
    return st.integers(int(low), int(high)).map(lambda count: Fraction(count, 16))
