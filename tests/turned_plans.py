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
