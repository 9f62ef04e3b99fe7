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
    ANGLE = "angle"
    """Degrees."""


_L, _M, _N, _W, _F, _A = FactKind

# A flag's words are a clause that it makes true; those of all others name a thing.
_ROWS: Mapping[str, tuple[FactKind, str]] = {
    "op.kind": (_W, "the operation"),
    "op.dado_head": (_F, "the table saw carries a dado head"),
    "op.tool": (_W, "the tool"),
    "op.loud": (_F, "the machine calls for ear defenders"),
    "op.makes_chips": (_F, "the tool makes chips"),
    "op.makes_dust": (_F, "the tool makes dust"),
    "op.makes_lines": (_F, "lines are marked with a knife"),
    "op.rotating_cutter": (_F, "a blade, bit or cutter turns"),
    "op.uses_stop": (_F, "a length stop is set"),
    "cut.kind": (_W, "the kind of cut"),
    "cut.through": (_F, "the cut goes through the wood"),
    "cut.stopped": (_F, "the cut ends inside the wood"),
    "cut.end_grain": (_F, "the cut starts or ends on an end of the part"),
    "cut.on_edge": (_F, "the machine rides on the edge of a board"),
    "cut.fence_gap_mm": (_L, "the gap between fence and blade"),
    "cut.depth_mm": (_L, "the depth of the cut"),
    "cut.length_mm": (_L, "the length of the longest cut"),
    "cut.width_mm": (_L, "the width that one pass takes"),
    "cut.keeper_mm": (_L, "the shortest end that is held"),
    "cut.offcut_mm": (_L, "the shortest piece that falls free"),
    "cut.tilt_deg": (_A, "the tilt of blade or bit from square"),
    "cut.gauge_deg": (_A, "the angle of gauge or saw off square"),
    "cut.radius_mm": (_L, "the tightest radius of the line"),
    "stock.kind": (_W, "the stock"),
    "stock.length_mm": (_L, "the length of the shortest piece"),
    "stock.longest_mm": (_L, "the length of the longest piece"),
    "stock.width_mm": (_L, "the width of the narrowest piece"),
    "stock.widest_mm": (_L, "the width of the widest piece"),
    "stock.thickness_mm": (_L, "the thickness"),
    "stock.edge_straight": (_F, "the edge at the fence is straight"),
    "stock.round": (_F, "the work is round"),
    "bit.diameter_mm": (_L, "the bit's diameter"),
    "material.name": (_W, "the material"),
    "material.all": (_W, "all materials under the tool"),
    "material.kind": (_W, "the kind of material"),
    "material.group": (_W, "the group of the wood"),
    "part.mass_kg": (_M, "the mass of the heaviest piece"),
    "part.wide_mm": (_L, "the shorter side of the piece"),
    "assembly.mass_kg": (_M, "the mass of what is put together"),
    "assembly.high_mm": (_L, "the height of what is put together"),
    "assembly.deep_mm": (_L, "the shorter level side of what is put together"),
    "assembly.on_side": (_F, "it is put together lying, not as it stands in the piece"),
    "clamp.count": (_N, "the number of clamps"),
    "glue.kind": (_W, "the glue"),
    "glue.open_minutes": (_N, "the minutes that the glue stays open"),
    "glue.closing_minutes": (_N, "the minutes to spread the glue and close all joints"),
    "finish.kind": (_W, "the finish"),
    # Added by the safety stage, from the facts above.
    "material.treated": (_F, "the wood is treated with preservative"),
    "material.reclaimed": (_F, "the wood is reclaimed"),
    "material.sensitiser": (_F, "lists of harmful woods name the wood"),
    "material.harmful": (_W, "the harmful wood"),
    "stock.final_mm": (_L, "the thickness that it is planed to"),
    "bit.fastest_rpm": (_N, "the bit's highest speed"),
    "blade.widest_mm": (_L, "the widest blade for the radius"),
    "lift.index": (_N, "the lifting index"),
    "lift.mass_kg": (_M, "the mass that is lifted"),
    "piece.high_mm": (_L, "the height of the piece"),
    "piece.deep_mm": (_L, "the shorter level side of the piece"),
    "piece.litres": (_N, "the litres that the piece takes up"),
    "piece.mass_kg": (_M, "the mass of the piece"),
    "piece.lift_index": (_N, "the lifting index of the piece"),
    "piece.wall_hung": (_F, "the piece hangs on a wall"),
    "piece.anchored": (_F, "the piece is planned to be fixed to a wall"),
    "piece.has_drawers": (_F, "the piece has drawers"),
    "piece.has_lid": (_F, "the piece has a hinged lid"),
    "piece.has_glass": (_F, "the piece holds glass"),
    "piece.stores_clothes": (_F, "the author says that it stores clothes"),
    "piece.for_children": (_F, "the author says that it is for children"),
    "piece.for_food": (_F, "the author says that it holds food or feed"),
    "piece.bunk": (_F, "the author calls it a bunk or a loft bed"),
    "piece.crib": (_F, "the author calls it a crib, a cot or a cradle"),
    "piece.treated": (_F, "wood of the piece is treated with preservative"),
    "piece.loaded": (_F, "the plan states loads"),
    "piece.oiled": (_F, "the piece is oiled"),
}

FACTS: Mapping[str, FactKind] = MappingProxyType({name: kind for name, (kind, _) in _ROWS.items()})
"""Name of each fact to its kind."""
MEANINGS: Mapping[str, str] = MappingProxyType({name: words for name, (_, words) in _ROWS.items()})
"""Name of each fact to what it is, in words."""
