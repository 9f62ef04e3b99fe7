"""What is made least of a stock, and what one piece of it counts for.

Takes offers, gives exact numbers. Must not know layouts.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from benchleaf.cutting.records import Measure
from benchleaf.reading.plan import Offer


def measure_of(offers: Sequence[Offer]) -> Measure:
    """The price where the plan tells prices, else the size of what is bought."""
    has_prices = any(offer.price is not None for offer in offers if not offer.is_offcut)
    return Measure.PRICE if has_prices else Measure.SIZE


def cost_of(offer: Offer, measure: Measure, size: Fraction) -> Fraction:
    """What a piece counts for: nothing where it is in the rack.

    Args:
        offer: What is taken.
        measure: Of its stock.
        size: Its area or length.
    """
    if offer.is_offcut:
        return Fraction(0)
    return (offer.price or Fraction(0)) if measure is Measure.PRICE else size
