"""Ways of sawing to a line, tapering and sanding.

Takes nothing, gives ways by the kind of operation. Must not know what is shaped.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.ways.records import (
    BY_HAND,
    Told,
    Way,
    fact_mm,
    keep,
    lacks_machine,
    planned,
)
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop

_HOLD: Final = "two clamps, to hold work and guides"
# From memory: the blades of jigsaws cut 2-3/8 in of wood.
_DEEPEST_JIGSAW_MM: Final = 60
_CUT: Final = {"op.loud": True, "op.makes_chips": True, "op.makes_dust": True}


def _lacks_height(operation: Operation, shop: Shop) -> str:
    saw = shop.band_saw
    if saw is not None and fact_mm(operation, "stock.thickness_mm") > saw.high_mm:
        return "a bandsaw that takes thicker stock"
    return ""


def _lacks_jigsaw(operation: Operation, shop: Shop) -> str:
    if not shop.has_jigsaw:
        return "a jigsaw"
    if fact_mm(operation, "stock.thickness_mm") > _DEEPEST_JIGSAW_MM:
        return "a saw for thick curves"
    return ""


def _say_taper_on_band_saw(operation: Operation, room: Workroom) -> Told:
    spare = room.say.usual("1 mm", "1/32 in")
    return Told(
        actions=(
            *keep(operation, "Mark the taper"),
            f"Saw by hand and eye on the bandsaw, {spare} outside the line.",
            *keep(operation, "Plane the sawn"),
        )
    )


def _say_taper_by_hand(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=(
            *keep(operation, "Mark the taper"),
            "Saw near the line with a rip saw, or plane from the thin end back.",
            *keep(operation, "Plane the sawn"),
        )
    )


def _say_curve_by_hand(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=(
            *operation.actions,
            "Keep the bow saw level, and turn the work where the frame would meet it.",
        )
    )


def _say_opening_by_hand(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=tuple(
            "Saw from hole to hole with a keyhole saw, just inside the line."
            if own.startswith("Saw from hole")
            else own
            for own in operation.actions
        )
    )


_SANDED: Final = Way(
    code="by hand",
    tool="sanding block",
    minutes=(10, 15),
    says={"op.makes_dust": True},
    takes=("dust mask",),
)
_BOW: Final = Way(
    code="by hand",
    tool="bow saw",
    minutes=(5, 20),
    says={**BY_HAND, "cut.kind": "curve"},
    takes=("pencil", "coping saw", _HOLD),
    say=_say_curve_by_hand,
)
SHAPING_WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {
        "saw-tapers": (
            planned(),
            Way(code="on the bandsaw", tool="bandsaw", minutes=(10, 8),
                says={**_CUT, "cut.kind": "taper"}, takes=("pencil", "straightedge", "hand plane"),
                lacks=lacks_machine("bandsaw"), say=_say_taper_on_band_saw),
            Way(code="by hand", tool="hand plane", minutes=(10, 15),
                says={"op.makes_chips": True, "cut.kind": "taper"},
                takes=("pencil", "straightedge", "hand saw", _HOLD), say=_say_taper_by_hand),
        ),
        "saw-curves": (
            planned(_lacks_height),
            Way(code="with a jigsaw", tool="jigsaw", minutes=(10, 12),
                says={**_CUT, "cut.kind": "curve"}, takes=("pencil", _HOLD), lacks=_lacks_jigsaw),
            _BOW,
        ),
        "saw-large-curves": (planned(), _BOW),
        "saw-cut-outs": (
            planned(),
            Way(code="by hand", tool="keyhole saw", minutes=(10, 25),
                says={**BY_HAND, "cut.kind": "cut-out"},
                takes=("brace", "drill bit", "file", "scrap board", _HOLD),
                say=_say_opening_by_hand),
        ),
        "sand-inside": (planned(), _SANDED),
        "sand-outside": (planned(), _SANDED),
    }
)  # fmt: skip
"""Code of a kind to its ways, those that are preferred first. Common practice, no source."""
