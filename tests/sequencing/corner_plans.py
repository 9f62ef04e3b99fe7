"""Plans whose boards meet at corners, in frames, edge to edge, or slide into one another."""

from __future__ import annotations

_HEAD = """
by: Fernhill community workshop
licence: CC BY 4.0
units: in
"""

# A box of four boards and no bottom: what its corners ask for and nothing else.
_BOX = """
overall: {wide: 14, deep: 9, high: 4}
stock:
  pine: {board: 3/4 x 4, lengths: [72], of: pine}
shop: {kerf: 1/8, allowance: 0, wall: 1/8, glue: PVA}
parts:
  side:
    stock: pine
    thickness: deep
    grain: wide
    left: LEFT
    right: RIGHT
    front: 0
    bottom: 0
    high: 4
    mirror: [front-back]
  end:
    stock: pine
    thickness: wide
    grain: deep
    left: 0
    front: 0
    back: 9
    bottom: 0
    high: 4
    mirror: [left-right]
joints:
  - {KIND: [side, end]}
"""


def _box(kind: str, *, inset: str = "0") -> str:
    right = "14" if inset == "0" else f"14 - {inset}"
    body = _BOX.replace("LEFT", inset).replace("RIGHT", right).replace("KIND", kind)
    return f"plan: Box of {kind}s{_HEAD}{body}"


FINGERS = _box("box joint")
DOVETAILS = _box("through dovetail")
# The ends stand outside, as a drawer's front does; the sides come up to their inner faces.
LAPPED = _box("half blind dovetail", inset="3/4")


# A frame of one thickness: corners and a tee.
BRIDLED = f"""
plan: Bridled frame
{_HEAD}
overall: {{wide: 16, deep: 12, high: 3/4}}
stock:
  pine: {{board: 3/4 x 1-1/2, lengths: [96], of: pine}}
shop: {{kerf: 1/8, allowance: 0, wall: 1/8, glue: PVA}}
parts:
  rail:
    stock: pine
    thickness: high
    left: 0
    right: 16
    front: 0
    deep: 1-1/2
    bottom: 0
    mirror: [front-back]
  stile:
    stock: pine
    thickness: high
    grain: deep
    left: 0
    wide: 1-1/2
    front: 0
    back: 12
    bottom: 0
    mirror: [left-right]
joints:
  - {{bridle: [rail, stile]}}
"""
# Two sides and two shelves: one slides in from behind, one from either side.
SLID = f"""
plan: Small shelves
{_HEAD}
overall: {{wide: 16, deep: 6, high: 20}}
stands: anchored
stock:
  pine: {{board: 3/4 x 6, lengths: [96], of: pine}}
shop: {{kerf: 1/8, allowance: 0, wall: 1/8, glue: PVA}}
parts:
  side:
    stock: pine
    thickness: wide
    grain: high
    left: 0
    front: 0
    back: 6
    bottom: 0
    top: 20
    mirror: [left-right]
  shelf:
    stock: pine
    thickness: high
    grain: wide
    left: side.right
    right: side.mirrored(left-right).left
    front: 0
    back: 6
    bottom: 4
  upper shelf:
    stock: pine
    thickness: high
    grain: wide
    left: side.right
    right: side.mirrored(left-right).left
    front: 0
    back: 6
    bottom: 14
joints:
  - {{sliding dovetail: [shelf, side], stopped: [front]}}
  - {{sliding dovetail: [upper shelf, side]}}
"""
# Boards side by side, screwed to two battens.
BOARDED = f"""
plan: Boarded back
{_HEAD}
overall: {{wide: 14, deep: 1-1/2, high: 30}}
stands: hung
stock:
  board: {{board: 3/4 x 3-3/4, lengths: [96], of: pine}}
  batten: {{board: 3/4 x 1-1/2, lengths: [48], of: pine}}
shop: {{kerf: 1/8, allowance: 0, wall: 1/8, glue: PVA}}
parts:
  board:
    stock: board
    thickness: deep
    grain: high
    left: 0
    wide: 3-1/2
    front: 0
    bottom: 0
    top: 30
    row: {{along: wide, count: 4, step: 3-1/2}}
  batten:
    stock: batten
    thickness: deep
    grain: wide
    left: 1
    right: 13
    front: board.back
    bottom: 4
    high: 1-1/2
    mirror: [bottom-top]
joints:
  - {{tongue and groove: [board, board]}}
  - {{butt: [batten, board], screws: 8 x 1-1/4, glue: no}}
"""

CORNER_PLANS = (FINGERS, DOVETAILS, LAPPED, BRIDLED, SLID, BOARDED)
# A lid wider than any board, glued up from two; two battens keep it flat.
PANELLED = f"""
plan: Panelled lid
{_HEAD}
overall: {{wide: 16, deep: 10, high: 1-1/2}}
stock:
  board: {{board: 3/4 x 5-1/2, lengths: [72], of: pine}}
  batten: {{board: 3/4 x 1-1/2, lengths: [48], of: pine}}
shop: {{kerf: 1/8, allowance: 1/4, wall: 1/8, glue: PVA}}
parts:
  lid:
    stock: board
    edge glued: yes
    thickness: high
    grain: wide
    left: 0
    right: 16
    front: 0
    back: 10
    bottom: 3/4
  batten:
    stock: batten
    thickness: high
    grain: deep
    left: 2
    wide: 1-1/2
    front: 1
    back: 9
    bottom: 0
    mirror: [left-right]
joints:
  - {{butt: [batten, lid], screws: 8 x 1-1/4, glue: no}}
"""

CORNER_PLANS = (*CORNER_PLANS, PANELLED)
