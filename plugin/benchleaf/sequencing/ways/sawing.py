"""Ways of sawing stock apart.

Takes nothing, gives ways by the kind of operation. Must not know the cut plan: what is cut off what
stands in the planned words already.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.records import Operation, Setting
from benchleaf.sequencing.saw_limits import CrossSaw, say_stop
from benchleaf.sequencing.ways.limits import (
    BY_SAW,
    GUIDED,
    HOLD,
    PLANED,
    SAWN,
    SHOT,
    holds_too_little,
    lacks_band_saw,
    lacks_circular,
    lacks_fence,
    lacks_guide,
    lacks_mitre_saw,
    lacks_sled,
)
from benchleaf.sequencing.ways.records import Told, Way, drop, keep, planned, renamed, setting
from benchleaf.sequencing.workroom import Workroom

_SET: Final = (
    "Set the fence",
    "Run the",
    "Clamp a stop",
    "Lengthen the sled",
    "Push the",
    "On a saw that",
)
_AGAINST: Final = re.compile(r"(?:Run|Push) the (.+?) of .+ (?:along the fence|up to the stop)\.")
_KEPT: Final = re.compile(r"On (.+), keep the (.+) against the (?:fence|stop)\.")
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


# What fence and stop measure, by hand.


def _side(operation: Operation) -> str:
    """The side that lies against fence or stop, from which is measured by hand."""
    found = (match[1] for own in operation.actions if (match := _AGAINST.match(own)))
    return next(found, "near edge" if operation.kind == "rip" else "left end")


def _measured(operation: Operation) -> tuple[str, ...]:
    """The planned actions without fence or stop: what lay against them is measured from."""
    kept = drop(operation, *_SET)
    return tuple(_KEPT.sub(r"On \1, measure from the \2.", own) for own in kept)


# Crosscuts.


def _say_stopped(saw: CrossSaw) -> Callable[[Operation, Workroom], Told]:
    def say(operation: Operation, room: Workroom) -> Told:
        far = setting(operation, "stop")
        if not far:
            return Told(actions=operation.actions)
        stop = say_stop(saw, far, room.say.length(far))
        rest = drop(operation, "Clamp a stop", "Lengthen the sled", "On a saw that")
        return Told(actions=(stop, *rest), settings=operation.settings)

    return say


def _say_guided(operation: Operation, room: Workroom) -> Told:
    far = setting(operation, "stop")
    rest, near = _measured(operation), _side(operation)
    guide = "Clamp a guide square to the marks, so that the blade runs on the waste side."
    if not far:
        return Told(actions=(*rest, "Clamp a guide square across each end, and saw along it."))
    return Told(
        actions=(
            f"Mark {room.say.length(far)} from the {near}, at both sides, for each cut.",
            guide,
            *rest,
        ),
        settings=(Setting(name="length", value_mm=far),),
    )


def _say_by_hand(operation: Operation, room: Workroom) -> Told:
    far, rest = setting(operation, "stop"), _measured(operation)
    if not far:
        return Told(actions=(*rest, "Knife each line all round, saw to it, and plane the end."))
    size = room.say.length(far)
    return Told(
        actions=(
            f"Knife a line {size} from the {_side(operation)}, square all round, for each cut.",
            "Hold the work on trestles or a bench hook, and saw on the waste side.",
            *rest,
        ),
        settings=(Setting(name="length", value_mm=far),),
    )


# Ripping.


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
            f"Mark {size} from the {_side(operation)}, at both ends, for each cut.",
            "Clamp a guide to the marks, so that the blade runs on the waste side.",
            "Lay stock of the same thickness beside it, where the saw would tip.",
            *_measured(operation),
        ),
        settings=renamed(operation, ("width", "fence")),
    )


def _say_rip_by_hand(operation: Operation, room: Workroom) -> Told:
    size = room.say.length(setting(operation, "fence"))
    return Told(
        actions=(
            f"Gauge {size} from the {_side(operation)}, on both faces, for each cut.",
            _LINE,
            *_measured(operation),
        ),
        settings=renamed(operation, ("gauge", "fence")),
    )


_CROSSCUT: Final = {**GUIDED, "cut.kind": "crosscut"}
_ON_MITRE_SAW: Final = Way(
    code="on the mitre saw", tool="mitre saw", minutes=(5, 2),
    says={**_CROSSCUT, "op.uses_stop": True}, takes=("length stop", "chalk", "tape measure"),
    lacks=holds_too_little, say=_say_stopped(CrossSaw.MITRE),
)  # fmt: skip
_ON_SLED: Final = Way(
    code="on the sled", tool="table saw", minutes=(5, 2),
    says={**_CROSSCUT, "op.uses_stop": True, "stock.edge_straight": True},
    takes=("sled for the table saw", "length stop", "chalk", "tape measure"),
    lacks=lacks_sled, say=_say_stopped(CrossSaw.SLED),
)  # fmt: skip
_ALONG_GUIDE: Final = Way(
    code="along a guide", tool="circular saw", minutes=(10, 5), says=_CROSSCUT,
    takes=("straightedge", "try square", "tape measure", "chalk", HOLD),
    lacks=lacks_circular, say=_say_guided,
)  # fmt: skip
_CROSSCUT_BY_HAND: Final = Way(
    code=BY_SAW, tool="hand saw", minutes=(5, 8), says={**SAWN, "cut.kind": "crosscut"},
    takes=(*SHOT, "tape measure"), say=_say_by_hand,
)  # fmt: skip


SAWING_WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {
        "break-down": (
            planned(),
            Way(code=BY_SAW, tool="hand saw", minutes=(15, 20), says=SAWN,
                takes=("straightedge", "hand plane", "tape measure", "try square",
                       "bed of foam or battens for a sheet", HOLD),
                say=_say_break_down),
        ),
        "cut-panels": (
            planned(),
            Way(code=BY_SAW, tool="hand saw", minutes=(10, 12), says=SAWN,
                takes=("straightedge", "hand plane", "tape measure", "try square", HOLD),
                say=_say_panels),
        ),
        "crosscut": (planned(lacks_sled), _ON_MITRE_SAW, _ALONG_GUIDE, _CROSSCUT_BY_HAND),
        "cut-boards": (
            planned(lacks_mitre_saw),
            _ON_SLED,
            _ALONG_GUIDE,
            _CROSSCUT_BY_HAND,
        ),
        "rip": (
            planned(lacks_fence),
            Way(code="on the bandsaw", tool="bandsaw", minutes=(10, 6),
                says={**GUIDED, "cut.kind": "rip"}, takes=("push stick", "hand plane"),
                lacks=lacks_band_saw, say=_say_on_band_saw),
            Way(code="along a guide", tool="circular saw", minutes=(10, 6),
                says={**GUIDED, "cut.kind": "rip"}, takes=("straightedge", "tape measure", HOLD),
                lacks=lacks_guide, say=_say_along_guide),
            Way(code=BY_SAW, tool="hand saw", minutes=(10, 20), says={**SAWN, "cut.kind": "rip"},
                takes=PLANED, say=_say_rip_by_hand),
        ),
    }
)  # fmt: skip
"""Code of a kind to its ways, those that are preferred first.

Common practice, no source: the machine that leaves an edge nearest to its size, then the one that
is carried to the work, then the hand.
"""
