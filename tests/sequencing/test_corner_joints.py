"""Corners of boxes are cut in the order of the trade, with the settings that they ask for."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.sequencing.corner_plans import (
    BOARDED,
    BRIDLED,
    CORNER_PLANS,
    DOVETAILS,
    FINGERS,
    LAPPED,
    PANELLED,
    SLID,
)
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


def test_tails_slide_out_of_sockets_that_are_open_at_one_end() -> None:
    # Where the socket ends in the air no film of wood may hold the tail: the motion proof looks.
    assert [f for f in work_text(SLID).findings if f.code.startswith("J")] == []


def test_sockets_are_routed_before_tails_with_the_same_bit() -> None:
    worked = work_text(SLID)
    (socket,) = of_kind(worked, "rout-dovetail-sockets")
    (tail,) = of_kind(worked, "rout-dovetail-tails")
    order = list(parts_of(worked)[2].operations)
    assert order.index(socket) < order.index(tail)
    shown = [{s.name: s.value_mm or s.text for s in each.settings} for each in (socket, tail)]
    assert [own["dovetail bit"] for own in shown] == [MM_PER_INCH / 2] * 2
    assert [own["bit angle"] for own in shown] == ["14 degrees"] * 2
    # A tail is 1/32 in shorter than its socket is deep, 3/16: common practice, no source.
    assert (shown[0]["depth stop"], shown[1]["bit height"]) == (
        MM_PER_INCH * 3 / 16,
        MM_PER_INCH * 5 / 32,
    )
    assert socket.facts["cut.stopped"]


def test_tongues_are_routed_on_both_faces_to_fit_the_grooves() -> None:
    worked = work_text(BOARDED)
    (grooves,), (tongues,) = of_kind(worked, "rout-edge-grooves"), of_kind(worked, "rout-tongues")
    # The first board of the row has no groove, the last no tongue.
    assert grooves.copies == ("A2", "A3", "A4")
    assert tongues.copies == ("A1", "A2", "A3")
    quarter = MM_PER_INCH / 4
    assert {s.name: s.value_mm for s in tongues.settings} == {
        "bit": quarter,
        "fence": quarter,
        "depth stop": quarter,
    }


def test_bridles_are_slotted_before_their_cheeks_are_cut() -> None:
    worked = work_text(BRIDLED)
    (slots,), (cheeks,) = of_kind(worked, "saw-bridle-slots"), of_kind(worked, "cut-bridle-cheeks")
    order = list(parts_of(worked)[2].operations)
    assert order.index(slots) < order.index(cheeks)
    # A third of 3/4 is left in the middle.
    assert next(s.value_mm for s in cheeks.settings) == MM_PER_INCH / 4
    assert "by hand" in cheeks.check


def test_boards_of_a_panel_are_sawn_glued_and_trued_in_turn() -> None:
    worked = work_text(PANELLED)
    (gluing,), (ripping,) = of_kind(worked, "glue-panel"), of_kind(worked, "true-width")
    assert gluing.blanks == ("A.1", "A.2")
    # 5-1/8 from each board; the 1/4 over is trued away when the glue is hard.
    assert next(s.value_mm for s in ripping.settings if s.name == "fence") == 10 * MM_PER_INCH
    order = list(parts_of(worked)[2].operations)
    assert order.index(gluing) < order.index(ripping)
    assert any("Turn every other board" in action for action in gluing.actions)
