"""Plans whose boards meet at corners: fingers, dovetails through and half-blind."""

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

CORNER_PLANS = (FINGERS, DOVETAILS, LAPPED)
