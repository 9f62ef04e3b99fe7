"""Blanks of worked plans: what is cut from stock, by hand for small frames."""

from dataclasses import replace
from fractions import Fraction
from textwrap import dedent

import pytest

from benchleaf.cutting.blanks import blanks_of, check_blanks
from benchleaf.cutting.planning import plan_cuts
from benchleaf.cutting.records import Blank
from benchleaf.frames import Box, add
from benchleaf.joinery import JOINT_WORDS, cut_joints
from benchleaf.joinery.records import Joinery
from benchleaf.lengths import parse_length
from benchleaf.piece.placing import place_parts
from benchleaf.reading import read_plan

HEAD = """
    plan: Small frame
    by: Fernhill community workshop
    licence: CC BY 4.0
    units: in
    overall: {wide: 30, deep: 12, high: 20}
    stock:
      ply: {sheet: 48 x 96, thickness: 3/4, of: birch plywood, grain: long}
      pine: {board: 1-1/2 x 3-1/2, lengths: [72, 96], of: pine}
      panel: {sheet: 48 x 48, thickness: 1/2, of: fibreboard, grain: none}
      peg rod: {rod: 3/8, length: 48, of: birch}
    shop: {kerf: 1/8, allowance: 1/4}
    parts:
"""

LEG = """
      leg:
        stock: pine
        left: 0
        front: 0
        bottom: 0
        wide: 1-1/2
        deep: 3-1/2
        high: 20
        mirror: [left-right]
"""

RAIL = """
      rail:
        stock: pine
        left: leg.right
        right: leg.mirrored(left-right).left
        front: 0
        deep: 1-1/2
        top: leg.top
        high: 3
"""


def joinery_of(parts: str, joints: str = "") -> Joinery:
    """Work a plan out as far as its joints."""
    text = dedent(HEAD + parts) + ("joints:\n" + joints if joints else "")
    plan, said = read_plan(text, "plans/frame.plan.yml", JOINT_WORDS)
    assert plan is not None, "\n".join(map(str, said))
    piece, said = place_parts(plan)
    assert piece is not None, "\n".join(map(str, said))
    return cut_joints(piece)[0]


def inches(text: str) -> Fraction:
    return parse_length(text, "in")


def size(blank: Blank) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return blank.length_mm, blank.width_mm, blank.final_length_mm, blank.final_width_mm


def test_a_board_part_is_cut_to_its_size_at_once() -> None:
    blanks = blanks_of(joinery_of(LEG))
    assert [blank.label for blank in blanks] == ["A1", "A2"]
    assert {size(blank) for blank in blanks} == {(inches("20"), inches("3-1/2")) * 2}
    assert {(blank.part, blank.stock, blank.may_turn) for blank in blanks} == {
        ("leg", "pine", False)
    }


def test_tenons_are_in_the_length_of_the_blank() -> None:
    # The design's own rule: parts are placed shoulder to shoulder, a tenon adds to the blank.
    joint = "  - {mortise and tenon: [rail, leg], length: 1}\n"
    blanks = {blank.label: blank for blank in blanks_of(joinery_of(LEG + RAIL, joint))}
    # By hand: 30 less two legs of 1-1/2 is 27, and 1 at each end makes 29.
    assert blanks["B"].length_mm == inches("29")
    assert blanks["B"].width_mm == inches("3")


def test_layers_each_make_a_blank_with_the_allowance_on_length_and_width() -> None:
    glued = """
      post:
        stock: ply
        layers: 3
        left: 0
        front: 0
        bottom: 0
        wide: 2-1/4
        deep: 2
        high: 16
        thickness: wide
"""
    blanks = blanks_of(joinery_of(glued))
    assert [(blank.label, blank.copy, blank.layer) for blank in blanks] == [
        ("A.1", "A", 1),
        ("A.2", "A", 2),
        ("A.3", "A", 3),
    ]
    # By hand: 16 x 2 and the shop's allowance of 1/4 both ways.
    expected = (inches("16-1/4"), inches("2-1/4"), inches("16"), inches("2"))
    assert {size(blank) for blank in blanks} == {expected}


def test_layers_of_a_board_hardly_wider_are_glued_as_bought() -> None:
    glued = """
      beam:
        stock: pine
        layers: 2
        left: 0
        front: 0
        bottom: 0
        wide: 20
        deep: {width}
        high: 3
        thickness: high
"""
    widths = {
        width: {blank.width_mm for blank in blanks_of(joinery_of(glued.format(width=width)))}
        for width in ("3", "3-1/4", "2-3/4")
    }
    # By hand: with the shop's allowance of 1/4 the first is 3-1/4, 1/4 less than the board's 3-1/2;
    # the third would lose 1/2, which is worth a rip (common practice, no source).
    assert widths == {
        "3": {inches("3-1/2")},
        "3-1/4": {inches("3-1/2")},
        "2-3/4": {inches("3")},
    }


def test_a_sheet_without_grain_lets_the_blank_turn_longer_side_first() -> None:
    panel = """
      back:
        stock: panel
        left: 0
        back: overall.deep
        bottom: 0
        wide: 24
        high: 10
        grain: high
"""
    (blank,) = blanks_of(joinery_of(panel))
    assert blank.may_turn
    assert (blank.length_mm, blank.width_mm) == (inches("24"), inches("10"))


def test_grain_decides_which_side_is_the_length() -> None:
    shelf = """
      shelf:
        stock: ply
        left: 0
        front: 0
        bottom: 0
        wide: 24
        deep: 10
        grain: deep
"""
    (blank,) = blanks_of(joinery_of(shelf))
    assert not blank.may_turn
    assert (blank.length_mm, blank.width_mm) == (inches("10"), inches("24"))


def test_dowels_are_cut_from_rod_of_their_diameter() -> None:
    joint = "  - {dowels: [rail, leg], size: 3/8 x 2, count: 2}\n"
    joinery = joinery_of(LEG + RAIL, joint)
    pegs = [blank for blank in blanks_of(joinery) if blank.is_hardware]
    # By hand: one rail, two ends, two dowels in each.
    assert [peg.label for peg in pegs] == [f"dowel 3/8 x 2 no. {n}" for n in range(1, 5)]
    assert {(peg.length_mm, peg.width_mm) for peg in pegs} == {(inches("2"), inches("3/8"))}
    assert {(peg.part, peg.copy, peg.stock) for peg in pegs} == {
        ("dowel 3/8 x 2", "dowels: rail, leg", "peg rod")
    }
    cut_plan = plan_cuts(joinery)
    assert [layout.stock for layout in cut_plan.lengths] == ["pine", "peg rod"]
    assert cut_plan.findings == ()


def test_dowels_without_a_rod_of_their_diameter_are_bought() -> None:
    joint = "  - {dowels: [rail, leg], size: 1/4 x 1-1/2, count: 2}\n"
    blanks = blanks_of(joinery_of(LEG + RAIL, joint))
    assert [blank.label for blank in blanks] == ["A1", "A2", "B"]


def test_labels_of_many_lengths_sort_by_themselves() -> None:
    rails = RAIL.replace("high: 3", "high: 2").replace("top: leg.top", "bottom: 0") + (
        "        row: {along: high, count: 4, step: 5}\n"
    )
    joint = "  - {dowels: [rail, leg], size: 3/8 x 2, count: 2}\n"
    labels = [blank.label for blank in blanks_of(joinery_of(LEG + rails, joint))]
    pegs = [label for label in labels if label.startswith("dowel")]
    # By hand: four rails, two ends, two dowels.
    assert len(pegs) == 16
    assert pegs == sorted(pegs)


@pytest.mark.parametrize("parts", [LEG, LEG + RAIL])
def test_no_part_is_thicker_than_its_stock_as_placed(parts: str) -> None:
    assert check_blanks(joinery_of(parts)) == ()


def test_a_part_that_its_joints_make_too_thick_is_found() -> None:
    joinery = joinery_of(LEG)
    (copy, *_) = joinery.copies.values()
    # By hand: an inch more than the board gives, as a tenon on its broad face would add.
    box = Box(copy.blank.low, add(copy.blank.high, (inches("1"), Fraction(0), Fraction(0))))
    thick = replace(joinery, copies={**joinery.copies, copy.mark: replace(copy, blank=box)})
    (finding,) = check_blanks(thick)
    assert str(finding) == (
        "plans/frame.plan.yml:15:3: parts.leg: with its joints it is 2-1/2 thick, and its stock is "
        "1-1/2\n  Needed: more layers, thicker stock, or joints that add nothing to the thickness."
        "   [C304]"
    )
