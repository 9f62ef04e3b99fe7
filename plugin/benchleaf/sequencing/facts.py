"""The facts that operations state about themselves, and what each means.

Takes nothing, gives the table that operation kinds fill from and safety rules look at: a name that
is not in it is a slip in one of the two. Must not know any kind or rule.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType


class FactKind(StrEnum):
    """What sort of value a fact has."""

    LENGTH = "length"
    """Millimetres."""
    MASS = "mass"
    """Kilograms."""
    NUMBER = "number"
    WORD = "word"
    FLAG = "flag"
    """True or False."""


_L, _M, _N, _W, _F = FactKind

FACTS: Mapping[str, FactKind] = MappingProxyType(
    {
        "op.kind": _W,  # code of the operation kind
        "op.dado_head": _F,  # the table saw carries a dado head
        "op.tool": _W,  # plain name of the tool
        "op.loud": _F,  # a machine that calls for ear defenders
        "op.makes_chips": _F,
        "op.makes_dust": _F,
        "op.makes_lines": _F,  # marking with a knife
        "op.rotating_cutter": _F,
        "op.uses_stop": _F,
        "cut.kind": _W,  # rip, crosscut, resaw, break down, shoulder, housing, ...
        "cut.through": _F,
        "cut.stopped": _F,  # ends inside the wood
        "cut.end_grain": _F,  # starts or ends on an end of the part
        "cut.fence_gap_mm": _L,  # between fence and blade
        "cut.depth_mm": _L,  # the deepest
        "cut.length_mm": _L,  # the longest
        "cut.width_mm": _L,  # what a dado head takes in one pass
        "cut.keeper_mm": _L,  # the shortest end that is held
        "cut.offcut_mm": _L,  # the shortest that falls free
        "stock.kind": _W,  # sheet, board, rod
        "stock.length_mm": _L,  # the shortest piece worked on
        "stock.longest_mm": _L,  # the longest piece worked on
        "stock.width_mm": _L,  # the narrowest
        "stock.widest_mm": _L,
        "stock.thickness_mm": _L,
        "stock.edge_straight": _F,
        "bit.diameter_mm": _L,
        "material.name": _W,
        "material.kind": _W,  # solid wood, hardwood plywood, softwood plywood, mdf, particleboard
        "material.group": _W,  # hardwood, softwood or panel
        "part.mass_kg": _M,  # the heaviest single piece lifted
        "part.wide_mm": _L,  # its shorter side
        "assembly.mass_kg": _M,
        "assembly.high_mm": _L,
        "assembly.deep_mm": _L,  # the shorter of its two level sides
        "assembly.on_side": _F,  # put together lying, not as it stands in the piece
        "clamp.count": _N,
        "glue.kind": _W,  # PVA, polyurethane, epoxy or other
        "glue.open_minutes": _N,
        "glue.closing_minutes": _N,  # to spread the glue and close all joints
        "finish.kind": _W,  # oil, solvent, lacquer, shellac, water or other
        # Added by the safety stage, from the masses above.
        "lift.index": _N,
        "lift.mass_kg": _M,
        "piece.high_mm": _L,
        "piece.deep_mm": _L,
        "piece.mass_kg": _M,
        "piece.wall_hung": _F,
        "piece.lift_index": _N,
    }
)
"""Name of each fact to its kind."""
