"""A small case with two drawers and a door: what sub-assemblies are tried on.

By hand, in inches: the case is 20 wide, 16 deep and 20 high, of 3/4 in plywood; its opening is
18-1/2 wide. Drawers have 1/16 of room at each side, so they are 18-3/8 wide. The door above them is
hung on the left side, and stands 1/16 clear of the right one.
"""

CASE = """\
plan: Case of drawers
by: Fernhill community workshop
licence: CC BY 4.0
units: in
overall: {wide: 20, deep: 16, high: 20}
sizes:
  room: 1/16
stock:
  ply: {sheet: 48 x 96, thickness: 3/4, of: birch plywood}
  thin: {sheet: 48 x 96, thickness: 1/2, of: birch plywood}
  bottoms: {sheet: 48 x 48, thickness: 1/4, of: birch plywood}
  strips: {board: 3/4 x 1-1/2, lengths: [72], of: maple}
parts:
  side:
    {stock: ply, left: 0, front: 0, deep: 16, bottom: 0, high: 20, grain: high, mirror: left-right}
  top:
    stock: ply
    left: side.right
    right: side.mirrored(left-right).left
    front: 0
    deep: 16
    top: 20
    grain: wide
  floor:
    stock: ply
    left: side.right
    right: side.mirrored(left-right).left
    front: 0
    deep: 16
    bottom: 0
    grain: wide
  shelf:
    stock: ply
    left: side.right
    right: side.mirrored(left-right).left
    front: 0
    deep: 16
    bottom: 12
    grain: wide
  back:
    stock: thin
    left: side.right
    right: side.mirrored(left-right).left
    back: 16
    bottom: floor.top
    top: shelf.bottom
  runner:
    stock: strips
    left: side.right
    wide: 1-1/2
    front: 3/4
    back: back.front
    bottom: floor.top
    mirror: left-right
    row: {along: high, count: 2, step: 5}
groups:
  drawer:
    left: side.right + room
    right: side.mirrored(left-right).left - room
    front: 0
    deep: 15
    bottom: runner.top
    high: 3-3/4
    row: {along: high, count: 2, step: 5}
    parts:
      drawer side:
        stock: thin
        left: 0
        front: drawer front.back
        back: drawer.deep
        bottom: 0
        top: drawer.high
        mirror: left-right
      drawer front: {stock: ply, left: 0, right: drawer.wide, front: 0, bottom: 0, top: drawer.high}
      drawer back:
        stock: thin
        left: drawer side.right
        right: drawer side.mirrored(left-right).left
        back: drawer.back
        bottom: drawer bottom.top
        top: drawer.high
      drawer bottom:
        stock: bottoms
        left: drawer side.right
        right: drawer side.mirrored(left-right).left
        front: drawer front.back
        back: drawer.back
        bottom: 1/2
  door:
    left: side.right
    right: side.mirrored(left-right).left - room
    front: 0
    deep: 3/4
    bottom: shelf.top + room
    top: top.bottom - room
    parts:
      stile:
        stock: strips
        left: 0
        wide: 1-1/2
        front: 0
        bottom: 0
        top: door.high
        mirror: left-right
      rail:
        stock: strips
        left: stile.right
        right: stile.mirrored(left-right).left
        front: 0
        bottom: 0
        high: 1-1/2
        mirror: bottom-top
joints:
  - {butt: [side, top], screws: 8 x 1-1/2}
  - {butt: [side, floor], screws: 8 x 1-1/2}
  - {butt: [side, shelf], screws: 8 x 1-1/2}
  - {butt: [back, side]}
  - {butt: [back, floor]}
  - {butt: [back, shelf]}
  - {butt: [runner, side]}
  - {butt: [runner, back]}
  - {butt: [runner, floor]}
  - {butt: [drawer side, drawer front]}
  - {butt: [drawer back, drawer side]}
  - {groove: [drawer bottom, drawer side], depth: 1/8, clearance: 1/32}
  - {groove: [drawer bottom, drawer front], depth: 1/8, clearance: 1/32}
  - {rests on: [drawer back, drawer bottom]}
  - {slides on: [drawer side, runner]}
  - {dowels: [rail, stile], size: 1/4 x 1-1/2}
  - {hinges: [stile, side], size: 1-1/2}
"""
