"""The verifier sees a broken layout: each test breaks a sound one in one way.

What a sound layout is: geometry, and the plan's own trim, kerf and grain; no source needed.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.cutting.records import (
    Blank,
    CutDirection,
    CutNode,
    CutPlan,
    LengthLayout,
    Rectangle,
    SheetLayout,
)
from benchleaf.cutting.verifying import verify_layout, verify_plan
from benchleaf.findings import Finding, Severity
from benchleaf.reading.plan import Grain, Stock
from cut_stock import blanks, board, lay_out, nodes_of, place_in_plan, rod, sheet, sheet_jobs

BLANKS = blanks([(600, 280), (600, 280), (600, 280), (500, 150), (500, 150), (95, 140)])
PLY = sheet(1220, 610, trim=5)
PINE = board(140, 2400, trim=5)
STRIPS = blanks([(600, 60), (600, 60), (500, 130), (400, 60)], stock="pine")


@pytest.fixture(scope="module")
def on_sheet() -> SheetLayout:
    """A sound sheet with trimmed edges, several stages and offcuts."""
    (layout,) = lay_out(BLANKS, PLY, kerf=3).sheets
    assert verify_layout(layout, BLANKS, (PLY,)) == ()
    return layout


@pytest.fixture(scope="module")
def on_board() -> LengthLayout:
    """A sound board, partly ripped."""
    (layout,) = lay_out(STRIPS, PINE, kerf=3).lengths
    assert verify_layout(layout, STRIPS, (PINE,)) == ()
    return layout


def rebuilt(
    node: CutNode, is_it: Callable[[CutNode], bool], change: Callable[[CutNode], CutNode]
) -> CutNode:
    """A tree with every node changed for which `is_it` holds."""
    first = rebuilt(node.first, is_it, change) if node.first else None
    second = rebuilt(node.second, is_it, change) if node.second else None
    node = replace(node, first=first, second=second)
    return change(node) if is_it(node) else node


def moved(area: Rectangle, **by: object) -> Rectangle:
    return replace(
        area, **{side: getattr(area, side) + Fraction(str(length)) for side, length in by.items()}
    )


def broken(layout: SheetLayout, label: str, change: Callable[[CutNode], CutNode]) -> str:
    """What is said of a sheet where the node of a blank is changed, and its entry with it."""
    tree = rebuilt(layout.tree, lambda node: node.blank == label, change)
    spots = {
        node.blank: (node.blank, node.area, node.is_turned) for node in nodes_of(tree) if node.blank
    }
    placed = tuple(spots[one] for one in sorted(spots))
    return "\n".join(verify_layout(replace(layout, tree=tree, placed=placed), BLANKS, (PLY,)))


def test_a_shifted_blank_is_seen(on_sheet: SheetLayout) -> None:
    said = broken(on_sheet, "A2", lambda node: replace(node, area=moved(node.area, x=1)))
    assert "a piece is not as the cut leaves it" in said


def test_a_blank_of_the_wrong_size_is_seen(on_sheet: SheetLayout) -> None:
    wrong = replace(BLANKS[1], width_mm=Fraction(281))
    given_blanks = tuple(wrong if one.label == "A2" else one for one in BLANKS)
    assert verify_layout(on_sheet, given_blanks, (PLY,)) == ("ply 1: A2 comes out at 600 x 280 mm",)


def test_a_blank_across_the_grain_is_seen(on_sheet: SheetLayout) -> None:
    across = replace(PLY, grain=Grain.SHORT)
    said = verify_layout(on_sheet, BLANKS, (across,))
    assert said == tuple(
        f"ply 1: {label} lies across the grain"
        for label in sorted((one.label for one in BLANKS), key=_order_of(on_sheet).index)
    )


def _order_of(layout: SheetLayout) -> list[str]:
    """Labels as the replay frees them: the far piece of each cut first."""
    waiting, order = [layout.tree], []
    while waiting:
        node = waiting.pop()
        order += [node.blank] if node.blank else []
        waiting += [child for child in (node.first, node.second) if child is not None]
    return order


def test_a_turned_blank_that_may_not_turn_is_seen(on_sheet: SheetLayout) -> None:
    square = replace(BLANKS[0], length_mm=Fraction(280), width_mm=Fraction(600))
    fixed = (square, *BLANKS[1:])
    assert "A1 lies across the grain" in _turned(on_sheet, fixed)
    may_turn = (replace(square, may_turn=True), *BLANKS[1:])
    assert _turned(on_sheet, may_turn) == ""


def _turned(layout: SheetLayout, own: tuple[Blank, ...]) -> str:
    tree = rebuilt(
        layout.tree, lambda node: node.blank == "A1", lambda node: replace(node, is_turned=True)
    )
    placed = tuple((label, spot, label == "A1") for label, spot, _ in layout.placed)
    return "\n".join(verify_layout(replace(layout, tree=tree, placed=placed), own, (PLY,)))


def test_a_missing_kerf_is_seen(on_sheet: SheetLayout) -> None:
    assert any("not as the cut leaves it" in one for one in _with_kerf(on_sheet, 4))
    assert any("not as the cut leaves it" in one for one in _with_kerf(on_sheet, 0))


def _with_kerf(layout: SheetLayout, kerf: int) -> tuple[str, ...]:
    return verify_layout(replace(layout, kerf_mm=Fraction(kerf)), BLANKS, (PLY,))


def test_blanks_less_than_a_kerf_apart_are_seen_without_the_tree() -> None:
    # Two blanks a kerf of 3 apart, one of them shifted by 1: the places alone tell.
    two = blanks([(100, 50), (100, 50)])
    stock = sheet(203, 50)
    (layout,) = lay_out(two, stock, kerf=3).sheets
    narrow = replace(
        layout,
        tree=replace(
            layout.tree,
            second=replace(layout.tree.second, area=moved(layout.tree.second.area, x=-1)),
        ),
        placed=tuple(
            (label, moved(spot, x=-1) if spot.x else spot, turned)
            for label, spot, turned in layout.placed
        ),
    )
    assert "ply 1: A1 and A2 lie less than a kerf apart" in verify_layout(narrow, two, (stock,))


def test_a_blank_in_the_trimmed_edge_is_seen(on_sheet: SheetLayout) -> None:
    said = verify_layout(replace(on_sheet, trim_mm=Fraction(6)), BLANKS, (PLY,))
    assert any("reaches into the trimmed edge" in one for one in said)
    assert "ply 1: 6 mm is not what is to be trimmed" in said


def test_a_cut_before_its_time_is_seen(on_sheet: SheetLayout) -> None:
    last = max(node.number for node in nodes_of(on_sheet.tree))
    tree = rebuilt(
        on_sheet.tree,
        lambda node: node.number in {1, last},
        lambda node: replace(node, number=last + 1 - node.number),
    )
    said = verify_layout(replace(on_sheet, tree=tree), BLANKS, (PLY,))
    assert any(f"cut 2 is made before cut {last} frees its piece" in one for one in said)


def test_a_gap_in_the_numbers_is_seen(on_sheet: SheetLayout) -> None:
    tree = rebuilt(
        on_sheet.tree, lambda node: node.number == 5, lambda node: replace(node, number=99)
    )
    said = verify_layout(replace(on_sheet, tree=tree), BLANKS, (PLY,))
    assert "ply 1: the cuts are not numbered from 1 without gaps" in said


def test_a_cut_beside_its_piece_is_seen(on_sheet: SheetLayout) -> None:
    tree = rebuilt(
        on_sheet.tree,
        lambda node: node.number == 5,
        lambda node: replace(node, at_mm=Fraction(5000)),
    )
    said = verify_layout(replace(on_sheet, tree=tree), BLANKS, (PLY,))
    assert "ply 1: cut 5 misses its piece" in said


def test_a_blank_that_is_cut_up_is_seen(on_sheet: SheetLayout) -> None:
    tree = rebuilt(
        on_sheet.tree, lambda node: node.number == 6, lambda node: replace(node, blank="A1")
    )
    said = verify_layout(replace(on_sheet, tree=tree), BLANKS, (PLY,))
    assert "ply 1: A1 is cut up by cut 6" in said


def test_wrong_offcuts_are_seen(on_sheet: SheetLayout) -> None:
    assert len(on_sheet.offcuts) > 1
    for offcuts in (on_sheet.offcuts[1:], on_sheet.offcuts[:1] * 2):
        said = verify_layout(replace(on_sheet, offcuts=offcuts), BLANKS, (PLY,))
        assert "ply 1: the offcuts are not what the cuts leave" in said
    said = verify_layout(replace(on_sheet, offcuts=on_sheet.offcuts[::-1]), BLANKS, (PLY,))
    assert said == ("ply 1: the offcuts do not stand largest first",)


def test_what_is_placed_must_be_what_is_cut(on_sheet: SheetLayout) -> None:
    said = verify_layout(replace(on_sheet, placed=on_sheet.placed[1:]), BLANKS, (PLY,))
    assert said == ("ply 1: what is placed is not what the cuts free",)


def test_a_sheet_of_another_size_is_seen(on_sheet: SheetLayout) -> None:
    said = verify_layout(on_sheet, BLANKS, (sheet(1200, 610, trim=5),))
    assert said == ("ply 1: 1220 x 610 mm is not the size it is sold in",)


def test_another_direction_is_seen(on_sheet: SheetLayout) -> None:
    tree = rebuilt(
        on_sheet.tree,
        lambda node: node.number == 5,
        lambda node: replace(
            node,
            direction=CutDirection.ACROSS
            if node.direction is CutDirection.ALONG
            else CutDirection.ALONG,
        ),
    )
    said = verify_layout(replace(on_sheet, tree=tree), BLANKS, (PLY,))
    assert any("not as the cut leaves it" in one for one in said)


def test_a_broken_board_is_seen(on_board: LengthLayout) -> None:
    def said(layout: LengthLayout) -> str:
        return "\n".join(verify_layout(layout, STRIPS, (PINE,)))

    def shifted(index: int, by: int) -> LengthLayout:
        placed = list(on_board.placed)
        label, start, length = placed[index]
        placed[index] = (label, start + by, length)
        return replace(on_board, placed=tuple(placed))

    last = len(on_board.placed) - 1
    assert "reaches into the trimmed end" in said(shifted(0, -1))
    assert "lies less than a kerf behind what is before it" in said(shifted(last, -1))
    assert "is not what is left" in said(shifted(last, 1))
    assert "reaches beyond the end" in said(shifted(last, 2000))
    strips = on_board.strips
    near = replace(on_board, strips=tuple((label, e - 1 if e else e, w) for label, e, w in strips))
    assert "lie less than a kerf apart" in said(near)
    outside = replace(on_board, strips=tuple((label, e + 20, w) for label, e, w in strips))
    assert "reach beyond the board's edges" in said(outside)
    wide = replace(on_board, strips=tuple((label, e, w + 1) for label, e, w in strips))
    assert "A1 comes out at 600 x 61 mm" in said(wide)
    assert "the strips are not those" in said(replace(on_board, strips=strips[1:]))
    assert "a blank is cut twice" in said(
        replace(on_board, placed=on_board.placed[:1] + on_board.placed)
    )
    assert "is not a length it is sold in" in said(replace(on_board, length_mm=Fraction(2399)))


def test_strips_on_a_rod_are_seen() -> None:
    pegs, stock = blanks([(50, 10)] * 3, stock="peg rod"), rod(10, 1000)
    (layout,) = lay_out(pegs, stock, kerf=2).lengths
    strips = tuple((label, Fraction(0), Fraction(10)) for label, _, _ in layout.placed)
    said = verify_layout(replace(layout, strips=strips), pegs, (stock,))
    assert said == ("peg rod 1: the strips are not those of the blanks placed",)


def test_a_plan_that_leaves_a_blank_out_or_cuts_it_twice_is_seen() -> None:
    sound = lay_out(blanks([(600, 400)] * 3), sheet(1220, 610), kerf=3)
    assert verify_plan(sound) == ()
    one_short = replace(sound, sheets=sound.sheets[:1])
    assert "A3 is not cut, and no finding says why" in verify_plan(one_short)
    assert "1 of ply are used, and fewer than the bound is impossible" in verify_plan(
        replace(one_short, lower_bounds=(("ply", 2),))
    )
    twice = replace(sound, sheets=(*sound.sheets, replace(sound.sheets[1], number=3)))
    assert "A3 is cut 2 times" in verify_plan(twice)
    misnumbered = replace(sound, sheets=(sound.sheets[0], replace(sound.sheets[1], number=3)))
    assert "ply is numbered [1, 3]" in verify_plan(misnumbered)
    unknown = replace(sound, blanks=sound.blanks[:2])
    assert "A3 is cut, and is no blank" in verify_plan(unknown)
    alike = replace(sound, blanks=(*sound.blanks, sound.blanks[0]))
    assert "2 blanks are labelled A1" in verify_plan(alike)


def test_a_blank_that_a_finding_speaks_of_need_not_be_cut() -> None:
    sound = lay_out(blanks([(600, 400)]), sheet(1220, 610))
    bare = CutPlan(
        blanks=sound.blanks,
        sheets=(),
        lengths=(),
        stock=sound.stock,
        lower_bounds=(),
        findings=(),
    )
    assert verify_plan(bare) == ("A1 is not cut, and no finding says why",)
    said = Finding(
        code="C301",
        severity=Severity.ERROR,
        place=place_in_plan("parts.part A1"),
        subject="parts.part A1",
        message="its blank is too large",
        remedy="Make it smaller.",
    )
    assert verify_plan(replace(bare, findings=(said,))) == ()


@settings(max_examples=40, deadline=None)
@given(sheet_jobs(most=8), st.data())
def test_no_single_slip_in_a_tree_passes(
    job: tuple[tuple[Blank, ...], Stock, Fraction], data: st.DataObject
) -> None:
    """Any one size, place, cut or number changed in any piece of a sheet is seen."""
    given_blanks, stock, kerf = job
    layout = lay_out(given_blanks, stock, kerf=kerf).sheets[0]
    victim = data.draw(st.sampled_from(nodes_of(layout.tree)))
    slip = data.draw(st.sampled_from(["x", "y", "wide", "high", "at", "number", "lost"]))
    by = data.draw(st.sampled_from([-1, 1]))
    tree = rebuilt(layout.tree, lambda node: node == victim, lambda node: _slipped(node, slip, by))
    assert verify_layout(replace(layout, tree=tree), given_blanks, (stock,)) != ()


def _slipped(node: CutNode, slip: str, by: int) -> CutNode:
    if slip == "at":
        return replace(node, at_mm=node.at_mm + by)
    if slip == "number":
        return replace(node, number=node.number + by)
    if slip == "lost":
        # A piece is forgotten: what it was cut into, or the blank that it is, or a stray child.
        return replace(node, first=None if node.first else node, second=None, blank="")
    return replace(node, area=moved(node.area, **{slip: by}))
