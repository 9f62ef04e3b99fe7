"""The page on the plan format holds what the reader takes, and every example on it works."""

from __future__ import annotations

import re

import pytest
import yaml

from benchleaf.joinery import JOINT_WORDS
from benchleaf.lengths import MAX_DIGITS, format_length, parse_length
from benchleaf.piece.solving import solve_sizes
from benchleaf.reading import grammar, nodes, read_plan, table
from benchleaf.shaping import SHAPING_WORDS
from plan_format_tables import PAGE, written

TEXT = PAGE.read_text("utf-8")
EXAMPLES = re.findall(r"^```yaml\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)
WHOLE = EXAMPLES[0]
FILE = "plans/boot-bench.plan.yml"


def solve(text):
    plan, findings = read_plan(text, FILE, JOINT_WORDS, shaping=SHAPING_WORDS)
    assert findings == ()
    solved, findings = solve_sizes(plan)
    assert findings == ()
    return solved


def with_added(example):
    """The whole plan with a piece added: named things join those there, others replace."""
    plan, piece = (yaml.load(text, yaml.BaseLoader) for text in (WHOLE, example))  # noqa: S506
    for key, value in piece.items():
        if isinstance(value, dict) and key in {"sizes", "stock", "parts"}:
            plan[key] |= value
        else:
            plan[key] = value
    return yaml.safe_dump(plan, allow_unicode=True, sort_keys=False)


def rows(heading):
    """The cells of the table under a heading's first row."""
    start = TEXT.index(heading)
    table = re.search(r"\n\n(\|.*?)\n\n", TEXT[start:], re.DOTALL)[1]
    return [
        [cell.strip() for cell in line.strip("|").split(" | ")] for line in table.splitlines()[2:]
    ]


def test_the_tables_are_those_of_the_reader():
    # To write them anew: python tests/plan_format_tables.py
    assert written() == TEXT


def test_the_whole_plan_is_read_and_worked_out():
    solved = solve(WHOLE)
    assert list(solved.parts) == ["leg", "long rail", "top"]


@pytest.mark.parametrize("example", EXAMPLES[1:], ids=lambda text: text.splitlines()[0])
def test_every_other_example_can_be_added(example):
    solve(with_added(example))


@pytest.mark.parametrize("row", rows("### Lengths"), ids=lambda row: row[0])
def test_lengths_come_to_what_the_page_says(row):
    text, inches, mm = row[0].strip("`"), row[1], row[2]
    assert format_length(parse_length(text, "in"), "in") == inches
    assert parse_length(text, "mm") == parse_length(mm, "mm")


@pytest.mark.parametrize("row", rows("### Arithmetic"), ids=lambda row: row[0])
def test_arithmetic_comes_to_what_the_page_says(row):
    solved = solve(WHOLE.replace("  leg: 2-1/8\n", f"  leg: 2-1/8\n  probe: {row[0].strip('`')}\n"))
    probe_mm = solved.sizes["probe"]
    assert format_length(probe_mm, "in", show_rounding=False) == row[2]


def test_the_finding_on_the_page_is_what_is_found():
    shown = re.search(r"^```text\n(.*?)```$", TEXT, re.MULTILINE | re.DOTALL)[1].rstrip()
    wrong = WHOLE.replace("    wide: leg\n", "    wide: legg\n")
    _, findings = read_plan(wrong, FILE, JOINT_WORDS)
    assert [str(finding) for finding in findings] == [shown]


def test_the_bounds_on_the_page_are_those_of_the_reader():
    bounds = TEXT[TEXT.index("## Bounds") : TEXT.index("## Findings")]
    numbers = [int(number.replace(",", "")) for number in re.findall(r"[0-9][0-9,]*", bounds)]
    assert numbers == [
        table.MOST_PARTS,
        table.MOST_COPIES,
        table.MOST_JOINTS,
        nodes.MAX_CHARACTERS,
        grammar.MAX_CHARACTERS,
        MAX_DIGITS,
    ]
