"""Plans whose joints are held by hardware, or made in the further forms of old ones."""

from __future__ import annotations

_HEAD = """
by: Fernhill community workshop
licence: CC BY 4.0
units: in
"""

# Half laps and face joints under carriage bolts; end rails that come off again.
BOLTED = f"""
plan: Bolted table
{_HEAD}
overall: {{wide: 40, deep: 20, high: 30}}
stock:
  two by four: {{board: 1-1/2 x 3-1/2, lengths: [96], of: pine}}
parts:
  leg:
    stock: two by four
    thickness: deep
    left: 0
    front: 0
    bottom: 0
    high: 30
    wide: 3-1/2
    mirror: [left-right, front-back]
  rail:
    stock: two by four
    thickness: deep
    left: 0
    right: 40
    front: 0
    top: 30
    high: 3-1/2
    mirror: [front-back]
  end rail:
    stock: two by four
    thickness: wide
    left: 0
    front: leg.back
    back: leg.mirrored(front-back).front
    top: 20
    high: 3-1/2
    mirror: [left-right]
joints:
  - {{half lap: [rail, leg], glue: no}}
  - {{carriage bolts: [rail, leg], count: 1}}
  - {{bolt and cross dowel: [leg, end rail]}}
finish: {{coats: 2, of: exterior varnish, sand: [120]}}
"""

# Every further form of mortise and tenon once, round one frame.
TENONED = f"""
plan: Tenoned frames
{_HEAD}
overall: {{wide: 30, deep: 20, high: 30}}
stock:
  post stock: {{board: 2-1/4 x 2-1/4, lengths: [72], of: ash}}
  rail stock: {{board: 1 x 5-1/2, lengths: [96], of: ash}}
  peg rod: {{rod: 1/4, length: 36, of: oak}}
parts:
  post:
    stock: post stock
    grain: high
    left: 0
    wide: 2-1/4
    front: 0
    deep: 2-1/4
    bottom: 0
    high: 30
    mirror: [left-right, front-back]
  wedged rail:
    stock: rail stock
    thickness: deep
    left: post.right
    right: post.mirrored(left-right).left
    front: 5/8
    bottom: 4
    high: 3
    mirror: [front-back]
  drawn rail:
    stock: rail stock
    thickness: deep
    left: post.right
    right: post.mirrored(left-right).left
    front: 5/8
    top: 28
    high: 5
    mirror: [front-back]
  loose rail:
    stock: rail stock
    thickness: wide
    front: post.back
    back: post.mirrored(front-back).front
    left: 5/8
    bottom: 10
    high: 3
    mirror: [left-right]
  twin rail:
    stock: rail stock
    thickness: wide
    front: post.back
    back: post.mirrored(front-back).front
    left: 5/8
    bottom: 16
    high: 5
    mirror: [left-right]
joints:
  - {{wedged tenon: [wedged rail, post]}}
  - {{drawbored tenon: [drawn rail, post]}}
  - {{loose tenon: [loose rail, post]}}
  - {{twin tenons: [twin rail, post]}}
finish: {{coats: 2, of: oil, sand: [120]}}
"""

# A face frame with pocket screws before a box whose shelf stands on biscuits.
FRAMED = f"""
plan: Framed box
{_HEAD}
overall: {{wide: 24, deep: 12-3/4, high: 30}}
stock:
  ply: {{sheet: 48 x 96, thickness: 3/4, of: birch plywood, grain: long}}
  maple: {{board: 3/4 x 2, lengths: [96], of: maple}}
parts:
  side:
    stock: ply
    thickness: wide
    grain: high
    left: 0
    front: 3/4
    deep: 12
    bottom: 0
    high: 30
    mirror: [left-right]
  shelf:
    stock: ply
    thickness: high
    left: side.right
    right: side.mirrored(left-right).left
    front: 3/4
    deep: 12
    bottom: 14
  stile:
    stock: maple
    thickness: deep
    left: 0
    front: 0
    bottom: 0
    high: 30
    wide: 2
    mirror: [left-right]
  rail:
    stock: maple
    thickness: deep
    left: stile.right
    right: stile.mirrored(left-right).left
    front: 0
    bottom: 0
    high: 2
    mirror: [bottom-top]
joints:
  - {{biscuits: [shelf, side]}}
  - {{pocket screws: [rail, stile]}}
  - {{butt: [stile, side]}}
  - {{butt: [stile, shelf]}}
finish: {{coats: 2, of: oil, sand: [120]}}
"""


def _mitred(kind: str, *, high: str, wide: str) -> str:
    """Four parts of one stock mitred round: a frame lying down, or a box without a bottom."""
    grain = "" if high == "3/4" else "    thickness: {}\n"
    return f"""
plan: Mitred round
{_HEAD}
overall: {{wide: 16, deep: 12, high: {high}}}
stock:
  cherry: {{board: 3/4 x 4, lengths: [96], of: cherry}}
parts:
  long side:
    stock: cherry
{grain.format("deep")}    left: 0
    right: 16
    front: 0
    deep: {wide}
    bottom: 0
    high: {high}
    mirror: [front-back]
  short side:
    stock: cherry
{grain.format("wide")}    front: 0
    back: 12
    left: 0
    wide: {wide}
    bottom: 0
    high: {high}
    mirror: [left-right]
joints:
  - {{{kind}: [long side, short side]}}
finish: {{coats: 2, of: oil, sand: [120]}}
"""


FRAME_SPLINED = _mitred("splined mitre", high="3/4", wide="2")
FRAME_DOWELLED = _mitred("dowelled mitre", high="3/4", wide="2")
BOX_KEYED = _mitred("keyed mitre", high="4", wide="3/4")
BOX_PLAIN = _mitred("mitre", high="4", wide="3/4")

# An open box with a door on hinges and a shelf on pins.
HUNG = f"""
plan: Small cupboard
{_HEAD}
overall: {{wide: 18, deep: 8, high: 24}}
stands: anchored
stock:
  pine: {{board: 3/4 x 7-1/4, lengths: [96], of: pine}}
  panel: {{sheet: 48 x 96, thickness: 3/4, of: birch plywood, grain: long}}
parts:
  side:
    stock: pine
    thickness: wide
    grain: high
    left: 0
    front: 3/4
    deep: 7-1/4
    bottom: 0
    high: 24
    mirror: [left-right]
  end:
    stock: pine
    thickness: high
    left: side.right
    right: side.mirrored(left-right).left
    front: 3/4
    deep: 7-1/4
    bottom: 0
    mirror: [bottom-top]
  shelf:
    stock: pine
    thickness: high
    left: side.right
    right: side.mirrored(left-right).left
    front: 1-1/4
    deep: 6-1/4
    bottom: 12
  post:
    stock: pine
    thickness: deep
    grain: high
    left: 0
    wide: 1-1/2
    front: 0
    bottom: 0
    high: 24
  door:
    stock: panel
    thickness: deep
    left: post.right
    right: 18
    front: 0
    bottom: 0
    high: 24
joints:
  - {{butt: [side, end]}}
  - {{shelf pins: [shelf, side]}}
  - {{butt: [post, side]}}
  - {{butt: [post, end]}}
  - {{hinges: [door, post]}}
  - {{rests on: [door, side]}}
  - {{rests on: [door, end]}}
finish: {{coats: 2, of: oil, sand: [120]}}
"""

HARDWARE_PLANS = (
    HUNG,
    BOLTED,
    TENONED,
    FRAMED,
    FRAME_SPLINED,
    FRAME_DOWELLED,
    BOX_KEYED,
    BOX_PLAIN,
)
