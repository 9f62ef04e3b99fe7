"""How joints with hardware are worked and put together, held against what makers do.

Where no source is named, the fact is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from tests.sequencing.hardware_plans import BOLTED, HARDWARE_PLANS
from tests.sequencing.worked import of_kind, parts_of, work_text

from benchleaf.lengths import MM_PER_INCH
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
    assert sum("cross dowels (3/8 x 1) into their holes" in action for action in words) == 2


def test_a_mirrored_rail_is_lapped_as_the_mirror_image() -> None:
    joinery = parts_of(work_text(BOLTED))[0]
    (rail,) = (shape for shape in joinery.shapes if shape.part == "rail")
    assert len(rail.as_drawn) + len(rail.mirrored) == 2
