"""What is said of blanks that their stock cannot yield, word for word."""

from dataclasses import replace
from fractions import Fraction

import pytest

from benchleaf.cutting.codes import CODES
from benchleaf.cutting.fitting import MOST_BLANKS
from benchleaf.cutting.records import Blank
from benchleaf.cutting.verifying import verify_plan
from benchleaf.reading.plan import Grain, Offer, Stock, Units
from cut_stock import blank, blanks, board, lay_out, rod, sheet

PART = "plans/test.plan.yml:7:3: parts.part A: "
STOCK = "plans/test.plan.yml:3:3: stock.peg rod: "

CASES = {
    "too long for a sheet": (
        blank("A", 1250, 100),
        sheet(1220, 610),
        PART + "its blank is 1250 x 100, and a sheet of ply is 1220 x 610\n"
        "  Needed: at most 1220 x 610, the first along the grain. Make `part A` smaller.   [C301]",
    ),
    "trimmed edges count": (
        blank("A", 1220, 100),
        sheet(1220, 610, trim=5),
        PART + "its blank is 1220 x 100, and a sheet of ply is 1220 x 610, less 5 at each edge\n"
        "  Needed: at most 1210 x 600, the first along the grain. Make `part A` smaller.   [C301]",
    ),
    "fits across the grain": (
        blank("A", 700, 500),
        sheet(1220, 610, grain=Grain.SHORT),
        PART + "its blank is 700 x 500, and a sheet of ply is 1220 x 610\n"
        "  Needed: at most 610 x 1220, the first along the grain. It fits across the grain: give "
        "`part A` another `grain`, or the stock `grain: none`.   [C301]",
    ),
    "may turn and still does not fit": (
        blank("A", 700, 650, may_turn=True),
        sheet(1220, 610, grain=Grain.NONE),
        PART + "its blank is 700 x 650, and a sheet of ply is 1220 x 610\n"
        "  Needed: at most 1220 x 610, either way round. Make `part A` smaller.   [C301]",
    ),
    "the allowance is named": (
        replace(blank("A", 1230, 110), final_length_mm=Fraction(1220)),
        sheet(1220, 610),
        PART + "its blank is 1230 x 110 with its allowance of 10, and a sheet of ply is "
        "1220 x 610\n"
        "  Needed: at most 1220 x 610, the first along the grain. Make `part A` smaller.   [C301]",
    ),
    "longer than any board": (
        blank("A", 2500, 100, stock="pine"),
        board(140, 1800, 2400, trim=10),
        PART + "its blank is 2500 long, and the longest pine is 2400, less 10 at each end\n"
        "  Needed: at most 2380. Shorten `part A`, or add a longer length to the stock.   [C302]",
    ),
    "wider than the board": (
        blank("A", 900, 150, stock="pine"),
        board(140, 2400),
        PART + "its blank is 150 wide, and pine is 140 wide\n"
        "  Needed: at most 140. Make `part A` narrower, or choose wider stock.   [C303]",
    ),
    "a dowel longer than its rod": (
        replace(
            blank("dowel 10 x 950 no. 1", 950, 10, stock="peg rod"),
            part="dowel 10 x 950",
            is_hardware=True,
        ),
        rod(10, 900),
        STOCK + "a dowel 10 x 950 is 950 long, and the longest peg rod is 900\n"
        "  Needed: at most 900. Shorten the dowel 10 x 950, or add a longer length to the stock."
        "   [C302]",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_misfit_is_found_word_for_word(case: str) -> None:
    one, stock, said = CASES[case]
    cut_plan = lay_out((one,), stock, kerf=3)
    assert [str(finding) for finding in cut_plan.findings] == [said]
    assert cut_plan.sheets == cut_plan.lengths == ()
    assert verify_plan(cut_plan) == ()


def test_sizes_are_shown_in_the_units_of_the_plan() -> None:
    stock = sheet(Fraction(254, 10) * 96, Fraction(254, 10) * 48)
    one = blank("A", Fraction(254, 10) * Fraction(193, 2), Fraction(254, 10) * 10)
    (finding,) = lay_out((one,), stock, units=Units.INCH).findings
    assert finding.message == "its blank is 96-1/2 x 10, and a sheet of ply is 96 x 48"


def test_other_blanks_are_still_laid_out() -> None:
    given = (*blanks([(600, 300)] * 2), blank("B", 1300, 100))
    cut_plan = lay_out(given, sheet(1220, 610), kerf=3)
    assert [layout.placed[0][0] for layout in cut_plan.sheets] == ["A1"]
    assert [finding.code for finding in cut_plan.findings] == ["C301"]
    assert verify_plan(cut_plan) == ()


def test_copies_of_a_part_make_one_finding() -> None:
    given = tuple(replace(blank(f"A{n}", 1300, 100), part="shelf") for n in range(1, 5))
    assert len(lay_out(given, sheet(1220, 610)).findings) == 1


def test_more_blanks_than_furniture_takes_are_found_not_laid_out() -> None:
    # Plans come from strangers: the time to lay out must stay in bounds.
    cut_plan = lay_out(blanks([(20, 10)] * (MOST_BLANKS + 1)), sheet(1220, 610))
    (finding,) = cut_plan.findings
    assert str(finding) == (
        "plans/test.plan.yml:3:3: stock.ply: 1501 blanks are to be cut from it\n"
        "  Needed: at most 1500 blanks of one stock. Split the plan in two.   [C305]"
    )
    assert cut_plan.sheets == ()
    assert verify_plan(cut_plan) == ()


def test_too_little_of_what_there_is_is_found() -> None:
    offer = Offer(length_mm=Fraction(600), width_mm=Fraction(300), count=1, is_offcut=True)
    stock = replace(sheet(600, 300), offers=(offer,))
    cut_plan = lay_out(blanks([(400, 200)] * 2), stock)
    (finding,) = cut_plan.findings
    assert str(finding) == (
        "plans/test.plan.yml:3:3: stock.ply: 2 blanks are to be cut from it, and there is too "
        "little of it\n"
        "  Needed: another size that can be bought in any number, or more of those there are."
        "   [C306]"
    )
    assert verify_plan(cut_plan) == ()


def test_sizes_from_strangers_stay_exact() -> None:
    # Lengths that share no small grid, and very large ones: exact, and without huge tables.
    odd: tuple[Blank, ...] = tuple(
        blank(f"A{n}", Fraction(10**6 + n, 997 + n), Fraction(10**5 + n, 991 - n))
        for n in range(1, 9)
    )
    stock: Stock = sheet(Fraction(10**7, 1009), Fraction(10**7, 1013))
    cut_plan = lay_out(odd, stock, kerf=Fraction(1, 7))
    assert verify_plan(cut_plan) == ()
    huge = lay_out(blanks([(10**60, 10**59)] * 3), sheet(10**61, 10**60), kerf=1)
    assert verify_plan(huge) == ()
    boards = lay_out(
        blanks([(10**60 + n, 10**59) for n in range(9)], stock="pine"), board(10**60, 10**61)
    )
    assert verify_plan(boards) == ()


def test_each_code_is_of_this_stage_and_said_here() -> None:
    said = {text[-5:-1] for _, _, text in CASES.values()} | {"C304", "C305", "C306"}
    # Those of what is hauled are in test_hauling.
    said |= {"C307", "C308", "C309"}
    # Those of parts that are cut together are in test_bonds.
    said |= {"C310", "C311", "C312", "C313"}
    assert said == set(CODES)
