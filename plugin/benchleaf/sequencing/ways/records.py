"""A way of doing an operation: with which tool, what it needs, and what is then said.

Takes nothing, gives the records, and what the ways of all families have in common. Must not know
any single kind.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.records import Fact, Operation, Setting
from benchleaf.sequencing.workroom import Workroom
from benchleaf.shops import Shop
from benchleaf.shops.records import ALL_MACHINES

BY_HAND: Final[Mapping[str, Fact]] = MappingProxyType({"op.makes_dust": True})
"""A saw moved by hand."""
PARED: Final[Mapping[str, Fact]] = MappingProxyType({"op.makes_chips": True})
"""A chisel, a plane, a bit turned by hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is said of an operation that is done another way than planned."""

    actions: tuple[str, ...]
    settings: tuple[Setting, ...] = ()
    check: str = ""
    """Empty where the planned one holds."""


Lack = Callable[[Operation, Shop], str]
"""An operation and a shop to what the shop lacks for it, in words; empty where it can be done."""


def lacks_nothing(operation: Operation, shop: Shop) -> str:
    """What everybody has: saws, planes and chisels."""
    del operation, shop
    return ""


def lacks_machine(tool: str) -> Lack:
    """A way that takes one machine, whatever the work."""
    return lambda _, shop: "" if tool in shop.machines() else name_tool(tool)


def name_tool(tool: str) -> str:
    """A machine with its article."""
    return f"{'an' if tool[0] in 'aeiou' else 'a'} {tool}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way of doing the operations of a kind."""

    code: str
    """`by hand`, `along a guide`; empty for the way that the kind itself is planned for."""
    tool: str = ""
    minutes: tuple[int, int] = (0, 0)
    """To set up, and for each piece. chosen: a careful beginner's, as for all kinds."""
    times: int = 0
    """Where it is not 0: how many times the kind's own minutes for each piece it takes, instead of
    `minutes`. chosen, likewise."""
    says: Mapping[str, Fact] = field(default_factory=dict, hash=False)
    """Facts that are true of it, instead of those that are true of the kind."""
    takes: tuple[str, ...] = ()
    """Tools besides its own."""
    lacks: Lack = lacks_nothing
    say: Callable[[Operation, Workroom], Told] | None = None
    """None where the planned words hold."""


def planned(lacks: Lack | None = None) -> Way:
    """The way that a kind is planned for; it needs its own tool, and what `lacks` looks at."""

    def lack(operation: Operation, shop: Shop) -> str:
        if operation.tool in ALL_MACHINES and operation.tool not in shop.machines():
            return name_tool(operation.tool)
        return lacks(operation, shop) if lacks else ""

    return Way(code="", lacks=lack)


# What ways ask of the operation that was planned.


def setting(operation: Operation, name: str) -> Fraction:
    """A setting's length, mm; 0 where it has none of that name."""
    found = (own.value_mm for own in operation.settings if own.name == name)
    return next((value for value in found if value is not None), Fraction(0))


def renamed(operation: Operation, *names: tuple[str, str]) -> tuple[Setting, ...]:
    """Lengths that the planned way sets, under the names that they have in another: (new, old)."""
    return tuple(Setting(name=new, value_mm=setting(operation, old)) for new, old in names)


def setting_text(operation: Operation, name: str) -> str:
    """A setting's words."""
    return next((own.text for own in operation.settings if own.name == name), "")


def fact_mm(operation: Operation, name: str) -> Fraction:
    """A fact that is a length, mm; 0 where it is not known."""
    value = operation.facts.get(name)
    return Fraction(value) if isinstance(value, (Fraction, int, float)) else Fraction(0)


def drop(operation: Operation, *starts: str) -> tuple[str, ...]:
    """The planned actions without those that begin with some words."""
    return tuple(action for action in operation.actions if not action.startswith(starts))


def keep(operation: Operation, *starts: str) -> tuple[str, ...]:
    """Those of the planned actions that begin with some words."""
    return tuple(action for action in operation.actions if action.startswith(starts))
