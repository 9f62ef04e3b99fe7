"""The hazard rules shipped with the package, read and checked.

Takes the data rows of `rules/` and `sources.yaml`, gives Rules. Must not know plans. The only place
of this stage that reads files, and they are the package's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any, Final

from benchleaf.handbook.data_files import parse_data, read_data_file
from benchleaf.safety.conditions import names_in, parse_condition
from benchleaf.safety.records import Rule, SourceReference
from benchleaf.safety.wording import facts_named
from benchleaf.sequencing.facts import FACTS

# ANSI Z535.6 (2011), signal words of embedded messages, most severe first; from memory.
SIGNALS: Final = ("DANGER", "WARNING", "CAUTION", "NOTICE")
SCOPES: Final = ("step", "card")

_FIELDS: Final = frozenset(
    {
        "control",
        "hazard",
        "id",
        "numbers",
        "replaces",
        "scope",
        "signal",
        "sources",
        "tool",
        "when",
        "why",
    }
)


class RuleError(ValueError):
    """A row of the rules that cannot be used; raised by the tests long before a user meets it."""


@cache
def load_sources() -> Mapping[str, SourceReference]:
    """Load the sources by key."""
    rows = read_data_file("benchleaf.safety", "sources.yaml")
    return {
        key: SourceReference(key=key, title=row["title"], status=row["status"])
        for key, row in rows.items()
    }


@cache
def load_rules() -> tuple[Rule, ...]:
    """Load all rules, sorted by id."""
    rows = [row for text in _rule_texts() for row in parse_data(text)]
    rules = sorted((_read_rule(row) for row in rows), key=lambda rule: rule.id)
    ids = {rule.id for rule in rules}
    if len(ids) < len(rules):
        raise RuleError("two rules share an id")
    lost = {old for rule in rules for old in rule.replaces} - ids
    if lost:
        raise RuleError(f"rules replaced that are not there: {sorted(lost)}")
    return tuple(rules)


def _rule_texts() -> list[str]:
    folder = files("benchleaf.safety").joinpath("rules")
    found = [entry for entry in folder.iterdir() if entry.name.endswith(".yaml")]
    return [entry.read_text(encoding="utf-8") for entry in sorted(found, key=lambda e: e.name)]


def _read_rule(row: dict[str, Any]) -> Rule:
    strange = set(row) - _FIELDS
    if strange or row["scope"] not in SCOPES or row["signal"] not in SIGNALS:
        raise RuleError(f"{row['id']}: a strange field, scope or signal word ({sorted(strange)})")
    when = parse_condition(row["when"])
    unknown = {*names_in(when), *facts_named(row["control"])} - set(FACTS)
    if unknown:
        raise RuleError(f"{row['id']}: no operation states {sorted(unknown)}")
    return Rule(
        id=row["id"],
        tool=row["tool"],
        scope=row["scope"],
        when=when,
        hazard=row["hazard"],
        signal=row["signal"],
        control=row["control"],
        replaces=tuple(row.get("replaces", ())),
        sources=tuple(load_sources()[key] for key in row["sources"]),
        numbers=row.get("numbers", ""),
        why=row.get("why", ""),
    )
