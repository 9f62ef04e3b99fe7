"""Plans whose parts are shaped by themselves, for the tests of the order of work."""

STOOL = """
plan: Trial stool
by: Fernhill community workshop
licence: CC BY 4.0
units: in
overall: {wide: 30, deep: 14, high: 18-3/4}
stock:
  leg stock: {board: 1-3/4 x 1-3/4, lengths: [72], of: maple}
  board: {board: 3/4 x 14, lengths: [72], of: maple}
parts:
  leg:
    stock: leg stock
    grain: high
    left: 1
    front: 1
    bottom: 0
    wide: 1-3/4
    deep: 1-3/4
    high: 18
    mirror: [left-right, front-back]
    shape:
      - {taper: [right, back], from: 5, to: 7/8}
      - {chamfer: left front, size: 1/8}
  apron:
    stock: board
    left: leg.right
    right: leg.mirrored(left-right).left
    front: leg.front + 1/2
    top: leg.top
    high: 4
    mirror: [front-back]
    shape:
      - {round over: bottom front, radius: 1/4}
      - {arc: bottom, rise: 1-1/2, chord: 20}
      - {hand hole: front, at: 12-1/4 x 2-3/4, size: 3 x 3/4}
      - {hole: front, diameter: 1/2, at: [4 x 2-1/2, 20-1/2 x 2-1/2]}
      - {slot: front, size: 1 x 1/4, at: 6 x 3}
      - {notch: top, width: 1, depth: 1/2, at: 12}
  seat:
    stock: board
    left: 0
    wide: 30
    front: 0
    deep: 14
    bottom: 18
    shape:
      - {arc: front, form: crowned, rise: 1/2}
      - {cove: bottom back}
joints:
  - {mortise and tenon: [apron, leg], length: 3/4}
  - {butt: [seat, apron], screws: 8 x 1-1/4, glue: no}
  - {rests on: [seat, leg]}
"""

SHAPED_PLANS = (STOOL,)
