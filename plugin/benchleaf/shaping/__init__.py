"""Shaping: what is done to a part by itself: tapers, chamfers, curves, holes and the like.

Takes a placed part, gives the wood that is taken off it, apart from its joints. `SHAPING_KINDS` is
the table of kinds: one module each; adding one is a module and a row here.

There is no kerf bending: how far a kerfed board bends before it breaks hangs on the wood, its
moisture and the saw, and no rule was found that is right to build by.
"""

from __future__ import annotations

from types import MappingProxyType

from benchleaf.findings import Finding
from benchleaf.piece.records import Part
from benchleaf.reading.plan import Plan
from benchleaf.shaping import (
    arc,
    chamfer,
    circle,
    cove,
    curve,
    cut_out,
    ellipse,
    hand_hole,
    hole,
    notch,
    outline,
    round_over,
    slot,
    taper,
)
from benchleaf.shaping.engine import work_part
from benchleaf.shaping.records import ShapedCut, ShapingKind

_TABLE: tuple[ShapingKind, ...] = (
    arc.KIND,
    chamfer.KIND,
    circle.KIND,
    cove.KIND,
    curve.KIND,
    cut_out.KIND,
    ellipse.KIND,
    hand_hole.KIND,
    hole.KIND,
    notch.KIND,
    outline.KIND,
    round_over.KIND,
    slot.KIND,
    taper.KIND,
)

SHAPING_KINDS = MappingProxyType({kind.code: kind for kind in _TABLE})
"""Kinds of shaping by code, sorted."""

SHAPING_WORDS = MappingProxyType({code: kind.words for code, kind in SHAPING_KINDS.items()})
"""How each kind is written in a plan; the reader is handed this."""


def shape_part(part: Part, plan: Plan) -> tuple[tuple[ShapedCut, ...], tuple[Finding, ...]]:
    """Work out all shaping of a part; findings F101 to F109."""
    return work_part(part, plan, SHAPING_KINDS)
