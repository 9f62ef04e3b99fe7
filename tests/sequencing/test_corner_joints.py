"""Corners of boxes are cut in the order of the trade, with the settings that they ask for."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.sequencing.corner_plans import CORNER_PLANS, DOVETAILS, FINGERS, LAPPED
from tests.sequencing.worked import of_kind, parts_of, work_text

from benchleaf.lengths import MM_PER_INCH
from benchleaf.sequencing.replaying import replay
from benchleaf.sequencing.wording import MOST_WORDS, count_words


@pytest.mark.parametrize("text", CORNER_PLANS)
def test_the_order_can_be_worked_and_is_short_to_read(text: str) -> None:
    joinery, cut_plan, sequence = parts_of(work_text(text))
    assert sequence.findings == ()
    assert replay(sequence.operations, joinery, cut_plan) == ()
    actions = [action for operation in sequence.operations for action in operation.actions]
    assert [a for a in actions if count_words(a.partition(". ")[0]) > MOST_WORDS] == []


def test_fingers_are_cut_with_one_head_and_one_key() -> None:
    (operation,) = of_kind(work_text(FINGERS), "cut-fingers")
    shown = {s.name: s.value_mm for s in operation.settings}
    # 4 in of 3/4 boards: no odd count of 3/8 to 3/4 is on the rule, eight of 1/2 are.
    assert shown == {
        "dado head": MM_PER_INCH / 2,
        "blade height": MM_PER_INCH * 3 / 4,
        "key": MM_PER_INCH / 2,
    }
    assert operation.copies == ("A1", "A2", "B1", "B2")
    # The board that begins with a socket is held off the key by the spacer: geometry.
    (begun,) = [action for action in operation.actions if action.startswith("With the spacer")]
    assert begun.endswith("begin B1 and B2.")
    assert "without force" in operation.check


def test_fingers_are_spaced_by_the_key_and_not_marked() -> None:
    marked = [a for o in of_kind(work_text(FINGERS), "set-out") for a in o.actions]
    assert any("shoulder line" in action for action in marked)
    assert not any("socket" in action for action in marked)


@pytest.mark.parametrize("text", [DOVETAILS, LAPPED])
def test_pins_are_marked_from_tails_that_are_cut(text: str) -> None:
    worked = work_text(text)
    order = [operation.kind for operation in parts_of(worked)[2].operations]
    kinds = ("saw-tails", "chop-tails", "mark-pins", "saw-pins", "chop-pins")
    assert all(order.index(before) < order.index(after) for before, after in pairwise(kinds))
    (marking,) = of_kind(worked, "mark-pins")
    # Each corner from its own tails: four corners.
    assert len([action for action in marking.actions if action.startswith("Knife round")]) == 4
    (chopping,) = of_kind(worked, "chop-pins")
    assert "without force" in chopping.check


def test_tails_are_set_out_on_the_end_and_pins_are_not() -> None:
    marked = [a for o in of_kind(work_text(DOVETAILS), "set-out") for a in o.actions]
    # 1-5/8 wide at the end with half pins and a pin of 1/4; 1:6 over 3/4 is 1/8.
    assert any("corners of each tail, 1/4, 1-7/8, 2-1/8 and 3-3/4 in" in a for a in marked)
    assert any("roots of each tail, 3/8, 1-3/4, 2-1/4 and 3-5/8 in" in a for a in marked)
    assert not any("pin" in action.split() for action in marked)


def test_sockets_of_lapped_dovetails_are_sawn_at_a_slant() -> None:
    (sawing,) = of_kind(work_text(LAPPED), "saw-pins")
    assert any(action.startswith("Slant the saw") for action in sawing.actions)
    (through,) = of_kind(work_text(DOVETAILS), "saw-pins")
    assert not any(action.startswith("Slant the saw") for action in through.actions)


def test_clamps_press_a_corner_the_ways_that_it_slides() -> None:
    def openings(text: str) -> list[float]:
        (glued,) = of_kind(work_text(text), "assemble")
        return [float(s.value_mm / MM_PER_INCH) for s in glued.settings if s.value_mm is not None]

    # 3/4 in pads at both jaws, and what stands between: 9 deep and 14 wide.
    assert openings(FINGERS) == [10.5, 15.5]
    assert openings(DOVETAILS) == [10.5]
