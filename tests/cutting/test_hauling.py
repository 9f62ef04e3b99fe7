"""The store's cuts: the fewest at the head of each tree after which every piece fits the car."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.hauling import Haul, hauled_pieces, kg_per_mm2, store_cuts
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
    assert store_cuts(cut_plan.sheets[0].tree, Haul(size_mm=(Fraction(610), Fraction(1220)))) == ()


def test_one_cut_makes_two_pieces_that_fit() -> None:
    # By hand: two of 600 x 600 side by side on 1220 x 610; cut across once, both fit 700 x 700.
    cut_plan = lay_out(blanks([(600, 600)] * 2), sheet(1220, 610), (700, 700))
    (layout,) = cut_plan.sheets
    haul = Haul(size_mm=(Fraction(700), Fraction(700)))
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
    haul = Haul(size_mm=(Fraction(short), Fraction(long)))
    cut_plan = lay_out(given_blanks, replace(stock), (short, long))
    assert verify_plan(cut_plan) == ()
    for layout in cut_plan.sheets:
        assert len(store_cuts(layout.tree, haul)) == fewest(layout.tree, long, short)
        for piece in hauled_pieces(layout, haul):
            sides = sorted((piece.area.wide, piece.area.high))
            fits = sides[0] <= short and sides[1] <= long
            assert fits or piece.blank


# By hand: hardwood plywood of 680 kg/m3 (handbook/panels.yml), 18 mm: 12.24 kg/m2.
PLY = replace(sheet(2440, 1220), material="birch plywood")


def lift(given_blanks: tuple[Blank, ...], stock: Stock, mass_kg: str) -> CutPlan:
    return lay_out_stock(
        given_blanks,
        (stock,),
        kerf_mm=Fraction(3),
        units=Units.MILLIMETRE,
        place_of=place_in_plan,
        haul_kg=Fraction(mass_kg),
    )


def test_a_sheet_weighs_what_the_handbook_says() -> None:
    assert kg_per_mm2(PLY) == Fraction("12.24") / 10**6


def test_one_person_lifts_what_the_store_leaves() -> None:
    # By hand: 2.44 x 1.22 x 12.24 = 36.4 kg. Eight of 300 x 1220 in a row; five and the rest would
    # weigh 22.5 kg and less, four with their kerfs 18.0 kg: one cut at the middle will do for 20.
    cut_plan = lift(blanks([(300, 1220)] * 8), PLY, "20")
    (layout,) = cut_plan.sheets
    assert len(layout.store) == 1
    assert verify_plan(cut_plan) == ()
    assert lift(blanks([(300, 1220)] * 8), PLY, "36.5").sheets[0].store == ()


def test_the_verifier_weighs_what_is_loaded() -> None:
    cut_plan = lift(blanks([(300, 1220)] * 8), PLY, "20")
    (layout,) = cut_plan.sheets
    whole = replace(cut_plan, sheets=(replace(layout, store=()),))
    assert verify_plan(whole) == ("ply 1: 2440 x 1220 mm is loaded, too large or too heavy",)
    light = replace(cut_plan, haul_kg=Fraction(40))
    assert verify_plan(light) == (
        f"ply 1: the store makes cut {layout.store[0]} of a piece that can be hauled",
    )


def test_a_blank_too_heavy_and_stock_not_weighed_are_found() -> None:
    # By hand: 1.5 x 1.2 x 12.24 = 22.032 kg.
    cut_plan = lift(blanks([(1500, 1200)]), PLY, "20")
    (finding,) = cut_plan.findings
    assert str(finding) == (
        "plans/test.plan.yml:7:3: parts.part A1: its blank of 1500 x 1200 weighs 22 kg, and 20 kg "
        "is the most that can be hauled\n"
        "  Have it delivered, or make `part A1` of smaller parts.   [C308]"
    )
    assert verify_plan(cut_plan) == ()
    strange = lift(blanks([(1500, 1200)]), replace(PLY, material="moon rock"), "20")
    assert [finding.code for finding in strange.findings] == ["C309"]
    assert verify_plan(strange) == ()
