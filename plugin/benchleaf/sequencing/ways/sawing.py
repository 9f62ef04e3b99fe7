"""Ways of sawing stock apart and of bringing blanks to size.

Takes nothing, gives ways by the kind of operation. Must not know the cut plan: what is cut off what
stands in the planned words already.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.kinds.machine_facts import MACHINED
from benchleaf.sequencing.records import Operation, Setting
from benchleaf.sequencing.ways.records import (
    BY_HAND,
    PARED,
    Told,
    Way,
    drop,
    fact_mm,
    keep,
    planned,
    setting,
)
from benchleaf.sequencing.wording import spread
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop

_HOLD: Final = "two clamps, to hold work and guides"
_SAWN: Final = {**BY_HAND, "cut.through": True}
_GUIDED: Final = {**MACHINED, "cut.through": True}
# chosen: narrower boards do not carry a guide and the saw's shoe beside the cut.
_NARROWEST_GUIDED_MM: Final = 90
_LINE: Final = "Saw on the waste side of the line, and plane the sawn edge to it."


# Breaking down, and panels.


def _say_break_down(operation: Operation, room: Workroom) -> Told:
    del room
    lying = keep(operation, "Lay ", "Mark the left")
    return Told(
        actions=(
            *lying,
            "Saw every line by hand, on its waste side, with the sheet held down.",
            *(own for own in operation.actions if own not in lying),
            "Plane each sawn edge straight where a part is measured from it.",
        )
    )


def _say_panels(operation: Operation, room: Workroom) -> Told:
    del room
    return Told(
        actions=(
            *drop(operation, "Clamp a guide"),
            "Saw by hand on the waste side of each line, and plane to it.",
        ),
        settings=operation.settings,
    )


def _say_boards(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "stop"))
    rest = drop(operation, "Clamp a stop", "Push the", "On a saw that")
    if not setting(operation, "stop"):
        return Told(actions=(*rest, "Knife each line all round, saw to it, and plane the end."))
    return Told(
        actions=(
            f"Mark {size} with a knife, square all round, for each cut.",
            "Hold the work on trestles or a bench hook, and saw on the waste side.",
            *rest,
        ),
        settings=(Setting(name="length", value_mm=setting(operation, "stop")),),
    )


# Ripping.


def _lacks_band_saw(operation: Operation, shop: Shop) -> str:
    saw = shop.band_saw
    if saw is None:
        return "a bandsaw"
    if setting(operation, "fence") > saw.throat_mm:
        return "a bandsaw with a deeper throat"
    if fact_mm(operation, "stock.thickness_mm") > saw.high_mm:
        return "a bandsaw that takes thicker stock"
    return ""


def _lacks_guide(operation: Operation, shop: Shop) -> str:
    saw = shop.circular_saw
    if saw is None:
        return "a circular saw with a guide"
    if fact_mm(operation, "stock.thickness_mm") > saw.deep_mm:
        return "a circular saw that cuts deeper"
    if fact_mm(operation, "stock.width_mm") < _NARROWEST_GUIDED_MM:
        return "a saw for stock too narrow to carry a guide"
    return ""


def _lacks_fence(operation: Operation, shop: Shop) -> str:
    saw = shop.table_saw
    if saw is not None and setting(operation, "fence") > max(saw.rip_mm, saw.rip_left_mm):
        return "a table saw whose fence opens wider"
    return ""


def _strip_words(operation: Operation) -> tuple[str, ...]:
    return drop(operation, "Set the fence", "Run the")


def _say_on_band_saw(operation: Operation, room: Workroom) -> Told:
    size, spare = room.say.length(setting(operation, "fence")), room.say.usual("1 mm", "1/32 in")
    return Told(
        actions=(
            f"Set the bandsaw's fence {size} from the blade and {spare} more.",
            *drop(operation, "Set the fence"),
            f"Plane each sawn edge, down to {size}.",
        ),
        settings=operation.settings,
    )


def _say_along_guide(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            f"Mark {size} from the near edge, at both ends, for each cut.",
            "Clamp a guide to the marks, so that the blade runs on the waste side.",
            "Lay stock of the same thickness beside it, where the saw would tip.",
            *_strip_words(operation),
        ),
        settings=(Setting(name="width", value_mm=setting(operation, "fence")),),
    )


def _say_rip_by_hand(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            f"Gauge {size} from the near edge, on both faces, for each cut.",
            _LINE,
            *_strip_words(operation),
        ),
        settings=(Setting(name="gauge", value_mm=setting(operation, "fence")),),
    )


# Truing.


def _lacks_planer(operation: Operation, shop: Shop) -> str:
    if shop.planer is None:
        return "a planer"
    # Glue lines and veneers of panels dull its knives: common practice, no source.
    if operation.facts.get("material.group") == "panel":
        return "a planer for panels"
    if fact_mm(operation, "stock.widest_mm") > shop.planer.wide_mm:
        return "a wider planer"
    return ""


def _say_planer(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    most = room.say.usual("1 mm", "1/32 in")
    return Told(
        actions=(
            *spread("Plane one face flat by hand, or at the jointer, on", operation.copies),
            f"Run that face down through the planer, {most} a pass at most.",
            f"Take wood off both faces in turn, down to {size}.",
        ),
        settings=(Setting(name="planer", value_mm=setting(operation, "fence")),),
    )


def _say_thickness_by_hand(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            *spread("Plane one face flat on", operation.copies),
            f"Gauge {size} from it, all round the edges.",
            "Plane across the grain, nearly down to the line, then along it.",
        ),
        settings=(Setting(name="gauge", value_mm=setting(operation, "fence")),),
    )


def _say_width_along_guide(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            *keep(operation, "Scrape", "Plane", "Mark"),
            f"Mark {size} from the face edge, at both ends, and clamp a guide to the marks.",
            *spread("Saw", operation.copies, "to width, the blade on the waste side"),
            "Plane the sawn edge smooth.",
        ),
        settings=(Setting(name="width", value_mm=setting(operation, "fence")),),
    )


def _say_width_by_hand(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            *keep(operation, "Scrape", "Plane", "Mark"),
            f"Gauge a line {size} from the face edge, on both faces.",
            *spread("Saw near the line, and plane down to it, on", operation.copies),
        ),
        settings=(Setting(name="gauge", value_mm=setting(operation, "fence")),),
    )


def _say_length_by_hand(operation: Operation, room: Workroom) -> Told:
    final = setting(operation, "stop") or setting(operation, "length")
    size = room.say.length(final)
    return Told(
        actions=(
            *spread(
                "Knife one end square all round, saw to it, and plane it, on", operation.copies
            ),
            f"Knife a line {size} from that end, square all round.",
            *spread("Saw", operation.copies, "on the waste side, and plane each end to its line"),
        ),
        settings=(Setting(name="length", value_mm=final),),
    )


_BY_SAW: Final = "by hand saw"
_SHOT: Final = ("marking knife", "try square", "bench hook with a stop", "shooting board")
_PLANED: Final = ("marking gauge", "hand plane", _HOLD)
_LENGTH_BY_HAND: Final = Way(
    code=_BY_SAW, tool="hand saw", minutes=(10, 12), says=_SAWN,
    takes=(*_SHOT, "hand plane"), say=_say_length_by_hand,
)  # fmt: skip


SAWING_WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {
        "break-down": (
            planned(),
            Way(code=_BY_SAW, tool="hand saw", minutes=(15, 20), says=_SAWN,
                takes=("straightedge", "hand plane", "tape measure", "try square",
                       "bed of foam or battens for a sheet", _HOLD),
                say=_say_break_down),
        ),
        "cut-panels": (
            planned(),
            Way(code=_BY_SAW, tool="hand saw", minutes=(10, 12), says=_SAWN,
                takes=("straightedge", "hand plane", "tape measure", "try square", _HOLD),
                say=_say_panels),
        ),
        "cut-boards": (
            planned(),
            Way(code=_BY_SAW, tool="hand saw", minutes=(5, 8), says=_SAWN,
                takes=(*_SHOT, "tape measure"), say=_say_boards),
        ),
        "rip": (
            planned(_lacks_fence),
            Way(code="on the bandsaw", tool="bandsaw", minutes=(10, 6),
                says={**_GUIDED, "cut.kind": "rip"}, takes=("push stick", "hand plane"),
                lacks=_lacks_band_saw, say=_say_on_band_saw),
            Way(code="along a guide", tool="circular saw", minutes=(10, 6),
                says={**_GUIDED, "cut.kind": "rip"}, takes=("straightedge", "tape measure", _HOLD),
                lacks=_lacks_guide, say=_say_along_guide),
            Way(code=_BY_SAW, tool="hand saw", minutes=(10, 20), says={**_SAWN, "cut.kind": "rip"},
                takes=_PLANED, say=_say_rip_by_hand),
        ),
        "true-thickness": (
            Way(code="through the planer", tool="planer", minutes=(10, 6),
                says={**_GUIDED, "cut.kind": "plane"}, takes=("hand plane",),
                lacks=_lacks_planer, say=_say_planer),
            planned(),
            Way(code="by plane", tool="hand plane", minutes=(10, 30),
                says={**PARED, "cut.kind": "plane"}, takes=_PLANED, say=_say_thickness_by_hand),
        ),
        "true-width": (
            planned(_lacks_fence),
            Way(code="along a guide", tool="circular saw", minutes=(10, 10),
                says={**_GUIDED, "cut.kind": "rip"},
                takes=("straightedge", "scraper", "hand plane", "try square", _HOLD),
                lacks=_lacks_guide, say=_say_width_along_guide),
            Way(code="by plane", tool="hand plane", minutes=(10, 20),
                says={**PARED, "cut.kind": "plane"},
                takes=("hand saw", "scraper", "try square", *_PLANED), say=_say_width_by_hand),
        ),
        "true-length": (planned(), _LENGTH_BY_HAND),
        "true-length-on-mitre-saw": (planned(), _LENGTH_BY_HAND),
        "true-length-along-guide": (planned(), _LENGTH_BY_HAND),
    }
)  # fmt: skip
"""Code of a kind to its ways, those that are preferred first.

Common practice, no source: the machine that leaves an edge nearest to its size, then the one that
is carried to the work, then the hand.
"""
