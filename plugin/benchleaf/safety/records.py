"""Call-outs: a hazard of that very operation and how it is controlled. Made by `warn`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchleaf.safety.conditions import Condition


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceReference:
    """A published source that a rule rests on."""

    key: str
    title: str
    """Document and clause, as cited on the page."""
    status: str
    """`read`, `secondary`, `from memory` or `common practice, no source`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CallOut:
    """One hazard, its control, and its source, with the operation's own numbers filled in."""

    rule: str
    """Id of the rule, such as `TS-02`."""
    signal: str
    """DANGER, WARNING, CAUTION or NOTICE, by ANSI Z535.6 meaning."""
    hazard: str
    control: str
    """What to do, in plain words, with figures in the plan's units."""
    sources: tuple[SourceReference, ...]
    operation: str
    """Id of the operation that triggers it; empty on the set-up card."""
    why: str = ""
    """What a general call-out rests on, in a sentence or two; empty where the hazard says it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CallOuts:
    """All call-outs of a plan."""

    by_step: Mapping[int, tuple[CallOut, ...]]
    """Step number to at most three call-outs, most severe first."""
    cards: Mapping[str, tuple[CallOut, ...]]
    """Tool's name to the general call-outs for its set-up card; `the piece` for the finished piece
    and `the shop` for what holds at every tool."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One hazard, when it is there, and how it is controlled: a data row."""

    id: str
    tool: str
    """Plain name of the tool, `any`, or `the piece`."""
    scope: str
    """`step`: said in the step whose numbers call for it. `card`: said once, on the set-up card."""
    when: Condition
    hazard: str
    """What can happen, in a few words; rules that share a hazard are said once."""
    signal: str
    control: str
    """What to do; `{cut.depth_mm}` stands for a fact, `{either:3 mm|1/8 in}` for a figure that is
    the rule's own, in the plan's units."""
    replaces: tuple[str, ...]
    """Ids of rules that this one makes needless where both hold."""
    sources: tuple[SourceReference, ...]
    numbers: str = ""
    """Where each figure of the condition and the control comes from; empty where there is none."""
    why: str = ""
    """What a general rule rests on; shown with it."""
