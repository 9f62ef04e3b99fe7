"""How joints with hardware are worked and put together, held against what makers do.

Where no source is named, the fact is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from tests.sequencing.hardware_plans import (
    BOLTED,
    BOX_KEYED,
    FRAME_DOWELLED,
    FRAME_SPLINED,
    FRAMED,
    HARDWARE_PLANS,
    HUNG,
    TENONED,
)
from tests.sequencing.worked import of_kind, parts_of, work_text

from benchleaf.lengths import MM_PER_INCH
from benchleaf.pipeline import WorkedPlan
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.replaying import replay
from benchleaf.sequencing.wording import MOST_WORDS, count_words

every_plan = pytest.mark.parametrize("text", HARDWARE_PLANS)


def settings_in(operation: Operation) -> dict[str, Fraction]:
    return {s.name: s.value_mm / MM_PER_INCH for s in operation.settings if s.value_mm is not None}


@every_plan
def test_the_order_can_be_worked_and_nothing_is_found(text: str) -> None:
    worked = work_text(text)
    joinery, cut_plan, sequence = parts_of(worked)
    assert replay(sequence.operations, joinery, cut_plan) == ()
    assert [str(finding) for finding in worked.findings] == []


@every_plan
def test_no_sentence_is_longer_than_a_reader_holds(text: str) -> None:
    # ASD-STE100, rule 5.1: at most 20 words in a sentence of a procedure; from memory.
    for operation in parts_of(work_text(text))[2].operations:
        for action in operation.actions:
            assert count_words(action) <= MOST_WORDS, action


# Bolts.


def test_bolts_and_cross_dowels_are_drilled_with_their_own_bits() -> None:
    worked = work_text(BOLTED)
    # 3/8 and 1/4 bolts and 1/32 more: NDS, clause 12.1.3, from memory.
    bits = {settings_in(own)["bit"] for own in of_kind(worked, "drill-bolt-holes")}
    assert bits == {Fraction(13, 32), Fraction(9, 32)}
    (cross,) = of_kind(worked, "drill-cross-dowel-holes")
    # Half of 1-1/2 in to the bolt's axis, and half of a cross dowel 1 in long.
    assert settings_in(cross) == {"bit": Fraction(3, 8), "depth stop": Fraction(5, 4)}


def test_what_is_bolted_is_neither_glued_nor_clamped() -> None:
    worked = work_text(BOLTED)
    assert not of_kind(worked, "assemble")
    assert not of_kind(worked, "dry-fit")
    bolted = of_kind(worked, "bolt-together")
    assert {mark for own in bolted for mark in own.joined} == set(parts_of(worked)[0].copies)
    words = [action for own in bolted for action in own.actions]
    assert sum("washer and a nut" in action for action in words) == 2
    assert sum("cross dowels (3/8 x 1 in) into their holes" in action for action in words) == 2


def test_a_mirrored_rail_is_lapped_as_the_mirror_image() -> None:
    joinery = parts_of(work_text(BOLTED))[0]
    (rail,) = (shape for shape in joinery.shapes if shape.part == "rail")
    assert len(rail.as_drawn) + len(rail.mirrored) == 2


# Further forms of mortise and tenon.


def order_of(worked: WorkedPlan, kind: str) -> int:
    return min(i for i, own in enumerate(parts_of(worked)[2].operations) if own.kind == kind)


def test_wedge_slots_are_sawn_in_fitted_tenons_and_driven_under_glue() -> None:
    worked = work_text(TENONED)
    assert order_of(worked, "pare-slopes") < order_of(worked, "fit-tenons")
    assert order_of(worked, "fit-tenons") < order_of(worked, "saw-wedge-slots")
    # 2-1/4 in through the post at 1 in 12 is 3/16 in: worked by hand.
    (pared,) = of_kind(worked, "pare-slopes")
    assert "Mark 3/16 in outwards" in pared.actions[1]
    glued = [action for own in of_kind(worked, "assemble") for action in own.actions]
    # Two wedges in each of four tenons.
    assert any("8 wedges (1-1/2 x 5/16 x 1/4 in)" in action for action in glued)


def test_a_peg_is_cut_from_the_rod_and_its_hole_in_the_tenon_marked_through_the_other() -> None:
    worked = work_text(TENONED)
    pegs = [blank for blank in parts_of(worked)[1].blanks if blank.is_hardware]
    assert len(pegs) == 4
    # 2-1/4 in of post and 1/2 in for the taper.
    assert {peg.length_mm for peg in pegs} == {Fraction(11, 4) * MM_PER_INCH}
    assert order_of(worked, "drill-peg-holes") < order_of(worked, "drill-drawn-holes")
    (drawn,) = of_kind(worked, "drill-drawn-holes")
    # Ash is a hardwood: 1/32 in of draw.
    assert any("1/32 in nearer to the shoulder" in action for action in drawn.actions)


def test_both_mortises_of_a_loose_tenon_are_routed_at_one_setting() -> None:
    worked = work_text(TENONED)
    (routed,) = of_kind(worked, "rout-loose-mortises")
    assert {mark[0] for mark in routed.copies} == {"A", "D"}
    assert routed.facts["bit.diameter_mm"] == Fraction(5, 16) * MM_PER_INCH


def test_twin_tenons_are_tried_in_their_own_mortises() -> None:
    worked = work_text(TENONED)
    assert order_of(worked, "chop") < order_of(worked, "cut-twin-tenons")


# Pockets and biscuits.


def test_pockets_are_bored_by_the_jig_and_their_screws_driven_under_a_clamp() -> None:
    worked = work_text(FRAMED)
    (bored,) = of_kind(worked, "drill-pockets")
    assert settings_in(bored) == {"jig": Fraction(3, 4), "bit": Fraction(3, 8)}
    # Two rails, an end at each stile, two pockets in each; the bit bores pocket and pilot at once.
    assert len(bored.features) == 2 * 2 * 2 * 2
    closing = next(own for own in parts_of(worked)[2].operations if "Drive 8 screws" in str(own))
    words = list(closing.actions)
    driven = next(i for i, action in enumerate(words) if action.startswith("Drive"))
    assert words[driven - 1].startswith("Clamp each joint flush")
    # Maple is a hardwood: fine threads.
    kinds = {item.kind for fit in parts_of(worked)[0].fits for item in fit.hardware}
    assert kinds == {"biscuit", "fine pocket screw"}


def test_slots_for_biscuits_are_cut_at_the_number_of_their_size() -> None:
    worked = work_text(FRAMED)
    (cut,) = of_kind(worked, "cut-biscuit-slots")
    assert [own.text for own in cut.settings] == ["No. 20"]
    glued = [action for own in of_kind(worked, "assemble") for action in own.actions]
    assert any("biscuits (No. 20) into the slots on one side" in action for action in glued)


# Mitres.


def test_a_frame_is_mitred_on_the_mitre_saw_and_a_box_with_a_tilted_blade() -> None:
    (frame,) = of_kind(work_text(FRAME_SPLINED), "cut-mitres")
    (box,) = of_kind(work_text(BOX_KEYED), "cut-bevels")
    assert [(own.name, own.text) for own in frame.settings] == [("mitre angle", "45°")]
    assert [(own.name, own.text) for own in box.settings] == [("blade tilt", "45°")]


def test_splines_and_dowels_go_in_under_glue_and_keys_when_it_is_hard() -> None:
    splined = work_text(FRAME_SPLINED)
    glued = [action for own in of_kind(splined, "assemble") for action in own.actions]
    # 3/16 thick, 3/8 into each part, and 2 x sqrt 2 long: geometry. One in each of two corners that
    # are glued alike, then both of the others at once.
    assert [own for own in glued if "spline" in own] == [
        "Glue 1 spline (3/16 x 3/4 x ≈2-53/64 in) into the grooves on one side.",
        "Glue 2 splines (3/16 x 3/4 x ≈2-53/64 in) into the grooves on one side.",
    ]
    dowelled = work_text(FRAME_DOWELLED)
    assert order_of(dowelled, "cut-mitres") < order_of(dowelled, "drill-mitres")
    keyed = work_text(BOX_KEYED)
    assert order_of(keyed, "assemble") < order_of(keyed, "saw-key-slots")
    (keys,) = of_kind(keyed, "saw-key-slots")
    # 4 in high: two keys in each of four corners.
    assert any("8 keys (1/8 x 1/2 x 1 in)" in action for action in keys.actions)


def test_a_key_slot_cannot_be_sawn_before_the_corner_is_glued() -> None:
    joinery, cut_plan, sequence = parts_of(work_text(BOX_KEYED))
    operations = list(sequence.operations)
    slots = next(i for i, own in enumerate(operations) if own.kind == "saw-key-slots")
    glued = next(i for i, own in enumerate(operations) if own.kind == "assemble")
    operations.insert(glued, operations.pop(slots))
    refusals = replay(operations, joinery, cut_plan)
    assert any("is not glued yet when its key slot is cut" in why for why in refusals)


# What moves.


def test_a_door_is_hung_and_a_shelf_laid_on_its_pins_when_the_glue_is_hard() -> None:
    worked = work_text(HUNG)
    operations = parts_of(worked)[2].operations
    glued = max(i for i, own in enumerate(operations) if own.kind == "assemble")
    hung = next(i for i, own in enumerate(operations) if "Lay 2 butt hinges" in str(own.actions))
    assert glued < hung
    words = [action for own in operations for action in own.actions]
    # Two hinges of 2-1/2 in, three screws in each leaf; two pins under each end of the shelf.
    assert any("Drive 12 screws, No. 6 x 3/4 in." in action for action in words)
    assert any("4 shelf pins (1/4 in)" in action for action in words)


def test_clearance_comes_off_before_hinges_are_let_in() -> None:
    worked = work_text(HUNG)
    assert order_of(worked, "plane-edges") < order_of(worked, "cut-hinge-mortises")
    (trimmed,) = of_kind(worked, "trim-ends")
    assert any("Saw 1/16 in off each end" in action for action in trimmed.actions)
    (holes,) = of_kind(worked, "drill-pin-holes")
    # 1/4 in pins, 3/8 in deep, 1-1/4 in apart.
    assert settings_in(holes) == {
        "bit": Fraction(1, 4),
        "depth stop": Fraction(3, 8),
        "step": Fraction(5, 4),
    }
