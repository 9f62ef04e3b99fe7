"""The store's cuts: the fewest at the head of each tree after which every piece fits the car."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.hauling import hauled_pieces, store_cuts
from benchleaf.cutting.planning import lay_out_stock
from benchleaf.cutting.records import Blank, CutNode, CutPlan
from benchleaf.cutting.verifying import verify_plan
from benchleaf.reading.plan import Stock, Units
from cut_stock import blanks, place_in_plan, sheet, sheet_jobs


def lay_out(given_blanks: tuple[Blank, ...], stock: Stock, haul: tuple[int, int]) -> CutPlan:
    return lay_out_stock(
        given_blanks,
        (stock,),
        kerf_mm=Fraction(3),
        units=Units.MILLIMETRE,
        place_of=place_in_plan,
        haul_mm=(Fraction(haul[0]), Fraction(haul[1])),
    )


def fewest(node: CutNode | None, long: int, short: int) -> int:
    """The fewest cuts of a tree after which what holds blanks fits: said once more, by hand."""
    if node is None or node.direction is None:
        return 0
    held = [child for child in (node.first, node.second) if child is not None]
    sides = sorted((node.area.wide, node.area.high))
    if sides[0] <= short and sides[1] <= long:
        return 0
    if not any(leaf.blank for leaf in leaves(node)):
        return 0
    return 1 + sum(fewest(child, long, short) for child in held)


def leaves(node: CutNode) -> list[CutNode]:
    inner = [child for child in (node.first, node.second) if child is not None]
    return [node] if node.direction is None else [leaf for child in inner for leaf in leaves(child)]


def test_a_sheet_that_fits_is_not_cut() -> None:
    cut_plan = lay_out(blanks([(400, 300)] * 4), sheet(1220, 610), (610, 1220))
    assert store_cuts(cut_plan.sheets[0].tree, (Fraction(610), Fraction(1220))) == ()


def test_one_cut_makes_two_pieces_that_fit() -> None:
    # By hand: two of 600 x 600 side by side on 1220 x 610; cut across once, both fit 700 x 700.
    cut_plan = lay_out(blanks([(600, 600)] * 2), sheet(1220, 610), (700, 700))
    (layout,) = cut_plan.sheets
    haul = (Fraction(700), Fraction(700))
    assert len(store_cuts(layout.tree, haul)) == 1
    assert len(hauled_pieces(layout, haul)) == 2


def test_a_blank_too_large_for_the_car_is_found() -> None:
    cut_plan = lay_out(blanks([(900, 100)]), sheet(1220, 610), (700, 500))
    (finding,) = cut_plan.findings
    assert str(finding) == (
        "plans/test.plan.yml:7:3: parts.part A1: its blank is 900 x 100, and 500 x 700 is the most "
        "that can be hauled\n"
        "  Have it delivered, or make `part A1` of smaller parts.   [C307]"
    )
    assert verify_plan(cut_plan) == ()


@given(sheet_jobs(most=10), st.integers(500, 900), st.integers(300, 500))
@settings(max_examples=20, deadline=None)
def test_all_that_is_loaded_fits_or_is_a_blank_too_large(
    job: tuple[tuple[Blank, ...], Stock, Fraction], long: int, short: int
) -> None:
    given_blanks, stock, _ = job
    haul = (Fraction(short), Fraction(long))
    cut_plan = lay_out(given_blanks, replace(stock), (short, long))
    assert verify_plan(cut_plan) == ()
    for layout in cut_plan.sheets:
        assert len(store_cuts(layout.tree, haul)) == fewest(layout.tree, long, short)
        for piece in hauled_pieces(layout, haul):
            sides = sorted((piece.area.wide, piece.area.high))
            fits = sides[0] <= short and sides[1] <= long
            assert fits or piece.blank
