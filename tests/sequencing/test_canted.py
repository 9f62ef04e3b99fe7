"""A hopper of four sides that lean, mitred at its corners, from text to the order of work."""

from __future__ import annotations

from tests.sequencing.worked import of_kind, parts_of, work_text

from benchleaf.joinery.solids import placed_solid
from benchleaf.sequencing.replaying import replay

HOPPER = """
plan: Canted hopper
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 413.7, deep: 313.7, high: 117.5}
stock:
  board: {board: 15 x 140, lengths: [2400], of: pine}
parts:
  side:
    stock: board
    thickness: deep
    grain: wide
    left: 56.85
    right: 356.85
    back: 56.85
    bottom: 0
    high: 125
    mirror: [front-back]
    turn: {about: wide, by: 20, at: [bottom, back]}
    trim:
      left: mitre with end.left
      right: mitre with end.mirrored(left-right).right
      bottom: floor
  end:
    stock: board
    thickness: wide
    grain: deep
    right: 56.85
    front: 56.85
    back: 256.85
    bottom: 0
    high: 125
    mirror: [left-right]
    turn: {about: deep, by: -20, at: [bottom, right]}
    trim:
      front: mitre with side.front
      back: mitre with side.mirrored(front-back).back
      bottom: floor
joints:
  - {mitre: [side, end]}
"""


def test_its_corners_close_and_it_can_be_put_together() -> None:
    worked = work_text(HOPPER)
    assert worked.findings == ()
    joinery, cut_plan, sequence = parts_of(worked)
    assert replay(sequence.operations, joinery, cut_plan) == ()
    solids = [placed_solid(joinery, mark) for mark in joinery.copies]
    whole = sum(solids[1:], solids[0])
    # No wood twice: geometry. Four corners, one on each end of each side.
    assert abs(whole.volume() - sum(solid.volume() for solid in solids)) < 1e-3 * whole.volume()
    assert [fit.kind for fit in joinery.fits] == ["mitre"] * 4


def test_both_settings_stand_with_their_complements_and_the_waste_is_named() -> None:
    cuts = of_kind(work_text(HOPPER), "crosscut-at-angle")
    assert len(cuts) == 2
    # Sides that slope by 70: atan(cos 70) and asin(sin 70 x sin 45), by hand.
    for cut in cuts:
        shown = {setting.name: setting.text for setting in cut.settings}
        assert shown["mitre gauge"] == "18.9° (71.1° from the blade)"
        assert shown["blade tilt"] == "41.6° (48.4° to the table)"
        assert sum(action.startswith("Mark the waste") for action in cut.actions) == 2
