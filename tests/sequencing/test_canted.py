"""What leans, from text to the order of work: a hopper, a raked back, a ramp on its prop."""

from __future__ import annotations

import pytest
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


_HEAD = """
plan: What leans
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 1200, deep: 500, high: 900}
stock:
  square: {board: 40 x 40, lengths: [2400], of: oak}
  lath: {board: 20 x 90, lengths: [2400], of: oak}
  plank: {board: 20 x 300, lengths: [2400], of: oak}
parts:
"""
# A post that leans by 12 has gone back 250 tan 12 = 53.14 where the splat stands, 250 up it.
RAKED = f"""{_HEAD}
  seat:
    {{stock: plank, thickness: high, grain: wide, left: 380, right: 820, front: 0, deep: 300,
     top: 450}}
  post:
    {{stock: square, grain: high, left: 380, wide: 40, back: 300, deep: 40, bottom: 450, high: 400,
     mirror: left-right, turn: {{about: wide, by: -12, at: [bottom, back]}},
     trim: {{bottom: seat.top}}}}
  splat:
    {{stock: lath, thickness: deep, grain: wide, left: post.right,
     right: post.mirrored(left-right).left, back: 343.138, deep: 20, bottom: 700, high: 90,
     turn: {{about: wide, by: -12, at: [bottom, back]}}}}
joints:
  - {{mortise and tenon: [splat, post]}}
  - {{dowels: [post, seat]}}
"""
RAMP = f"""{_HEAD}
  deck:
    {{stock: plank, thickness: high, grain: wide, left: 0, wide: 1200, front: 0, deep: 300,
     bottom: 0, turn: {{about: deep, by: -10, at: [bottom, left]}}}}
  prop:
    {{stock: plank, thickness: wide, grain: deep, left: 900, front: 0, deep: 300, bottom: 0,
     high: 300, trim: {{top: deck.bottom}}}}
joints:
  - {{butt: [deck, prop], screws: 8 x 40, glue: no}}
"""


@pytest.mark.parametrize(
    ("text", "title"),
    [
        (RAKED, "Crosscut the bottom of the posts at 12°"),
        (RAMP, "Bevel the top of the prop at 10°"),
    ],
)
def test_a_raked_back_and_a_ramp_are_cut_at_their_angle_and_close(text: str, title: str) -> None:
    worked = work_text(text)
    joinery, cut_plan, sequence = parts_of(worked)
    assert title in [operation.title for operation in sequence.operations]
    assert replay(sequence.operations, joinery, cut_plan) == ()
    # Every joint of the plan has its place, and no two parts share wood: geometry.
    assert {fit.joint for fit in joinery.fits} == {joint.index for joint in joinery.piece.joints}
    solids = [placed_solid(joinery, mark) for mark in joinery.copies]
    pairs = [(one, two) for i, one in enumerate(solids) for two in solids[i + 1 :]]
    assert max((one ^ two).volume() for one, two in pairs) < 1
