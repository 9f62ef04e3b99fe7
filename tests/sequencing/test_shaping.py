"""Shaping in the order of work: after the joints, lines before edges, each tool set to its size.

Where no source is named, the fact is common practice, no source.
"""

from __future__ import annotations

import pytest
from tests.sequencing.shaped_plans import STOOL

from benchleaf.drawing import draw_plan
from benchleaf.pipeline import work_plan
from benchleaf.sequencing.replaying import replay
from benchleaf.sequencing.wording import MOST_WORDS, count_words

WORKED = work_plan(STOOL, "plans/trial-stool.plan.yml")
OPERATIONS = WORKED.sequence.operations if WORKED.sequence else ()
SHAPING = [operation for operation in OPERATIONS if operation.shaped]


def place(kind: str, mark: str) -> int:
    return next(i for i, o in enumerate(OPERATIONS) if o.kind == kind and mark in o.copies)


def test_the_order_can_be_worked_and_every_entry_is_shaped_once() -> None:
    assert WORKED.is_sound
    assert replay(OPERATIONS, WORKED.joinery, WORKED.cut_plan) == ()
    done = [key for operation in OPERATIONS for key in operation.shaped]
    assert len(done) == len(set(done)) == 4 * 2 + 2 * 6 + 2


def test_mortises_are_cut_while_the_faces_are_square() -> None:
    mortised = max(
        i for i, o in enumerate(OPERATIONS) for mark, _ in o.features if mark.startswith("A")
    )
    assert mortised < place("saw-tapers", "A1") < place("rout-edges", "A1")


def test_tenons_are_fitted_before_the_edges_of_their_rails_are_rounded() -> None:
    assert place("fit-tenons", "B1") < place("rout-edges", "B1")


def test_a_line_is_sawn_then_faired_then_its_edge_is_rounded() -> None:
    # Whatever the plan lists first.
    assert place("saw-curves", "B1") < place("fair-curves", "B1") < place("rout-edges", "B1")


def test_holes_are_bored_while_the_part_has_its_straight_edges() -> None:
    for kind in ("bore-holes", "rout-slots", "saw-cut-outs", "saw-notches"):
        assert place(kind, "B1") < place("saw-curves", "B1")


def test_wide_work_goes_to_the_jigsaw() -> None:
    # 14 in is more than a small bandsaw's throat.
    assert place("saw-large-curves", "C") < place("fair-curves", "C")


def test_sanding_and_glue_wait_for_the_shape() -> None:
    last = max(i for i, o in enumerate(OPERATIONS) if o.shaped)
    assert last < place("sand-inside", "A1") < place("assemble", "A1")


def test_an_order_that_shapes_too_early_is_refused() -> None:
    early = [SHAPING[0], *(o for o in OPERATIONS if o is not SHAPING[0])]
    refused = replay(early, WORKED.joinery, WORKED.cut_plan)
    assert any("is shaped before it has its size" in why for why in refused)
    without = [o for o in OPERATIONS if o is not SHAPING[0]]
    refused = replay(without, WORKED.joinery, WORKED.cut_plan)
    assert any("is sanded before it is shaped" in why for why in refused)


@pytest.mark.parametrize("kind", ["bore-holes", "rout-slots", "saw-tapers", "rout-edges"])
def test_a_tool_is_set_to_the_plans_own_size(kind: str) -> None:
    inch = 25.4
    # A hole's bit, a slot's bit, what a taper takes off (1-3/4 less 7/8), a cutter's size.
    wanted = {
        "bore-holes": {1 / 2},
        "rout-slots": {1 / 4},
        "saw-tapers": {7 / 8},
        "rout-edges": {1 / 8, 1 / 4},
    }
    found = {
        round(float(o.settings[0].value_mm or 0) / inch, 6) for o in OPERATIONS if o.kind == kind
    }
    assert found == wanted[kind]


def test_a_deep_cut_is_routed_in_passes_of_an_eighth() -> None:
    # Routers' manuals: 1/8 in a pass. 3/4 in is six.
    slot = next(o for o in OPERATIONS if o.kind == "rout-slots")
    assert "Plunge and rout in 6 passes, each as deep as the last." in slot.actions


def test_sentences_are_short_enough_for_the_bench() -> None:
    # ASD-STE100, rule 5.1: at most 20 words; from memory.
    for operation in SHAPING:
        for action in (*operation.actions, operation.check):
            assert count_words(action) <= MOST_WORDS, action


def test_tapers_curves_and_cut_outs_call_out_their_own_hazards() -> None:
    assert WORKED.call_outs is not None
    shown = {out.rule for outs in WORKED.call_outs.by_step.values() for out in outs}
    assert {"TS-23", "JS-03", "RT-01"} <= shown


def test_every_step_that_shapes_has_its_picture() -> None:
    assert WORKED.sequence is not None
    scenes = draw_plan(WORKED)
    shaping = [s for s in WORKED.sequence.steps if any(o.shaped for o in s.operations)]
    assert shaping
    assert {f"step-{step.slug}" for step in shaping} <= set(scenes)
