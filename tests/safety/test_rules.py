"""Every rule as a data row: it fires where it should, just does not beside it, and is worded."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import yaml

from benchleaf.reading.plan import Units
from benchleaf.safety.conditions import (
    Comparison,
    Known,
    Name,
    atoms_in,
    holds,
    names_in,
    numbers_in,
)
from benchleaf.safety.loading import SIGNALS, RuleError, _read_rule, load_rules, load_sources
from benchleaf.safety.records import Rule
from benchleaf.safety.warning import THE_PIECE, rules_that_hold
from benchleaf.safety.wording import facts_named, fill_control
from benchleaf.sequencing.facts import FACTS, FactKind
from benchleaf.sequencing.kinds import OPERATION_KINDS
from benchleaf.sequencing.records import Fact, Operation
from benchleaf.sequencing.ways import WAYS
from benchleaf.sequencing.wording import MOST_WORDS, count_words

RULES = load_rules()
# IARC, NIOSH and the like say what they say in these four ways only.
STATUSES = {"read", "secondary", "from memory", "common practice, no source"}
every_rule = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
Facts = Mapping[str, Fact]


@dataclass(frozen=True)
class Case:
    """What calls for a rule, and what just does not."""

    firing: tuple[Facts, ...]
    silent: tuple[Facts, ...]
    changes: tuple[Facts, ...]
    """What was changed of the first firing facts, each by itself."""


def read_case(row: Mapping[str, Any]) -> Case:
    base = row["fires"]
    return Case(
        firing=(base, *({**base, **new} for new in row.get("also", ())), *row.get("or", ())),
        silent=(*({**base, **new} for new in row["silent"]), *row.get("nor", ())),
        changes=(*row["silent"], *row.get("also", ())),
    )


CASES: Mapping[str, Case] = {
    name: read_case(row)
    for name, row in yaml.safe_load(
        (Path(__file__).parent / "cases" / "rules.yml").read_text(encoding="utf-8")
    ).items()
}


def operation_with(tool: str, facts: Facts) -> Operation:
    return Operation(
        id="one",
        kind="one",
        title="One",
        tool=tool,
        copies=(),
        settings=(),
        actions=("Work.",),
        check="",
        needs=(),
        active_minutes=1,
        waiting_hours=Fraction(0),
        facts=facts,
    )


def test_there_are_a_hundred_rules_and_more_each_with_its_cases() -> None:
    assert sorted(CASES) == [rule.id for rule in RULES]
    assert len(RULES) >= 100


@every_rule
def test_rule_holds_on_its_facts_and_not_just_beside_them(rule: Rule) -> None:
    case = CASES[rule.id]
    assert [holds(rule.when, facts) for facts in case.firing] == [True] * len(case.firing)
    assert [holds(rule.when, facts) for facts in case.silent] == [False] * len(case.silent)


@pytest.mark.parametrize(
    "rule", [rule for rule in RULES if rule.tool != THE_PIECE], ids=lambda rule: rule.id
)
def test_an_operation_with_these_facts_calls_for_the_rule_and_its_neighbour_does_not(
    rule: Rule,
) -> None:
    tool = "chisel" if rule.tool == "any" else rule.tool
    for facts in CASES[rule.id].firing:
        assert rule in rules_that_hold(operation_with(tool, facts))
        others = {kind.tool for kind in OPERATION_KINDS.values()} - {tool}
        if rule.tool != "any":
            assert rule not in rules_that_hold(operation_with(min(others), facts))
    for facts in CASES[rule.id].silent:
        assert rule not in rules_that_hold(operation_with(tool, facts))


@every_rule
def test_neighbour_differs_in_one_fact(rule: Rule) -> None:
    for change in CASES[rule.id].changes:
        assert len(change) == 1


@every_rule
def test_each_test_of_a_condition_is_seen_to_decide(rule: Rule) -> None:
    case = CASES[rule.id]
    for test in atoms_in(rule.when):
        seen = {holds(test, facts) for facts in (*case.firing, *case.silent)}
        assert {True, False} <= seen, test


@every_rule
def test_each_figure_has_a_case_on_either_side_of_it(rule: Rule) -> None:
    case = CASES[rule.id]
    for test in atoms_in(rule.when):
        if not isinstance(test, Comparison) or not isinstance(test.left, Name):
            continue
        if not isinstance(test.right, Known) or isinstance(test.right.value, str):
            continue
        limit = float(test.right.value)
        near = max(1.0, limit / 100)
        values = [facts[test.left.name] for facts in (*case.firing, *case.silent)]
        close = {
            holds(test, {test.left.name: value})
            for value in values
            if not isinstance(value, str) and abs(float(value) - limit) <= near
        }
        assert close == {True, False}, f"{test.left.name} {limit:g}"


_FIGURE = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def figures_of(rule: Rule) -> Iterator[set[str]]:
    """Each figure of a rule's own, as the strings any one of which may stand for it."""
    for test in atoms_in(rule.when):
        for value in numbers_in(test):
            yield {f"{float(value):g}"}
    for metric, inch in re.findall(r"\{either:([^|}]+)\|([^}]+)\}", rule.control):
        yield {_FIGURE.findall(metric)[0], *_FIGURE.findall(inch)[:1]}


@every_rule
def test_each_figure_has_its_reason(rule: Rule) -> None:
    told = set(_FIGURE.findall(rule.numbers))
    for ways in figures_of(rule):
        assert ways & told, f"{rule.id}: nothing says where {sorted(ways)} comes from"


@every_rule
def test_general_rules_of_the_shop_say_why(rule: Rule) -> None:
    if rule.tool == "any" and rule.scope == "card":
        assert rule.why.endswith(".")
        assert max(map(count_words, rule.why.split(". "))) <= MOST_WORDS


@every_rule
def test_rule_is_unknown_where_nothing_is_known(rule: Rule) -> None:
    assert holds(rule.when, {}) is None


@every_rule
def test_case_states_only_facts_that_operations_state(rule: Rule) -> None:
    case = CASES[rule.id]
    for facts in (*case.firing, *case.silent):
        assert set(facts) <= set(FACTS)


@every_rule
def test_control_shows_only_facts_that_its_condition_or_its_tool_gives(rule: Rule) -> None:
    # A figure that the condition does not look at could be missing when the rule fires.
    shown = set(facts_named(rule.control)) - {"material.name"}
    given = {"lift.mass_kg", "piece.mass_kg", "glue.kind", "bit.fastest_rpm", "blade.widest_mm"}
    given.add("material.harmful")
    given |= set(names_in(rule.when))
    assert shown <= given


@every_rule
@pytest.mark.parametrize("units", list(Units))
def test_control_reads_as_two_short_sentences(rule: Rule, units: Units) -> None:
    text = fill_control(rule.control, CASES[rule.id].firing[0], units)
    assert "{" not in text
    assert text.endswith(".")
    # ANSI Z535.6 puts the avoidance in plain imperatives; two sentences of 20 words are our limit.
    sentences = [sentence for sentence in text.split(". ") if sentence]
    assert len(sentences) <= 2
    assert max(map(count_words, sentences)) <= MOST_WORDS


@every_rule
def test_rule_rests_on_sources_that_are_listed(rule: Rule) -> None:
    assert rule.sources
    for source in rule.sources:
        assert load_sources()[source.key] == source
        assert source.status in STATUSES


def test_every_source_is_used_and_says_how_it_was_read() -> None:
    used = {source.key for rule in RULES for source in rule.sources}
    assert used == set(load_sources())


def test_no_rule_rests_on_memory_alone() -> None:
    for rule in RULES:
        assert {source.status for source in rule.sources} != {"from memory"}, rule.id


def test_danger_is_kept_for_what_no_rule_here_is() -> None:
    # ANSI Z535.6, from memory: DANGER is for what will kill or maim if it is not avoided.
    assert {rule.signal for rule in RULES} <= set(SIGNALS) - {"DANGER"}


def test_every_tool_of_a_rule_is_a_tool_of_some_operation() -> None:
    tools = {kind.tool for kind in OPERATION_KINDS.values()} | {"any", "the piece"}
    tools |= {way.tool for ways in WAYS.values() for way in ways}
    assert {rule.tool for rule in RULES} <= tools


def test_facts_are_of_the_kinds_that_conditions_compare() -> None:
    for name, kind in FACTS.items():
        if name.endswith("_mm"):
            assert kind is FactKind.LENGTH
        if name.endswith("_kg"):
            assert kind is FactKind.MASS


def test_a_row_with_a_fact_that_nothing_states_is_refused() -> None:
    row = {
        "id": "XX-01",
        "tool": "router",
        "scope": "step",
        "when": "cut.colour == 'red'",
        "hazard": "none",
        "signal": "NOTICE",
        "control": "Nothing.",
        "sources": ["workshop practice"],
    }
    with pytest.raises(RuleError, match=r"no operation states \['cut.colour'\]"):
        _read_rule(row)


def test_rule_files_hold_no_line_that_the_loader_leaves_out() -> None:
    folder = files("benchleaf.safety").joinpath("rules")
    rows = [r for f in folder.iterdir() for r in yaml.safe_load(f.read_text(encoding="utf-8"))]
    assert len(rows) == len(RULES)


def test_figures_read_in_the_units_of_the_plan() -> None:
    facts = {"cut.fence_gap_mm": 50.8, "cut.kind": "rip"}
    rule = next(rule for rule in RULES if rule.id == "TS-01")
    assert fill_control(rule.control, facts, Units.INCH) == (
        "Feed with a push stick, never with the fingers. Only 2 in lies between fence and blade."
    )
    assert fill_control(rule.control, facts, Units.MILLIMETRE) == (
        "Feed with a push stick, never with the fingers. Only 50.8 mm lies between fence and blade."
    )
