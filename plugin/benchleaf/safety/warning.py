"""Call-outs: which hazards the work itself brings, and what is said of them.

Takes the sequence and the joinery, gives call-outs for each step and for each tool's card. Must not
know how operations were planned or how a page shows them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from benchleaf.joinery.records import Joinery
from benchleaf.reading.plan import Units
from benchleaf.safety.conditions import holds, how_far_past
from benchleaf.safety.deriving import derived_facts
from benchleaf.safety.finished import piece_facts
from benchleaf.safety.loading import SIGNALS, load_rules
from benchleaf.safety.records import CallOut, CallOuts, Rule
from benchleaf.safety.wording import facts_named, fill_control
from benchleaf.sequencing.records import Fact, Operation, Step
from benchleaf.sequencing.records import Sequence as WorkSequence

THE_SHOP: Final = "the shop"
THE_PIECE: Final = "the piece"
# chosen: a reader takes in three; what is left out is on the tool's card or less urgent.
MOST_CALL_OUTS: Final = 3


@dataclass(frozen=True, slots=True)
class _Fired:
    """A rule that holds for some facts."""

    rule: Rule
    facts: Mapping[str, Fact]
    operation: str
    past: float
    """How far the worst figure is past its limit."""

    @property
    def rank(self) -> tuple[int, float, str]:
        return (SIGNALS.index(self.rule.signal), -self.past, self.rule.id)


def warn(sequence: WorkSequence, joinery: Joinery) -> CallOuts:
    """Find the call-outs of every step, and those of the set-up cards.

    Args:
        sequence: The order of work, its operations stating their facts.
        joinery: The joinery, for what the finished piece itself brings.
    """
    rules = load_rules()
    units = joinery.piece.plan.units
    steps = [rule for rule in rules if rule.scope == "step"]
    cards = [rule for rule in rules if rule.scope == "card"]
    by_step = {step.number: _of_step(step, steps, units) for step in sequence.steps}
    return CallOuts(by_step=by_step, cards=_cards(sequence.operations, joinery, cards))


def _of_step(step: Step, rules: Sequence[Rule], units: Units) -> tuple[CallOut, ...]:
    fired = [hit for operation in step.operations for hit in _fire(operation, rules)]
    return tuple(_call_out(hit, units) for hit in _merge(fired)[:MOST_CALL_OUTS])


def rules_that_hold(operation: Operation) -> tuple[Rule, ...]:
    """All rules that an operation calls for by its own facts, none merged or left out yet."""
    return tuple(hit.rule for hit in _fire(operation, load_rules()))


def _fire(operation: Operation, rules: Iterable[Rule]) -> Iterator[_Fired]:
    facts = {**operation.facts, **derived_facts(operation.facts)}
    for rule in rules:
        if rule.tool in {"any", operation.tool} and _speaks(rule, facts):
            yield _Fired(rule, facts, operation.id, how_far_past(rule.when, facts))


def _speaks(rule: Rule, facts: Mapping[str, Fact]) -> bool:
    """Tell whether a rule holds and every figure that it shows is known."""
    return bool(holds(rule.when, facts)) and all(
        name in facts for name in facts_named(rule.control)
    )


def _merge(fired: Sequence[_Fired]) -> list[_Fired]:
    """One call-out for each hazard, most severe first, then how far past the limit."""
    ids = {hit.rule.id for hit in fired}
    needless = {old for hit in fired for old in hit.rule.replaces} & ids
    kept: list[_Fired] = []
    hazards: set[str] = set()
    for hit in sorted(fired, key=lambda one: one.rank):
        if hit.rule.id in needless or hit.rule.hazard in hazards:
            continue
        hazards.add(hit.rule.hazard)
        kept.append(hit)
    return kept


def _call_out(hit: _Fired, units: Units) -> CallOut:
    return CallOut(
        rule=hit.rule.id,
        signal=hit.rule.signal,
        hazard=hit.rule.hazard,
        control=fill_control(hit.rule.control, hit.facts, units),
        why=hit.rule.why,
        sources=hit.rule.sources,
        operation=hit.operation,
    )


# Cards.


def _cards(
    operations: Sequence[Operation], joinery: Joinery, rules: Sequence[Rule]
) -> dict[str, tuple[CallOut, ...]]:
    units = joinery.piece.plan.units
    held: dict[str, list[_Fired]] = {THE_SHOP: []}
    for operation in operations:
        for hit in _fire(operation, rules):
            card = THE_SHOP if hit.rule.tool == "any" else operation.tool
            held.setdefault(card, []).append(hit)
    facts = piece_facts(joinery)
    held[THE_PIECE] = [
        _Fired(rule, facts, "", how_far_past(rule.when, facts))
        for rule in rules
        if rule.tool == THE_PIECE and _speaks(rule, facts)
    ]
    return {
        name: tuple(_call_out(_without_operation(hit), units) for hit in _merge(hits))
        for name, hits in held.items()
        if hits
    }


def _without_operation(hit: _Fired) -> _Fired:
    return _Fired(hit.rule, hit.facts, "", hit.past)
