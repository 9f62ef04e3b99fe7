"""What the sources ask for, clause by clause: carried by rules that cite them, or why not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from benchleaf.handbook.data_files import read_data_file
from benchleaf.safety.loading import load_rules, load_sources

RULES = {rule.id: rule for rule in load_rules()}
DOCUMENTS = read_data_file("benchleaf.safety", "clauses.yaml")
JUDGED = read_data_file("benchleaf.safety", "judged.yaml")

# The clauses that must stand in the list. 29 CFR 1910.213: (a)(1)-(11), (s)(1)-(4) and (s)(9) read
# in copies; (b)(3), (c), (d), (i), (j), (l) as OSHA's eTools, an inspection and state codes cite
# them; the letters and other numbers from memory. (a)(3) is reserved.
OSHA_213 = [
    *(f"(a)({n})" for n in (1, 2, *range(4, 16))),
    *(f"(b)({n})" for n in range(1, 7)),
    *(f"(c)({n})" for n in (1, 2, 3)),
    "(d)(1)",
    *["(e)", "(f)", "(g)", "(h)"],
    *(f"(i)({n})" for n in (1, 2, 3)),
    "(j)(1)-(j)(3)",
    "(j)(4)",
    "(k)",
    "(l)(1)",
    "(l)(2)-(l)(8)",
    *["(m)", "(n)", "(o)", "(p)", "(q)", "(r)"],
    *(f"(s)({n})" for n in range(1, 11)),
    "(s)(11)-(s)(14)",
]
# What a workshop's own operation can meet of them: these are carried by rules, not left out.
MUST_BE_CARRIED = {
    "(a)(6)",
    "(a)(10)",
    "(a)(15)",
    "(b)(3)",
    "(c)(1)",
    "(c)(2)",
    "(c)(3)",
    "(d)(1)",
    "(i)(1)",
    "(i)(2)",
    "(j)(1)-(j)(3)",
    "(l)(1)",
    "(s)(1)",
    "(s)(2)",
    "(s)(7)",
    "(s)(9)",
}
# Further sources whose figures or clauses are carried: a word of the clause each.
FURTHER = {
    "1910.95(a)-(b)",
    "1910.133(a)(1)-(2)",
    "1910.242(b)",
    "1910.243(a)(1)(i)",
    "1910.1000 Table Z-1",
    "1910.106(a)(19)(i)-(ii)",
    "IEC 62841-3-1: 150 mm",
    "IEC 62841-3-1: 50 mm",
    "IEC 62841-3-1: 2 mm",
    "IEC 62841-3-1: engagement",
    "IEC 62841-3-1: window",
    "EN 1870: 3 to 8 mm",
    "EN 1870: 20 mm",
    "IEC 62841-3-9: 100 mm",
    "UL 987: 6 in",
    "UL 987: 400 mm",
    "300 mm, push stick",
    "1200 mm, helper",
    "EH40",
    "NIOSH 94-110",
    "IARC 62 and 100C",
    "TSCA Title VI, 40 CFR 770",
    "EPA, treated wood, at work",
    "EPA, treated wood, in use",
    "40 CFR 745",
    "NFPA, oily rags",
    "16 CFR 1261, ASTM F2057",
    "16 CFR 1213 and 1513",
    "16 CFR 1219 and 1220",
    "16 CFR 1303",
}
SEEN = {"read", "secondary", "from memory"}


def rows() -> Iterator[Mapping[str, Any]]:
    for document in DOCUMENTS:
        yield from document["rows"]


ROWS = {row["clause"]: row for row in rows()}
every_row = pytest.mark.parametrize("row", ROWS.values(), ids=ROWS)


def test_every_clause_of_1910_213_stands_in_the_list_in_order() -> None:
    assert [row["clause"] for row in DOCUMENTS[0]["rows"]] == OSHA_213


def test_no_clause_stands_twice() -> None:
    assert len(ROWS) == len(list(rows()))


@every_row
def test_a_clause_is_carried_by_rules_or_left_out_with_a_reason(row: Mapping[str, Any]) -> None:
    assert set(row) <= {"clause", "asks", "seen", "source", "rules", "why_not"}
    assert row["seen"] in SEEN
    assert row["asks"]
    assert ("rules" in row) != ("why_not" in row)
    assert ("rules" in row) == ("source" in row)


@every_row
def test_rules_that_carry_a_clause_cite_its_source(row: Mapping[str, Any]) -> None:
    for rule in row.get("rules", ()):
        assert row["source"] in {source.key for source in RULES[rule].sources}, rule


def test_what_a_small_workshop_can_meet_is_carried() -> None:
    carried = {clause for clause, row in ROWS.items() if "rules" in row}
    assert carried >= MUST_BE_CARRIED
    assert carried >= FURTHER


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_source_that_is_a_law_or_a_standard_has_its_clause_in_the_list(rule: Any) -> None:
    listed = {row["source"] for row in rows() if "source" in row}
    for source in rule.sources:
        if source.key[:2].isdigit() or source.key.startswith(("IEC", "EN ", "UL ", "HSE")):
            assert source.key in listed, source.key


def test_sources_say_a_clause_or_a_page() -> None:
    for source in load_sources().values():
        assert len(source.title.split()) >= 3, source.key


# Where sources disagree, and what was left out.


def test_disagreements_name_rules_that_stand_and_say_which_way_they_went() -> None:
    for row in JUDGED["disagreements"]:
        assert set(row) == {"about", "sources", "ours", "rules"}
        assert set(row["rules"]) <= set(RULES)


def test_the_rules_of_a_disagreement_say_so_themselves() -> None:
    # The number's reason, or the why, names what was chosen between.
    for row in JUDGED["disagreements"]:
        for rule in row["rules"]:
            assert RULES[rule].numbers or RULES[rule].why


def test_everything_left_out_has_a_reason() -> None:
    for row in JUDGED["left_out"]:
        assert set(row) == {"what", "why"}
        assert len(row["why"].split()) >= 4


def test_no_rule_stands_for_a_tool_that_was_left_out() -> None:
    tools = {rule.tool for rule in RULES.values()}
    assert not tools & {"router table", "nailer", "heat gun", "disc sander"}
