"""Plans with turned parts for trial: parts as YAML, all else filled in."""

from __future__ import annotations

from benchleaf.findings import Finding
from benchleaf.joinery import JOINT_WORDS
from benchleaf.piece.placing import place_parts
from benchleaf.piece.records import Piece
from benchleaf.reading import read_plan

FILE = "plans/turned.plan.yml"
_HEAD = """\
plan: Turned parts
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 600, deep: 400, high: 450}
stock:
  plank: {board: 30 x 400, lengths: 1200, of: oak}
  square: {board: 40 x 40, lengths: 1200, of: oak}
  lath: {board: 18 x 90, lengths: 1200, of: oak}
parts:
"""
SEAT = "  seat: {stock: plank, left: 0, right: 600, front: 0, deep: 400, top: 450}\n"


def write_turned_plan(parts: str, joints: str = "") -> str:
    """A plan of parts, each on a line of its own, two spaces in."""
    return _HEAD + parts + (f"joints:\n{joints}" if joints else "")


def place_turned(parts: str, joints: str = "") -> tuple[Piece | None, tuple[Finding, ...]]:
    """Read and place a plan of parts; reading must say nothing."""
    plan, said = read_plan(write_turned_plan(parts, joints), FILE, JOINT_WORDS)
    assert [str(finding) for finding in said] == []
    assert plan is not None
    return place_parts(plan)


def placed(parts: str, joints: str = "") -> Piece:
    """A piece of which placing says nothing."""
    piece, said = place_turned(parts, joints)
    assert [str(finding) for finding in said] == []
    assert piece is not None
    return piece


STOOL = """\
plan: Low stool
by: Fernhill community workshop
licence: CC BY 4.0
units: in
overall: {wide: 16, deep: 11-1/4, high: 18}
stock:
  plank: {board: 1-1/2 x 11-1/4, lengths: [96], of: ash}
  square: {board: 1-1/2 x 1-1/2, lengths: [96], of: ash}
parts:
  seat: {stock: plank, left: 0, right: 16, front: 0, deep: 11-1/4, top: 18, grain: wide}
  leg:
    stock: square
    left: 3-1/2
    wide: 1-1/2
    front: 2-1/2
    deep: 1-1/2
    bottom: 0
    top: seat.bottom
    grain: high
    mirror: [left-right, front-back]
    splay: {side: 8, front: 5}
joints:
  - {round tenon: [leg, seat], through: yes, wedged: yes}
"""
"""Four splayed legs, wedged through a seat."""
BRACED = """\
plan: Braced board
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 600, deep: 300, high: 400}
stock:
  plank: {board: 18 x 140, lengths: [2400], of: pine}
parts:
  side:
    stock: plank
    left: 0
    wide: 600
    front: 100
    bottom: 5
    high: 130
    turn: {about: wide, by: 15, at: bottom}
    trim: {bottom: floor}
  brace:
    stock: plank
    left: 250
    wide: 90
    back: 280
    bottom: 60
    high: 250
    grain: high
    turn: {about: deep, by: 66}
    trim: {bottom: floor}
"""
"""A canted board with a bevelled foot, and a brace that meets the floor too flat for a saw."""
TRESTLE = """\
plan: Leaning frame
by: Fernhill community workshop
licence: CC BY 4.0
units: mm
overall: {wide: 600, deep: 60, high: 500}
stock:
  post wood: {board: 60 x 60, lengths: [2400], of: oak}
  rail wood: {board: 24 x 60, lengths: [2400], of: oak}
parts:
  post:
    stock: post wood
    grain: high
    left: 100
    wide: 60
    front: 0
    deep: 60
    bottom: 0
    high: 500
    mirror: left-right
    splay: {side: 6}
  rail:
    stock: rail wood
    thickness: deep
    left: 200
    wide: 200
    centre deep: 30
    deep: 24
    bottom: 150
    high: 60
    trim: {left: post.right, right: post.mirrored(left-right).left}
joints:
  - {mortise and tenon: [rail, post]}
"""
"""A rail with slanting tenons between two posts that lean."""
TURNED_PLANS = (STOOL, BRACED, TRESTLE)
"""Plans that hold every operation that cuts at an angle."""
