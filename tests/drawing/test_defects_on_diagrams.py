"""Boards with defects as they are drawn: cuts beside each defect, and what is kept out of."""

from dataclasses import replace
from fractions import Fraction

from tests.drawing.layouts import plan_of

from benchleaf.cutting.boardtrees import board_tree
from benchleaf.cutting.records import CutNode
from benchleaf.drawing.length_diagram import draw_length_layout
from benchleaf.drawing.scene import Line, Role
from benchleaf.reading.plan import Offer
from cut_stock import blanks, board, lay_out, nodes_of


def test_as_many_cuts_are_drawn_as_the_board_s_tree_has() -> None:
    # From 12 to 13 in.
    knot = ((Fraction(3048, 10), Fraction(3302, 10)),)
    offer = Offer(
        length_mm=Fraction(900), width_mm=Fraction(100), count=1, is_offcut=True, defects_mm=knot
    )
    stock = replace(board(100, 900), offers=(offer,))
    cut_plan = lay_out(blanks([(300, 100), (400, 100)], stock="pine"), stock, kerf=3)
    (layout,) = cut_plan.lengths
    scene = draw_length_layout(layout, cut_plan, plan_of())
    drawn = [mark for mark in scene.marks if isinstance(mark, Line) and mark.role is Role.CUT]
    tree: CutNode = board_tree(layout, Fraction(100))
    # By hand: one after each blank, and one that takes the knot off.
    assert len(drawn) == sum(node.direction is not None for node in nodes_of(tree)) == 3
    assert "Nothing is cut from 12 to 13." in scene.description
