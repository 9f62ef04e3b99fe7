"""Ways of bringing blanks to size.

Takes nothing, gives ways by the kind of operation. Must not know what blanks are for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.kinds.truing_words import length_words
from benchleaf.sequencing.records import Operation, Setting
from benchleaf.sequencing.saw_limits import CrossSaw
from benchleaf.sequencing.ways.limits import (
    BY_SAW,
    GUIDED,
    HOLD,
    PLANED,
    SAWN,
    SHOT,
    lacks_circular,
    lacks_fence,
    lacks_guide,
    lacks_mitre_saw,
    lacks_sled,
)
from benchleaf.sequencing.ways.records import (
    PARED,
    Lack,
    Told,
    Way,
    fact_mm,
    keep,
    planned,
    renamed,
    setting,
)
from benchleaf.sequencing.wording import spread
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop


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
        settings=renamed(operation, ("planer", "fence")),
    )


def _say_thickness_by_hand(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            *spread("Plane one face flat on", operation.copies),
            f"Gauge {size} from it, all round the edges.",
            "Plane across the grain, nearly down to the line, then along it.",
        ),
        settings=renamed(operation, ("gauge", "fence")),
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
        settings=renamed(operation, ("width", "fence")),
    )


def _say_width_by_hand(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            *keep(operation, "Scrape", "Plane", "Mark"),
            f"Gauge a line {size} from the face edge, on both faces.",
            *spread("Saw near the line, and plane down to it, on", operation.copies),
        ),
        settings=renamed(operation, ("gauge", "fence")),
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


def _say_length_on(saw: CrossSaw) -> Callable[[Operation, Workroom], Told]:
    def say(operation: Operation, room: Workroom) -> Told:
        final = setting(operation, "stop") or setting(operation, "length")
        name = "length" if saw is CrossSaw.CIRCULAR else "stop"
        return Told(
            actions=tuple(length_words(saw, final, operation.copies, room)),
            settings=(Setting(name=name, value_mm=final),),
        )

    return say


_LENGTH_BY_HAND: Final = Way(
    code=BY_SAW, tool="hand saw", minutes=(10, 12), says=SAWN,
    takes=(*SHOT, "hand plane"), say=_say_length_by_hand,
)  # fmt: skip


def _length_way(code: str, saw: CrossSaw, lacks: Lack) -> Way:
    with_stop = saw is not CrossSaw.CIRCULAR
    return Way(
        code=code,
        tool=saw.value,
        minutes=(5, 3) if with_stop else (10, 10),
        says={
            **GUIDED,
            "cut.kind": "crosscut",
            "stock.edge_straight": True,
            "op.uses_stop": with_stop,
        },
        takes=("length stop", "try square") if with_stop else ("straightedge", "try square", HOLD),
        lacks=lacks,
        say=_say_length_on(saw),
    )


TRUING_WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {
        "true-thickness": (
            Way(code="through the planer", tool="planer", minutes=(10, 6),
                says={**GUIDED, "cut.kind": "plane"}, takes=("hand plane",),
                lacks=_lacks_planer, say=_say_planer),
            planned(),
            Way(code="by plane", tool="hand plane", minutes=(10, 30),
                says={**PARED, "cut.kind": "plane"}, takes=PLANED, say=_say_thickness_by_hand),
        ),
        "true-width": (
            planned(lacks_fence),
            Way(code="along a guide", tool="circular saw", minutes=(10, 10),
                says={**GUIDED, "cut.kind": "rip"},
                takes=("straightedge", "scraper", "hand plane", "try square", HOLD),
                lacks=lacks_guide, say=_say_width_along_guide),
            Way(code="by plane", tool="hand plane", minutes=(10, 20),
                says={**PARED, "cut.kind": "plane"},
                takes=("hand saw", "scraper", "try square", *PLANED), say=_say_width_by_hand),
        ),
        "true-length": (
            planned(lacks_sled),
            _length_way("on the mitre saw", CrossSaw.MITRE, lacks_mitre_saw),
            _length_way("along a guide", CrossSaw.CIRCULAR, lacks_circular),
            _LENGTH_BY_HAND,
        ),
        "true-length-on-mitre-saw": (
            planned(lacks_mitre_saw),
            _length_way("on the sled", CrossSaw.SLED, lacks_sled),
            _length_way("along a guide", CrossSaw.CIRCULAR, lacks_circular),
            _LENGTH_BY_HAND,
        ),
        "true-length-along-guide": (planned(), _LENGTH_BY_HAND),
    }
)  # fmt: skip
"""Code of a kind to its ways, those that are preferred first. Common practice, no source."""
