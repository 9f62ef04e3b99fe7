"""Figures of a cut plan, by hand for small ones and as sums for any."""

from fractions import Fraction

from hypothesis import given, settings

from benchleaf.cutting.records import Blank
from benchleaf.cutting.summary import CutStep, summarise_cuts
from benchleaf.reading.plan import Stock
from cut_stock import blanks, board, board_jobs, lay_out, nodes_of, sheet, sheet_jobs

Job = tuple[tuple[Blank, ...], Stock, Fraction]
CASE = blanks([(600, 280)] * 6 + [(900, 300)] * 4)


def _told(step: CutStep) -> tuple[str, Fraction, tuple[str, ...]]:
    return str(step.direction), step.setting_mm, step.frees


def test_the_cuts_of_a_sheet_stand_in_order_with_their_settings() -> None:
    summary = summarise_cuts(lay_out(blanks([(600, 195)] * 3), sheet(820, 610, trim=5), kerf=3))
    (cuts,) = summary.cuts
    # By hand: 5 off the near edge leaves 605, 5 off the left end 815. Where a side is squared what
    # is measured lies beyond the cut. No blank reaches the far edge or the right end: 3 x 195 and
    # two kerfs are 591, so neither is trimmed.
    assert [_told(step) for step in cuts.cuts] == [
        ("along", 605, ()),
        ("across", 815, ()),
        ("across", 600, ()),
        ("along", 195, ("A1",)),
        ("along", 195, ("A2",)),
        ("along", 195, ("A3",)),
    ]
    assert [step.is_from_far_side for step in cuts.cuts] == [True, True] + [False] * 4
    assert [step.trimmed_mm for step in cuts.cuts] == [5, 5, 0, 0, 0, 0]


def test_a_setting_is_counted_with_the_blanks_that_it_serves() -> None:
    (use,) = summarise_cuts(lay_out(CASE, sheet(1830, 1220), kerf=3)).uses
    # By hand: four strips, two of each width; two long sides from each wide strip, three shelves
    # from each narrow one.
    assert [(str(one.direction), one.setting_mm, one.count) for one in use.settings] == [
        ("along", 300, 2),
        ("along", 280, 2),
        ("across", 900, 4),
        ("across", 600, 6),
    ]
    assert use.settings[2].labels == ("A7", "A8", "A9", "A10")
    assert (use.count, use.fewest, use.pieces) == (1, 1, ((1830, 1),))
    # By hand: 6 x 600 x 280 + 4 x 900 x 300.
    assert use.used == Fraction(6 * 600 * 280 + 4 * 900 * 300, 1830 * 1220)


def test_a_board_is_crosscut_then_ripped_then_trimmed() -> None:
    given_blanks = blanks([(1000, 68), (990, 60)], stock="pine")
    (cuts,) = summarise_cuts(lay_out(given_blanks, board(140, 1200, trim=10), kerf=3)).cuts
    assert [_told(step) for step in cuts.cuts] == [
        ("across", 1190, ()),
        ("across", 1000, ()),
        ("along", 68, ("A1",)),
        ("along", 60, ()),
        ("across", 990, ("A2",)),
    ]


def test_lengths_bought_are_counted_by_length() -> None:
    given_blanks = blanks([(2000, 140), (900, 140), (850, 140)], stock="pine")
    (use,) = summarise_cuts(lay_out(given_blanks, board(140, 900, 2400), kerf=3)).uses
    # By hand: 2000 needs 2400; 900 + 850 + kerf would need another 2400, two of 900 are less.
    assert use.pieces == ((2400, 1), (900, 2))


@settings(max_examples=25, deadline=None)
@given(sheet_jobs())
def test_every_cut_of_a_sheet_is_told_once(job: Job) -> None:
    given_blanks, stock, kerf = job
    cut_plan = lay_out(given_blanks, stock, kerf=kerf)
    summary = summarise_cuts(cut_plan)
    for layout, cuts in zip(cut_plan.sheets, summary.cuts, strict=True):
        made = [node for node in nodes_of(layout.tree) if node.direction is not None]
        assert [step.number for step in cuts.cuts] == list(range(1, len(made) + 1))
        freed = [label for step in cuts.cuts for label in step.frees]
        placed = [label for label, _, _ in layout.placed]
        assert sorted(freed) == (placed if made else [])
        assert all(step.setting_mm > 0 for step in cuts.cuts)
    (use,) = summary.uses
    assert sum(one.count for one in use.settings) == sum(len(one.cuts) for one in summary.cuts)
    assert 0 < use.used <= 1
    assert use.fewest <= use.count


@settings(max_examples=25, deadline=None)
@given(board_jobs())
def test_every_blank_of_a_board_is_freed_once_where_it_is_cut_at_all(job: Job) -> None:
    given_blanks, stock, kerf = job
    cut_plan = lay_out(given_blanks, stock, kerf=kerf)
    for layout, cuts in zip(cut_plan.lengths, summarise_cuts(cut_plan).cuts, strict=True):
        freed = [label for step in cuts.cuts for label in step.frees]
        placed = [label for label, _, _ in layout.placed]
        assert sorted(freed) == (sorted(placed) if cuts.cuts else [])
