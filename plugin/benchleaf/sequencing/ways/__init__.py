"""The ways in which operations are done, and the choice among them by what a shop has.

`WAYS` is the table: the ways of a kind in order of preference; a kind that is not there is done in
one way by anybody. Takes planned operations and a shop, gives them as that shop does them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from benchleaf.findings import Finding, Severity
from benchleaf.sequencing.drafting import OperationKind
from benchleaf.sequencing.kinds import OPERATION_KINDS
from benchleaf.sequencing.records import Operation
from benchleaf.sequencing.ways.jointing import JOINTING_WAYS
from benchleaf.sequencing.ways.records import Way, name_tool, planned
from benchleaf.sequencing.ways.routing import ROUTING_WAYS
from benchleaf.sequencing.ways.sawing import SAWING_WAYS
from benchleaf.sequencing.ways.shaping import SHAPING_WAYS
from benchleaf.sequencing.ways.truing import TRUING_WAYS
from benchleaf.sequencing.workroom import Workroom

WAYS: Final[Mapping[str, tuple[Way, ...]]] = MappingProxyType(
    {**SAWING_WAYS, **TRUING_WAYS, **ROUTING_WAYS, **JOINTING_WAYS, **SHAPING_WAYS}
)
"""Code of a kind to its ways, those that are preferred first."""
_ONE_WAY: Final = (planned(),)


def ways_of(kind: str) -> tuple[Way, ...]:
    """The ways of a kind of operation."""
    return WAYS.get(kind, _ONE_WAY)


def way_of(operation: Operation) -> Way:
    """The way in which an operation is done."""
    return next(way for way in ways_of(operation.kind) if way.code == operation.way)


def take_way(operation: Operation, room: Workroom) -> Operation:
    """Give an operation as the shop does it: the first way that lacks nothing.

    One that the shop has no way for stays as it was planned; `find_lacking` says so.
    """
    for way in ways_of(operation.kind):
        if not way.lacks(operation, room.shop):
            return _restate(operation, way, room) if way.code else operation
    return operation


def _restate(operation: Operation, way: Way, room: Workroom) -> Operation:
    kind = OPERATION_KINDS[operation.kind]
    told = way.say(operation, room) if way.say else None
    before = {"op.kind", "op.tool", *kind.says} - {"cut.kind", "cut.through", "cut.stopped"}
    kept = {name: fact for name, fact in operation.facts.items() if name not in before}
    facts = {**kept, **way.says, "op.kind": kind.code, "op.tool": way.tool}
    pieces = (operation.active_minutes - kind.minutes) // kind.minutes_each
    return replace(
        operation,
        tool=way.tool,
        way=way.code,
        title=_retitle(operation.title),
        actions=told.actions if told else operation.actions,
        settings=told.settings if told else operation.settings,
        check=(told.check if told else "") or operation.check,
        active_minutes=_minutes(way, kind, pieces),
        facts=dict(sorted(facts.items())),
    )


def _minutes(way: Way, kind: OperationKind, pieces: int) -> int:
    if way.times:
        return kind.minutes + way.times * kind.minutes_each * pieces
    return way.minutes[0] + way.minutes[1] * pieces


def _retitle(title: str) -> str:
    """A title that does not say the machine: what a router did is now cut."""
    return f"Cut {title.removeprefix('Rout ')}" if title.startswith("Rout ") else title


def find_lacking(operations: Iterable[Operation], room: Workroom) -> tuple[Finding, ...]:
    """Find the operations that the shop has no way for."""
    found = []
    for operation in operations:
        lacking = say_lacking(operation, room)
        if lacking and not operation.way:
            found.append(_finding(operation, lacking, room))
    return tuple(found)


def say_lacking(operation: Operation, room: Workroom) -> str:
    """What a shop lacks for every way of an operation; empty where there is a way."""
    lacks = [way.lacks(operation, room.shop) for way in ways_of(operation.kind)]
    return " or ".join(dict.fromkeys(lacks)) if all(lacks) else ""


def _finding(operation: Operation, lacking: str, room: Workroom) -> Finding:
    return Finding(
        code="S350",
        severity=Severity.WARNING,
        place=room.plan.place("steps"),
        subject="steps",
        message=f"`{operation.title}` cannot be done in the shop `{room.shop.title}`",
        remedy=f"Needed: {lacking}; or another joint, stock or size.",
    )


__all__ = [
    "WAYS",
    "Way",
    "find_lacking",
    "name_tool",
    "say_lacking",
    "take_way",
    "way_of",
    "ways_of",
]
