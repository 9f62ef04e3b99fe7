"""What the cutting page says of the stock taken: how much, and whether less would do."""

from dataclasses import replace
from fractions import Fraction

import pytest

from benchleaf.cutting.records import Measure, Proof
from benchleaf.reading.plan import Units
from benchleaf.site.show import Show
from benchleaf.site.views.taken import say_proof
from cut_stock import board, sheet

INCH = Fraction(254, 10)
SAID = {
    "proved": (
        Proof(stock="ply", measure=Measure.PIECES, used=Fraction(2), least=Fraction(2)),
        "ply: 2 sheets. Proved: no layout needs fewer.",
    ),
    "a gap": (
        Proof(stock="ply", measure=Measure.PIECES, used=Fraction(4), least=Fraction(3)),
        (
            "ply: 4 sheets. No layout can do with less than 3 sheets; whether any comes nearer to "
            "that is not known (a gap of 25.0 %)."
        ),
    ),
    "a price": (
        Proof(stock="ply", measure=Measure.PRICE, used=Fraction(129, 2), least=Fraction(129, 2)),
        "ply: 64.50 in all. Proved: no layout needs less.",
    ),
    "an area": (
        Proof(stock="ply", measure=Measure.SIZE, used=4608 * INCH**2, least=4608 * INCH**2),
        "ply: 32.0 sq ft. Proved: no layout needs less.",
    ),
    "all from the rack": (
        Proof(stock="ply", measure=Measure.PRICE, used=Fraction(0), least=Fraction(0)),
        "ply: nothing is bought.",
    ),
}


@pytest.mark.parametrize("case", SAID)
def test_what_is_proved_is_said(case: str) -> None:
    proof, said = SAID[case]
    assert say_proof(proof, sheet(96 * INCH, 48 * INCH), Show(Units.INCH)) == said


def test_boards_are_said_by_their_length() -> None:
    proof = Proof(stock="pine", measure=Measure.SIZE, used=144 * INCH, least=144 * INCH)
    stock = replace(board(140, 72 * INCH, 96 * INCH))
    said = "pine: 144 in. Proved: no layout needs less."
    assert say_proof(proof, stock, Show(Units.INCH)) == said
