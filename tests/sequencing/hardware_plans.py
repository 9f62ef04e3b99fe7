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

HARDWARE_PLANS = (BOLTED,)
