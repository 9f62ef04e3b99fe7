"""Frames with panels are worked in the order of the trade; common practice, no source."""

from __future__ import annotations

import math

from tests.sequencing.worked import of_kind, parts_of, work_text

from benchleaf.lengths import MM_PER_INCH
from benchleaf.sequencing.replaying import replay
from benchleaf.sequencing.wording import MOST_WORDS, count_words

RAISED = """
plan: Framed door
by: Fernhill community workshop
licence: CC BY 4.0
units: in
overall: {wide: 16, deep: 3/4, high: 24}
stands: hung
stock:
  oak: {board: 3/4 x 5-1/2, lengths: [96], of: red oak}
parts:
  stile:
    {stock: oak, thickness: deep, grain: high, left: 0, wide: 2, front: 0, bottom: 0, top: 24,
     mirror: [left-right]}
  rail:
    {stock: oak, thickness: deep, grain: wide, left: stile.right,
     right: stile.mirrored(left-right).left, front: 0, top: 24, high: 2, mirror: [bottom-top]}
  panel:
    {stock: oak, edge glued: yes, thickness: deep, grain: high, left: stile.right,
     right: stile.mirrored(left-right).left, front: 0, bottom: 2, top: 22}
joints:
  - {mortise and tenon: [rail, stile]}
  - {frame and panel: [panel, stile], raised: 1-1/2}
  - {frame and panel: [panel, rail]}
finish: {coats: 2, of: oil, sand: [120, 180]}
"""
STOPPED = RAISED.replace("stile], raised: 1-1/2", "stile], through: no")


def test_the_order_can_be_worked_and_is_short_to_read() -> None:
    joinery, cut_plan, sequence = parts_of(work_text(RAISED))
    assert sequence.findings == ()
    assert replay(sequence.operations, joinery, cut_plan) == ()
    actions = [action for operation in sequence.operations for action in operation.actions]
    assert [a for a in actions if count_words(a.partition(". ")[0]) > MOST_WORDS] == []


def test_one_setting_of_the_saw_grooves_the_whole_frame() -> None:
    (sawing,) = of_kind(work_text(RAISED), "saw-panel-grooves")
    assert sawing.copies == ("A1", "A2", "B1", "B2")
    shown = {s.name: s.value_mm / MM_PER_INCH for s in sawing.settings}
    # 3/4 less 1/4 in the middle; 7/16 deep as tests/cases/frame_and_panel.yml works it out.
    assert [float(v) for v in shown.values()] == [7 / 16, 1 / 4, 1 / 4]


def test_a_groove_that_stops_is_routed() -> None:
    worked = work_text(STOPPED)
    (routing,) = of_kind(worked, "rout-panel-grooves")
    assert routing.copies == ("A1", "A2")
    assert any("marked ends" in action for action in routing.actions)


def test_a_raised_edge_is_planed_at_its_slope() -> None:
    (raising,) = of_kind(work_text(RAISED), "raise-panels")
    # Down 1/4 over 1-1/2 less the margin of 1/4: its tangent.
    assert raising.settings[0].text == f"{math.degrees(math.atan(0.25 / 1.25)):.1f}°"


def test_a_loose_panel_is_coated_before_it_is_closed_in_and_never_glued() -> None:
    worked = work_text(RAISED)
    joinery, cut_plan, sequence = parts_of(worked)
    kinds = [operation.kind for operation in sequence.operations]
    assert (
        kinds.index("sand-inside") < kinds.index("prefinish-panels") < kinds.index("set-in-place")
    )
    glued = [a for o in of_kind(worked, "assemble") for a in o.actions]
    assert any("Keep glue out of the grooves of C" in action for action in glued)
    # The replay sees it by itself.
    late = [o for o in sequence.operations if o.kind != "prefinish-panels"]
    said = replay(late, joinery, cut_plan)
    assert any("C is closed in before its edges have a coat" in words for words in said)
    (early,) = of_kind(worked, "prefinish-panels")
    said = replay([early, *late], joinery, cut_plan)
    assert any("C has its first coat before it is sanded" in words for words in said)


def test_sheet_goods_need_no_coat_first() -> None:
    ply = RAISED.replace(
        "parts:", "  ply: {sheet: 24 x 48, thickness: 1/4, of: birch plywood}\nparts:"
    )
    ply = ply.replace("{stock: oak, edge glued: yes", "{stock: ply").replace(", raised: 1-1/2", "")
    ply = ply.replace("front: 0, bottom: 2", "front: 1/4, bottom: 2")
    assert of_kind(work_text(ply), "prefinish-panels") == ()
