"""Blanks that are cut together: runs of figure, and parts from one piece.

A run is what the trade calls sequence-matched: fronts cut one after another from one strip, so that
the figure runs through them (common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.budget import usual_budget
from benchleaf.cutting.planning import lay_out_stock, plan_cuts
from benchleaf.cutting.records import Blank, Bond, CutPlan, LengthLayout, Run, SheetLayout
from benchleaf.cutting.verifying import verify_plan
from benchleaf.drawing.cutting_diagram import draw_sheet_layout
from benchleaf.drawing.scene import Text
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.records import Joinery
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan
from benchleaf.reading.plan import Grain, Stock, Units
from cut_stock import blank, blanks, board, place_in_plan, rod, sheet

KERF = Fraction(3)


def bond(*labels: str, run: Run | None = None) -> Bond:
    return Bond(path="from one piece[0]", labels=labels, run=run)


def lay_out_together(given: tuple[Blank, ...], stock: Stock, *bonds: Bond) -> CutPlan:
    return lay_out_stock(
        given,
        (stock,),
        kerf_mm=KERF,
        units=Units.MILLIMETRE,
        place_of=place_in_plan,
        budget_of=usual_budget,
        bonds=bonds,
    )


def spots(made: CutPlan) -> dict[str, tuple[int, Fraction, Fraction]]:
    """Label to the number of its sheet, x and y."""
    return {
        label: (one.number, area.x, area.y) for one in made.sheets for label, area, _ in one.placed
    }


def test_drawer_fronts_of_one_length_come_one_above_the_other_in_their_order() -> None:
    fronts = blanks([(600, 200), (600, 120), (600, 160)])
    made = lay_out_together(fronts, sheet(2440, 1220), bond("A2", "A3", "A1", run=Run.SIDE))
    assert verify_plan(made) == () == made.findings
    at = spots(made)
    # On paper: 120 and a kerf of 3, then 160 and a kerf.
    assert at["A3"][2] - at["A2"][2] == 123
    assert at["A1"][2] - at["A3"][2] == 163
    assert len({place[:2] for place in at.values()}) == 1


def test_fronts_of_one_width_come_end_to_end() -> None:
    fronts = blanks([(500, 150), (400, 150), (300, 150)])
    made = lay_out_together(fronts, sheet(2440, 1220), bond("A1", "A2", "A3", run=Run.END))
    assert verify_plan(made) == () == made.findings
    at = spots(made)
    assert (at["A2"][1] - at["A1"][1], at["A3"][1] - at["A2"][1]) == (503, 403)


def test_grain_along_the_short_side_turns_the_run_with_it() -> None:
    fronts = blanks([(600, 200), (600, 120)])
    stock = sheet(2440, 1220, grain=Grain.SHORT)
    made = lay_out_together(fronts, stock, bond("A1", "A2", run=Run.SIDE))
    assert verify_plan(made) == () == made.findings
    at = spots(made)
    assert (at["A2"][1] - at["A1"][1], at["A2"][2]) == (203, at["A1"][2])


def test_equal_blanks_outside_a_run_do_not_take_its_places() -> None:
    given = blanks([(600, 200)] * 8)
    made = lay_out_together(given, sheet(2440, 1220), bond("A7", "A2", "A5", run=Run.SIDE))
    assert verify_plan(made) == () == made.findings


def test_parts_from_one_sheet_share_one_though_others_would_part_them() -> None:
    # Two doors and four sides fill two sheets either way; the doors must share one of them.
    given = blanks([(1200, 590)] * 2 + [(1200, 600)] * 6)
    made = lay_out_together(given, sheet(2440, 1220), bond("A1", "A2"))
    assert verify_plan(made) == () == made.findings
    at = spots(made)
    assert at["A1"][0] == at["A2"][0]
    assert len(made.sheets) == 2


def test_parts_that_share_no_sheet_are_found_and_still_cut() -> None:
    given = blanks([(2400, 700), (2400, 700)])
    made = lay_out_together(given, sheet(2440, 1220), bond("A1", "A2"))
    assert [one.code for one in made.findings] == ["C313"]
    assert verify_plan(made) == ()
    assert (len(made.sheets), made.bonds) == (2, ())


def test_a_run_too_long_for_its_stock_is_found() -> None:
    given = blanks([(1000, 90)] * 3, stock="pine")
    made = lay_out_together(given, board(90, 2400), bond("A1", "A2", "A3", run=Run.END))
    assert [one.message for one in made.findings] == ["end to end, these 3 blanks fit no pine"]
    assert verify_plan(made) == ()


def test_a_run_of_one_board_follows_its_grain() -> None:
    given = blanks([(500, 90)] * 6, stock="pine")
    made = lay_out_together(given, board(90, 1800), bond("A5", "A2", "A4", run=Run.END))
    assert verify_plan(made) == () == made.findings
    own = next(one for one in made.lengths if "A5" in {label for label, *_ in one.placed})
    assert [label for label, *_ in own.placed][:3] == ["A5", "A2", "A4"]


def test_strips_of_one_board_lie_side_by_side() -> None:
    given = blanks([(500, 40), (500, 45), (700, 90)], stock="pine")
    made = lay_out_together(given, board(140, 2400), bond("A1", "A2", run=Run.SIDE))
    assert verify_plan(made) == () == made.findings
    (only,) = made.lengths
    assert {label: edge for label, edge, _ in only.strips}["A2"] == 43


def test_lengths_from_one_rod() -> None:
    given = blanks([(500, 10), (300, 10), (300, 10), (500, 10)], stock="peg rod")
    made = lay_out_together(given, rod(10, 900), bond("A2", "A3"))
    assert verify_plan(made) == () == made.findings


@pytest.mark.parametrize("run", [Run.SIDE, Run.END])
def test_verifier_sees_a_run_out_of_order(run: Run) -> None:
    fronts = blanks([(500, 150)] * 3)
    made = lay_out_together(fronts, sheet(2440, 1220), bond("A1", "A2", "A3", run=run))
    assert verify_plan(made) == ()
    wrong = replace(made, bonds=(bond("A1", "A3", "A2", run=run),))
    assert any("no figure runs" in problem for problem in verify_plan(wrong))


def test_verifier_sees_parts_on_two_sheets() -> None:
    made = lay_out_together(blanks([(2400, 700)] * 2), sheet(2440, 1220))
    wrong = replace(made, bonds=(bond("A1", "A2"),))
    assert any("2 pieces of stock" in problem for problem in verify_plan(wrong))


@st.composite
def jobs(draw: st.DrawFn) -> tuple[tuple[Blank, ...], Stock, tuple[Bond, ...]]:
    """Blanks of a few sizes, of which some run or belong on one piece."""
    length, width = draw(st.integers(100, 600)), draw(st.integers(50, 300))
    run = draw(st.sampled_from([Run.SIDE, Run.END, None]))
    sizes = [
        (
            length if run is Run.SIDE else draw(st.integers(100, 700)),
            width if run is Run.END else draw(st.integers(40, 139)),
        )
        for _ in range(draw(st.integers(2, 4)))
    ]
    others = draw(st.lists(st.sampled_from([*sizes, (650, 80), (300, 100)]), max_size=10))
    stock = draw(
        st.sampled_from(
            [sheet(1220, 610), sheet(1220, 610, grain=Grain.SHORT), board(300, 1800, 2400)]
        )
    )
    made = tuple(
        blank(f"A{number}", *size, stock=stock.name) for number, size in enumerate(sizes + others)
    )
    return made, stock, (bond(*(f"A{number}" for number in range(len(sizes))), run=run),)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_every_bond_is_kept_or_found(
    job: tuple[tuple[Blank, ...], Stock, tuple[Bond, ...]],
) -> None:
    given, stock, bonds = job
    made = lay_out_together(given, stock, *bonds)
    assert verify_plan(made) == ()
    wide = [one for one in made.findings if one.code != "C313"]
    assert (made.bonds == bonds) or made.findings
    if not wide:
        layouts: tuple[SheetLayout | LengthLayout, ...] = (*made.sheets, *made.lengths)
        assert sum(len(one.placed) for one in layouts) == len(given)


FRONTS = """\
plan: Stack of fronts
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 900, deep: 18, high: 606}
stock:
  ply: {sheet: 1220 x 2440, thickness: 18, of: oak-faced plywood}
  oak: {board: 18 x 120, lengths: 2400}
shop: {kerf: 3}
parts:
  lower: {stock: ply, left: 0, wide: 600, front: 0, bottom: 0, high: 300}
  middle: {stock: ply, left: 0, wide: 600, front: 0, bottom: 300, high: 200}
  upper: {stock: ply, left: 0, wide: 600, front: 0, bottom: 500, high: 106}
  side: {stock: ply, grain: wide, left: 600, right: 900, front: 0, bottom: 0, high: 300}
  post: {stock: oak, left: 600, wide: 50, front: 0, bottom: 300, high: 306}
  slip: {stock: ply, layers: 1, left: 650, wide: 100, front: 0, bottom: 300, high: 300}
"""


def joined(text: str) -> Joinery:
    """The stages up to the joints: what stands in the air is no matter here."""
    plan, found = read_plan(text, "plans/fronts.plan.yml", JOINT_WORDS)
    assert plan is not None, found
    piece, found = place_parts(plan)
    assert piece is not None, found
    return cut_joints(piece)[0]


def test_fronts_that_stand_one_above_the_other_are_cut_side_by_side() -> None:
    cut_plan = plan_cuts(joined(FRONTS + "grain matched: [[upper, middle, lower]]\n"))
    (run,) = cut_plan.bonds
    assert (run.labels, run.run) == (("C", "B", "A"), Run.SIDE)


@pytest.mark.parametrize(("along", "run"), [("wide", Run.END), ("high", Run.SIDE)])
def test_equal_fronts_follow_one_another_as_they_stand(along: str, run: Run) -> None:
    front = (
        "  front: {stock: ply, left: 0, wide: 300, front: 0, bottom: 0, high: 150, grain: wide, "
        f"row: {{along: {along}, count: 2, step: 300}}}}\n"
    )
    cut_plan = plan_cuts(joined(f"{FRONTS}{front}grain matched: [[front]]\n"))
    assert [bond.run for bond in cut_plan.bonds] == [run]


CASES = {
    "grain matched: [[upper, post]]\n": (
        "grain matched[0]: these parts come from 2 stocks: ply, oak",
        "Needed: parts of one stock.   [C311]",
    ),
    "grain matched: [[upper, slip]]\n": (
        "grain matched[0]: these parts are alike neither in length nor in width",
        "Needed: parts of one length side by side, or of one width end to end.   [C312]",
    ),
    "from one piece: [[lower, post]]\n": (
        "from one piece[0]: these parts come from 2 stocks: ply, oak",
        "Needed: parts of one stock.   [C311]",
    ),
    "grain matched: [[thick, upper]]\n": (
        "grain matched[0]: `thick` is glued up of several pieces, so no figure runs through it",
        "Needed: parts of one piece each. Take `thick` out of the list.   [C310]",
    ),
}


@pytest.mark.parametrize("more", CASES)
def test_what_cannot_be_cut_together_is_said(more: str) -> None:
    thick = "  thick: {stock: ply, layers: 2, left: 0, wide: 600, front: 0, bottom: 0, high: 90}\n"
    found = plan_cuts(joined(FRONTS + thick + more)).findings
    first, second = CASES[more]
    said = [str(one).partition(": ")[2] for one in found if one.code.startswith("C31")]
    assert said == [f"{first}\n  {second}"]


def test_diagram_ties_the_run_together_and_says_so() -> None:
    drawn = []
    for more in ("", "grain matched: [[upper, middle, lower]]\n"):
        joinery = joined(FRONTS + more)
        cut_plan = plan_cuts(joinery)
        drawn.append(draw_sheet_layout(cut_plan.sheets[0], cut_plan, joinery.piece.plan))
    words = [" ".join(one.text for one in scene.marks if isinstance(one, Text)) for scene in drawn]
    said = "Figure runs through C, B and A: part them from one strip, side by side"
    assert [said in one for one in words] == [False, True]
