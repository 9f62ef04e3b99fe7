"""Layouts of any blanks: they can be cut as they stand, nothing is lost, nothing is left out.

Sources stand beside the checks.
"""

import os
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from math import ceil
from textwrap import dedent

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.drafts import Bed, Simplicity, work_of
from benchleaf.cutting.records import Blank, CutNode, SheetLayout
from benchleaf.cutting.verifying import verify_plan
from benchleaf.reading.plan import Grain, Stock
from cut_stock import (
    blank,
    blanks,
    board,
    board_jobs,
    fewest_by_trying,
    lay_out,
    nodes_of,
    rod,
    sheet,
    sheet_jobs,
)

Job = tuple[tuple[Blank, ...], Stock, Fraction]


@settings(max_examples=40, deadline=None)
@given(sheet_jobs())
def test_every_sheet_can_be_cut_as_drawn_and_yields_each_blank_once(job: Job) -> None:
    given_blanks, stock, kerf = job
    cut_plan = lay_out(given_blanks, stock, kerf=kerf)
    assert cut_plan.findings == ()
    assert verify_plan(cut_plan) == ()
    placed = [label for layout in cut_plan.sheets for label, _, _ in layout.placed]
    assert sorted(placed) == sorted(one.label for one in given_blanks)


@settings(max_examples=40, deadline=None)
@given(board_jobs())
def test_every_board_can_be_cut_as_drawn_and_yields_each_blank_once(job: Job) -> None:
    given_blanks, stock, kerf = job
    cut_plan = lay_out(given_blanks, stock, kerf=kerf)
    assert cut_plan.findings == ()
    assert verify_plan(cut_plan) == ()
    placed = [label for layout in cut_plan.lengths for label, _, _ in layout.placed]
    assert sorted(placed) == sorted(one.label for one in given_blanks)


@settings(max_examples=20, deadline=None)
@given(sheet_jobs())
def test_area_in_is_blanks_and_kerf_and_what_is_left(job: Job) -> None:
    # Wood is neither made nor lost: geometry, no source needed.
    given_blanks, stock, kerf = job
    for layout in lay_out(given_blanks, stock, kerf=kerf).sheets:
        nodes = nodes_of(layout.tree)
        leaves = sum(_area(node) for node in nodes if node.direction is None)
        lost = sum(_kerf_area(node, kerf) for node in nodes if node.direction is not None)
        assert leaves + lost == layout.length_mm * layout.width_mm
        kept = sum(spot.wide * spot.high for _, spot, _ in layout.placed)
        left = sum(spot.wide * spot.high for spot in layout.offcuts)
        assert kept + left <= leaves


def _area(node: CutNode) -> Fraction:
    return node.area.wide * node.area.high


def _kerf_area(node: CutNode, kerf: Fraction) -> Fraction:
    """What the blade turns to dust: where it runs over an edge, only the part on the piece."""
    along = node.direction == "along"
    across, run = (node.area.high, node.area.wide) if along else (node.area.wide, node.area.high)
    return run * (min(across, node.at_mm + kerf) - max(Fraction(0), node.at_mm))


@settings(max_examples=20, deadline=None)
@given(sheet_jobs(most=12))
def test_kerf_and_trim_are_the_same_as_larger_blanks_on_another_sheet(job: Job) -> None:
    """Kerf k and trim t on W x H ask as many sheets as none on W - 2t + k by H - 2t + k.

    Each blank is grown by k both ways. Every blank of a row but the last is followed by a kerf;
    give one to the last too, and a kerf more to the row: arithmetic, no source needed.
    """
    given_blanks, stock, kerf = job
    grown = tuple(
        replace(one, length_mm=one.length_mm + kerf, width_mm=one.width_mm + kerf)
        for one in given_blanks
    )
    change = kerf - 2 * stock.trim_mm
    other = sheet(1220 + change, 610 + change, grain=stock.grain)
    with_kerf = lay_out(given_blanks, stock, kerf=kerf)
    without = lay_out(grown, other)
    assert len(with_kerf.sheets) == len(without.sheets)
    assert with_kerf.lower_bounds == without.lower_bounds


SMALL = st.lists(st.tuples(st.integers(2, 20), st.integers(2, 12)), min_size=1, max_size=5)


@settings(max_examples=40, deadline=None)
@given(SMALL, st.booleans())
def test_a_handful_of_blanks_takes_as_few_sheets_as_trying_every_way(
    sizes: list[tuple[int, int]], may_turn: bool
) -> None:
    # The exact answer is `fewest_by_trying`, which shares nothing with the planner.
    ways = [
        [(long, wide)] + ([(wide, long)] if may_turn and long <= 12 else []) for long, wide in sizes
    ]
    fewest = fewest_by_trying(ways, (20, 12))
    cut_plan = lay_out(blanks(sizes, may_turn=may_turn), sheet(20, 12))
    assert len(cut_plan.sheets) == fewest
    assert dict(cut_plan.lower_bounds)["ply"] <= fewest


@settings(max_examples=20, deadline=None)
@given(sheet_jobs())
def test_offcuts_are_pieces_that_the_cuts_leave_largest_first(job: Job) -> None:
    given_blanks, stock, kerf = job
    for layout in lay_out(given_blanks, stock, kerf=kerf).sheets:
        left = [node.area for node in nodes_of(layout.tree) if _is_left(node)]
        assert set(layout.offcuts) <= set(left)
        areas = [area.wide * area.high for area in layout.offcuts]
        assert areas == sorted(areas, reverse=True)
        assert all(min(area.wide, area.high) >= kerf for area in layout.offcuts)


def _is_left(node: CutNode) -> bool:
    return node.direction is None and not node.blank


def test_grain_lies_along_the_side_that_the_plan_names() -> None:
    one = (blank("A", 500, 300),)
    lying = {
        grain: lay_out(one, sheet(1220, 610, grain=grain)).sheets[0].placed[0][2]
        for grain in (Grain.LONG, Grain.SHORT)
    }
    # `grain: long` runs along the sheet's long side, `short` along its short side: the plan format.
    assert lying == {Grain.LONG: False, Grain.SHORT: True}


def test_a_blank_turns_only_where_it_may() -> None:
    # Two 600 x 400 blanks stand side by side on 1220 x 610 only when turned or laid end to end.
    pair = [(600, 400), (600, 400), (600, 400)]
    assert len(lay_out(blanks(pair), sheet(1220, 610)).sheets) == 2
    assert len(lay_out(blanks(pair, may_turn=True), sheet(1220, 610)).sheets) == 1


def test_equal_edge_takes_no_cut() -> None:
    # Two halves of a sheet without kerf: one cut; four quarters: three cuts.
    halves = lay_out(blanks([(600, 400)] * 2), sheet(1200, 400)).sheets[0]
    quarters = lay_out(blanks([(600, 200)] * 4), sheet(1200, 400)).sheets[0]
    assert [_count_cuts(layout) for layout in (halves, quarters)] == [1, 3]
    assert halves.offcuts == quarters.offcuts == ()


def test_no_trim_no_trimming_cuts() -> None:
    # A blank as large as the sheet: nothing is cut at all; with trim, each edge is cut once.
    whole = lay_out((blank("A", 1200, 400),), sheet(1200, 400), kerf=3).sheets[0]
    trimmed = lay_out((blank("A", 1180, 380),), sheet(1200, 400, trim=10), kerf=3).sheets[0]
    assert [_count_cuts(layout) for layout in (whole, trimmed)] == [0, 4]


def test_less_trim_than_a_kerf_lets_the_blade_run_over_the_edge() -> None:
    layout = lay_out((blank("A", 1198, 398),), sheet(1200, 400, trim=1), kerf=3).sheets[0]
    cuts = [node for node in nodes_of(layout.tree) if node.direction is not None]
    # 1 mm is trimmed with a blade of 3 mm: 2 mm of it run outside.
    assert [node.at_mm for node in cuts] == [-2, 398, -2, 1198]
    assert layout.offcuts == ()


def _count_cuts(layout: SheetLayout) -> int:
    return sum(node.direction is not None for node in nodes_of(layout.tree))


def test_a_far_side_is_trimmed_once_where_several_blanks_reach_it() -> None:
    # By hand: four strips of 810 x 145 and three kerfs take 589 of 600; each is as long as the
    # sheet between its trims, so that one trim of the right end serves all four.
    (layout,) = lay_out(blanks([(810, 145)] * 4), sheet(820, 610, trim=5), kerf=3).sheets
    cuts = [node for node in nodes_of(layout.tree) if node.direction]
    assert [node.direction for node in cuts].count("across") == 2
    assert [node.direction for node in cuts].count("along") == 5


def _rough(one: Blank, spare: int) -> Blank:
    return replace(one, final_width_mm=one.width_mm - spare)


def test_a_blank_with_an_allowance_comes_last_in_a_row_that_leaves_nothing() -> None:
    # By hand: 100 + 70 + 50 + 40 and three kerfs fill 269 to the last. What the saw slips in three
    # cuts lands on the last strip, so that it should be one that is trued later (common practice).
    made = blanks([(800, 100), (800, 70), (800, 50), (800, 40)])
    given_blanks = (made[0], _rough(made[1], 6), made[2], made[3])
    (layout,) = lay_out(given_blanks, sheet(800, 269), kerf=3).sheets
    assert _last(layout) == "A2"
    assert _last(lay_out(made, sheet(800, 269), kerf=3).sheets[0]) == "A4"


def _last(layout: SheetLayout) -> str:
    """The strip that lies farthest from the near edge."""
    return max(layout.placed, key=lambda one: one[1].y)[0]


def test_equal_blanks_are_cut_from_one_strip_where_there_is_room() -> None:
    # Four pads of 76 x 76 beside three shelves: a strip of its own takes one rip and four
    # crosscuts; spread over gaps they would take a rip each.
    given_blanks = blanks([(914, 368), (813, 318), (711, 267), *[(76, 76)] * 4])
    (layout,) = lay_out(given_blanks, sheet(2440, 1220, trim=6), kerf=3).sheets
    rows = {spot.y for label, spot, _ in layout.placed if label in {"A4", "A5", "A6", "A7"}}
    columns = {spot.x for label, spot, _ in layout.placed if label in {"A4", "A5", "A6", "A7"}}
    assert min(len(rows), len(columns)) == 1
    assert len([node for node in nodes_of(layout.tree) if node.direction]) <= 13


@settings(max_examples=20, deadline=None)
@given(sheet_jobs())
def test_no_cut_comes_before_the_cut_that_frees_its_piece(job: Job) -> None:
    given_blanks, stock, kerf = job
    for layout in lay_out(given_blanks, stock, kerf=kerf).sheets:
        for node in nodes_of(layout.tree):
            for child in (node.first, node.second):
                assert child is None or child.direction is None or child.number > node.number


def test_strips_are_ripped_first_and_then_crosscut() -> None:
    # Six shelves and four sides of a case: two widths. Common practice, no source: rip strips,
    # then crosscut them; each width and each length is set once.
    case = blanks([(600, 280)] * 6 + [(900, 300)] * 4)
    (layout,) = lay_out(case, sheet(1830, 1220), kerf=3).sheets
    cuts = sorted(
        (node for node in nodes_of(layout.tree) if node.direction), key=lambda node: node.number
    )
    in_order = [setting for setting, _ in groupby((node.direction, node.at_mm) for node in cuts)]
    assert in_order == [("along", 300), ("along", 280), ("across", 900), ("across", 600)]


def test_blanks_of_one_size_are_labelled_in_their_order() -> None:
    layouts = lay_out(blanks([(600, 400)] * 9), sheet(1220, 610)).sheets
    held = [{label for label, _, _ in layout.placed} for layout in layouts]
    assert held == [{"A1", "A2"}, {"A3", "A4"}, {"A5", "A6"}, {"A7", "A8"}, {"A9"}]


def test_strips_of_a_board_lie_side_by_side() -> None:
    # 2 x 68 and a kerf of 3 make 139 of 140: two strips of one length from one board.
    cut_plan = lay_out(
        blanks([(1000, 68), (1000, 68)], stock="pine"), board(140, 1200, 2400), kerf=3
    )
    (layout,) = cut_plan.lengths
    assert layout.length_mm == 1200
    # The left end is squared first: two kerfs come off.
    assert layout.placed == (("A1", 6, 1000), ("A2", 6, 1000))
    assert layout.strips == (("A1", 0, 68), ("A2", 71, 68))
    assert layout.offcut_mm == 1200 - 6 - 1000 - 3


def test_a_board_s_end_is_squared_where_there_is_wood_to_spare() -> None:
    # Common practice, no source: a board's end is not square as it is bought. 597 and a kerf of 3
    # leave nothing of 1200 twice over; with 590 there are 14 to spare.
    for length, start in ((597, 0), (590, 6)):
        cut_plan = lay_out(blanks([(length, 140)] * 2, stock="pine"), board(140, 1200), kerf=3)
        assert [layout.placed[0][1] for layout in cut_plan.lengths] == [start]
        assert verify_plan(cut_plan) == ()


def test_lengths_are_bought_so_that_least_is_left() -> None:
    # 900 + 900 and a kerf of 3 do not come out of 1800; 2400 is shorter than 1200 + 1200 + 1200.
    cut_plan = lay_out(
        blanks([(900, 140), (900, 140), (500, 140)], stock="pine"),
        board(140, 1200, 1800, 2400),
        kerf=3,
    )
    # By hand: 900 + 900 + 500 + 2 kerfs = 2306 fits 2400; no two boards come to less.
    assert [(layout.length_mm, len(layout.placed)) for layout in cut_plan.lengths] == [(2400, 3)]


def test_of_two_lengths_the_least_is_bought_and_proved() -> None:
    # On paper, without a kerf: 19 of 29 and 6 of 16. Six of 96 hold three of 29 each, a seventh
    # board of 72 holds one of 29 and two of 16, an eighth four of 16: 6 x 96 + 2 x 72 = 720. Long
    # boards first come to 7 x 96 + 72 = 744, as three of 29 leave nothing for one of 16.
    given_blanks = blanks([(29, 10)] * 19 + [(16, 10)] * 6, stock="pine")
    cut_plan = lay_out(given_blanks, board(10, 72, 96))
    (proof,) = cut_plan.proofs
    assert (proof.used, proof.least) == (720, 720)
    assert verify_plan(cut_plan) == ()


def test_no_more_is_proved_than_the_area_where_blanks_lie_side_by_side() -> None:
    # On paper: four of 500 x 40 on boards 100 wide: 80 000 of area are 800 of length.
    cut_plan = lay_out(blanks([(500, 40)] * 4, stock="pine"), board(100, 600, 1000))
    (proof,) = cut_plan.proofs
    assert (proof.used, proof.least) == (1000, 800)


def test_dowels_come_out_of_a_rod_kerf_by_kerf() -> None:
    # 50 mm dowels with a kerf of 2 out of 1000 less 10 at each end: 980 = 18 x 52 + 44, so 18.
    pegs = tuple(blank(f"A{n}", 50, 10, stock="peg rod") for n in range(1, 20))
    cut_plan = lay_out(pegs, rod(10, 1000, trim=10), kerf=2)
    assert [len(layout.placed) for layout in cut_plan.lengths] == [18, 1]
    assert cut_plan.lengths[0].placed[1] == ("A2", 62, 50)
    assert dict(cut_plan.lower_bounds) == {"peg rod": 2}


@settings(max_examples=20, deadline=None)
@given(sheet_jobs(most=15))
def test_the_same_blanks_give_the_same_layout(job: Job) -> None:
    given_blanks, stock, kerf = job
    assert lay_out(given_blanks, stock, kerf=kerf) == lay_out(given_blanks, stock, kerf=kerf)


def test_the_layout_does_not_depend_on_how_python_hashes() -> None:
    script = dedent("""
        from cut_stock import blanks, board, lay_out, sheet
        sizes = [(37 * n % 900 + 60, 53 * n % 400 + 40) for n in range(1, 25)]
        print(lay_out(blanks(sizes), sheet(1220, 610, trim=5), kerf=3))
        print(lay_out(blanks([(n, 60) for n, _ in sizes], stock="pine"), board(140, 1200, 1830)))
    """)
    printed = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(printed) == 1


@settings(max_examples=20, deadline=None)
@given(sheet_jobs())
def test_no_layout_takes_fewer_sheets_than_the_area_does(job: Job) -> None:
    # Arithmetic, no source needed.
    given_blanks, stock, kerf = job
    cut_plan = lay_out(given_blanks, stock, kerf=kerf)
    area = sum(one.length_mm * one.width_mm for one in given_blanks)
    by_area = ceil(area / (1220 * 610))
    assert by_area <= dict(cut_plan.lower_bounds)["ply"] <= len(cut_plan.sheets)


def test_hundreds_of_blanks_are_laid_out_shallowly() -> None:
    # Trees are walked by recursion further down the line: Python stops at a depth of 1000.
    many = blanks([(20 + n % 7, 10 + n % 5) for n in range(700)])
    cut_plan = lay_out(many, sheet(1220, 610), kerf=3)
    assert verify_plan(cut_plan) == ()
    assert max(_depth(layout.tree) for layout in cut_plan.sheets) < 300


def _depth(node: CutNode | None) -> int:
    return 0 if node is None else 1 + max(_depth(node.first), _depth(node.second))


def test_parts_of_one_size_along_and_across_the_grain_keep_their_names() -> None:
    # With grain, 60 x 40 and 40 x 60 are two kinds, though both fill the same space on the sheet.
    parts = blanks([(60, 40)] * 5 + [(40, 60)] * 3)
    assert verify_plan(lay_out(parts, sheet(120, 100))) == ()


BED = Bed(
    length=2440,
    width=1220,
    trim_ends=0,
    trim_edges=0,
    kerf=3,
    handy_area=10**7,
    handy_size=(2440, 1220),
)


def weight(offcut: int, settings_made: int, cuts: int) -> Simplicity:
    return Simplicity(settings=settings_made, cuts=cuts, large_cuts=0, tight=0, offcut=offcut)


def test_of_equal_stock_the_larger_offcut_wins_then_settings_then_cuts() -> None:
    # The order that the maker asked for, best first: half a sheet left in one piece beats a quarter
    # however it is cut; then one setting less beats any cuts; then one cut less.
    half, quarter = BED.length * BED.width // 2, BED.length * BED.width // 4
    ranked = [
        weight(half, 9, 40),
        weight(quarter, 3, 60),
        weight(quarter, 4, 10),
        weight(quarter, 4, 11),
        weight(0, 1, 1),
    ]
    works = [work_of([one], BED) for one in ranked]
    assert works == sorted(set(works))


def test_one_large_piece_is_left_rather_than_strips() -> None:
    # On paper: two of 40 x 40 on 100 x 100 leave 100 x 60 at most, for no row is less than 40 high.
    cut_plan = lay_out(blanks([(40, 40)] * 2), sheet(100, 100))
    (layout,) = cut_plan.sheets
    assert (layout.offcuts[0].wide * layout.offcuts[0].high) == 6000
