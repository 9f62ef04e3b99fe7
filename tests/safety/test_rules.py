"""Every rule as a data row: it fires where it should, just does not beside it, and is worded."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import yaml

from benchleaf.reading.plan import Units
from benchleaf.safety.conditions import holds, names_in
from benchleaf.safety.loading import SIGNALS, RuleError, _read_rule, load_rules, load_sources
from benchleaf.safety.records import Rule
from benchleaf.safety.wording import facts_named, fill_control
from benchleaf.sequencing.facts import FACTS, FactKind
from benchleaf.sequencing.kinds import OPERATION_KINDS
from benchleaf.sequencing.wording import MOST_WORDS, count_words

CASES: Mapping[str, Mapping[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "cases" / "rules.yml").read_text(encoding="utf-8")
)
RULES = load_rules()
# IARC, NIOSH and the like say what they say in these four ways only.
STATUSES = {"read", "secondary", "from memory", "common practice, no source"}


def test_every_rule_has_cases_and_every_case_a_rule() -> None:
    assert sorted(CASES) == [rule.id for rule in RULES]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_rule_fires_on_its_facts_and_not_just_beside_them(rule: Rule) -> None:
    assert holds(rule.when, CASES[rule.id]["fires"]) is True
    assert holds(rule.when, CASES[rule.id]["does not"]) is False


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_rule_is_unknown_where_nothing_is_known(rule: Rule) -> None:
    assert holds(rule.when, {}) is None


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_case_states_only_facts_that_operations_state(rule: Rule) -> None:
    for facts in CASES[rule.id].values():
        assert set(facts) <= set(FACTS)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_control_shows_only_facts_that_its_condition_or_its_tool_gives(rule: Rule) -> None:
    # A figure that the condition does not look at could be missing when the rule fires.
    shown = set(facts_named(rule.control)) - {"material.name"}
    given = {"lift.mass_kg", "piece.mass_kg", "glue.kind"} | set(names_in(rule.when))
    assert shown <= given


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
@pytest.mark.parametrize("units", list(Units))
def test_control_reads_as_two_short_sentences(rule: Rule, units: Units) -> None:
    text = fill_control(rule.control, CASES[rule.id]["fires"], units)
    assert "{" not in text
    assert text.endswith(".")
    # ANSI Z535.6 puts the avoidance in plain imperatives; two sentences of 20 words are our limit.
    sentences = [sentence for sentence in text.split(". ") if sentence]
    assert len(sentences) <= 2
    assert max(map(count_words, sentences)) <= MOST_WORDS


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
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
